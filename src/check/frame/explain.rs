use crate::check::{CHECKS, Check};
use crate::fault::{Fault, Source};

/// A check's own words, from the header of its file.
#[derive(Clone, Debug)]
pub struct Explained {
    /// The check.
    pub check: &'static Check,
    /// Heading and text of each section; paragraphs are parted by an empty line and their lines are joined.
    pub sections: Vec<(&'static str, String)>,
}

/// All checks: id, title, usual severity.
pub fn list() -> impl Iterator<Item = &'static Check> {
    CHECKS.iter()
}

/// The text of one check.
///
/// # Errors
/// No check has that id; the hint names the nearest one.
pub fn explain(id: &str) -> crate::fault::Result<Explained> {
    let Some(check) = CHECKS.iter().find(|c| c.id == id) else {
        return Err(unknown(id, Source::Nowhere).into());
    };
    Ok(Explained { check, sections: sections(check.doc) })
}

/// The fault for an id that no check has.
pub(crate) fn unknown(id: &str, source: Source) -> Fault {
    let fault = Fault::new(source, format!("there is no check `{id}`"));
    match crate::check::limits::nearest(id, CHECKS.iter().map(|c| c.id)) {
        Some(near) => fault.hint(format!("the nearest is `{near}`")),
        None => fault.hint("`fairfold explain` lists all checks"),
    }
}

/// The `//! # Heading` sections of a file's header.
fn sections(doc: &'static str) -> Vec<(&'static str, String)> {
    let mut sections: Vec<(&'static str, String)> = Vec::new();
    for line in doc.lines().map_while(|l| l.strip_prefix("//!")) {
        let line = line.trim();
        if let Some(head) = line.strip_prefix("# ") {
            sections.push((head, String::new()));
        } else if let Some((_, body)) = sections.last_mut() {
            match (line.is_empty(), body.is_empty() || body.ends_with('\n')) {
                (true, false) => body.push_str("\n\n"),
                (true, true) => {}
                (false, open) => {
                    // List items keep their own lines; other lines of a paragraph are joined.
                    let item = line.starts_with("- ");
                    if !open {
                        body.push(if item { '\n' } else { ' ' });
                    }
                    body.push_str(line);
                }
            }
        }
    }
    for (_, body) in &mut sections {
        body.truncate(body.trim_end().len());
    }
    sections
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_are_joined_and_items_kept() {
        let doc = "//! # One\n//!\n//! a\n//! b\n//!\n//! c\n//! - d\n//! # Two\n//! e\n\nuse x;\n//! no\n";
        assert_eq!(sections(doc), [("One", "a b\n\nc\n- d".to_owned()), ("Two", "e".to_owned())]);
    }

    #[test]
    fn an_unknown_check_names_the_nearest() {
        let faults = explain("waiver-unsued").unwrap_err();
        assert!(faults.to_string().contains("`waiver-unused`"), "{faults}");
    }
}
