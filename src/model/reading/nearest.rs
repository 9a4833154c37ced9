/// The name nearest to what was written, where one is near enough to be meant.
pub(crate) fn nearest<'a>(written: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let written = written.to_lowercase();
    names
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(&written, &name.to_lowercase()), name))
        .filter(|(far, name)| *far * 2 <= name.chars().count().max(2))
        .min_by_key(|(far, _)| *far)
        .map(|(_, name)| name)
}

/// Names as a fault lists them, with the word that the last one is joined by: `"half", "letter" or "gate"`.
pub(crate) fn listed<S: AsRef<str>>(names: &[S], join: &str) -> String {
    match names {
        [] => "none".to_owned(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {join} {}", first.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_name_and_a_stranger_none() {
        let names = ["size", "fold", "stroke_index", "bleed"];
        assert_eq!(nearest("siez", names), Some("size"));
        assert_eq!(nearest("Fold", names), Some("fold"));
        assert_eq!(nearest("strokeindex", names), Some("stroke_index"));
        assert_eq!(nearest("weather", names), None);
    }

    #[test]
    fn lists_read_like_sentences() {
        assert_eq!(listed(&["a", "b", "c"], "or"), "a, b or c");
        assert_eq!(listed(&["a"], "or"), "a");
    }
}
