/// A standard of PDF/X that a file keeps.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Standard {
    /// PDF/X-4 (ISO 15930-7): PDF 1.6 with live transparency and layers.
    #[default]
    X4,
    /// PDF/X-1a:2003 (ISO 15930-4): PDF 1.4 in process and spot inks, without transparency or layers.
    X1a,
}

impl Standard {
    /// What files of it call themselves (restated).
    pub const fn version(self) -> &'static str {
        match self {
            Self::X4 => "PDF/X-4",
            Self::X1a => "PDF/X-1a:2003",
        }
    }

    /// The version of PDF that it stands on, and that press files state in their first line.
    pub const fn pdf(self) -> &'static str {
        match self {
            Self::X4 => "1.6",
            Self::X1a => "1.4",
        }
    }
}
