//! The press file: a planned sheet and the artwork in, one marked PDF/X-4 or PDF/X-1a out, read back and compared before anyone trusts it.
//!
//! [`write()`] makes each source page one form, whose streams are copied byte for byte, and draws it at every station; [`verify()`] reads
//! the bytes again with a reader of its own and compares what it finds with the plan. The last station on the way of a card.

mod hindrance;
mod info;
mod marks;
mod slug;
mod standard;
mod verify;
mod write;

pub use crate::claim::Standard;
pub use hindrance::can_be;
pub use info::{Art, PressInfo, Stamp};
pub use verify::{verify, verify_read};
pub use write::{compose, write};

use crate::fault::{Fault, Faults, Source};

fn fault(message: impl Into<String>) -> Faults {
    Fault::new(Source::Nowhere, message).into()
}
