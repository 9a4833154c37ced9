use std::ops::Range;

use unicode_linebreak::{BreakOpportunity, linebreaks};

use super::shaping::{set, shown};
use super::{Font, ShapedLine, Shaping};
use crate::unit::Length;

const SOFT_HYPHEN: char = '\u{ad}';

/// Breaks `text` into lines no wider than `width` where Unicode Standard Annex 14 lets a line end, filling each line as far as it
/// goes. Line feeds break always; an empty line between two of them stays. Blanks at a line's end are left out. A soft hyphen
/// shows as a hyphen where a line ends at it. A word wider than `width` stands alone on its line, uncut: ask
/// [`ShapedLine::overrun`].
pub fn wrap(font: &Font, text: &str, size: Length, shaping: Shaping, width: Length) -> Vec<ShapedLine> {
    let mut lines = Vec::new();
    if text.is_empty() {
        return lines;
    }
    let make = |range: Range<usize>| {
        let slice = text.get(range.clone()).unwrap_or("").trim_end();
        let mut words = shown(slice);
        if slice.ends_with(SOFT_HYPHEN) {
            words.push('-');
        }
        set(font, words, range, size, shaping)
    };
    let mut start = 0;
    let mut held: Option<ShapedLine> = None;
    for (at, kind) in linebreaks(text) {
        let longer = make(start..at);
        let mut next = match held.take() {
            Some(fits) if longer.overrun(width).is_some() => {
                start = fits.source.end;
                lines.push(fits);
                make(start..at)
            }
            _ => longer,
        };
        if kind == BreakOpportunity::Mandatory {
            start = at;
            next.source.end = at;
            lines.push(next);
        } else {
            held = Some(next);
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::font::OpenFont;
    use proptest::prelude::*;

    fn texts(text: &str, width: Length) -> Vec<String> {
        let font = OpenFont::Serif.font().unwrap();
        wrap(font, text, Length::pt(10), Shaping::TEXT, width).into_iter().map(|l| l.text).collect()
    }

    #[test]
    fn forced_breaks_and_empty_lines_stay() {
        assert_eq!(
            texts("Fix pitch marks.\n\nRake bunkers.", Length::inches(8, 1)),
            ["Fix pitch marks.", "", "Rake bunkers."]
        );
        assert!(texts("", Length::pt(10)).is_empty());
    }

    #[test]
    fn a_long_word_is_not_cut() {
        let font = OpenFont::Serif.font().unwrap();
        let lines = wrap(font, "a greenkeepers' b", Length::pt(10), Shaping::TEXT, Length::pt(20));
        assert_eq!(lines.iter().map(|l| l.text.as_str()).collect::<Vec<_>>(), ["a", "greenkeepers'", "b"]);
        assert!(lines[1].overrun(Length::pt(20)).is_some());
        assert!(lines[0].overrun(Length::pt(20)).is_none());
    }

    #[test]
    fn a_soft_hyphen_shows_only_where_it_breaks() {
        assert_eq!(texts("green\u{ad}keeper", Length::inches(8, 1)), ["greenkeeper"]);
        assert_eq!(texts("green\u{ad}keeper", Length::pt(40)), ["green-", "keeper"]);
    }

    proptest! {
        #[test]
        fn nothing_is_lost_and_lines_fit(words in proptest::collection::vec("[a-z]{1,9}", 1..30), points in 60_i64..200) {
            let (font, width) = (OpenFont::Narrow.font().unwrap(), Length::pt(points));
            let text = words.join(" ");
            let lines = wrap(font, &text, Length::pt(10), Shaping::TEXT, width);
            prop_assert_eq!(lines.iter().map(|l| l.text.as_str()).collect::<Vec<_>>().join(" "), text);
            for line in &lines {
                prop_assert!(line.overrun(width).is_none() || !line.text.contains(' '));
            }
        }
    }
}
