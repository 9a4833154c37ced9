use crate::ink::Colour;

/// Black or bare paper, whichever reads better on `fill`: by the WCAG 2.2 contrast of what its process tints look like as plain
/// subtractive mixtures.
pub(super) fn readable_on(fill: &Colour) -> Colour {
    let light = luminance(fill);
    if (1.0 + 0.05) / (light + 0.05) > (light + 0.05) / 0.05 { Colour::WHITE } else { Colour::BLACK }
}

fn luminance(colour: &Colour) -> f64 {
    match colour {
        Colour::Gray(gray) => *gray,
        Colour::Rgb([r, g, b]) => 0.2126 * r + 0.7152 * g + 0.0722 * b,
        Colour::Cmyk([c, m, y, k]) => {
            let [r, g, b] = [c, m, y].map(|v| ((1.0 - v) * (1.0 - k)).powf(2.2));
            0.2126 * r + 0.7152 * g + 0.0722 * b
        }
        Colour::Lab([l, ..]) => (l / 100.0).powf(2.4),
        Colour::Inks { look, .. } => luminance(look),
        Colour::Calibrated { plain, .. } => luminance(plain),
    }
}
