//! Actions: what a file asks a viewer to do, and no press does.

/// The kinds of actions, as `S` names them (ISO 32000-1, table 198).
pub(crate) const ACTIONS: [&[u8]; 18] = [
    b"GoTo",
    b"GoToR",
    b"GoToE",
    b"Launch",
    b"Thread",
    b"URI",
    b"Sound",
    b"Movie",
    b"Hide",
    b"Named",
    b"SubmitForm",
    b"ResetForm",
    b"ImportData",
    b"JavaScript",
    b"SetOCGState",
    b"Rendition",
    b"Trans",
    b"GoTo3DView",
];
