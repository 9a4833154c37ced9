use std::sync::Arc;

/// A print condition: paper and inks as one characterised process, with its ICC output profile.
#[derive(Clone, PartialEq, Debug)]
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
