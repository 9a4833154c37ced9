/// Something in a file that is against a standard of PDF/X.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Breach {
    /// The first page that uses it, from 1, where it belongs to one.
    pub page: Option<u32>,
    /// Its object, where it has one.
    pub object: Option<u32>,
    /// The rule, such as `file-id`.
    pub rule: &'static str,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// What to do.
    pub advice: &'static str,
}
