/// The text of a property of an XMP packet by the end of its name, be it an element (tags inside left out) or an attribute; `None` where
/// it is absent or empty.
pub(super) fn property(xmp: &str, name: &str) -> Option<String> {
    let asked = format!(":{name}");
    let mut from = 0;
    while let Some(at) = xmp.get(from..)?.find(&asked) {
        let start = from + at;
        let behind = xmp.get(start + asked.len()..)?;
        from = start + asked.len();
        // `</dc:title>` closes what was looked at before.
        let before = xmp.get(..start)?.trim_end_matches(|c: char| c.is_alphanumeric());
        if before.ends_with('/') {
            continue;
        }
        let text = match behind.trim_start().chars().next() {
            Some('>') if before.ends_with('<') => element(behind.trim_start().get(1..)?, &asked),
            Some('=') => attribute(behind.trim_start().get(1..)?),
            _ => None,
        };
        if let Some(text) = text.map(|t| t.trim().to_owned()).filter(|t| !t.is_empty()) {
            return Some(text);
        }
    }
    None
}

/// What stands up to the closing tag, without the tags in it.
fn element(inside: &str, asked: &str) -> Option<String> {
    let mut end = 0;
    while let Some(at) = inside.get(end..)?.find("</") {
        let tag = inside.get(end + at + 2..)?;
        let name = tag.split(|c: char| c == '>' || c.is_whitespace()).next()?;
        if name.ends_with(asked) {
            let mut text = String::new();
            let mut in_tag = false;
            for c in inside.get(..end + at)?.chars() {
                match c {
                    '<' => in_tag = true,
                    '>' => in_tag = false,
                    c if !in_tag => text.push(c),
                    _ => {}
                }
            }
            return Some(text);
        }
        end += at + 2;
    }
    None
}

fn attribute(behind: &str) -> Option<String> {
    let quoted = behind.trim_start();
    let quote = quoted.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    quoted.get(1..)?.split_once(quote).map(|(value, _)| value.to_owned())
}

/// The five named characters of XML, undone.
pub(super) fn unescaped(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&apos;", "'").replace("&amp;", "&")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn elements_attributes_and_lists() {
        let xmp = "<d xmp:CreateDate=\"2027\" a:Empty=''><dc:title>\n<rdf:Alt><rdf:li xml:lang='x'>A &amp; B</rdf:li></rdf:Alt></dc:title>\
                   <pdfxid:GTS_PDFXVersion >PDF/X-4</pdfxid:GTS_PDFXVersion><b:VersionIDs>9</b:VersionIDs></d>";
        let read = |name| property(xmp, name);
        assert_eq!(read("CreateDate").as_deref(), Some("2027"));
        assert_eq!(read("title").as_deref().map(unescaped).as_deref(), Some("A & B"));
        assert_eq!(read("GTS_PDFXVersion").as_deref(), Some("PDF/X-4"));
        assert_eq!((read("Empty"), read("VersionID"), read("Trapped")), (None, None, None));
    }
}
