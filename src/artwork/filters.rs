use lopdf::{Dictionary, Object, Stream};

use super::objects::Objects;

/// What a stream decodes to, as far as the general filters go.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Decoded {
    /// The bytes.
    pub(super) bytes: Vec<u8>,
    /// The picture filter that is left to undo (`DCTDecode`, `JPXDecode`, `JBIG2Decode`, `CCITTFaxDecode`), if any.
    pub(super) picture_filter: Option<String>,
}

/// Why a stream does not decode.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Undecoded {
    /// It decodes to more than it may.
    TooLarge(usize),
    /// A filter is not known or does not fit the bytes.
    Bad(String),
}

/// Filters are at most this many on one stream, as many as any honest writer uses.
const MOST_FILTERS: usize = 8;

/// The filters of a stream in the order of decoding, by their full names.
pub(super) fn names<'a>(objects: Objects<'a>, dict: &'a Dictionary) -> Vec<String> {
    let value = objects.get(dict, "Filter").or_else(|| objects.get(dict, "F"));
    match value {
        Some(Object::Name(name)) => vec![full_name(name)],
        Some(Object::Array(names)) => {
            names.iter().filter_map(|n| objects.resolve(n).as_name().ok()).map(full_name).collect()
        }
        _ => Vec::new(),
    }
}

/// The full name of a filter; inline images may abbreviate it (ISO 32000-1, table 94).
fn full_name(name: &[u8]) -> String {
    match name {
        b"Fl" => "FlateDecode",
        b"LZW" => "LZWDecode",
        b"A85" => "ASCII85Decode",
        b"AHx" => "ASCIIHexDecode",
        b"RL" => "RunLengthDecode",
        b"DCT" => "DCTDecode",
        b"CCF" => "CCITTFaxDecode",
        other => return super::objects::name_text(other),
    }
    .to_owned()
}

/// The decode parameters of the filter at `index`, its references followed.
pub(super) fn parameters<'a>(objects: Objects<'a>, dict: &'a Dictionary, index: usize) -> Option<&'a Dictionary> {
    let value = objects.get(dict, "DecodeParms").or_else(|| objects.get(dict, "DP"))?;
    match value {
        Object::Array(each) => each.get(index).and_then(|o| objects.as_dict(o)),
        Object::Dictionary(only) if index == 0 => Some(only),
        _ => None,
    }
}

/// Undoes the general filters of a stream one by one, none of them giving more than `most` bytes, and stops before a
/// picture filter.
pub(super) fn decode<'a>(
    objects: Objects<'a>,
    dict: &'a Dictionary,
    raw: &[u8],
    most: usize,
) -> Result<Decoded, Undecoded> {
    let raw = objects.whole(raw);
    let filters = names(objects, dict);
    if filters.len() > MOST_FILTERS {
        return Err(Undecoded::Bad(format!("{} filters stand on one stream", filters.len())));
    }
    if raw.len() > most {
        return Err(Undecoded::TooLarge(most));
    }
    let mut bytes = raw.to_vec();
    for (index, filter) in filters.iter().enumerate() {
        match filter.as_str() {
            "DCTDecode" | "JPXDecode" | "JBIG2Decode" | "CCITTFaxDecode" => {
                return Ok(Decoded { bytes, picture_filter: Some(filter.clone()) });
            }
            "Crypt" => continue,
            _ => {}
        }
        let mut one = Dictionary::new();
        one.set("Filter", Object::Name(filter.as_bytes().to_vec()));
        if let Some(parameters) = parameters(objects, dict, index) {
            let mut plain = Dictionary::new();
            for (key, value) in parameters {
                plain.set(key.clone(), objects.resolve(value).clone());
            }
            one.set("DecodeParms", plain);
        }
        bytes = Stream::new(one, bytes).decompressed_content_with_limit(most).map_err(|error| match error {
            lopdf::Error::Decompress(lopdf::DecompressError::MemoryLimitExceeded { .. }) => Undecoded::TooLarge(most),
            other => Undecoded::Bad(format!("{filter}: {other}")),
        })?;
    }
    Ok(Decoded { bytes, picture_filter: None })
}
