use lopdf::{Dictionary, Object};

use super::calculator::{self, Step};
use super::filters;
use super::objects::{Objects, count};

/// A PDF function (ISO 32000-1, 7.10): numbers in, numbers out.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Function {
    domain: Vec<(f64, f64)>,
    range: Option<Vec<(f64, f64)>>,
    kind: Kind,
}

#[derive(Clone, PartialEq, Debug)]
enum Kind {
    Sampled { size: Vec<usize>, encode: Vec<(f64, f64)>, decode: Vec<(f64, f64)>, samples: Vec<f64> },
    Exponential { c0: Vec<f64>, c1: Vec<f64>, n: f64 },
    Stitching { functions: Vec<Function>, bounds: Vec<f64>, encode: Vec<(f64, f64)> },
    Calculator(Vec<Step>),
    Together(Vec<Function>),
    Identity,
}

/// Samples that one table may hold.
const MOST_SAMPLES: usize = 4_000_000;
/// Stitched functions stand this deep inside one another at the most.
const DEEPEST: usize = 8;

impl Function {
    /// Reads a function, or an array of functions of one output each; `None` where it cannot be made sense of.
    pub(super) fn read<'a>(objects: Objects<'a>, object: &'a Object) -> Option<Self> {
        Self::read_at(objects, object, 0)
    }

    fn read_at<'a>(objects: Objects<'a>, object: &'a Object, depth: usize) -> Option<Self> {
        if depth > DEEPEST {
            return None;
        }
        let object = objects.resolve(object);
        match object {
            Object::Array(each) if each.len() <= 64 => {
                let parts: Option<Vec<Self>> = each.iter().map(|o| Self::read_at(objects, o, depth + 1)).collect();
                return Some(Self { domain: Vec::new(), range: None, kind: Kind::Together(parts?) });
            }
            Object::Name(name) if name == b"Identity" => {
                return Some(Self { domain: Vec::new(), range: None, kind: Kind::Identity });
            }
            _ => {}
        }
        let dict = objects.as_dict(object)?;
        let domain = pairs(&objects.numbers(dict, "Domain")?);
        let range = objects.numbers(dict, "Range").map(|n| pairs(&n));
        let kind = match objects.integer(dict, "FunctionType")? {
            0 => sampled(objects, object, dict, &domain, range.as_ref()?)?,
            2 => Kind::Exponential {
                c0: objects.numbers(dict, "C0").unwrap_or_else(|| vec![0.0]),
                c1: objects.numbers(dict, "C1").unwrap_or_else(|| vec![1.0]),
                n: objects.number(dict, "N")?,
            },
            3 => Kind::Stitching {
                functions: objects
                    .array(dict, "Functions")?
                    .iter()
                    .take(4096)
                    .map(|o| Self::read_at(objects, o, depth + 1))
                    .collect::<Option<_>>()?,
                bounds: objects.numbers(dict, "Bounds")?,
                encode: pairs(&objects.numbers(dict, "Encode")?),
            },
            4 => {
                let stream = object.as_stream().ok()?;
                let decoded = filters::decode(objects, &stream.dict, &stream.content, 1 << 20).ok()?;
                Kind::Calculator(calculator::read(&decoded.bytes)?)
            }
            _ => return None,
        };
        Some(Self { domain, range, kind })
    }

    /// The outputs for these inputs, both kept to the function's domain and range.
    pub(super) fn at(&self, input: &[f64]) -> Vec<f64> {
        let mut input: Vec<f64> = input.to_vec();
        for (value, (low, high)) in input.iter_mut().zip(&self.domain) {
            *value = keep(*value, *low, *high);
        }
        let mut output = match &self.kind {
            Kind::Sampled { size, encode, decode, samples } => {
                interpolate(&input, &self.domain, size, encode, decode, samples)
            }
            Kind::Exponential { c0, c1, n } => {
                let x = input.first().copied().unwrap_or(0.0);
                let power = if (*n - 1.0).abs() < f64::EPSILON { x } else { x.powf(*n) };
                c0.iter().zip(c1).map(|(a, b)| a + power * (b - a)).collect()
            }
            Kind::Stitching { functions, bounds, encode } => {
                stitched(input.first().copied().unwrap_or(0.0), &self.domain, functions, bounds, encode)
            }
            Kind::Calculator(steps) => calculator::run(steps, &input, self.range.as_ref().map_or(0, Vec::len)),
            Kind::Together(parts) => parts.iter().flat_map(|f| f.at(&input).into_iter().take(1)).collect(),
            Kind::Identity => input,
        };
        for (value, (low, high)) in output.iter_mut().zip(self.range.iter().flatten()) {
            *value = keep(*value, *low, *high);
        }
        output
    }
}

/// `v` between `low` and `high`; NaN becomes `low`. Ends in the wrong order leave the lower one.
fn keep(v: f64, low: f64, high: f64) -> f64 {
    if v.is_nan() { low } else { v.min(high).max(low) }
}

fn pairs(numbers: &[f64]) -> Vec<(f64, f64)> {
    numbers.chunks_exact(2).filter_map(|p| p.first().copied().zip(p.get(1).copied())).collect()
}

fn map(v: f64, from: (f64, f64), to: (f64, f64)) -> f64 {
    let width = from.1 - from.0;
    if width.abs() < f64::EPSILON { to.0 } else { to.0 + (v - from.0) * (to.1 - to.0) / width }
}

fn stitched(x: f64, domain: &[(f64, f64)], functions: &[Function], bounds: &[f64], encode: &[(f64, f64)]) -> Vec<f64> {
    let (low, high) = domain.first().copied().unwrap_or((0.0, 1.0));
    let part = bounds.iter().take_while(|b| x >= **b).count().min(functions.len().saturating_sub(1));
    let from = part.checked_sub(1).and_then(|p| bounds.get(p)).copied().unwrap_or(low);
    let to = bounds.get(part).copied().unwrap_or(high);
    let encoded = map(x, (from, to), encode.get(part).copied().unwrap_or((0.0, 1.0)));
    functions.get(part).map(|f| f.at(&[encoded])).unwrap_or_default()
}

fn sampled<'a>(
    objects: Objects<'a>,
    object: &'a Object,
    dict: &'a Dictionary,
    domain: &[(f64, f64)],
    range: &[(f64, f64)],
) -> Option<Kind> {
    let stream = object.as_stream().ok()?;
    let size: Vec<usize> = objects.numbers(dict, "Size")?.iter().map(|n| count(*n, MOST_SAMPLES)).collect();
    let bits = u32::try_from(objects.integer(dict, "BitsPerSample")?).ok().filter(|b| (1..=32).contains(b))?;
    let cells = size.iter().try_fold(range.len(), |n, s| n.checked_mul(*s)).filter(|n| *n <= MOST_SAMPLES && *n > 0)?;
    if size.len() != domain.len() || size.is_empty() || size.len() > 8 || size.contains(&0) {
        return None;
    }
    let data = filters::decode(objects, &stream.dict, &stream.content, MOST_SAMPLES * 4).ok()?.bytes;
    let full = ((1_u64 << bits) - 1) as f64;
    let mut reader = Bits { data: &data, at: 0 };
    let samples = (0..cells).map(|_| f64::from(reader.take(bits)) / full).collect();
    let encode = objects
        .numbers(dict, "Encode")
        .map_or_else(|| size.iter().map(|s| (0.0, (*s - 1) as f64)).collect(), |n| pairs(&n));
    let decode = objects.numbers(dict, "Decode").map_or_else(|| range.to_vec(), |n| pairs(&n));
    Some(Kind::Sampled { size, encode, decode, samples })
}

/// Multilinear interpolation in the sample table.
fn interpolate(
    input: &[f64],
    domain: &[(f64, f64)],
    size: &[usize],
    encode: &[(f64, f64)],
    decode: &[(f64, f64)],
    samples: &[f64],
) -> Vec<f64> {
    let outputs = decode.len();
    let mut corners = vec![(0_usize, 1.0_f64)];
    let mut stride = 1_usize;
    for (n, size) in size.iter().enumerate() {
        let x = input.get(n).copied().unwrap_or(0.0);
        let place = map(x, domain.get(n).copied().unwrap_or((0.0, 1.0)), encode.get(n).copied().unwrap_or((0.0, 1.0)));
        let last = size - 1;
        let place = keep(place, 0.0, last as f64);
        let low = count(place.floor(), last);
        let part = place - low as f64;
        let mut next = Vec::with_capacity(corners.len() * 2);
        for (offset, weight) in corners {
            next.push((offset + low * stride, weight * (1.0 - part)));
            if part > 0.0 && low < last {
                next.push((offset + (low + 1) * stride, weight * part));
            }
        }
        corners = next;
        stride = stride.saturating_mul(*size);
    }
    decode
        .iter()
        .enumerate()
        .map(|(n, range)| {
            let sum =
                |(offset, weight): &(usize, f64)| samples.get(offset * outputs + n).copied().unwrap_or(0.0) * weight;
            map(corners.iter().map(sum).sum(), (0.0, 1.0), *range)
        })
        .collect()
}

/// Reads numbers of up to 32 bits from bytes, highest bit first; past the end they are 0.
pub(super) struct Bits<'d> {
    pub(super) data: &'d [u8],
    pub(super) at: usize,
}

impl Bits<'_> {
    pub(super) fn take(&mut self, bits: u32) -> u32 {
        let mut value = 0_u64;
        for _ in 0..bits {
            let byte = self.data.get(self.at / 8).copied().unwrap_or(0);
            value = value << 1 | u64::from(byte >> (7 - self.at % 8) & 1);
            self.at += 1;
        }
        u32::try_from(value).unwrap_or(u32::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lopdf::{Document, Stream, dictionary};

    fn at(object: &Object, input: &[f64]) -> Vec<f64> {
        let document = Document::new();
        Function::read(Objects::new(&document), object).unwrap().at(input)
    }

    #[test]
    fn exponential_and_stitched() {
        // ISO 32000-1, 7.10.3: y = C0 + x^N (C1 - C0).
        let two = |a: f32, b: f32| {
            Object::Dictionary(dictionary! {
                "FunctionType" => 2, "Domain" => vec![0.into(), 1.into()], "N" => 2,
                "C0" => vec![Object::Real(a)], "C1" => vec![Object::Real(b)],
            })
        };
        assert_eq!(at(&two(0.0, 1.0), &[0.5]), [0.25]);
        let three = Object::Dictionary(dictionary! {
            "FunctionType" => 3, "Domain" => vec![0.into(), 1.into()], "Bounds" => vec![Object::Real(0.5)],
            "Encode" => vec![0.into(), 1.into(), 1.into(), 0.into()],
            "Functions" => vec![two(0.0, 1.0), two(0.0, 1.0)],
        });
        assert_eq!(at(&three, &[0.25]), [0.25]);
        assert_eq!(at(&three, &[0.75]), [0.25]);
        assert_eq!(at(&three, &[2.0]), [0.0]);
    }

    #[test]
    fn sampled_tables_interpolate() {
        // ISO 32000-1, 7.10.2: samples 0 and 255 at the ends of [0 1], linear between.
        let dict = dictionary! {
            "FunctionType" => 0, "Domain" => vec![0.into(), 1.into()],
            "Range" => vec![0.into(), 1.into(), 0.into(), 1.into()],
            "Size" => vec![2.into()], "BitsPerSample" => 8,
        };
        let object = Object::Stream(Stream::new(dict, vec![0, 255, 255, 0]));
        assert_eq!(at(&object, &[0.25]), [0.25, 0.75]);
    }

    #[test]
    fn a_calculator_reckons_as_the_standard_says() {
        // The spot function example of ISO 32000-1, 7.10.5: sin(360 x) / 2 + sin(360 y) / 2.
        let dict = dictionary! {
            "FunctionType" => 4, "Domain" => vec![(-1).into(), 1.into(), (-1).into(), 1.into()],
            "Range" => vec![(-1).into(), 1.into()],
        };
        let program = b"{ 360 mul sin 2 div exch 360 mul sin 2 div add }".to_vec();
        let object = Object::Stream(Stream::new(dict, program));
        let value = at(&object, &[0.25, 0.25])[0];
        assert!((value - 1.0).abs() < 1e-12, "{value}");
    }
}
