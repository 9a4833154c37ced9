use std::fmt;

use super::Length;

/// A measured or allowed value with its unit; what a finding may print.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Quantity {
    /// A distance, shown in inches and millimetres.
    Length(Length),
    /// A type size or rule weight, shown in points and millimetres.
    Points(Length),
    /// A share of a hundred.
    Percent(f64),
    /// A contrast such as 4.5 : 1.
    Ratio(f64),
    /// Pixels an inch.
    Ppi(f64),
    /// A CIEDE2000 colour difference.
    DeltaE(f64),
    /// A whole number of things, strokes, yards.
    Count(i64),
    /// A number with one decimal, such as a Course Rating.
    Decimal(f64),
}

impl Quantity {
    /// The bare number for comparing and for machine-readable reports: millimetres for lengths, points for type.
    pub fn value(self) -> f64 {
        match self {
            Self::Length(l) => l.to_mm(),
            Self::Points(l) => l.to_pt(),
            Self::Percent(v) | Self::Ratio(v) | Self::Ppi(v) | Self::DeltaE(v) | Self::Decimal(v) => v,
            Self::Count(n) => n as f64,
        }
    }

    /// The unit of [`Quantity::value`].
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Length(_) => "mm",
            Self::Points(_) => "pt",
            Self::Percent(_) => "%",
            Self::Ratio(_) => ":1",
            Self::Ppi(_) => "ppi",
            Self::DeltaE(_) => "dE00",
            Self::Count(_) | Self::Decimal(_) => "",
        }
    }

    /// How far apart two values of this kind may lie and still count as equal: 1 µm for lengths, which is the
    /// accuracy that the geometry promises; one part in a million elsewhere.
    fn slack(self) -> f64 {
        match self {
            Self::Length(_) => 0.001,
            Self::Points(_) => 0.001 * 72.0 / 25.4,
            Self::Count(_) => 0.0,
            other => other.value().abs() * 1e-6,
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length(l) => l.fmt(f),
            Self::Points(l) => write!(f, "{} pt ({})", plain(l.to_pt(), 2), l.mm_text()),
            Self::Percent(v) => write!(f, "{} %", plain(*v, 1)),
            Self::Ratio(v) => write!(f, "{} : 1", plain(*v, 2)),
            Self::Ppi(v) => write!(f, "{v:.0} ppi"),
            Self::DeltaE(v) => write!(f, "{} ΔE00", plain(*v, 1)),
            Self::Count(n) => n.fmt(f),
            Self::Decimal(v) => write!(f, "{v:.1}"),
        }
    }
}

fn plain(v: f64, places: usize) -> String {
    let text = format!("{v:.places$}");
    let cut = text.trim_end_matches('0').trim_end_matches('.');
    if cut.is_empty() || cut == "-0" { "0".to_owned() } else { cut.to_owned() }
}

/// What a value must keep to.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Limit {
    /// No less than this.
    AtLeast(Quantity),
    /// More than this; this itself is not enough.
    MoreThan(Quantity),
    /// No more than this.
    AtMost(Quantity),
    /// This, within the slack of its kind (1 µm for lengths).
    Exactly(Quantity),
    /// Between the two, ends included.
    Within(Quantity, Quantity),
}

/// A measured value and the limit it was held against. Only [`Limit::read`] makes one, so the limit that is printed is the
/// limit that was applied.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Reading {
    measured: Quantity,
    limit: Limit,
}

impl Limit {
    /// Holds `measured` against this limit.
    pub fn read(self, measured: Quantity) -> Reading {
        Reading { measured, limit: self }
    }

    /// The reading, where `measured` breaks this limit.
    pub fn broken_by(self, measured: Quantity) -> Option<Reading> {
        Some(self.read(measured)).filter(|r| !r.holds())
    }
}

impl Reading {
    /// What was measured.
    pub fn measured(&self) -> Quantity {
        self.measured
    }

    /// What it was held against.
    pub fn limit(&self) -> Limit {
        self.limit
    }

    /// Whether the value keeps to the limit.
    pub fn holds(&self) -> bool {
        let v = self.measured.value();
        let slack = self.measured.slack();
        match self.limit {
            Limit::AtLeast(q) => v >= q.value() - slack,
            Limit::MoreThan(q) => v > q.value() + slack,
            Limit::AtMost(q) => v <= q.value() + slack,
            Limit::Exactly(q) => (v - q.value()).abs() <= slack,
            Limit::Within(lo, hi) => v >= lo.value() - slack && v <= hi.value() + slack,
        }
    }
}

/// `at least 0.25 in (6.35 mm)`.
impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AtLeast(q) => write!(f, "at least {q}"),
            Self::MoreThan(q) => write!(f, "more than {q}"),
            Self::AtMost(q) => write!(f, "at most {q}"),
            Self::Exactly(q) => write!(f, "exactly {q}"),
            Self::Within(lo, hi) => write!(f, "between {lo} and {hi}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_carries_the_limit_that_was_applied() {
        let limit = Limit::AtLeast(Quantity::Length(Length::inches(1, 4)));
        let reading = limit.broken_by(Quantity::Length(Length::inches(1, 5))).unwrap();
        assert_eq!(reading.limit(), limit);
        assert_eq!(reading.limit().to_string(), "at least 0.25 in (6.35 mm)");
        assert_eq!(reading.measured().to_string(), "0.2 in (5.08 mm)");
    }

    #[test]
    fn a_micrometre_short_still_holds_and_two_do_not() {
        let limit = Limit::AtLeast(Quantity::Length(Length::mm(6)));
        assert_eq!(limit.broken_by(Quantity::Length(Length::mm(6) - Length::um(1))), None);
        assert!(limit.broken_by(Quantity::Length(Length::mm(6) - Length::um(2))).is_some());
    }
}
