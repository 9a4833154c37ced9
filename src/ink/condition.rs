use std::fmt;
use std::sync::Arc;

use moxcms::{ColorProfile, ProfileText};

use crate::fault::{Fault, Faults, Result, Source};

/// Measured data: ANSI CGATS TR 006-2007; see the notices beside the profile.
const COATED: &[u8] = include_bytes!("profiles/coated-tr006.icc");
/// Measured data: FOGRA29L; see the notices beside the profile.
const UNCOATED: &[u8] = include_bytes!("profiles/uncoated-fogra29.icc");

/// Total ink on coated stock in percent: the mean over a 15 mm square above which Ghent Workgroup 2022 warns for sheetfed
/// offset; common practice for coated paper is about 300 to 320.
const COATED_TOTAL: f64 = 320.0;
/// Total ink on uncoated stock in percent; common practice is about 260 to 280.
const UNCOATED_TOTAL: f64 = 280.0;
/// Total ink in percent where a profile comes alone, which does not say its limit: the lower end of common practice for
/// coated paper.
const UNSTATED_TOTAL: f64 = 300.0;

/// A print condition: paper and inks as one characterised process, with its ICC output profile.
#[derive(Clone, PartialEq)]
pub struct Condition {
    /// The name people use: `coated`, `uncoated`, or the profile's description.
    pub name: String,
    /// `OutputConditionIdentifier` of the output intent.
    pub identifier: String,
    /// Where the characterisation comes from, for the output intent's `Info`.
    pub source: String,
    /// The ICC profile, byte for byte as it will be embedded.
    pub profile: Arc<[u8]>,
    /// Total ink allowed, in percent.
    pub total_ink: f64,
}

impl Condition {
    /// Offset on coated stock, the condition of ANSI CGATS TR 006-2007.
    pub fn coated() -> Self {
        Self {
            name: "coated".to_owned(),
            identifier: "CGATS TR 006".to_owned(),
            source: "Derived from the characterization data of ANSI CGATS TR 006-2007".to_owned(),
            profile: Arc::from(COATED),
            total_ink: COATED_TOTAL,
        }
    }

    /// Offset on uncoated white stock, the condition of the FOGRA29L data.
    pub fn uncoated() -> Self {
        Self {
            name: "uncoated".to_owned(),
            identifier: "FOGRA29".to_owned(),
            source: "Derived from the characterization data FOGRA29L".to_owned(),
            profile: Arc::from(UNCOATED),
            total_ink: UNCOATED_TOTAL,
        }
    }

    /// The condition of any CMYK output profile; `file` is its name for faults. The total ink is 300 % until
    /// [`Condition::with_total_ink`] says better, since a profile does not state its limit. The identifier is `Custom`, the
    /// word of ISO 32000-1, 14.11.5 for a condition that stands in no registry.
    ///
    /// Faults where the bytes are no ICC profile, or not class `prtr` with data space `CMYK`, PCS Lab or XYZ, version 2 or 4,
    /// or without a table from inks to colour.
    pub fn from_profile(file: &str, bytes: impl Into<Arc<[u8]>>) -> Result<Self> {
        let profile: Arc<[u8]> = bytes.into();
        check_header(file, &profile)?;
        let parsed = read(file, &profile)?;
        let description = parsed.description.as_ref().and_then(words).unwrap_or_else(|| file.to_owned());
        let condition = Self {
            source: format!("ICC profile {description}"),
            name: description,
            identifier: "Custom".to_owned(),
            profile,
            total_ink: UNSTATED_TOTAL,
        };
        super::Judge::named(&condition, file)?;
        Ok(condition)
    }

    /// The same condition with another limit of total ink, in percent.
    pub fn with_total_ink(mut self, percent: f64) -> Self {
        self.total_ink = percent;
        self
    }
}

/// Everything but the bytes of the profile, whose count must do.
impl fmt::Debug for Condition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Condition")
            .field("name", &self.name)
            .field("identifier", &self.identifier)
            .field("source", &self.source)
            .field("profile", &format_args!("{} bytes", self.profile.len()))
            .field("total_ink", &self.total_ink)
            .finish()
    }
}

/// The profile, parsed; a fault names `file`.
pub(super) fn read(file: &str, profile: &[u8]) -> Result<ColorProfile> {
    ColorProfile::new_from_slice(profile).map_err(|e| {
        Fault::new(Source::File(file.to_owned()), format!("this ICC profile cannot be read: {e}"))
            .hint("ask for it again from the printer, or export it anew")
            .into()
    })
}

/// The fields of the header that make a CMYK output profile (ICC.1:2010, 7.2).
fn check_header(file: &str, profile: &[u8]) -> Result<()> {
    let source = || Source::File(file.to_owned());
    let word = |at: usize| profile.get(at..at + 4).unwrap_or_default();
    let shown = |at: usize| String::from_utf8_lossy(word(at)).trim().to_owned();
    if word(36) != b"acsp" {
        return Err(Fault::new(source(), "this is not an ICC profile: the signature `acsp` is missing")
            .hint("give the .icc or .icm file of a CMYK print condition")
            .into());
    }
    let mut faults = Faults::new();
    let stated = word(0).iter().fold(0_usize, |n, b| (n << 8) | usize::from(*b));
    if stated > profile.len() {
        faults.push(
            Fault::new(source(), format!("this ICC profile says {stated} bytes but only {} are there", profile.len()))
                .hint("the file was cut short; fetch it again"),
        );
    }
    if word(12) != b"prtr" {
        faults.push(
            Fault::new(
                source(),
                format!("this ICC profile is of class `{}`, not an output profile (`prtr`)", shown(12)),
            )
            .hint("give the profile of the press and paper, not of a screen, camera or link"),
        );
    }
    if word(16) != b"CMYK" {
        faults.push(
            Fault::new(source(), format!("this ICC profile is for `{}`, not for CMYK", shown(16)))
                .hint("give a CMYK profile; ask the printer which one the press runs to"),
        );
    }
    if word(20) != b"Lab " && word(20) != b"XYZ " {
        faults.push(Fault::new(source(), format!("this ICC profile connects through `{}`, not Lab or XYZ", shown(20))));
    }
    let version = profile.get(8).copied().unwrap_or_default();
    if version != 2 && version != 4 {
        faults.push(
            Fault::new(source(), format!("this ICC profile is of version {version}; versions 2 and 4 are understood"))
                .hint("ask the printer for a version 2 or 4 profile"),
        );
    }
    faults.or(())
}

/// The first text in it that is not empty.
fn words(text: &ProfileText) -> Option<String> {
    let found = match text {
        ProfileText::PlainString(s) => Some(s.as_str()),
        ProfileText::Localizable(all) => {
            all.iter().find(|s| s.language == "en").or_else(|| all.first()).map(|s| s.value.as_str())
        }
        ProfileText::Description(d) => Some(d.ascii_string.as_str()),
    };
    found.map(|s| s.trim_matches(['\0', ' ']).to_owned()).filter(|s| !s.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn broken(change: impl FnOnce(&mut Vec<u8>)) -> String {
        let mut bytes = COATED.to_vec();
        change(&mut bytes);
        Condition::from_profile("press.icc", bytes).unwrap_err().to_string()
    }

    #[test]
    fn a_profile_by_path_is_a_condition() {
        let condition = Condition::from_profile("press.icc", UNCOATED).unwrap();
        assert_eq!(condition.identifier, "Custom");
        assert!(!condition.name.is_empty());
        assert!(format!("{condition:?}").contains("120380 bytes"));
        assert!((condition.with_total_ink(260.0).total_ink - 260.0).abs() < f64::EPSILON);
    }

    #[test]
    fn each_wrong_header_field_is_a_fault_of_its_own() {
        assert!(broken(|b| b[12..16].copy_from_slice(b"mntr")).contains("class `mntr`"));
        assert!(broken(|b| b[16..20].copy_from_slice(b"RGB ")).contains("for `RGB`, not for CMYK"));
        assert!(broken(|b| b[20..24].copy_from_slice(b"Luv ")).contains("connects through `Luv`"));
        assert!(broken(|b| b[8] = 5).contains("version 5"));
        assert!(broken(|b| b[36] = b'x').contains("not an ICC profile"));
        assert!(broken(|b| b.truncate(4000)).contains("only 4000 are there"));
        assert!(broken(Vec::clear).contains("not an ICC profile"));
        let both = broken(|b| {
            b[8] = 5;
            b[12..16].copy_from_slice(b"mntr");
        });
        assert_eq!(both.lines().filter(|l| l.starts_with("press.icc")).count(), 2);
    }

    #[test]
    fn a_profile_without_tables_is_a_fault() {
        // The tag table starts at byte 128; no tags are left.
        let message = broken(|b| b[128..132].copy_from_slice(&[0; 4]));
        assert!(message.contains("press.icc"), "{message}");
    }
}
