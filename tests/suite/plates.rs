//! Plates beside Ghostscript's (`tiffsep`): pages that hold one feature each, and what the standard says where Ghostscript says otherwise.

use std::collections::BTreeMap;
use std::process::Command;

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::ink::Condition;
use fairfold::plates::{Means, Plates};

use super::artwork_pdf::Pdf;
use super::press_files::{saved, text};

/// Pixels an inch: two for a point, so that corners on whole points lie on whole pixels.
const PPI: u32 = 144;
/// Pages are so many points wide and high.
const SIDE: usize = 100;

/// One plane, 255 is solid.
#[derive(Clone)]
struct Plane {
    width: usize,
    values: Vec<u8>,
}

/// One page of one feature.
struct Case {
    name: &'static str,
    resources: String,
    keys: &'static str,
    content: String,
}

/// The pages, with what several of them share.
struct Cases {
    pdf: Pdf,
    pages: Vec<Case>,
    heron: usize,
    gorse: usize,
}

impl Cases {
    fn new() -> Self {
        let mut pdf = Pdf::new();
        let spot = |pdf: &mut Pdf, name: &str, c1: &str| {
            pdf.add(format!(
                "[/Separation /{name} /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [{c1}] /N 1 >>]"
            ))
        };
        let (heron, gorse) = (spot(&mut pdf, "Heron", "0.8 0.2 0 0.2"), spot(&mut pdf, "Gorse", "0 0.2 1 0"));
        Self { pdf, pages: Vec::new(), heron, gorse }
    }

    /// A page on which colours, spots and a black Separation can be named.
    fn add(&mut self, name: &'static str, resources: impl Into<String>, content: impl Into<String>) {
        self.add_with(name, "", resources, content);
    }

    fn add_with(
        &mut self,
        name: &'static str,
        keys: &'static str,
        resources: impl Into<String>,
        content: impl Into<String>,
    ) {
        self.pages.push(Case { name, resources: resources.into(), keys, content: content.into() });
    }

    fn bytes(mut self) -> (Vec<u8>, Vec<&'static str>) {
        let names = self.pages.iter().map(|c| c.name).collect();
        for case in &self.pages {
            let function = |c1: &str| format!("<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [{c1}] /N 1 >>");
            let mixed = self.pdf.stream(
                "/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]",
                "{ exch dup 0.8 mul exch 0.2 mul 3 -1 roll add dup 1 gt { pop 1 } if 0 0 }",
            );
            let (black, all) = (function("0 0 0 1"), function("1 1 1 1"));
            let named = format!(
                "/Heron {0} 0 R /Gorse {1} 0 R /U [/Pattern {0} 0 R] /K [/Separation /Black /DeviceCMYK {black}] /All [/Separation /All \
                 /DeviceCMYK {all}] /None [/Separation /None /DeviceCMYK {all}] /Two [/DeviceN [/Heron /Magenta] /DeviceCMYK {mixed} 0 R]",
                self.heron, self.gorse
            );
            let spaces = format!("/ColorSpace << {named} >>");
            let keys =
                format!("/MediaBox [0 0 {SIDE} {SIDE}] {} /Resources << {spaces} {} >>", case.keys, case.resources);
            self.pdf.page(&keys, &case.content);
        }
        (self.pdf.bytes(), names)
    }
}

/// Two overlapping squares, the first of both kinds of ink below.
const BELOW: &str = "0.2 0.4 0.6 0 k 10 10 50 50 re f /Heron cs 0.6 scn 10 60 50 30 re f ";
/// A group on a page that blends in inks.
const GROUP: &str = "/Group << /S /Transparency /CS /DeviceCMYK /I true >>";

fn ours(bytes: &[u8], pages: usize, ppi: u32) -> Vec<BTreeMap<String, Plane>> {
    let artwork = Artwork::open(bytes, "plates.pdf", &OpenOptions::default()).unwrap();
    let number = |n: usize| u32::try_from(n).unwrap();
    (1..=pages)
        .map(|page| {
            let area = artwork.page_area(number(page)).unwrap();
            let plates =
                Plates::of_page(&artwork, number(page), area, f64::from(ppi), &Condition::coated(), Means::Ample)
                    .unwrap();
            let width = plates.size().0;
            assert!(plates.not_drawn().is_empty(), "page {page}: {:?}", plates.not_drawn());
            let mut planes = vec![Vec::new(); plates.inks().len()];
            plates
                .draw(&mut |band| {
                    planes.iter_mut().zip(&band.planes).for_each(|(all, some)| all.extend(some));
                    Ok(())
                })
                .unwrap();
            let planes = planes.into_iter().map(|values| Plane { width, values });
            plates.inks().iter().map(|ink| ink.name().to_owned()).zip(planes).collect()
        })
        .collect()
}

fn ghostscript(bytes: &[u8], pages: usize, ppi: u32) -> Vec<BTreeMap<String, Plane>> {
    let folder = tempfile::tempdir().unwrap();
    let file = saved(&folder, "plates.pdf", bytes);
    let resolution = format!("-r{ppi}");
    let done = Command::new("gs")
        .current_dir(folder.path())
        .args([
            "-q",
            "-dNOPAUSE",
            "-dBATCH",
            "-sDEVICE=tiffsep",
            "-dMaxSpots=8",
            &resolution,
            "-sOutputFile=p%d.tif",
            text(&file),
        ])
        .output()
        .unwrap_or_else(|why| panic!("gs is needed for this test ({why}); run tests/all.sh to install it"));
    assert!(
        done.status.success(),
        "{}{}",
        String::from_utf8_lossy(&done.stdout),
        String::from_utf8_lossy(&done.stderr)
    );
    (1..=pages)
        .map(|page| {
            let mut planes = BTreeMap::new();
            for entry in std::fs::read_dir(folder.path()).unwrap() {
                let path = entry.unwrap().path();
                let name = path.file_name().unwrap().to_str().unwrap().to_owned();
                let Some(ink) = name.strip_prefix(&format!("p{page}(")).and_then(|n| n.strip_suffix(").tif")) else {
                    continue;
                };
                let picture = image::open(&path).unwrap().into_luma8();
                let width = picture.width() as usize;
                let values = picture.into_raw().into_iter().map(|v| 255 - v).collect();
                planes.insert(ink.to_owned(), Plane { width, values });
            }
            planes
        })
        .collect()
}

/// Pixels around which neither picture changes by more than a step or so.
fn flat(planes: [&Plane; 2]) -> Vec<bool> {
    let (width, count) = (planes[0].width, planes[0].values.len());
    let at = |p: &Plane, x: usize, y: usize| i32::from(p.values[(y.min(count / width - 1) * width) + x.min(width - 1)]);
    (0..count)
        .map(|n| {
            let (x, y) = (n % width, n / width);
            planes.iter().all(|plane| {
                let around = (0..9).map(|k| at(plane, (x + k % 3).saturating_sub(1), (y + k / 3).saturating_sub(1)));
                let (low, high) = around.fold((255, 0), |(low, high), v| (low.min(v), high.max(v)));
                high - low <= 8
            })
        })
        .collect()
}

/// What differs, in words; nothing where the mean away from edges is at most `most`.
fn differences(case: &str, ours: &BTreeMap<String, Plane>, theirs: &BTreeMap<String, Plane>, most: f64) -> Vec<String> {
    assert!(theirs.values().flat_map(|p| &p.values).any(|v| *v > 0), "{case}: Ghostscript's page is bare");
    let bare = ours.values().next().map(|p| Plane { values: vec![0; p.values.len()], ..*p }).unwrap();
    let mut found = Vec::new();
    let inks: std::collections::BTreeSet<&String> = ours.keys().chain(theirs.keys()).collect();
    for ink in inks {
        let (a, b) = (ours.get(ink).unwrap_or(&bare), theirs.get(ink).unwrap_or(&bare));
        assert_eq!((a.width, a.values.len()), (b.width, b.values.len()), "{case}, {ink}");
        let flat = flat([a, b]);
        let (mut sum, mut count, mut worst) = (0.0, 0.0, (0, 0, 0, 0));
        for n in (0..flat.len()).filter(|n| flat[*n]) {
            let d = a.values[n].abs_diff(b.values[n]);
            sum += f64::from(d);
            count += 1.0;
            if d > worst.0 {
                worst = (d, n, a.values[n], b.values[n]);
            }
        }
        assert!(count > 0.4 * flat.len() as f64, "{case}, {ink}: most of the page is edges");
        if sum / count > most {
            let (x, y) = (worst.1 % a.width, worst.1 / a.width);
            found.push(format!(
                "{case}, {ink}: {:.2} in the mean; at {x}, {y}: {} here, {} by Ghostscript",
                sum / count,
                worst.2,
                worst.3
            ));
        }
    }
    found
}

fn judged(cases: Cases, most: f64) {
    let (bytes, names) = cases.bytes();
    let (ours, theirs) = (ours(&bytes, names.len(), PPI), ghostscript(&bytes, names.len(), PPI));
    let found: Vec<String> = names
        .iter()
        .zip(ours.iter().zip(&theirs))
        .flat_map(|(name, (ours, theirs))| differences(name, ours, theirs, most))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn every_blend_mode() {
    let mut cases = Cases::new();
    for mode in [
        "Normal",
        "Multiply",
        "Screen",
        "Overlay",
        "Darken",
        "Lighten",
        "ColorDodge",
        "ColorBurn",
        "HardLight",
        "SoftLight",
        "Difference",
        "Exclusion",
        "Hue",
        "Saturation",
        "Color",
        "Luminosity",
    ] {
        let resources = format!("/ExtGState << /B << /BM /{mode} >> >>");
        cases.add_with(mode, GROUP, resources, format!("{BELOW} /B gs 0.6 0.2 0.4 0.2 k 30 20 60 60 re f"));
    }
    judged(cases, 0.5);
}

#[test]
fn alpha_groups_and_masks() {
    let mut cases = Cases::new();
    let state = "/ExtGState << /A << /ca 0.6 /CA 0.4 >> /M << /BM /Multiply >> >>";
    cases.add_with("fill alpha", GROUP, state, format!("{BELOW} /A gs 0.6 0.2 0.4 0.2 k 30 20 60 60 re f"));
    cases.add_with("stroke alpha", GROUP, state, format!("{BELOW} /A gs 20 w 0.6 0.2 0.4 0.2 K 30 20 m 70 80 l S"));
    cases.add_with(
        "fill and stroke",
        GROUP,
        state,
        format!("{BELOW} /A gs 10 w 0.6 0 0 0 K 0 0.6 0 0 k 30 20 50 50 re B"),
    );
    for (name, keys) in [
        ("isolated group", "/I true"),
        ("group", ""),
        ("knock-out group", "/I true /K true"),
        ("knock-out group on what lies below", "/K true"),
    ] {
        let inner = "/ExtGState << /A << /ca 0.6 >> /M << /BM /Multiply >> >>";
        let group = format!("/Group << /S /Transparency /CS /DeviceCMYK {keys} >>");
        let form = cases.pdf.stream(
            &format!("/Type /XObject /Subtype /Form /BBox [0 0 100 100] {group} /Resources << {inner} >>"),
            "/M gs 0.6 0.2 0.4 0 k 20 20 50 50 re f /A gs 0 0.6 0.2 0.2 k 40 40 50 50 re f",
        );
        let resources = format!("/XObject << /F {form} 0 R >> {state}");
        cases.add_with(name, GROUP, &resources, format!("{BELOW} /F Do"));
        if keys == "/I true" {
            cases.add_with("group with alpha", GROUP, &resources, format!("{BELOW} /A gs /F Do"));
            cases.add_with("group that multiplies", GROUP, resources, format!("{BELOW} /M gs /F Do"));
        }
    }
    // Forms that stand alike several times: side by side, cut by clips, and one on top of another.
    let form = cases.pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 40 40] /Resources << {state} >>"),
        "0.6 0.2 0.4 0.2 k 0 0 30 30 re f /A gs 0 0.6 0.2 0 k 10 10 30 30 re f 0 0 0 0.5 K 4 w 0 20 m 40 20 l S",
    );
    let resources = format!("/XObject << /F {form} 0 R >> {state}");
    let stands = |x: u32, y: u32| format!("q 1 0 0 1 {x} {y} cm /F Do Q ");
    let beside = [stands(5, 5), stands(45, 5), stands(5, 50)].concat();
    cases.add_with(
        "forms side by side",
        GROUP,
        &resources,
        format!("{beside} q 50 55 25 25 re W n {} Q", stands(45, 50)),
    );
    cases.add_with("forms on one another", GROUP, &resources, [stands(5, 5), stands(25, 25), stands(50, 50)].concat());
    cases.add_with("forms on colour", GROUP, &resources, format!("{BELOW} {beside}"));
    for (name, kind, more) in [
        ("mask of luminosity", "Luminosity", ""),
        ("mask of luminosity on white", "Luminosity", "/BC [1]"),
        ("mask of alpha", "Alpha", ""),
        ("mask that is bent", "Luminosity", "/TR << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>"),
    ] {
        let form = cases.pdf.stream(
            "/Type /XObject /Subtype /Form /BBox [0 0 100 100] /Group << /S /Transparency /CS /DeviceGray >> /Resources << /ExtGState << /A << /ca \
             0.6 >> >> >>",
            "0.4 g 20 0 30 100 re f /A gs 0.8 g 50 0 30 100 re f",
        );
        let mask = format!("/ExtGState << /S << /SMask << /S /{kind} /G {form} 0 R {more} >> >> >>");
        cases.add_with(name, GROUP, mask, format!("{BELOW} /S gs 0.6 0.2 0.4 0.2 k 10 20 80 60 re f"));
    }
    judged(cases, 0.5);
}

#[test]
fn every_overprint_case() {
    let mut cases = Cases::new();
    let below = "0.2 0.4 0.6 0.2 k 10 10 40 80 re f /Heron cs 0.6 scn 50 10 40 80 re f ";
    let tops = [
        ("black of four inks", "0 0 0 1 k"),
        ("white of four inks", "0 0 0 0 k"),
        ("two of four inks", "0.4 0 0.8 0 k"),
        ("gray", "0.4 g"),
        ("a Separation of black", "/K cs 0.8 scn"),
        ("another spot", "/Gorse cs 0.8 scn"),
        ("the same spot", "/Heron cs 0.2 scn"),
        ("a spot's tint of nothing", "/Gorse cs 0 scn"),
        ("two inks together", "/Two cs 0.4 0.8 scn"),
        ("all inks", "/All cs 0.4 scn"),
        ("no ink", "/None cs 1 scn"),
    ];
    for (name, top) in tops {
        for state in ["/op false", "/op true /OPM 0", "/op true /OPM 1"] {
            let name: &'static str = Box::leak(format!("{name}, {state}").into_boxed_str());
            let resources = format!("/ExtGState << /O << {state} >> >>");
            cases.add(name, resources, format!("{below} /O gs {top} 30 30 40 40 re f"));
        }
    }
    judged(cases, 0.0);
}

#[test]
fn shadings_and_patterns() {
    let mut cases = Cases::new();
    let function = "<< /FunctionType 2 /Domain [0 1] /C0 [0.8 0 0.2 0] /C1 [0 0.6 0.4 0.2] /N 1 >>";
    let axial = format!("/ShadingType 2 /ColorSpace /DeviceCMYK /Function {function}");
    let radial = format!("/ShadingType 3 /ColorSpace /DeviceCMYK /Function {function}");
    let shade = |keys: &str| format!("/Shading << /S << {keys} >> >>");
    cases.add("axial", shade(&format!("{axial} /Coords [20 20 80 60]")), "10 10 80 80 re W n /S sh");
    cases.add(
        "axial that goes on",
        shade(&format!("{axial} /Coords [30 50 70 50] /Extend [true true]")),
        "10 10 80 80 re W n /S sh",
    );
    cases.add("radial", shade(&format!("{radial} /Coords [40 40 10 60 60 40]")), "/S sh");
    cases.add(
        "radial that goes on",
        shade(&format!("{radial} /Coords [30 30 5 60 60 20] /Extend [true true]")),
        "/S sh",
    );
    let spot = format!(
        "/ShadingType 2 /ColorSpace {} 0 R /Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >>",
        cases.heron
    );
    cases.add("axial of a spot", shade(&format!("{spot} /Coords [10 0 90 0]")), "10 10 80 80 re W n /S sh");
    let field = cases.pdf.stream("/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]", "{ 0 0.2 }");
    cases.add(
        "function of place",
        shade(&format!("/ShadingType 1 /ColorSpace /DeviceCMYK /Matrix [80 0 0 80 10 10] /Function {field} 0 R")),
        "/S sh",
    );
    let mesh_keys = "/ColorSpace /DeviceCMYK /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 /Decode [0 100 0 100 0 1 0 1 0 1 0 1]";
    let corner = |flag: u8, x: u8, y: u8, ink: [u8; 4]| [&[flag, x, y][..], &ink].concat();
    let (c, m, y, k) = ([204, 0, 0, 0], [0, 204, 0, 0], [0, 0, 204, 0], [0, 0, 0, 204]);
    let free = [corner(0, 20, 20, c), corner(0, 230, 40, m), corner(0, 60, 220, y), corner(1, 220, 230, k)].concat();
    let free = cases.pdf.stream(&format!("/ShadingType 4 {mesh_keys}"), free);
    cases.add("free triangles", format!("/Shading << /S {free} 0 R >>"), "/S sh");
    let lattice = [[30, 30], [220, 30], [30, 220], [220, 220]]
        .iter()
        .zip([c, m, y, k])
        .flat_map(|(p, ink)| [p.to_vec(), ink.to_vec()].concat());
    let lattice =
        cases.pdf.stream(&format!("/ShadingType 5 /VerticesPerRow 2 {mesh_keys}"), lattice.collect::<Vec<u8>>());
    cases.add("lattice", format!("/Shading << /S {lattice} 0 R >>"), "/S sh");
    let edge: [[u8; 2]; 12] = [
        [40, 40],
        [30, 90],
        [60, 160],
        [40, 210],
        [90, 230],
        [160, 190],
        [210, 210],
        [230, 160],
        [190, 90],
        [210, 40],
        [160, 30],
        [90, 60],
    ];
    let coons = [vec![0], edge.concat(), [c, m, y, k].concat()].concat();
    let coons = cases.pdf.stream(&format!("/ShadingType 6 {mesh_keys}"), coons);
    cases.add("Coons patch", format!("/Shading << /S {coons} 0 R >>"), "/S sh");
    let inner: [[u8; 2]; 4] = [[90, 90], [90, 160], [160, 160], [160, 90]];
    let tensor = [vec![0], edge.concat(), inner.concat(), [c, m, y, k].concat()].concat();
    let tensor = cases.pdf.stream(&format!("/ShadingType 7 {mesh_keys}"), tensor);
    cases.add("tensor patch", format!("/Shading << /S {tensor} 0 R >>"), "/S sh");

    let tile = |keys: &str| {
        format!(
            "/Type /Pattern /PatternType 1 {keys} /TilingType 1 /BBox [0 0 10 10] /XStep 20 /YStep 15 /Resources << >>"
        )
    };
    let coloured = cases
        .pdf
        .stream(&tile("/PaintType 1 /Matrix [1 0 0 1 5 5]"), "0.6 0 0 0 k 0 0 10 10 re f 0 0.8 0 0 k 2 2 4 4 re f");
    cases.add("tiles", format!("/Pattern << /P {coloured} 0 R >>"), "/Pattern cs /P scn 10 10 80 80 re f");
    let plain = cases.pdf.stream(&tile("/PaintType 2"), "0 0 10 10 re f");
    cases.add("tiles in a spot", format!("/Pattern << /P {plain} 0 R >>"), "/U cs 0.6 /P scn 10 10 80 80 re f");
    let shading = format!(
        "/Pattern << /P << /PatternType 2 /Matrix [1 0 0 1 10 0] /Shading << {axial} /Coords [0 0 80 0] >> >> >>"
    );
    cases.add("shading pattern", shading, "/Pattern cs /P scn 10 10 80 40 re f 10 60 80 30 re f");
    judged(cases, 0.5);
}

#[test]
fn pictures_of_every_space() {
    let mut cases = Cases::new();
    let heron = cases.heron;
    let image = |cases: &mut Cases, name, keys: &str, data: &[u8], more: &str| {
        let picture = cases.pdf.stream(&format!("/Type /XObject /Subtype /Image {keys}"), data);
        cases.add(
            name,
            format!("/XObject << /X {picture} 0 R >> {more}"),
            "0.2 0.2 0 0 k 0 0 100 100 re f q 80 0 0 60 10 20 cm /X Do Q",
        );
    };
    let cmyk = [[204, 0, 0, 0], [0, 153, 0, 51], [0, 0, 102, 0], [51, 51, 51, 51]].concat();
    let two = "/Width 2 /Height 2 /BitsPerComponent 8";
    image(&mut cases, "four inks", &format!("{two} /ColorSpace /DeviceCMYK"), &cmyk, "");
    image(
        &mut cases,
        "four inks, turned",
        &format!("{two} /ColorSpace /DeviceCMYK /Decode [1 0 1 0 1 0 1 0]"),
        &cmyk,
        "",
    );
    image(&mut cases, "gray", &format!("{two} /ColorSpace /DeviceGray"), &[0, 51, 153, 255], "");
    image(&mut cases, "one bit", "/Width 2 /Height 2 /BitsPerComponent 1 /ColorSpace /DeviceGray", &[0x40, 0x80], "");
    image(&mut cases, "four bits", "/Width 2 /Height 2 /BitsPerComponent 4 /ColorSpace /DeviceGray", &[0x3C, 0x9F], "");
    image(
        &mut cases,
        "sixteen bits",
        "/Width 2 /Height 1 /BitsPerComponent 16 /ColorSpace /DeviceGray",
        &[51, 51, 204, 204],
        "",
    );
    let table = "<CC000000 00990000 00006600 333333FF>";
    image(
        &mut cases,
        "a table",
        &format!("/Width 2 /Height 2 /BitsPerComponent 2 /ColorSpace [/Indexed /DeviceCMYK 3 {table}]"),
        &[0x10, 0xB0],
        "",
    );
    image(&mut cases, "a spot", &format!("{two} /ColorSpace {heron} 0 R"), &[0, 51, 153, 255], "");
    image(
        &mut cases,
        "a table of a spot",
        &format!("/Width 2 /Height 2 /BitsPerComponent 2 /ColorSpace [/Indexed {heron} 0 R 3 <00336699>]"),
        &[0x10, 0xB0],
        "",
    );
    image(&mut cases, "a colour key", &format!("{two} /ColorSpace /DeviceGray /Mask [40 60]"), &[0, 51, 153, 255], "");
    let stencil = cases
        .pdf
        .stream("/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 1 /ImageMask true", [0x40, 0x80]);
    image(
        &mut cases,
        "a stencil mask",
        &format!("{two} /ColorSpace /DeviceGray /Mask {stencil} 0 R"),
        &[0, 51, 102, 153],
        "",
    );
    let soft = cases.pdf.stream(
        "/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray",
        [255, 51, 102, 0],
    );
    image(&mut cases, "a soft mask", &format!("{two} /ColorSpace /DeviceCMYK /SMask {soft} 0 R"), &cmyk, "");
    for (name, keys) in [("a stencil", ""), ("a stencil, turned", "/Decode [1 0]")] {
        let picture = cases.pdf.stream(
            &format!("/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 1 /ImageMask true {keys}"),
            [0x40, 0x80],
        );
        cases.add(name, format!("/XObject << /X {picture} 0 R >>"), "/Heron cs 0.6 scn q 80 0 0 60 10 20 cm /X Do Q");
    }
    cases.add("in the content", "", "q 80 0 0 60 10 20 cm BI /W 2 /H 2 /BPC 8 /CS /G ID \x00\x33\x66\x7F EI Q");
    let over = format!("{two} /ColorSpace /DeviceCMYK");
    let picture = cases.pdf.stream(&format!("/Type /XObject /Subtype /Image {over}"), &cmyk);
    cases.add(
        "that overprints",
        format!("/XObject << /X {picture} 0 R >> /ExtGState << /O << /op true /OPM 1 >> >>"),
        "/Heron cs 0.6 scn 0 0 100 100 re f 0.4 0.4 0.4 0.4 k 0 0 100 50 re f /O gs q 80 0 0 60 10 20 cm /X Do Q",
    );
    judged(cases, 0.5);
}

#[test]
fn paths_clips_and_text() {
    let mut cases = Cases::new();
    cases.add("even-odd", "", "0 0.6 0 0 k 10 10 80 80 re 30 30 40 40 re f*");
    cases.add(
        "winding",
        "",
        "0 0.6 0 0 k 10 10 m 90 10 l 90 90 l 10 90 l h 30 30 m 30 70 l 70 70 l 70 30 l h 40 40 20 20 re f",
    );
    cases.add("clip", "", "30 10 m 90 30 l 70 90 l 10 70 l h W n 10 10 40 80 re W n 0.6 0 0 0.2 k 0 0 100 100 re f");
    cases.add("clip with a hole", "", "10 10 80 80 re 30 30 40 40 re W* n 0.6 0 0 0.2 k 0 0 100 100 re f");
    cases.add("wide strokes", "", "12 w 1 J 1 j 0 0.8 0 0 K 20 20 m 80 30 l 30 80 l S");
    cases.add("mitres", "", "12 w 0 j 0 0.8 0 0 K 20 30 m 80 30 l 50 70 l s");
    cases.add("dashes", "", "16 w [20 10] 5 d 0 0.8 0 0 K 10 30 m 90 30 l S 10 70 m 90 70 l S");
    cases.add("a pen that is not round", "", "q 4 0 0 1 0 0 cm 6 w 0 0 0.8 0 K 4 20 m 20 80 l S Q");
    let glyph = cases.pdf.stream("", "1000 0 0 0 1000 1000 d1 100 100 700 700 re f");
    let own = cases.pdf.stream("", "1000 0 d0 /Heron cs 0.6 scn 100 100 700 700 re f");
    let heron = cases.heron;
    cases.add(
        "letters that are drawings",
        format!(
            "/Font << /F << /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 98 \
             /Widths [1000 1000] /Encoding << /Differences [97 /a /b] >> /CharProcs << /a {glyph} 0 R /b {own} 0 R >> /Resources << /ColorSpace << \
             /Heron {heron} 0 R >> >> >> >>"
        ),
        "BT /F 40 Tf 0 0.6 0 0 k 10 30 Td (ab) Tj ET",
    );
    judged(cases, 0.5);
}

/// Cards and sheets of the demo, with their text, pictures and spots: away from edges as Ghostscript draws them, and as much ink in all.
#[test]
fn plates_of_the_demo() {
    for (name, pages) in [("netherwick-art.pdf", 2), ("otterby-art.pdf", 2), ("otterby-4.5x12-press.pdf", 1)] {
        let bytes =
            std::fs::read(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("proofs-demo").join(name)).unwrap();
        let (ours, theirs) = (ours(&bytes, pages, 72), ghostscript(&bytes, pages, 72));
        for (ours, theirs) in ours.iter().zip(&theirs) {
            let found = differences(name, ours, theirs, 0.5);
            assert!(found.is_empty(), "{}", found.join("\n"));
            for (ink, plane) in ours {
                let mean =
                    |p: &Plane| p.values.iter().map(|v| f64::from(*v)).sum::<f64>() / p.values.len() as f64 / 2.55;
                let (a, b) = (mean(plane), mean(&theirs[ink]));
                // Ghostscript paints every pixel that a shape touches, here pixels count by how much of them is covered.
                assert!((a - b).abs() < 0.6, "{name}, {ink}: {a:.2} % here, {b:.2} % by Ghostscript");
            }
        }
    }
}
