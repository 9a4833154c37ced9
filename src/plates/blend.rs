//! Blend modes (ISO 32000-1, 11.3.5) on tints: the formulas of the standard speak of light, so a tint is taken from 1 first.

/// How paint blends with what lies below.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum BlendMode {
    Normal,
    Multiply,
    Screen,
    Overlay,
    Darken,
    Lighten,
    ColourDodge,
    ColourBurn,
    HardLight,
    SoftLight,
    Difference,
    Exclusion,
    Hue,
    Saturation,
    Colour,
    Luminosity,
}

impl BlendMode {
    /// The mode of a name; unknown ones count as Normal (ISO 32000-1, 11.6.3).
    pub(super) fn of(name: Option<&str>) -> Self {
        match name {
            Some("Multiply") => Self::Multiply,
            Some("Screen") => Self::Screen,
            Some("Overlay") => Self::Overlay,
            Some("Darken") => Self::Darken,
            Some("Lighten") => Self::Lighten,
            Some("ColorDodge") => Self::ColourDodge,
            Some("ColorBurn") => Self::ColourBurn,
            Some("HardLight") => Self::HardLight,
            Some("SoftLight") => Self::SoftLight,
            Some("Difference") => Self::Difference,
            Some("Exclusion") => Self::Exclusion,
            Some("Hue") => Self::Hue,
            Some("Saturation") => Self::Saturation,
            Some("Color") => Self::Colour,
            Some("Luminosity") => Self::Luminosity,
            _ => Self::Normal,
        }
    }

    /// Whether it takes the process planes together.
    pub(super) fn is_joint(self) -> bool {
        matches!(self, Self::Hue | Self::Saturation | Self::Colour | Self::Luminosity)
    }

    /// The mode for spot planes: one that is joint, or that does not leave white white, counts as Normal there
    /// (ISO 32000-1, 11.7.4.2).
    pub(super) fn on_spots(self) -> Self {
        if self.is_joint() || matches!(self, Self::Difference | Self::Exclusion) { Self::Normal } else { self }
    }
}

/// The blend function of a mode that takes each plane alone, on tints from 0 to 1.
pub(super) fn separable(mode: BlendMode, below: f32, above: f32) -> f32 {
    1.0 - light(mode, 1.0 - below, 1.0 - above)
}

/// The same on light (ISO 32000-1, table 136).
fn light(mode: BlendMode, b: f32, s: f32) -> f32 {
    let screen = |b: f32, s: f32| b + s - b * s;
    let hard = |b: f32, s: f32| if s <= 0.5 { b * 2.0 * s } else { screen(b, 2.0 * s - 1.0) };
    match mode {
        BlendMode::Multiply => b * s,
        BlendMode::Screen => screen(b, s),
        BlendMode::Overlay => hard(s, b),
        BlendMode::Darken => b.min(s),
        BlendMode::Lighten => b.max(s),
        BlendMode::ColourDodge if b <= 0.0 => 0.0,
        BlendMode::ColourDodge if s >= 1.0 => 1.0,
        BlendMode::ColourDodge => (b / (1.0 - s)).min(1.0),
        BlendMode::ColourBurn if b >= 1.0 => 1.0,
        BlendMode::ColourBurn if s <= 0.0 => 0.0,
        BlendMode::ColourBurn => 1.0 - ((1.0 - b) / s).min(1.0),
        BlendMode::HardLight => hard(b, s),
        BlendMode::SoftLight if s <= 0.5 => b - (1.0 - 2.0 * s) * b * (1.0 - b),
        BlendMode::SoftLight => {
            let d = if b <= 0.25 { ((16.0 * b - 12.0) * b + 4.0) * b } else { b.sqrt() };
            b + (2.0 * s - 1.0) * (d - b)
        }
        BlendMode::Difference => (b - s).abs(),
        BlendMode::Exclusion => b + s - 2.0 * b * s,
        _ => s,
    }
}

/// The blend function of a joint mode on C, M, Y and K: the first three as the complements of red, green and blue, black from what lies
/// below, or from above for Luminosity (ISO 32000-1, 11.3.5.3).
pub(super) fn joint(mode: BlendMode, below: [f32; 4], above: [f32; 4]) -> [f32; 4] {
    let rgb = |[c, m, y, _]: [f32; 4]| [1.0 - c, 1.0 - m, 1.0 - y];
    let (b, s) = (rgb(below), rgb(above));
    let [r, g, u] = match mode {
        BlendMode::Hue => set_luminosity(set_saturation(s, saturation(b)), luminosity(b)),
        BlendMode::Saturation => set_luminosity(set_saturation(b, saturation(s)), luminosity(b)),
        BlendMode::Colour => set_luminosity(s, luminosity(b)),
        _ => set_luminosity(b, luminosity(s)),
    };
    let k = if mode == BlendMode::Luminosity { above[3] } else { below[3] };
    [1.0 - r, 1.0 - g, 1.0 - u, k]
}

fn luminosity([r, g, b]: [f32; 3]) -> f32 {
    0.3 * r + 0.59 * g + 0.11 * b
}

fn saturation([r, g, b]: [f32; 3]) -> f32 {
    r.max(g).max(b) - r.min(g).min(b)
}

fn set_luminosity(colour: [f32; 3], wanted: f32) -> [f32; 3] {
    let d = wanted - luminosity(colour);
    let [r, g, b] = colour.map(|v| v + d);
    let l = luminosity([r, g, b]);
    let (low, high) = (r.min(g).min(b), r.max(g).max(b));
    let mut clipped = [r, g, b];
    if low < 0.0 {
        clipped = clipped.map(|v| l + (v - l) * l / (l - low));
    }
    if high > 1.0 {
        clipped = clipped.map(|v| l + (v - l) * (1.0 - l) / (high - l));
    }
    clipped
}

fn set_saturation([r, g, b]: [f32; 3], wanted: f32) -> [f32; 3] {
    let (low, high) = (r.min(g).min(b), r.max(g).max(b));
    if high <= low {
        return [0.0; 3];
    }
    [r, g, b].map(|v| (v - low) * wanted / (high - low))
}

#[cfg(test)]
mod tests {
    use super::{BlendMode, light};

    /// The formulas of ISO 32000-1, table 136, worked by hand.
    #[test]
    fn values_by_hand() {
        let near = |a: f32, b: f32| assert!((a - b).abs() < 1.0e-6, "{a} is not {b}");
        near(light(BlendMode::Multiply, 0.5, 0.4), 0.2);
        near(light(BlendMode::Screen, 0.5, 0.4), 0.7);
        near(light(BlendMode::Overlay, 0.25, 0.4), 0.2);
        near(light(BlendMode::Overlay, 0.75, 0.4), 0.7);
        near(light(BlendMode::HardLight, 0.25, 0.75), 0.625);
        near(light(BlendMode::ColourDodge, 0.25, 0.5), 0.5);
        near(light(BlendMode::ColourBurn, 0.75, 0.5), 0.5);
        near(light(BlendMode::SoftLight, 0.5, 0.25), 0.375);
        near(light(BlendMode::SoftLight, 0.16, 0.75), 0.16 + 0.5 * ((16.0 * 0.16 - 12.0) * 0.16 + 4.0) * 0.16 - 0.08);
        near(light(BlendMode::Difference, 0.2, 0.9), 0.7);
        near(light(BlendMode::Exclusion, 0.2, 0.9), 0.74);
    }
}
