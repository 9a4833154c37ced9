//! One file a command.

pub(super) mod check;
pub(super) mod explain;
pub(super) mod impose;
pub(super) mod new;
pub(super) mod plates;
pub(super) mod schema;
pub(super) mod texts;
