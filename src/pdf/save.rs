use lopdf::xref::XrefType;
use lopdf::{Dictionary, Object, SaveOptions, Stream, StringFormat, text_string};
use md5::{Digest as _, Md5};

use super::fault;
use super::heavy::Heavy;
use super::pieces::{Pieces, Skeleton};
use crate::fault::Result;

/// The file's build.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum FileKind {
    /// PDF 1.6 with object streams and a cross-reference stream (7.5.7, 7.5.8).
    #[default]
    Compact,
    /// PDF 1.4 with a cross-reference table, as PDF/X-1a:2003 needs it.
    Classic,
}

/// A value of the Info dictionary.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum InfoValue {
    /// A text; dates are texts too (`D:20260401120000Z`).
    Text(String),
    /// A name, such as `False` for `Trapped`.
    Name(String),
}

/// What a file says about itself, given by the caller: nothing here asks a clock.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Saving {
    /// The build.
    pub kind: FileKind,
    /// Entries of the Info dictionary, in this order.
    pub info: Vec<(String, InfoValue)>,
    /// The XMP packet, written uncompressed so that any program may find it.
    pub xmp: Option<String>,
}

impl Saving {
    /// The same with one more text in Info.
    #[must_use]
    pub fn text(mut self, key: &str, value: impl Into<String>) -> Self {
        self.info.push((key.to_owned(), InfoValue::Text(value.into())));
        self
    }
}

/// Gives the bytes of `objects`, whose trailer names the Root. The trailer's ID is the MD5 digest of the file as it is without one
/// (14.4 asks for a digest of what tells the file from others), with the digests of its heavy pictures in their places. The files of
/// `carried` hold those.
pub fn save(mut objects: lopdf::Document, saving: &Saving, carried: &[Heavy]) -> Result<Pieces> {
    if let Some(xmp) = &saving.xmp {
        let mut dict = Dictionary::new();
        dict.set("Type", Object::Name(b"Metadata".to_vec()));
        dict.set("Subtype", Object::Name(b"XML".to_vec()));
        let stream = Stream::new(dict, xmp.clone().into_bytes()).with_compression(false);
        let id = objects.add_object(stream);
        let catalog = objects.catalog_mut().map_err(|why| fault(format!("the file has no catalog: {why}")))?;
        catalog.set("Metadata", Object::Reference(id));
    }
    if !saving.info.is_empty() {
        let mut info = Dictionary::new();
        for (key, value) in &saving.info {
            info.set(
                key.as_str(),
                match value {
                    InfoValue::Text(text) => text_string(text),
                    InfoValue::Name(name) => Object::Name(name.clone().into_bytes()),
                },
            );
        }
        let id = objects.add_object(info);
        objects.trailer.set("Info", Object::Reference(id));
    }
    objects.trailer.remove(b"ID");
    let digest = Md5::digest(written(&mut objects, saving.kind)?.bytes()).to_vec();
    let id = Object::String(digest, StringFormat::Hexadecimal);
    objects.trailer.set("ID", Object::Array(vec![id.clone(), id]));
    if saving.kind == FileKind::Classic {
        filled(&mut objects, carried);
    }
    written(&mut objects, saving.kind)?.filled(carried)
}

/// Puts heavy pictures into the objects, for a file whose cross-reference table is text.
fn filled(objects: &mut lopdf::Document, carried: &[Heavy]) {
    for object in objects.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        let whole = carried.iter().map(|h| h.whole(&stream.content)).find(|whole| whole.len() != stream.content.len());
        if let Some(whole) = whole {
            stream.content = whole.to_vec();
        }
    }
}

fn written(objects: &mut lopdf::Document, kind: FileKind) -> Result<Skeleton> {
    let mut out = Skeleton::default();
    let written = match kind {
        FileKind::Compact => {
            "1.6".clone_into(&mut objects.version);
            let options = SaveOptions::builder().use_object_streams(true).use_xref_streams(true).compression_level(6);
            objects.save_with_options(&mut out, options.build())
        }
        FileKind::Classic => {
            "1.4".clone_into(&mut objects.version);
            objects.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
            objects.save_to(&mut out)
        }
    };
    written.map_err(|why| fault(format!("the file cannot be put together: {why}")))?;
    out.end();
    Ok(out)
}
