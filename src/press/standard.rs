use std::fmt::Write as _;

use lopdf::{Dictionary, Object, Stream, text_string};
use md5::{Digest as _, Md5};

use super::fault;
use super::{PressInfo, Standard};
use crate::fault::Result;
use crate::pdf::{Document, FileKind, InfoValue, Saving};

/// Who wrote the file.
const PRODUCER: &str = concat!("fairfold ", env!("CARGO_PKG_VERSION"));

/// The output intent: the print condition's name and its profile (ISO 32000-1, 14.11.5; ISO 15930-7, restated).
pub(super) fn output_intent(document: &mut Document, info: &PressInfo) -> Result<()> {
    let condition = info.condition;
    let mut dict = Dictionary::new();
    dict.set("N", 4);
    let mut profile = Stream::new(dict, condition.profile.to_vec());
    profile.compress().map_err(|why| fault(format!("the profile cannot be deflated: {why}")))?;
    let profile = document.objects_mut().add_object(profile.with_compression(false));
    let mut intent = Dictionary::new();
    intent.set("Type", Object::Name(b"OutputIntent".to_vec()));
    intent.set("S", Object::Name(b"GTS_PDFX".to_vec()));
    intent.set("OutputConditionIdentifier", text_string(&condition.identifier));
    intent.set("OutputCondition", text_string(&condition.name));
    intent.set("Info", text_string(&condition.source));
    intent.set("RegistryName", text_string("http://www.color.org"));
    intent.set("DestOutputProfile", Object::Reference(profile));
    let intent = document.objects_mut().add_object(intent);
    document.catalog_mut().set("OutputIntents", Object::Array(vec![Object::Reference(intent)]));
    Ok(())
}

/// Info and XMP, which say the same.
pub(super) fn saving(info: &PressInfo) -> Saving {
    let (kind, xmp) = match info.standard {
        Standard::X4 => (FileKind::Compact, Some(xmp(info))),
        Standard::X1a => (FileKind::Classic, None),
    };
    let version = info.standard.version();
    let mut saving = Saving { kind, xmp, ..Saving::default() }
        .text("Title", info.job)
        .text("Creator", PRODUCER)
        .text("Producer", PRODUCER)
        .text("CreationDate", &info.date.pdf)
        .text("ModDate", &info.date.pdf)
        .text("GTS_PDFXVersion", version);
    if info.standard == Standard::X1a {
        saving = saving.text("GTS_PDFXConformance", version);
    }
    saving.info.push(("Trapped".to_owned(), InfoValue::Name("False".to_owned())));
    saving
}

/// The packet that PDF/X-4 asks for: version, document and instance, title, dates, trapping.
fn xmp(info: &PressInfo) -> String {
    let id = uuid(info);
    let (title, date, version) = (escaped(info.job), &info.date.iso, info.standard.version());
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\"\n\
         \x20 xmlns:dc=\"http://purl.org/dc/elements/1.1/\"\n\
         \x20 xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\"\n\
         \x20 xmlns:xmpMM=\"http://ns.adobe.com/xap/1.0/mm/\"\n\
         \x20 xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\"\n\
         \x20 xmlns:pdfxid=\"http://www.npes.org/pdfx/ns/id/\">\n\
         <dc:format>application/pdf</dc:format>\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
         <xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>\n\
         <xmp:CreateDate>{date}</xmp:CreateDate>\n\
         <xmp:ModifyDate>{date}</xmp:ModifyDate>\n\
         <xmp:MetadataDate>{date}</xmp:MetadataDate>\n\
         <xmpMM:DocumentID>uuid:{id}</xmpMM:DocumentID>\n\
         <xmpMM:InstanceID>uuid:{id}</xmpMM:InstanceID>\n\
         <xmpMM:VersionID>1</xmpMM:VersionID>\n\
         <xmpMM:RenditionClass>default</xmpMM:RenditionClass>\n\
         <pdf:Producer>{PRODUCER}</pdf:Producer>\n\
         <pdf:Trapped>False</pdf:Trapped>\n\
         <pdfxid:GTS_PDFXVersion>{version}</pdfxid:GTS_PDFXVersion>\n\
         </rdf:Description>\n\
         </rdf:RDF>\n\
         </x:xmpmeta>\n\
         <?xpacket end=\"w\"?>"
    )
}

/// A name-based UUID (RFC 9562, version 3 over MD5) of job, date and digest: the same job has the same one.
fn uuid(info: &PressInfo) -> String {
    let mut bytes = Md5::digest(format!("fairfold\n{}\n{}\n{}", info.job, info.date.iso, info.digest));
    if let Some(b) = bytes.get_mut(6) {
        *b = *b & 0x0f | 0x30;
    }
    if let Some(b) = bytes.get_mut(8) {
        *b = *b & 0x3f | 0x80;
    }
    let mut text = String::new();
    for (n, byte) in bytes.iter().enumerate() {
        if matches!(n, 4 | 6 | 8 | 10) {
            text.push('-');
        }
        let _ = write!(text, "{byte:02x}");
    }
    text
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
