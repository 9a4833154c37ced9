use std::fmt::Write as _;

use super::content::turn_numbers;
use super::number::{decimal, plain};
use super::{Content, Document};
use crate::fault::Result;
use crate::font::{Font, Glyph, ShapedLine};
use crate::unit::{Length, Point, Turn};

impl Content {
    /// Sets a line with the start of its baseline at `at`, in the fill colour in force.
    pub fn text(&mut self, document: &mut Document, line: &ShapedLine, at: Point) -> Result<&mut Self> {
        self.text_turned(document, line, at, Turn::None)
    }

    /// Sets a line whose baseline runs in the direction of `turn`, starting at `at`.
    pub fn text_turned(
        &mut self,
        document: &mut Document,
        line: &ShapedLine,
        at: Point,
        turn: Turn,
    ) -> Result<&mut Self> {
        let set = document.set(line)?;
        if line.glyphs.is_empty() {
            return Ok(self);
        }
        if !set.says_itself {
            self.begin_text(&line.text);
        }
        let name = format!("/{}", self.resources().font(set.font));
        self.op(&[], "BT").op(&[&name, &decimal(line.size)], "Tf");
        let tracked = line.shaping.tracking != Length::ZERO;
        if tracked {
            self.op(&[&decimal(line.shaping.tracking)], "Tc");
        }
        self.op(&[turn_numbers(turn), &decimal(at.x), &decimal(at.y)], "Tm");
        self.show(line, &set.cids, line.font.font()?);
        if tracked {
            self.op(&["0"], "Tc");
        }
        self.op(&[], "ET");
        if !set.says_itself {
            self.end();
        }
        Ok(self)
    }

    /// The glyphs as hexadecimal CIDs, with what kerning and offsets ask for between them (9.4.3, `TJ` in thousandths of an em).
    fn show(&mut self, line: &ShapedLine, cids: &[u16], font: &Font) {
        let per_em = f64::from(font.per_em().max(1));
        let mut run = Run::default();
        let (mut rise, mut shift) = (0, 0);
        for (glyph, cid) in line.glyphs.iter().zip(cids) {
            let Glyph { advance, natural, dx, dy, .. } = *glyph;
            if dy != rise {
                run.write(self);
                self.op(&[&decimal(font.at(i64::from(dy), line.size))], "Ts");
                rise = dy;
            }
            run.push(shift + dx, *cid, per_em);
            shift = advance - natural - dx;
        }
        run.write(self);
        if rise != 0 {
            self.op(&["0"], "Ts");
        }
    }
}

/// Glyphs shown by one operator.
#[derive(Default)]
struct Run {
    /// The array's inside, with the last string still open.
    text: String,
    adjusted: bool,
}

impl Run {
    fn push(&mut self, shift: i32, cid: u16, per_em: f64) {
        if shift != 0 {
            let number = plain(-f64::from(shift) * 1000.0 / per_em, 5);
            self.text.push_str(if self.text.is_empty() { "" } else { "> " });
            let _ = write!(self.text, "{number} <");
            self.adjusted = true;
        } else if self.text.is_empty() {
            self.text.push('<');
        }
        let _ = write!(self.text, "{cid:04X}");
    }

    fn write(&mut self, content: &mut Content) {
        let Self { text, adjusted } = std::mem::take(self);
        if text.is_empty() {
            return;
        }
        if adjusted {
            content.op(&[&format!("[{text}>]")], "TJ");
        } else {
            content.op(&[&format!("{text}>")], "Tj");
        }
    }
}
