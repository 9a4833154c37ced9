use super::slug::{self, SlugLine};
use super::{PressInfo, fault};
use crate::fault::Result;
use crate::ink::{Colour, Ink};
use crate::pdf::{Cap, Content, Document, Overprint};
use crate::sheet::{FOLD_DASH, Form, LINE_WEIGHT, Line, Mark, Sheet};
use crate::unit::{Length, Point};

/// Draws every mark of a form: lines and triangles in Separation All, patches and ink names in their own inks, the slug's words in
/// black that overprints.
pub(super) fn draw(
    document: &mut Document,
    content: &mut Content,
    sheet: &Sheet,
    form: &Form,
    info: &PressInfo,
) -> Result<()> {
    if form.marks.is_empty() {
        return Ok(());
    }
    let all = Colour::Inks { tints: vec![(Ink::All, 1.0)], look: Box::new(Colour::Cmyk([1.0; 4])) };
    content.save();
    content.stroke_colour(document, &all)?;
    content.fill_colour(document, &all)?;
    content.line_width(LINE_WEIGHT).cap(Cap::Butt);
    for mark in &form.marks {
        match mark {
            Mark::Crop(at) | Mark::Centre(at) => line(content, *at),
            Mark::Register { centre, arm } => target(content, *centre, *arm),
            Mark::Gripper([a, b, c]) | Mark::SideGuide([a, b, c]) => {
                content.move_to(*a).line_to(*b).line_to(*c).close().fill();
            }
            Mark::Fold(_) | Mark::Patch { .. } | Mark::Slug { .. } => {}
        }
    }
    if form.marks.iter().any(|m| matches!(m, Mark::Fold(_))) {
        content.dash(&[FOLD_DASH.on, FOLD_DASH.off], Length::ZERO);
        for mark in &form.marks {
            if let Mark::Fold(at) = mark {
                line(content, *at);
            }
        }
    }
    content.restore();
    content.save();
    for mark in &form.marks {
        if let Mark::Patch { rect, ink, percent } = mark {
            content.fill_colour(document, &patch(ink, f64::from(*percent) / 100.0, info)?)?;
            content.rect(*rect).fill();
        }
    }
    content.restore();
    for mark in &form.marks {
        if let Mark::Slug { rect, turn } = mark {
            let words = slug::words(sheet, form, info);
            slug::check_characters(&words)?;
            let plates: Vec<Ink> = info.plates().cloned().collect();
            let lines = slug::fit(&words, &plates, *rect, *turn)?;
            write_slug(document, content, &lines, info)?;
        }
    }
    Ok(())
}

fn write_slug(document: &mut Document, content: &mut Content, lines: &[SlugLine], info: &PressInfo) -> Result<()> {
    content.save();
    content.overprint(document, Overprint::OnNonZero);
    for SlugLine { line, at, turn, ink } in lines {
        content.fill_colour(document, &patch(ink, 1.0, info)?)?;
        content.text_turned(document, line, *at, *turn)?;
    }
    content.restore();
    Ok(())
}

fn line(content: &mut Content, at: Line) {
    content.move_to(at.from).line_to(at.to).stroke();
}

/// A cross over a circle of half its reach. Four arcs with the usual control points, 0.5523 of the radius.
fn target(content: &mut Content, centre: Point, arm: Length) {
    let at = |x: Length, y: Length| centre.moved(x, y);
    let (r, o) = (arm.half(), Length::ZERO);
    let k = r.scaled(0.552_284_75);
    content.move_to(at(-arm, o)).line_to(at(arm, o)).stroke();
    content.move_to(at(o, -arm)).line_to(at(o, arm)).stroke();
    content.move_to(at(r, o));
    content.curve_to(at(r, k), at(k, r), at(o, r));
    content.curve_to(at(-k, r), at(-r, k), at(-r, o));
    content.curve_to(at(-r, -k), at(-k, -r), at(o, -r));
    content.curve_to(at(k, -r), at(r, -k), at(r, o));
    content.close().stroke();
}

/// A tint of one ink alone.
fn patch(ink: &Ink, tint: f64, info: &PressInfo) -> Result<Colour> {
    match ink {
        Ink::Cyan => Ok(Colour::Cmyk([tint, 0.0, 0.0, 0.0])),
        Ink::Magenta => Ok(Colour::Cmyk([0.0, tint, 0.0, 0.0])),
        Ink::Yellow => Ok(Colour::Cmyk([0.0, 0.0, tint, 0.0])),
        Ink::Black => Ok(Colour::Cmyk([0.0, 0.0, 0.0, tint])),
        Ink::Spot(name) => info
            .spots
            .iter()
            .find(|s| s.name == *name)
            .map(|s| s.at(tint))
            .ok_or_else(|| fault(format!("the spot ink {name} has no process alternate to draw its patch with"))),
        Ink::All | Ink::None => Err(fault("registration colour is no ink of the strip")),
    }
}
