use std::sync::Arc;

use lopdf::{Dictionary, Object};

use super::filters;
use super::function::Function;
use super::limits::Topic;
use super::objects::{Objects, count, name_text};
use crate::card::{PaintSpace, PictureSpace, ProfileUse};
use crate::ink::{Colour, Ink};

/// A colour space of the artwork.
#[derive(Clone, PartialEq, Debug)]
pub enum Space {
    /// DeviceGray.
    Gray,
    /// DeviceRGB.
    Rgb,
    /// DeviceCMYK.
    Cmyk,
    /// CIE L*a*b*, with the range of a and b.
    Lab([f64; 4]),
    /// CalGray, CalRGB or ICCBased, read as the device space of the same family.
    Calibrated {
        /// What the space calls itself.
        name: Arc<str>,
        /// Gray, Rgb, Cmyk or Lab.
        plain: Arc<Self>,
        /// The profile, for ICCBased.
        profile: Option<ProfileUse>,
    },
    /// A table of colours of another space.
    Indexed {
        /// The space of the table.
        base: Arc<Self>,
        /// The highest index.
        last: usize,
        /// The table, one byte a component.
        table: Arc<[u8]>,
    },
    /// Separation or DeviceN.
    Inks {
        /// The colorants in order.
        inks: Arc<[Ink]>,
        /// The space that stands in for them.
        alternate: Arc<Self>,
        /// From tints to the alternate space.
        transform: Arc<TintTransform>,
    },
    /// Pattern, with the space of uncoloured patterns where it has one.
    Pattern(Option<Arc<Self>>),
}

/// The tint transform of a Separation or DeviceN space.
#[derive(Clone, PartialEq, Debug)]
pub struct TintTransform(Option<Function>);

/// Spaces inside spaces.
const DEEPEST: usize = 8;
/// Bytes that an ICC profile may decode to.
const MOST_PROFILE: usize = 64 << 20;

impl Space {
    /// Reads a colour space. `named` looks up names that are not device spaces; what is odd is told through `remark`.
    pub(super) fn read<'a>(
        objects: Objects<'a>,
        object: &'a Object,
        named: &dyn Fn(&[u8]) -> Option<&'a Object>,
        remark: &mut dyn FnMut(Topic, String),
        depth: usize,
    ) -> Option<Arc<Self>> {
        if depth > DEEPEST {
            return None;
        }
        let object = objects.resolve(object);
        if let Object::Name(name) = object {
            return match Self::device(name) {
                Some(space) => Some(Arc::new(space)),
                None => Self::read(objects, named(name)?, named, remark, depth + 1),
            };
        }
        let Object::Array(parts) = object else { return None };
        let family = objects.resolve(parts.first()?).as_name().ok()?;
        let part = |n: usize| parts.get(n).map(|o| objects.resolve(o));
        let inner = |n: usize, remark: &mut dyn FnMut(Topic, String)| {
            Self::read(objects, parts.get(n)?, named, remark, depth + 1)
        };
        let calibrated = |name: &str, plain: Self, profile: Option<ProfileUse>| Self::Calibrated {
            name: Arc::from(name),
            plain: Arc::new(plain),
            profile,
        };
        let space = match family {
            b"CalGray" => calibrated("CalGray", Self::Gray, None),
            b"CalRGB" => calibrated("CalRGB", Self::Rgb, None),
            b"CalCMYK" => Self::Cmyk,
            b"Lab" => {
                let range = part(1).and_then(|o| objects.as_dict(o)).and_then(|d| objects.numbers(d, "Range"));
                Self::Lab(range.and_then(|r| r.try_into().ok()).unwrap_or([-100.0, 100.0, -100.0, 100.0]))
            }
            b"ICCBased" => {
                let (plain, profile) = icc(objects, parts.get(1)?, named, remark, depth)?;
                calibrated("ICCBased", plain, Some(profile))
            }
            b"Indexed" | b"I" => {
                let base = inner(1, remark)?;
                let last = part(2).and_then(|o| objects.as_number(o)).map_or(0, |n| count(n, 255));
                let table: Arc<[u8]> = match part(3)? {
                    Object::String(bytes, _) => Arc::from(bytes.as_slice()),
                    Object::Stream(s) => Arc::from(filters::decode(objects, &s.dict, &s.content, 1 << 16).ok()?.bytes),
                    _ => return None,
                };
                Self::Indexed { base, last, table }
            }
            b"Separation" => {
                let name = part(1)?.as_name().ok()?;
                Self::inks(objects, vec![ink(name)], inner(2, remark)?, part(3))
            }
            b"DeviceN" => {
                let names = part(1)?.as_array().ok()?;
                let inks = names.iter().filter_map(|n| objects.resolve(n).as_name().ok()).map(ink).take(64).collect();
                Self::inks(objects, inks, inner(2, remark)?, part(3))
            }
            b"Pattern" => Self::Pattern(if parts.len() > 1 { inner(1, remark) } else { None }),
            other => Self::device(other)?,
        };
        Some(Arc::new(space))
    }

    fn inks<'a>(objects: Objects<'a>, inks: Vec<Ink>, alternate: Arc<Self>, transform: Option<&'a Object>) -> Self {
        let transform = transform.and_then(|o| Function::read(objects, o));
        Self::Inks { inks: Arc::from(inks), alternate, transform: Arc::new(TintTransform(transform)) }
    }

    /// A device space or Pattern by its name or its abbreviation in inline images.
    fn device(name: &[u8]) -> Option<Self> {
        Some(match name {
            b"DeviceGray" | b"G" | b"CalGray" => Self::Gray,
            b"DeviceRGB" | b"RGB" | b"CalRGB" => Self::Rgb,
            b"DeviceCMYK" | b"CMYK" | b"CalCMYK" => Self::Cmyk,
            b"Pattern" => Self::Pattern(None),
            _ => return None,
        })
    }

    /// What samples of this space are, in the trade's words: `RGB`, `CMYK`, `gray`, `Lab`, `inks`.
    pub fn family(&self) -> &'static str {
        match self {
            Self::Gray => "gray",
            Self::Rgb => "RGB",
            Self::Cmyk => "CMYK",
            Self::Lab(_) => "Lab",
            Self::Calibrated { plain, .. } => plain.family(),
            Self::Indexed { base, .. } => base.family(),
            Self::Inks { .. } => "inks",
            Self::Pattern(_) => "pattern",
        }
    }

    /// How many numbers a colour of this space has.
    pub fn components(&self) -> usize {
        match self {
            Self::Gray | Self::Indexed { .. } => 1,
            Self::Rgb | Self::Lab(_) => 3,
            Self::Cmyk => 4,
            Self::Calibrated { plain, .. } => plain.components(),
            Self::Inks { inks, .. } => inks.len(),
            Self::Pattern(under) => under.as_ref().map_or(0, |s| s.components()),
        }
    }

    /// The colour that is in force right after the space was chosen (ISO 32000-1, 8.6.8).
    pub(super) fn first_colour(&self) -> Option<Colour> {
        let components = match self {
            Self::Cmyk => vec![0.0, 0.0, 0.0, 1.0],
            Self::Calibrated { plain, .. } if **plain == Self::Cmyk => vec![0.0, 0.0, 0.0, 1.0],
            Self::Inks { inks, .. } => vec![1.0; inks.len()],
            Self::Pattern(_) => return None,
            other => vec![0.0; other.components()],
        };
        Some(self.colour(&components))
    }

    /// The colour with these components; missing ones are 0, all are kept to the range of the space.
    pub fn colour(&self, components: &[f64]) -> Colour {
        let at = |n: usize| components.get(n).copied().filter(|v| v.is_finite()).unwrap_or(0.0);
        let tint = |n: usize| at(n).clamp(0.0, 1.0);
        match self {
            Self::Gray => Colour::Gray(tint(0)),
            Self::Rgb => Colour::Rgb([tint(0), tint(1), tint(2)]),
            Self::Cmyk => Colour::Cmyk([tint(0), tint(1), tint(2), tint(3)]),
            Self::Lab([a0, a1, b0, b1]) => {
                Colour::Lab([at(0).clamp(0.0, 100.0), at(1).max(*a0).min(*a1), at(2).max(*b0).min(*b1)])
            }
            Self::Calibrated { name, plain, .. } => {
                Colour::Calibrated { space: Arc::clone(name), plain: Box::new(plain.colour(components)) }
            }
            Self::Indexed { base, last, table } => {
                let index = count(at(0), *last);
                let n = base.components();
                let entry = table.get(index * n..index * n + n).unwrap_or_default();
                let parts: Vec<f64> = entry.iter().map(|b| f64::from(*b) / 255.0).collect();
                base.colour(&base.spread(&parts))
            }
            Self::Inks { inks, alternate, transform } => {
                let tints: Vec<f64> = (0..inks.len()).map(tint).collect();
                let look = match &transform.0 {
                    Some(function) => alternate.colour(&function.at(&tints)),
                    None => Colour::Gray(1.0 - tints.iter().copied().fold(0.0, f64::max)),
                };
                Colour::Inks { tints: inks.iter().cloned().zip(tints).collect(), look: Box::new(plain(look)) }
            }
            Self::Pattern(under) => under.as_ref().map_or(Colour::Gray(0.0), |s| s.colour(components)),
        }
    }

    /// Components from 0 to 1, as samples have them, in the natural range of the space.
    pub fn spread(&self, parts: &[f64]) -> Vec<f64> {
        let lab = match self {
            Self::Lab(range) => Some(*range),
            Self::Calibrated { plain, .. } => match **plain {
                Self::Lab(range) => Some(range),
                _ => None,
            },
            _ => None,
        };
        match (lab, parts) {
            (Some([a0, a1, b0, b1]), [l, a, b]) => vec![l * 100.0, a0 + a * (a1 - a0), b0 + b * (b1 - b0)],
            _ => parts.to_vec(),
        }
    }

    /// Every ink that the space names, also those of the spaces inside it.
    pub fn colorants(&self) -> Vec<Ink> {
        match self {
            Self::Inks { inks, .. } => inks.to_vec(),
            Self::Indexed { base, .. } => base.colorants(),
            Self::Pattern(Some(under)) => under.colorants(),
            _ => Vec::new(),
        }
    }

    /// The family for a picture: what its samples are, whether they index a table, whether they are calibrated.
    pub fn picture(&self) -> (PictureSpace, bool, bool) {
        match self {
            Self::Gray => (PictureSpace::Gray, false, false),
            Self::Rgb => (PictureSpace::Rgb, false, false),
            Self::Cmyk => (PictureSpace::Cmyk, false, false),
            Self::Lab(_) => (PictureSpace::Lab, false, false),
            Self::Calibrated { plain, .. } => (plain.picture().0, false, true),
            Self::Indexed { base, .. } => {
                let (space, _, calibrated) = base.picture();
                (space, true, calibrated)
            }
            Self::Inks { inks, .. } => (PictureSpace::Inks(inks.to_vec()), false, false),
            Self::Pattern(_) => (PictureSpace::Unknown("Pattern".to_owned()), false, false),
        }
    }

    /// The space as what paints with it states it.
    pub fn as_paint(&self) -> PaintSpace {
        let (family, _, calibrated) = self.picture();
        PaintSpace { family, calibrated }
    }
}

/// A look without what lies around it: the plain numbers.
fn plain(colour: Colour) -> Colour {
    match colour {
        Colour::Calibrated { plain, .. } => *plain,
        Colour::Inks { look, .. } => *look,
        other => other,
    }
}

fn ink(name: &[u8]) -> Ink {
    Ink::from_colorant(&name_text(name))
}

/// The plain space of an ICC profile, by N, else by the profile's own header, and what both say; a contradiction is told.
fn icc<'a>(
    objects: Objects<'a>,
    profile: &'a Object,
    named: &dyn Fn(&[u8]) -> Option<&'a Object>,
    remark: &mut dyn FnMut(Topic, String),
    depth: usize,
) -> Option<(Space, ProfileUse)> {
    let object = profile.as_reference().ok().map(|id| id.0);
    let stream = objects.as_stream(profile)?;
    let n = objects.integer(&stream.dict, "N");
    let header = filters::decode(objects, &stream.dict, &stream.content, MOST_PROFILE).ok().map(|d| d.bytes);
    // Bytes 16 to 19 of the header name the colour space of the data (ICC.1, 7.2.6).
    let data = header.as_deref().and_then(|h| h.get(16..20));
    let range = objects.numbers(&stream.dict, "Range");
    let lab = |range: Option<Vec<f64>>| {
        let ab = range.and_then(|r| r.get(2..6).and_then(|r| r.try_into().ok()));
        Space::Lab(ab.unwrap_or([-128.0, 127.0, -128.0, 127.0]))
    };
    let in_header = match data {
        Some(b"GRAY") => Some(Space::Gray),
        Some(b"RGB ") => Some(Space::Rgb),
        Some(b"CMYK") => Some(Space::Cmyk),
        Some(b"Lab ") => Some(lab(range)),
        _ => {
            remark(
                Topic::Mended,
                "an embedded ICC profile is damaged; its colours were read by their number of components".to_owned(),
            );
            None
        }
    };
    let by_count = match n {
        Some(1) => Some(Space::Gray),
        Some(3) => Some(Space::Rgb),
        Some(4) => Some(Space::Cmyk),
        _ => None,
    };
    let profile = ProfileUse { object, stated: n, held: in_header.as_ref().map(Space::components) };
    let plain = match (by_count, in_header) {
        (Some(counted), Some(stated)) if counted.components() == stated.components() => Some(stated),
        (Some(counted), Some(stated)) => {
            let message = format!(
                "an ICC profile is for {} components but its N says {}; colours were read by N",
                stated.components(),
                counted.components()
            );
            remark(Topic::Mended, message);
            Some(counted)
        }
        (None, Some(stated)) => {
            remark(Topic::Mended, "an ICC profile has no usable N; the profile's own header was followed".to_owned());
            Some(stated)
        }
        (Some(counted), None) => Some(counted),
        (None, None) => {
            let alternate = stream.dict.get(b"Alternate").ok()?;
            Space::read(objects, alternate, named, remark, depth + 1).map(|s| (*s).clone())
        }
    };
    Some((plain?, profile))
}

/// The dictionary of colour spaces in these resources.
pub(super) fn resource<'a>(objects: Objects<'a>, resources: &'a Dictionary, name: &[u8]) -> Option<&'a Object> {
    objects.dict(resources, "ColorSpace").and_then(|d| d.get(name).ok()).map(|o| objects.resolve(o))
}
