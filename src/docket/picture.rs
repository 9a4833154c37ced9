use super::Leaf;
use crate::card::Side;
use crate::sheet::{Form, FormSide, Sheet, Station};
use crate::unit::{Length, Point, Rect, Size};

/// Draws the forms as the press sees them, gripper edge below, one under the other between `top` and `foot`, from `left` to the margin.
pub(super) fn forms(leaf: &mut Leaf, sheet: &Sheet, left: Length, top: Length, foot: Length) {
    let count = i64::try_from(sheet.forms.len()).unwrap_or(1).max(1);
    let caption = Length::pt(26);
    let wide = Length::inches(8, 1) - left;
    let high = (top - foot) / count - caption;
    let size = sheet.size;
    let scale = (wide.to_pt() / size.width.to_pt()).min(high.max(Length::pt(60)).to_pt() / size.height.to_pt());
    let mut y = top;
    for form in &sheet.forms {
        let at = Point::new(left, y - Length::from_pt(size.height.to_pt() * scale));
        self::form(leaf, sheet, form, at, scale);
        y = at.y - caption;
    }
}

fn form(leaf: &mut Leaf, sheet: &Sheet, form: &Form, at: Point, scale: f64) {
    let place = |rect: Rect| {
        let scaled = |l: Length| Length::from_pt(l.to_pt() * scale);
        Rect::new(at.x + scaled(rect.x0), at.y + scaled(rect.y0), at.x + scaled(rect.x1), at.y + scaled(rect.y1))
    };
    let thin = Length::units(Length::PER_PT / 4);
    leaf.frame(place(Rect::new(Length::ZERO, Length::ZERO, sheet.size.width, sheet.size.height)), Length::pt(1), None);
    leaf.frame(place(sheet.printable), thin, Some(0.97));
    for station in &form.stations {
        let trim = place(station.trim);
        leaf.frame(
            trim,
            Length::units(Length::PER_PT / 2),
            Some(if station.face == Side::Outside { 0.82 } else { 0.92 }),
        );
        for (from, to) in fold_lines(sheet, station) {
            let (a, b) = (place(Rect::new(from.x, from.y, from.x, from.y)), place(Rect::new(to.x, to.y, to.x, to.y)));
            leaf.dashed(a.x0, a.y0, b.x0, b.y0, thin);
        }
        let head = match station.face {
            Side::Outside => "o",
            Side::Inside => "i",
        };
        let label = format!("{}{head} {}", station.number, head_of(station));
        // Clear of the folds, which run through the middle.
        leaf.text(trim.x0 + Length::pt(3), trim.y0 + Length::pt(3), Length::pt(7), &label);
    }
    let side = match form.side {
        FormSide::Front => "The front",
        FormSide::Back => "The back",
        FormSide::Both => "The form for both sides",
    };
    let words = format!("{side}, gripper edge below; o outside, i inside, and where its head points");
    leaf.text(at.x, at.y - Length::pt(10), Length::pt(7), &words);
}

/// Which way the head of a card points on the form.
fn head_of(station: &Station) -> &'static str {
    use crate::unit::Turn;
    match station.turn {
        Turn::None => "up",
        Turn::Left => "left",
        Turn::Half => "down",
        Turn::Right => "right",
    }
}

/// The folds of a card on the form, each from end to end.
fn fold_lines(sheet: &Sheet, station: &Station) -> Vec<(Point, Point)> {
    let Size { height, .. } = sheet.format.flat;
    let lines = sheet.format.fold.lines(station.face);
    lines
        .into_iter()
        .map(|x| (station.on_form(Point::new(x, Length::ZERO)), station.on_form(Point::new(x, height))))
        .collect()
}
