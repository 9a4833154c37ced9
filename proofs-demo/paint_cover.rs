//! Paints the demo's cover: a heath at evening with a pond, a green and a heron, drawn by formula straight into process inks and
//! written as a CMYK JPEG of 300 pixels an inch. The same program gives the same bytes.
//!
//! `cargo run --release --example paint-cover -- proofs-demo/heath.jpg`
#![allow(
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::print_stderr,
    reason = "a picture by formula: fixed lists, sample values from 0 to 255, and a program of its own with a terminal"
)]

use std::env;
use std::process::ExitCode;

use jpeg_encoder::{ColorType, Encoder, PixelDensity, PixelDensityUnit};

/// 6.25 x 6.25 in at 300 ppi: the largest cover panel with bleed on every side.
const SIDE: u16 = 1875;

/// Tints of cyan, magenta, yellow and black, 0 to 1.
type Tints = [f32; 4];

const SKY_HIGH: Tints = [0.34, 0.16, 0.14, 0.02];
const SKY_LOW: Tints = [0.02, 0.07, 0.22, 0.00];
const SUN: Tints = [0.00, 0.04, 0.16, 0.00];
const WATER: Tints = [0.30, 0.16, 0.16, 0.04];
const FAIRWAY: Tints = [0.36, 0.18, 0.52, 0.07];
const GREEN: Tints = [0.44, 0.16, 0.56, 0.05];
const HERON: Tints = [0.52, 0.40, 0.36, 0.38];
const BRACKEN: Tints = [0.16, 0.56, 0.78, 0.14];
/// Ridges from far to near: height of the crest (0 bottom, 1 top), wave strength, colour.
const RIDGES: [(f32, f32, Tints); 5] = [
    (0.585, 0.030, [0.34, 0.20, 0.18, 0.04]),
    (0.545, 0.034, [0.40, 0.22, 0.28, 0.08]),
    (0.500, 0.030, [0.44, 0.26, 0.40, 0.14]),
    (0.455, 0.022, [0.50, 0.30, 0.54, 0.20]),
    (0.415, 0.014, [0.46, 0.26, 0.58, 0.16]),
];

fn mix(a: Tints, b: Tints, t: f32) -> Tints {
    let t = t.clamp(0.0, 1.0);
    std::array::from_fn(|n| a[n] + (b[n] - a[n]) * t)
}

/// 1 where `v` is below zero, 0 above, a pixel wide in between: the cover of a shape by its signed distance.
fn inside(distance: f32) -> f32 {
    (0.5 - distance * f32::from(SIDE)).clamp(0.0, 1.0)
}

/// A number between 0 and 1 that depends on a place alone.
fn grain(x: u32, y: u32) -> f32 {
    let mut h = x.wrapping_mul(0x9E37_79B1) ^ y.wrapping_mul(0x85EB_CA77);
    h = (h ^ (h >> 15)).wrapping_mul(0x2C1B_3C6D);
    h = (h ^ (h >> 12)).wrapping_mul(0x297A_2D39);
    ((h ^ (h >> 15)) & 0xFFFF) as f32 / 65_535.0
}

/// Smooth noise of about `cells` bumps across the picture.
fn bumps(x: f32, y: f32, cells: f32) -> f32 {
    let (u, v) = (x * cells, y * cells);
    let (i, j) = (u.floor(), v.floor());
    let ease = |t: f32| t * t * (3.0 - 2.0 * t);
    let (s, t) = (ease(u - i), ease(v - j));
    let at = |di: u32, dj: u32| grain((i as i32 as u32).wrapping_add(di), (j as i32 as u32).wrapping_add(dj));
    let low = at(0, 0) + (at(1, 0) - at(0, 0)) * s;
    let high = at(0, 1) + (at(1, 1) - at(0, 1)) * s;
    low + (high - low) * t
}

fn crest(n: usize, x: f32) -> f32 {
    let (base, wave, _) = RIDGES[n];
    let k = n as f32;
    let swell = (x * (4.2 + 1.7 * k) + 1.3 * k).sin() * 0.55 + (x * (9.1 + 2.3 * k) + 2.1 * k * k).sin() * 0.30;
    base + wave * (swell + 0.5 * (bumps(x + k, k, 22.0) - 0.5))
}

/// Distance to the piece from `a` to `b`, whose half-width goes from `ra` to `rb`.
fn limb(p: (f32, f32), a: (f32, f32), b: (f32, f32), ra: f32, rb: f32) -> f32 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let t = (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
    let (ex, ey) = (p.0 - a.0 - dx * t, p.1 - a.1 - dy * t);
    ex.hypot(ey) - (ra + (rb - ra) * t)
}

/// Distance to a heron that stands with its feet at the origin and is 1 high, looking left.
fn heron(p: (f32, f32)) -> f32 {
    let parts = [
        limb(p, (-0.02, 0.00), (0.02, 0.36), 0.008, 0.011),
        limb(p, (0.07, 0.00), (0.05, 0.36), 0.008, 0.011),
        limb(p, (-0.06, 0.52), (0.24, 0.36), 0.082, 0.012),
        limb(p, (-0.02, 0.50), (0.14, 0.42), 0.088, 0.050),
        limb(p, (-0.09, 0.54), (-0.17, 0.66), 0.052, 0.030),
        limb(p, (-0.17, 0.66), (-0.10, 0.78), 0.030, 0.024),
        limb(p, (-0.10, 0.78), (-0.12, 0.88), 0.024, 0.024),
        limb(p, (-0.12, 0.89), (-0.17, 0.91), 0.030, 0.024),
        limb(p, (-0.18, 0.905), (-0.33, 0.875), 0.016, 0.001),
        limb(p, (-0.11, 0.905), (-0.03, 0.875), 0.010, 0.002),
    ];
    parts.into_iter().fold(f32::MAX, f32::min)
}

fn paint(px: u32, py: u32) -> Tints {
    let side = f32::from(SIDE);
    let (x, y) = ((px as f32 + 0.5) / side, 1.0 - (py as f32 + 0.5) / side);

    // Sky, a little cloud, a low sun.
    let height = ((y - 0.52) / 0.48).clamp(0.0, 1.0);
    let mut c = mix(SKY_LOW, SKY_HIGH, height.powf(0.8));
    let cloud = bumps(x * 0.45, y * 1.9, 7.0) * 0.6 + bumps(x * 0.5 + 3.0, y * 2.1, 15.0) * 0.4;
    c = mix(c, [0.04, 0.06, 0.10, 0.0], ((cloud - 0.52) * 3.0).clamp(0.0, 0.55) * (1.0 - (height - 0.45).abs()));
    let sun = (x - 0.70).hypot(y - 0.640);
    c = mix(c, SUN, (1.0 - sun / 0.30).clamp(0.0, 1.0).powi(2) * 0.8);
    c = mix(c, [0.0, 0.02, 0.10, 0.0], inside(sun - 0.034));

    // Ridges, hazier with distance.
    for (n, (_, _, colour)) in RIDGES.iter().enumerate() {
        let below = crest(n, x) - y;
        let mottle = (bumps(x * 1.0, y * 2.6, 60.0) - 0.5) * 0.08 * (n as f32 + 1.0) / 5.0;
        let shade = mix(*colour, [0.0; 4], (0.10 - below * 0.6).clamp(0.0, 0.14));
        let shade = shade.map(|v| (v + v * mottle * 2.0).clamp(0.0, 1.0));
        c = mix(c, shade, inside(-below));
    }

    // The near heath, with a fairway winding up to a green.
    if y < crest(4, x) {
        let near = ((0.42 - y) / 0.42).clamp(0.0, 1.0);
        let heath = mix([0.44, 0.26, 0.58, 0.14], [0.56, 0.36, 0.70, 0.38], near);
        let tuft = bumps(x * (1.6 - near), y * 2.4, 40.0 + 30.0 * (1.0 - near)) * 0.6 + bumps(x, y * 3.0, 150.0) * 0.4;
        let heath = mix(heath, BRACKEN, ((tuft - 0.56) * 5.0).clamp(0.0, 0.85) * (0.35 + 0.65 * near));
        c = mix(c, heath, inside(y - crest(4, x)));
        let middle = 0.47 + 0.10 * (near * 5.2 + 0.4).sin() * (1.0 - near * 0.4) + 0.20 * near * near;
        let half = 0.020 + 0.155 * near.powf(1.15);
        let edge = (x - middle).abs() - half - (bumps(x, y, 46.0) - 0.5) * 0.012;
        if y < 0.395 {
            let stripe = if (near * 26.0).sin() > 0.0 { 0.05 } else { -0.03 };
            let mown = FAIRWAY.map(|v| (v + v * stripe + (grain(px / 2, py / 2) - 0.5) * 0.02).clamp(0.0, 1.0));
            c = mix(c, mown, inside(edge));
        }
        let green = ((x - 0.515) / 0.085).hypot((y - 0.382) / 0.016) - 1.0;
        c = mix(c, GREEN, inside(green * 0.016));
    }

    // Flag.
    c = mix(c, [0.10, 0.12, 0.20, 0.10], inside(limb((x, y), (0.528, 0.382), (0.528, 0.470), 0.0011, 0.0011)));
    let cloth = limb((x, y), (0.531, 0.4615), (0.560, 0.4560), 0.0085, 0.0015);
    c = mix(c, [0.06, 0.78, 0.86, 0.06], inside(cloth));

    // Pond in the left foreground, with the sky in it and reeds at its rim.
    let pond = ((x - 0.150) / 0.31).hypot((y - 0.155) / 0.066) - 1.0 + (bumps(x, y, 24.0) - 0.5) * 0.16;
    let ripple = (y * 420.0 + bumps(x, y, 12.0) * 9.0).sin() * 0.5 + 0.5;
    let water = mix(mix(WATER, SKY_LOW, 0.45), WATER, ripple * 0.8 + (0.155 - y) * 3.0);
    c = mix(c, [0.50, 0.34, 0.72, 0.46], inside((pond - 0.06) * 0.066));
    c = mix(c, water, inside(pond * 0.066));

    // The heron at the water's edge, and its reflection.
    if (0.15..0.35).contains(&x) && y < 0.40 {
        let scale = 0.235;
        let mirrored = heron(((x - 0.262) / scale, (0.128 - y) / (scale * 0.55)));
        if pond < 0.0 {
            c = mix(c, mix(HERON, WATER, 0.35), inside(mirrored * scale) * 0.55);
        }
        let bird = heron(((x - 0.262) / scale, (y - 0.128) / scale));
        c = mix(c, HERON, inside(bird * scale));
    }

    // Grass blades along the bottom.
    for n in 0..if y < 0.12 { 90_u32 } else { 0 } {
        let foot = grain(n, 7) * 1.04 - 0.02;
        let tall = 0.030 + grain(n, 11) * 0.075;
        let lean = (grain(n, 13) - 0.5) * 0.07;
        let blade = limb((x, y), (foot, -0.01), (foot + lean, tall), 0.0030, 0.0003);
        let colour = mix([0.62, 0.40, 0.80, 0.46], BRACKEN, grain(n, 17) * 0.8);
        c = mix(c, colour, inside(blade));
    }
    let noise = (grain(px, py) - 0.5) * 0.012;
    c.map(|v| if v > 0.01 { (v + noise).clamp(0.0, 1.0) } else { v })
}

fn main() -> ExitCode {
    let Some(path) = env::args().nth(1) else {
        eprintln!("paint-cover: say where to write, such as proofs-demo/heath.jpg");
        return ExitCode::from(2);
    };
    let side = u32::from(SIDE);
    let mut samples = Vec::with_capacity((side * side * 4) as usize);
    for py in 0..side {
        for px in 0..side {
            samples.extend(paint(px, py).map(|v| (v * 255.0).round() as u8));
        }
    }
    let written = Encoder::new_file(&path, 88).and_then(|mut encoder| {
        encoder.set_density(PixelDensity { density: (300, 300), unit: PixelDensityUnit::Inches });
        encoder.encode(&samples, SIDE, SIDE, ColorType::Cmyk)
    });
    match written {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("paint-cover: {path} cannot be written: {error}");
            ExitCode::from(2)
        }
    }
}
