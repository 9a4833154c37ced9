use std::collections::BTreeSet;
use std::sync::Arc;

use lopdf::xref::XrefRecovery;
use lopdf::{DecompressError, Document, Error, LoadOptions};

use super::limits::{OpenOptions, Remark, Topic, over};
use super::mend::{Mended, mend};
use crate::fault::{Fault, Faults, Result, Source};
use crate::pdf::{self, Heavy};

/// Loads the objects of a PDF, repairing what can be repaired and telling what was done.
pub(super) fn load(bytes: &[u8], name: &str, options: &OpenOptions, remarks: &mut Vec<Remark>) -> Result<Document> {
    let file = Source::File(name.to_owned());
    let mut remark = |message: String| remarks.push(Remark { message, source: file.clone(), topic: Topic::Mended });
    let header = bytes.windows(5).position(|w| w == b"%PDF-");
    let patched;
    let bytes = match header {
        Some(0) => bytes,
        Some(at) => {
            remark(format!("{at} bytes stand before the PDF header; they were left out of account"));
            bytes
        }
        None if looks_like_objects(bytes) => {
            remark("the file has no PDF header; it was read as PDF 1.4".to_owned());
            patched = [b"%PDF-1.4\n", bytes].concat();
            patched.as_slice()
        }
        None => {
            let fault = Fault::new(file, "this is not a PDF");
            return Err(fault.hint("give the PDF that the layout program exported").into());
        }
    };
    let mut document = first_that_loads(bytes, options).map_err(|error| fault_of(&error, &file, options))?;
    if document.is_encrypted() {
        return Err(locked(&file, options));
    }
    if document.objects.len() > options.budget.objects {
        return Err(over(file, format!("the file has more than {} objects", options.budget.objects)));
    }
    match document.xref_recovery {
        Some(XrefRecovery::OffsetCorrected) => {
            remark("the place of the cross-reference table was wrong and was found nearby".to_owned());
        }
        Some(XrefRecovery::Reconstructed) => {
            remark(
                "the cross-reference table is damaged; the objects were found by reading through the file".to_owned(),
            );
        }
        Some(_) => remark("the cross-reference table was repaired".to_owned()),
        None => {}
    }
    tell_mended(&mend(&mut document, bytes), &file, remarks);
    Ok(document)
}

/// Smaller files are copied whole.
const LEAST_LIGHT: usize = 16 << 20;

/// Loads a large file that is sound and open without its heavy pictures; `None` where it must be loaded whole.
pub(super) fn load_light(bytes: &Arc<[u8]>, options: &OpenOptions) -> Option<(Document, Heavy)> {
    if bytes.len() < LEAST_LIGHT || !bytes.starts_with(b"%PDF-") {
        return None;
    }
    let asked = LoadOptions { max_decompressed_size: Some(options.budget.stream), ..LoadOptions::default() };
    let (mut document, places) = pdf::load(bytes, asked).ok()?;
    let sound = !document.is_encrypted()
        && !document.was_encrypted()
        && document.xref_recovery.is_none()
        && document.page_iter().next().is_some()
        && document.objects.len() <= options.budget.objects;
    let heavy = Heavy::find(&document, bytes, places).filter(|_| sound)?;
    // Anything to mend is told where the file is loaded whole.
    (mend(&mut document, bytes) == Mended::default()).then_some((document, heavy))
}

/// Loads as the file says, and where that fails or gives no page, by reading through it for objects.
fn first_that_loads(bytes: &[u8], options: &OpenOptions) -> std::result::Result<Document, Error> {
    let load = |password: Option<&str>, force: bool| {
        Document::load_mem_with_options(
            bytes,
            LoadOptions {
                password: password.map(str::to_owned),
                max_decompressed_size: Some(options.budget.stream),
                force_reconstruct: force,
                ..LoadOptions::default()
            },
        )
    };
    let open = |force: bool| match (load(None, force), &options.password) {
        (Ok(document), Some(password)) if document.is_encrypted() => load(Some(password), force),
        (Err(Error::InvalidPassword), Some(password)) => load(Some(password), force),
        (first, _) => first,
    };
    match open(false) {
        Ok(document) if document.is_encrypted() || document.page_iter().next().is_some() => Ok(document),
        Ok(document) => Ok(open(true).ok().filter(|d| d.page_iter().next().is_some()).unwrap_or(document)),
        Err(error @ (Error::Decompress(DecompressError::MemoryLimitExceeded { .. }) | Error::InvalidPassword)) => {
            Err(error)
        }
        Err(error) => open(true).map_err(|_| error),
    }
}

fn looks_like_objects(bytes: &[u8]) -> bool {
    bytes.windows(5).any(|w| w == b" obj\n" || w == b" obj\r" || w == b" obj " || w == b" obj<")
}

fn fault_of(error: &Error, file: &Source, options: &OpenOptions) -> Faults {
    match error {
        Error::Decompress(DecompressError::MemoryLimitExceeded { .. }) => {
            let most = options.budget.stream >> 20;
            over(file.clone(), format!("a stream that holds the file's objects decodes to more than {most} MiB"))
        }
        Error::InvalidPassword | Error::Unimplemented(_) => locked(file, options),
        other => Fault::new(file.clone(), format!("the PDF is damaged and cannot be repaired: {other}"))
            .hint("export the artwork again")
            .into(),
    }
}

fn locked(file: &Source, options: &OpenOptions) -> Faults {
    let (message, hint) = if options.password.is_some() {
        ("the PDF is locked and the given password does not open it", "give the password that opens the file")
    } else {
        ("the PDF is locked with a password", "give its password with --password, or export it without one")
    };
    Fault::new(file.clone(), message).hint(hint).into()
}

/// Tells what mending did.
fn tell_mended(mended: &Mended, file: &Source, remarks: &mut Vec<Remark>) {
    let mut remark = |message: String, topic| remarks.push(Remark { message, source: file.clone(), topic });
    let list = |numbers: &BTreeSet<u32>| {
        let few: Vec<String> = numbers.iter().take(8).map(ToString::to_string).collect();
        format!("{}{}", few.join(", "), if numbers.len() > few.len() { ", …" } else { "" })
    };
    if !mended.mended.is_empty() {
        remark(format!("damaged objects were mended: {}", list(&mended.mended)), Topic::Mended);
    }
    if !mended.lost.is_empty() {
        let message = format!("objects that the file uses could not be read and are lost: {}", list(&mended.lost));
        remark(message, Topic::Lost);
    }
}
