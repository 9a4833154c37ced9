use crate::check::Finding;
use crate::fault::Source;

/// A finding that may stay, and why.
#[derive(Clone, PartialEq, Debug)]
pub struct Waiver {
    /// The check whose findings it covers.
    pub check: &'static str,
    /// Words that the finding's place must hold, such as `inside, panel 1`.
    pub place: Option<String>,
    /// Words that the finding's message must hold.
    pub contains: Option<String>,
    /// Why the finding may stay; never empty.
    pub reason: String,
    /// Where the waiver stands.
    pub source: Source,
}

impl Waiver {
    /// Whether it covers a finding.
    pub fn covers(&self, finding: &Finding) -> bool {
        let within = |asked: &Option<String>, text: &str| asked.as_ref().is_none_or(|a| text.contains(a.as_str()));
        self.check == finding.check
            && within(&self.contains, &finding.message)
            && within(&self.place, &finding.place.words())
    }
}
