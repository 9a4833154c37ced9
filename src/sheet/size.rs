use crate::fault::{Fault, Result, Source};
use crate::unit::{Length, Size, parse_size};

/// A sheet as it is bought: a name where it has one, and its size as written, width x height.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetSize {
    /// Its name in the trade; `None` for any other size.
    pub name: Option<&'static str>,
    /// Width and height as written.
    pub size: Size,
}

/// Which edge of the sheet goes into the gripper.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub enum GripperEdge {
    /// The long edge, as on most offset presses (common practice).
    #[default]
    Long,
    /// The short edge, as many digital presses feed.
    Short,
    /// The width as written, whichever is longer.
    Width,
}

/// Names of sheets: inch sizes of the US trade in 1/16 inch, then ISO 217 raw sizes and the B sizes of ISO 216 in
/// millimetres, short side first.
const INCH: [(&str, i64, i64); 11] = [
    ("11x17", 11, 17),
    ("12x18", 12, 18),
    ("13x19", 13, 19),
    ("17x22", 17, 22),
    ("19x25", 19, 25),
    ("20x26", 20, 26),
    ("23x29", 23, 29),
    ("23x35", 23, 35),
    ("25x38", 25, 38),
    ("26x40", 26, 40),
    ("28x40", 28, 40),
];
const METRIC: [(&str, i64, i64); 8] = [
    ("RA3", 305, 430),
    ("SRA3", 320, 450),
    ("RA2", 430, 610),
    ("SRA2", 450, 640),
    ("RA1", 610, 860),
    ("SRA1", 640, 900),
    ("B2", 500, 707),
    ("B1", 707, 1000),
];

/// No sheet-fed press takes more: 3 m a side.
const LARGEST: Length = Length::mm(3000);

impl SheetSize {
    /// Every named size, in the order of the trade's lists.
    pub fn named() -> Vec<Self> {
        let inch = INCH.iter().map(|(name, w, h)| (*name, Length::inches(*w, 1), Length::inches(*h, 1)));
        let metric = METRIC.iter().map(|(name, w, h)| (*name, Length::mm(*w), Length::mm(*h)));
        inch.chain(metric).map(|(name, w, h)| Self { name: Some(name), size: Size::new(w, h) }).collect()
    }

    /// A name such as `SRA3`, `13x19` or `13x19 in` (either side first), or any size as width x height: `12 x 18 in`,
    /// `320 x 450 mm`.
    ///
    /// # Errors
    /// Says what may be written, and the nearest name.
    pub fn parse(text: &str, source: Source) -> Result<Self> {
        let plain = text.trim().to_lowercase().replace('×', "x").replace(' ', "");
        let plain = plain.strip_suffix("in").unwrap_or(&plain);
        for sheet in Self::named() {
            let name = sheet.name.unwrap_or_default().to_lowercase();
            let turned = name.split_once('x').map(|(a, b)| format!("{b}x{a}"));
            if plain == name {
                return Ok(sheet);
            }
            if turned.as_deref() == Some(plain) {
                return Ok(Self { size: Size::new(sheet.size.height, sheet.size.width), ..sheet });
            }
        }
        match parse_size(text) {
            // `parse_size` reads height first, as cards are written; sheets are written width first.
            Ok(size) if size.width <= LARGEST && size.height <= LARGEST => {
                Ok(Self { name: None, size: Size::new(size.height, size.width) })
            }
            Ok(_) => {
                Err(Fault::new(source, format!("`{text}` is larger than any press sheet ({LARGEST} a side)")).into())
            }
            Err(wrong) => {
                let names = Self::names();
                let near = names.iter().min_by_key(|n| strsim::levenshtein(&n.to_lowercase(), plain));
                let mut fault = Fault::new(source, format!("`{text}` is not a sheet: {}", wrong.message));
                if let Some(near) = near.filter(|n| strsim::levenshtein(&n.to_lowercase(), plain) <= 2) {
                    fault = fault.hint(format!("the nearest name is {near}"));
                }
                fault = fault.hint("write any size as width x height and a unit: \"12 x 18 in\", \"320 x 450 mm\"");
                Err(fault.hint(format!("or a name: {}", names.join(", "))).into())
            }
        }
    }

    fn names() -> Vec<&'static str> {
        INCH.iter().map(|s| s.0).chain(METRIC.iter().map(|s| s.0)).collect()
    }

    /// The sheet as it lies in the press: the gripper edge is the width.
    pub fn lying(&self, edge: GripperEdge) -> Size {
        let (short, long) = (self.size.width.min(self.size.height), self.size.width.max(self.size.height));
        match edge {
            GripperEdge::Long => Size::new(long, short),
            GripperEdge::Short => Size::new(short, long),
            GripperEdge::Width => self.size,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_any_size() {
        let inch = |w, h| Size::new(Length::inches(w, 1), Length::inches(h, 1));
        for (text, want) in [
            ("13x19", inch(13, 19)),
            ("13 x 19 in", inch(13, 19)),
            ("19x13", inch(19, 13)),
            ("12 x 9 in", inch(12, 9)),
            ("sra3", Size::new(Length::mm(320), Length::mm(450))),
            ("450 × 320 mm", Size::new(Length::mm(450), Length::mm(320))),
        ] {
            assert_eq!(SheetSize::parse(text, Source::Nowhere).unwrap().size, want, "{text}");
        }
        assert_eq!(SheetSize::parse("13x19 in", Source::Nowhere).unwrap().name, Some("13x19"));
    }

    #[test]
    fn a_wrong_name_is_told_the_nearest() {
        let faults = SheetSize::parse("SRA33", Source::Nowhere).unwrap_err().to_string();
        assert!(faults.contains("nearest name is SRA3"), "{faults}");
        assert!(SheetSize::parse("13 x 20", Source::Nowhere).is_err());
        assert!(SheetSize::parse("9 x 9 m", Source::Nowhere).is_err());
    }

    #[test]
    fn the_long_edge_goes_into_the_gripper() {
        let sheet = SheetSize::parse("13x19", Source::Nowhere).unwrap();
        assert_eq!(sheet.lying(GripperEdge::Long), Size::new(Length::inches(19, 1), Length::inches(13, 1)));
        assert_eq!(sheet.lying(GripperEdge::Short), sheet.lying(GripperEdge::Width));
    }

    #[test]
    fn raw_sizes_are_those_of_iso_217() {
        // ISO 217:2013: RA and SRA series in millimetres, tied to the areas of A0: RA0 1.05 m², SRA0 1.15 m², each next half.
        for (name, area) in
            [("RA1", 0.525), ("SRA1", 0.575), ("RA2", 0.2625), ("SRA2", 0.2875), ("RA3", 0.13125), ("SRA3", 0.14375)]
        {
            let size = SheetSize::parse(name, Source::Nowhere).unwrap().size;
            let got = size.width.to_mm() * size.height.to_mm() / 1e6;
            assert!((got / area - 1.0).abs() < 0.01, "{name}: {got} m² against {area} m²");
        }
    }
}
