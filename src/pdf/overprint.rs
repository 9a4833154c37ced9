use lopdf::{Dictionary, Object};

/// Whether what is painted lets the plates below it print too (8.6.7).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Overprint {
    /// Knocks out all plates: `op` and `OP` false, the state a page starts in.
    #[default]
    Off,
    /// Plates that the colour's space does not name keep their ink (`OPM` 0).
    On,
    /// Process plates with a tint of zero keep theirs too (`OPM` 1); black text in DeviceCMYK needs this.
    OnNonZero,
}

/// The graphics state of an overprint setting.
pub fn ext_gstate(overprint: Overprint) -> Dictionary {
    let on = overprint != Overprint::Off;
    let mut state = Dictionary::new();
    state.set("Type", Object::Name(b"ExtGState".to_vec()));
    state.set("OP", on);
    state.set("op", on);
    state.set("OPM", i64::from(overprint == Overprint::OnNonZero));
    state
}
