//! The table of ratings and slopes: a line a tee and combination.

use super::{Bed, drawn, text};
use crate::fault::Result;
use crate::font::OpenFont;
use crate::ink::Colour;
use crate::model::{RatingsBlock, TeeShown};
use crate::scorecard::{ForWho, Rating, Who};
use crate::typeset::grid::rating_text;
use crate::typeset::lettering::Lettering;
use crate::typeset::page::Page;
use crate::unit::{Length, Point};

/// The table is 8 pt where the card does not say, as its description promises.
const USUAL_SIZE: Length = Length::pt(8);
/// Calm, and above the quarter point at which a line of several inks is a warning (Ghent Workgroup 2022).
const HAIRLINE: Length = Length::units(Length::PER_PT * 35 / 100);

struct Entry<'a> {
    name: &'a str,
    ratings: &'a ForWho<Rating>,
    /// The tee's colour, shown as a dot before its name.
    swatch: Option<Colour>,
}

/// Sets the table from the top of its place. Its lines share the height, within what reads well.
pub(super) fn set(page: &mut Page, bed: &Bed<'_>, block: &RatingsBlock) -> Result<()> {
    let Some(numbers) = bed.model.scorecard() else { return Ok(()) };
    let colour = block.colour.as_ref().map_or(Colour::BLACK, |c| bed.model.colour(c));
    let swatch = |n: usize| {
        let tee = bed.model.file.tees.get(n)?;
        Some(bed.model.colour(&tee.colour)).filter(|c| !c.is_paper() || tee.shown == TeeShown::Fill)
    };
    let tees =
        numbers.tees.iter().enumerate().map(|(n, t)| Entry { name: &t.name, ratings: &t.ratings, swatch: swatch(n) });
    let combos = numbers.combos.iter().map(|c| Entry { name: &c.name, ratings: &c.ratings, swatch: None });
    let entries: Vec<Entry<'_>> = tees.chain(combos).filter(|e| !e.ratings.is_empty()).collect();
    let people: Vec<Who> = [Who::Everyone, Who::Men, Who::Women]
        .into_iter()
        .filter(|who| entries.iter().any(|e| e.ratings.iter().any(|(w, _)| w == who)))
        .collect();

    let font_size = block.size.map_or(USUAL_SIZE, |m| m.0);
    let name_type = Lettering::text(OpenFont::NarrowMedium, font_size)?;
    let head_type = Lettering::text(OpenFont::NarrowSemibold, font_size)?;
    let figure_type = Lettering::figures(OpenFont::Narrow, font_size)?;
    let size = bed.frame.size();
    let lines = i64::try_from(entries.len() + 1).unwrap_or(i64::MAX);
    let pitch = (size.height / lines).min(font_size.scaled(1.9)).max(font_size.scaled(1.35));
    if pitch * lines > size.height {
        bed.overset(page, "table of ratings", size.height, pitch * lines, true);
    }

    let dot = font_size.scaled(0.3);
    let indent =
        if entries.iter().any(|e| e.swatch.is_some()) { dot * 2 + font_size.scaled(0.5) } else { Length::ZERO };
    let count = i64::try_from(people.len()).unwrap_or(1).max(1);
    let column = columns_width(size.width, count);
    let baseline = |n: i64| pitch * n + (pitch + name_type.cap()).half();
    let column_centre = |n: i64| size.width - column * (count - n) + column.half();
    let centred = |page: &mut Page, words: &str, lettering: &Lettering, n: i64, y: Length| {
        let line = lettering.line(words);
        if line.width() > column {
            bed.overset(page, words, column, line.width(), false);
        }
        let x = column_centre(n) - line.width().half();
        page.text(line, bed.frame.point(x, y), bed.frame.turn, &colour);
    };

    text::line(page, bed, "Rating / slope", &head_type, (Length::ZERO, baseline(0)), &colour);
    for (n, who) in (0..).zip(&people) {
        let head = match who {
            Who::Everyone => "All",
            Who::Men => "Men",
            Who::Women => "Women",
        };
        if people.len() > 1 || *who != Who::Everyone {
            centred(page, head, &head_type, n, baseline(0));
        }
    }
    for (n, entry) in (1..).zip(&entries) {
        let y = baseline(n);
        let edge = |x: Length| bed.frame.point(x, pitch * n);
        page.rule(edge(Length::ZERO), edge(size.width), HAIRLINE, &colour);
        if let Some(swatch) = &entry.swatch {
            let middle: Point = bed.frame.point(dot, y - name_type.cap().half());
            page.fill(drawn::dot(kurbo::Point::new(middle.x.to_pt(), middle.y.to_pt()), dot.to_pt()), swatch);
        }
        let name = name_type.line(entry.name);
        let room = size.width - column * count - indent;
        if name.width() > room {
            bed.overset(page, entry.name, room, name.width(), false);
        }
        page.text(name, bed.frame.point(indent, y), bed.frame.turn, &colour);
        for (column, who) in (0..).zip(&people) {
            let rating = entry.ratings.iter().find(|(w, _)| w == who);
            let words = rating.map_or_else(|| "–".to_owned(), |(_, r)| rating_text(r));
            centred(page, &words, &figure_type, column, y);
        }
    }
    Ok(())
}

/// Each gender's column; names keep two fifths of the table, or more where there is one column only.
fn columns_width(width: Length, count: i64) -> Length {
    if count <= 1 { width * 2 / 5 } else { width * 3 / 5 / count }
}
