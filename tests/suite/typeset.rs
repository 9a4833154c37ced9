//! Typeset cards, judged by other readers of PDF and by the card file's own numbers.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::{ColumnRole, Direction, Face, GridPlan, Half, Mark, RowRole, Side};
use fairfold::fault::Text;
use fairfold::ink::{Colour, Condition};
use fairfold::model::{Model, Syntax, read};
use fairfold::typeset::{Assets, Typeset, typeset};
use fairfold::unit::{Length, Rect};

/// The test card with some of its text exchanged.
fn model(changes: &[(&str, &str)]) -> Model {
    let mut text =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/sallow-moss.toml")).unwrap();
    for (old, new) in changes {
        assert!(text.contains(old), "the test card has no {old}");
        text = text.replace(old, new);
    }
    read(&Text::new("sallow-moss.toml", text), Syntax::Toml).unwrap_or_else(|f| panic!("{f}"))
}

fn set(changes: &[(&str, &str)]) -> Typeset {
    typeset(&model(changes), &Assets::new(), &Condition::uncoated(), &OpenOptions::default())
        .unwrap_or_else(|f| panic!("{f}"))
}

/// The grid read down, its top at the left; the heading stands over it there.
const DOWN: [(&str, &str); 2] = [
    ("size = \"9 pt\"", "size = \"9 pt\"\ndirection = \"down\""),
    ("face = \"inside\"\npanel = 1", "face = \"inside\"\npanel = 1\nturn = \"left\""),
];

/// What an outside program prints about a PDF.
fn judged(pdf: &[u8], program: &str, package: &str, arguments: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("card.pdf");
    fs::write(&file, pdf).unwrap();
    let arguments = arguments.iter().map(|a| if *a == "FILE" { file.to_str().unwrap() } else { a });
    let out = Command::new(program).args(arguments).output();
    let out = out.unwrap_or_else(|why| panic!("{program} cannot be run ({why}): install {package}"));
    assert!(
        out.status.success(),
        "{program}: {}{}",
        String::from_utf8_lossy(&out.stdout),
        String::from_utf8_lossy(&out.stderr)
    );
    String::from_utf8(out.stdout).unwrap()
}

fn face(set: &Typeset, side: Side) -> Face {
    let page = if side == Side::Outside { 1 } else { 2 };
    Artwork::open(&set.pdf, "card.pdf", &OpenOptions::default()).unwrap().face(page, side).unwrap()
}

#[test]
fn qpdf_and_poppler_take_the_file() {
    let set = set(&[]);
    judged(&set.pdf, "qpdf", "qpdf", &["--check", "FILE"]);
    let boxes = judged(&set.pdf, "pdfinfo", "poppler-utils", &["-box", "-f", "1", "-l", "2", "FILE"]);
    // 6 x 12 in is 432 x 864 pt; 1/8 in is 9 pt.
    for n in 1..=2 {
        for (name, numbers) in [
            ("MediaBox", "-9.00 -9.00 873.00 441.00"),
            ("BleedBox", "-9.00 -9.00 873.00 441.00"),
            ("TrimBox", "0.00 0.00 864.00 432.00"),
        ] {
            let line = boxes.lines().find(|l| l.starts_with("Page") && l.contains(&format!(" {n} {name}"))).unwrap();
            assert_eq!(line.split_whitespace().skip(3).collect::<Vec<_>>().join(" "), numbers);
        }
    }
    let fonts = judged(&set.pdf, "pdffonts", "poppler-utils", &["FILE"]);
    let rows: Vec<&str> = fonts.lines().skip(2).collect();
    assert!(rows.len() >= 3, "{fonts}");
    for row in rows {
        let [emb, sub, uni] = row.split_whitespace().rev().skip(2).take(3).collect::<Vec<_>>()[..] else {
            panic!("{row}")
        };
        assert_eq!((uni, sub, emb), ("yes", "yes", "yes"), "{row}");
    }
}

#[test]
fn equal_input_gives_equal_bytes() {
    assert!(set(&[]).pdf == set(&[]).pdf);
}

/// Words as poppler finds them on the inside, in face coordinates.
fn words(pdf: &[u8], height: f64) -> Vec<(kurbo::Point, String)> {
    let page = judged(pdf, "pdftotext", "poppler-utils", &["-bbox", "-f", "2", "-l", "2", "FILE", "-"]);
    let number = |line: &str, key: &str| -> f64 {
        let after = line.split(&format!("{key}=\"")).nth(1).unwrap();
        after.split('"').next().unwrap().parse().unwrap()
    };
    let lines = page.lines().filter(|l| l.trim_start().starts_with("<word"));
    lines
        .map(|l| {
            let x = f64::midpoint(number(l, "xMin"), number(l, "xMax"));
            let y = f64::midpoint(number(l, "yMin"), number(l, "yMax"));
            let word = l.split('>').nth(1).unwrap().split('<').next().unwrap();
            // The media box begins a bleed of 9 pt outside the trim, and poppler counts down from its top.
            (kurbo::Point::new(x - 9.0, height + 9.0 - y), word.to_owned())
        })
        .collect()
}

fn holds(rect: Rect, at: kurbo::Point) -> bool {
    kurbo::Rect::new(rect.x0.to_pt(), rect.y0.to_pt(), rect.x1.to_pt(), rect.y1.to_pt()).contains(at)
}

#[test]
fn poppler_reads_every_cell_where_the_plan_has_it() {
    for changes in [&[][..], &DOWN[..]] {
        let set = set(changes);
        look(if changes.is_empty() { "across" } else { "down" }, &set);
        let words = words(&set.pdf, 432.0);
        let plan = set.grid.unwrap();
        for cell in &plan.cells {
            let here: Vec<&str> =
                words.iter().filter(|(at, _)| holds(cell.rect, *at)).map(|(_, w)| w.as_str()).collect();
            let (mut here, mut want): (Vec<&str>, Vec<&str>) = (here, cell.text.split_whitespace().collect());
            here.sort_unstable();
            want.sort_unstable();
            assert_eq!(here, want, "{:?} {:?}", plan.rows[cell.row].role, plan.columns[cell.column].role);
        }
    }
}

#[test]
fn the_numbers_are_those_of_the_card_file() {
    let plan = set(&[]).grid.unwrap();
    let text = |row: RowRole, column: ColumnRole| {
        plan.cell(plan.row(&row).unwrap(), plan.column(&column).unwrap()).unwrap().text.clone()
    };
    // Added up by hand: 401+172+531+377+429+388+181+512+366 and 395+548+164+402+415+371+522+193+384.
    assert_eq!(text(RowRole::Tee(0), ColumnRole::Half(Half::Out)), "3357");
    assert_eq!(text(RowRole::Tee(0), ColumnRole::Half(Half::In)), "3394");
    assert_eq!(text(RowRole::Tee(0), ColumnRole::Total), "6751");
    assert_eq!(text(RowRole::Tee(2), ColumnRole::Hole(17)), "139");
    // Hole 5 is a par 4 for men and 5 for women; the others agree.
    assert_eq!(text(RowRole::ParBoth, ColumnRole::Hole(5)), "4/5");
    assert_eq!(text(RowRole::ParBoth, ColumnRole::Hole(4)), "4");
    assert_eq!(text(RowRole::ParBoth, ColumnRole::Total), "72/73");
    // Alder on 1, Birch on 2.
    assert_eq!(text(RowRole::Combo(0), ColumnRole::Hole(1)), "401");
    assert_eq!(text(RowRole::Combo(0), ColumnRole::Hole(2)), "151");
    // The second combination is shown as marks and has no row.
    assert_eq!(plan.row(&RowRole::Combo(1)), None);
    assert_eq!(text(RowRole::Pace, ColumnRole::Hole(18)), "4:16");
    assert_eq!(text(RowRole::Free("Ferry".to_owned()), ColumnRole::Hole(3)), "rope");
    assert_eq!(plan.players(), 6);
}

#[test]
fn stated_heights_are_kept_exactly_and_players_share_the_rest() {
    for changes in [&[][..], &DOWN[..]] {
        let plan = set(changes).grid.unwrap();
        let down = matches!(plan.direction, Direction::Down { .. });
        let height = |row: usize| plan.rows[row].rect.height();
        let inch = |n: i64| Length::inches(n, 100);
        let stated = [25, 22, 22, 22, 22, 22, 20, 20, 20, 20].map(inch);
        for (row, want) in stated.into_iter().enumerate() {
            assert_eq!(height(row), want, "{:?}", plan.rows[row].role);
        }
        // 6 in less what is above and below (0.6 and 0.25 in; read down it is 0.25 in at either side) and the rows above.
        let room = inch(600) - if down { inch(50) } else { inch(85) } - stated.into_iter().sum();
        for row in stated.len()..plan.rows.len() {
            assert!(height(row).near(room / 6, Length::um(10)));
        }
    }
}

/// Straight strokes by where they run: between which ends.
type Strokes = BTreeMap<Length, Vec<(Length, Length)>>;

/// Level and upright strokes of a face.
fn strokes(face: &Face) -> (Strokes, Strokes) {
    let (mut level, mut upright) = (Strokes::new(), Strokes::new());
    for element in &face.elements {
        let Mark::Path(path) = &element.mark else { continue };
        let elements = path.outline.elements();
        let (Some(_), [kurbo::PathEl::MoveTo(a), kurbo::PathEl::LineTo(b)]) = (&path.stroke, elements) else {
            continue;
        };
        let [ax, ay, bx, by] = [a.x, a.y, b.x, b.y].map(Length::from_pt);
        if ay == by {
            level.entry(ay).or_default().push((ax.min(bx), ax.max(bx)));
        } else if ax == bx {
            upright.entry(ax).or_default().push((ay.min(by), ay.max(by)));
        }
    }
    (level, upright)
}

fn cells_have_their_rules(plan: &GridPlan, face: &Face) {
    let (level, upright) = strokes(face);
    let has = |map: &Strokes, at: Length, from: Length, to: Length| {
        map.get(&at).is_some_and(|list| list.iter().any(|(a, b)| *a <= from && *b >= to))
    };
    for cell in &plan.cells {
        let r = cell.rect;
        assert!(has(&level, r.y0, r.x0, r.x1) && has(&level, r.y1, r.x0, r.x1), "{cell:?}");
        assert!(has(&upright, r.x0, r.y0, r.y1) && has(&upright, r.x1, r.y0, r.y1), "{cell:?}");
    }
}

#[test]
fn every_cell_stands_between_rules_that_were_drawn() {
    let letter = [("size = \"6 x 12 in\"\nfold = \"half\"", "size = \"6 x 17 in\"\nfold = \"letter\"")];
    let metric = [("margin = \"0.25 in\"", "margin = \"7.3 mm\""), ("count = 6", "count = 5")];
    for changes in [&[][..], &DOWN[..], &letter, &metric] {
        let set = set(changes);
        cells_have_their_rules(set.grid.as_ref().unwrap(), &face(&set, Side::Inside));
    }
}

#[test]
fn the_recogniser_finds_the_plan_that_was_set() {
    for changes in [&[][..], &DOWN[..]] {
        let set = set(changes);
        let (found, _) = fairfold::grid::recognise(&[face(&set, Side::Inside)]).expect("no grid was found");
        let plan = set.grid.unwrap();
        assert_eq!(found.direction, plan.direction);
        let roles = |p: &GridPlan| p.columns.iter().map(|c| c.role.clone()).collect::<Vec<_>>();
        assert_eq!(roles(&found), roles(&plan));
        let rows = |p: &GridPlan| p.rows.iter().map(|r| r.role.clone()).collect::<Vec<_>>();
        assert_eq!(rows(&found), rows(&plan));
        let near = |a: Rect, b: Rect| {
            [(a.x0, b.x0), (a.y0, b.y0), (a.x1, b.x1), (a.y1, b.y1)].iter().all(|(a, b)| a.near(*b, Length::um(50)))
        };
        for (a, b) in found.cells.iter().zip(&plan.cells) {
            assert!(near(a.rect, b.rect) && a.text == b.text, "{a:?} {b:?}");
        }
    }
}

#[test]
fn black_text_overprints_and_paper_text_does_not() {
    let set = set(&[]);
    let (mut black, mut paper) = (0, 0);
    for side in [Side::Outside, Side::Inside] {
        for element in face(&set, side).elements {
            let Mark::Text(run) = &element.mark else { continue };
            let colour = run.fill.as_ref().and_then(|p| p.flat()).unwrap();
            let prints = (element.blend.overprint_fill, element.blend.overprint_mode);
            if *colour == Colour::BLACK {
                assert_eq!(prints, (true, 1), "{}", run.text);
                black += 1;
            } else {
                assert!(!prints.0, "{}", run.text);
                paper += usize::from(colour.is_paper());
            }
        }
    }
    assert!(black > 100 && paper > 10, "{black} {paper}");
}

#[test]
fn numbers_on_a_fill_are_black_or_paper_whichever_reads_better() {
    // Measured on uncoated stock (FOGRA29L): solid yellow is L* 88.85 and calls for black; the dark moss calls for paper.
    let colour_of = |fill: &str, number: &str| {
        let set = set(&[("process = [60, 20, 80, 40]", fill)]);
        let elements = face(&set, Side::Inside).elements;
        let runs = elements.iter().filter_map(|e| match &e.mark {
            Mark::Text(run) if run.text == number => run.fill.as_ref()?.flat().cloned(),
            _ => None,
        });
        runs.collect::<Vec<_>>()
    };
    // 531 stands in Alder's row, and in that of Alder-Birch on Alder's fill.
    assert_eq!(colour_of("process = [60, 20, 80, 40]", "531"), [Colour::WHITE, Colour::WHITE]);
    assert_eq!(colour_of("process = [0, 0, 100, 0]", "531"), [Colour::BLACK, Colour::BLACK]);
}

#[test]
fn a_number_too_wide_for_its_cell_says_by_how_much() {
    // Archivo Narrow's figures are 0.456 em wide (its hmtx table, read with fontTools): three at 30 pt are 41.04 pt.
    let set = set(&[("size = \"9 pt\"", "size = \"30 pt\"")]);
    let over = set.oversets.iter().find(|o| o.text == "401" && !o.in_height).unwrap();
    assert_eq!(over.needs, Length::from_pt(41.04));
    assert_eq!(over.place.what.as_deref(), Some("row \"Alder\", hole 1"));
    assert_eq!(over.place.panel, Some(1));
    // Its capitals are 0.686 em: 20.58 pt in a row of 0.22 in, 15.84 pt.
    assert!(set.oversets.iter().any(|o| o.in_height && o.needs == Length::from_pt(20.58)));
}

#[test]
fn a_ring_without_room_says_so() {
    let set = set(&DOWN);
    // Read down, three figures of 12.31 pt and a ring around them go into a row of 0.22 in, 15.84 pt: too little.
    let rings = set.oversets.iter().filter(|o| o.place.words().ends_with("mark of a combination"));
    assert_eq!(rings.count(), 18);
    assert!(self::set(&[]).oversets.is_empty());
}

#[test]
fn a_grid_that_reads_down_makes_its_own_room_where_no_heights_are_stated() {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/sallow-moss.toml")).unwrap();
    let heights: Vec<String> = ["0.25 in", "0.22 in", "0.2 in"].map(|h| format!(", height = \"{h}\"")).to_vec();
    let mut changes: Vec<(&str, &str)> = DOWN.to_vec();
    changes.extend(heights.iter().map(|h| (h.as_str(), "")));
    assert!(text.contains(&heights[0]));
    let set = set(&changes);
    look("down-free", &set);
    let numbers = set.oversets.iter().filter(|o| !o.place.words().ends_with("mark of a combination"));
    assert_eq!(numbers.count(), 0);
}

#[test]
fn text_that_overflows_its_block_says_by_how_much() {
    let set = set(&[("width = \"4 in\", height = \"0.3 in\"", "width = \"4 in\", height = \"0.05 in\"")]);
    let [over] = &set.oversets[..] else { panic!("{:?}", set.oversets) };
    assert!(over.in_height && over.text.starts_with("The moss is deep."));
    assert_eq!(over.room, Length::inches(1, 20));
    assert!(self::set(&[]).oversets.is_empty());
}

#[test]
fn a_character_that_the_font_lacks_is_a_fault_with_its_line() {
    let model = model(&[("A ball on the ferry rope", "A ball ⛳ on the ferry rope")]);
    let faults =
        typeset(&model, &Assets::new(), &Condition::uncoated(), &OpenOptions::default()).unwrap_err().to_string();
    assert!(faults.contains("ArchivoNarrow-Regular has no “⛳” (U+26F3)"), "{faults}");
    assert!(faults.starts_with("sallow-moss.toml:86:"), "{faults}");
}

#[test]
fn a_rule_that_ends_on_the_trim_runs_into_the_bleed() {
    let set = set(&[(
        "from = [\"2.5 in\", \"2.2 in\"], to = [\"3.5 in\", \"2.2 in\"]",
        "from = [\"1 in\", \"2.2 in\"], to = [\"6 in\", \"2.2 in\"]",
    )]);
    let (level, _) = strokes(&face(&set, Side::Outside));
    // 6 in down the right panel's 6 in less 2.2 in is 273.6 pt; it runs from 1 in past the fold to 9 pt past the trim at 864 pt.
    assert_eq!(level[&Length::from_pt(273.6)], [(Length::pt(504), Length::pt(873))]);
}

#[test]
fn parts_lead_back_to_their_lines() {
    let set = set(&[]);
    let plan = set.grid.as_ref().unwrap();
    let row = plan.row(&RowRole::Tee(1)).unwrap();
    let part = set.trace.part(Side::Inside, plan.cell(row, 3).unwrap().rect).unwrap();
    assert_eq!(part.what, "row \"Birch\"");
    let text = &part.span.file.text;
    assert!(text[part.span.range.clone()].contains("Birch") || text[part.span.range.start..].starts_with("[[tees]]"));
    assert!(set.trace.parts.iter().any(|p| p.what == "heading \"Sallow Moss\"" && p.side == Side::Inside));
}

/// A picture of `width` x `height` in a format of the `image` crate.
fn picture(picture: &image::DynamicImage, format: image::ImageFormat) -> Arc<[u8]> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner().into()
}

fn with_picture(file: &str, bytes: &Arc<[u8]>, more: &str) -> fairfold::fault::Result<Typeset> {
    let mut block = String::new();
    write!(block, "fill = \"moss\"\nblock = [\n    {{ block = \"picture\", file = \"{file}\", at = {{ x = \"0 in\", y = \"3 in\", width = \"6 in\", height = \"3 in\" }}{more} }},").unwrap();
    let assets = Assets::from([(file.to_owned(), Arc::clone(bytes))]);
    typeset(&model(&[("fill = \"moss\"\nblock = [", &block)]), &assets, &Condition::uncoated(), &OpenOptions::default())
}

#[test]
fn pictures_keep_their_space() {
    use image::{DynamicImage, ImageFormat};
    let rgb = picture(&DynamicImage::new_rgb8(60, 30), ImageFormat::Png);
    let gray = picture(&DynamicImage::new_luma8(60, 30), ImageFormat::Tiff);
    let clear = picture(&DynamicImage::new_rgba8(60, 30), ImageFormat::Png);
    let jpeg = picture(&DynamicImage::new_rgb8(60, 30), ImageFormat::Jpeg);
    for (file, bytes, want) in [
        ("a.png", &rgb, vec!["image icc 3 8"]),
        ("b.tif", &gray, vec!["image gray 1 8"]),
        ("c.png", &clear, vec!["image icc 3 8", "smask gray 1 8"]),
        ("d.jpg", &jpeg, vec!["image icc 3 8"]),
    ] {
        let set = with_picture(file, bytes, "").unwrap_or_else(|f| panic!("{f}"));
        let list = judged(&set.pdf, "pdfimages", "poppler-utils", &["-list", "FILE"]);
        let found: Vec<String> = list
            .lines()
            .skip(2)
            .map(|l| l.split_whitespace().collect::<Vec<_>>())
            .map(|w| [w[2], w[5], w[6], w[7]].join(" "))
            .collect();
        assert_eq!(found, want, "{file}");
        judged(&set.pdf, "qpdf", "qpdf", &["--check", "FILE"]);
    }
}

#[test]
fn the_bytes_of_a_cmyk_jpeg_pass_through() {
    let mut bytes = Vec::new();
    let encoder = jpeg_encoder::Encoder::new(&mut bytes, 90);
    encoder.encode(&[0, 128, 255, 30].repeat(64 * 32), 64, 32, jpeg_encoder::ColorType::Cmyk).unwrap();
    let bytes: Arc<[u8]> = bytes.into();
    let set = with_picture("cover.jpg", &bytes, ", bleed = true").unwrap_or_else(|f| panic!("{f}"));
    assert!(set.pdf.windows(bytes.len()).any(|w| w == &bytes[..]));
    let face = face(&set, Side::Outside);
    let element = face.elements.iter().find(|e| matches!(e.mark, Mark::Picture(_))).unwrap();
    // The lower half of the right panel, out into the bleed of 9 pt on three sides' trim: left is the fold.
    let want = Rect::new(Length::pt(432), Length::pt(-9), Length::pt(873), Length::pt(216));
    assert_eq!(element.bounds, want);
}

#[test]
fn a_picture_that_cannot_be_used_is_a_fault_with_its_line() {
    let missing = with_picture("a.png", &Arc::from(&b"GIF89a"[..]), "").unwrap_err().to_string();
    assert!(
        missing.starts_with("sallow-moss.toml:") && missing.contains("neither a PNG nor a JPEG nor a TIFF"),
        "{missing}"
    );
}

/// Cards to be looked at go to the folder that FAIRFOLD_LOOK names.
fn look(name: &str, set: &Typeset) {
    if let Some(folder) = std::env::var_os("FAIRFOLD_LOOK") {
        let said: Vec<String> =
            set.oversets.iter().map(|o| format!("{}: needs {}, has {}\n", o.place.words(), o.needs, o.room)).collect();
        fs::write(Path::new(&folder).join(format!("{name}.txt")), said.concat()).unwrap();
        fs::write(Path::new(&folder).join(format!("{name}.pdf")), &set.pdf).unwrap();
    }
}

#[test]
fn every_demo_card_is_set() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("proofs-demo");
    let mut cards: Vec<_> = fs::read_dir(&root).unwrap().map(|e| e.unwrap().path()).collect();
    cards.retain(|p| p.extension().is_some_and(|e| e == "toml"));
    cards.retain(|p| fs::read_to_string(p).unwrap().contains("\n[card]"));
    assert!(cards.len() >= 4);
    for card in cards {
        let name = card.file_stem().unwrap().to_str().unwrap();
        let text = Text::new(name, fs::read_to_string(&card).unwrap());
        let model = read(&text, Syntax::Toml).unwrap_or_else(|f| panic!("{f}"));
        let files = model.external_files().into_iter();
        let assets = files.map(|(file, _)| (file.clone(), fs::read(root.join(file)).unwrap().into())).collect();
        let set =
            typeset(&model, &assets, &Condition::uncoated(), &OpenOptions::default()).unwrap_or_else(|f| panic!("{f}"));
        look(name, &set);
        judged(&set.pdf, "qpdf", "qpdf", &["--check", "FILE"]);
    }
}

#[test]
fn a_letter_fold_has_the_second_nine_on_its_middle_panel() {
    let set = set(&[("size = \"6 x 12 in\"\nfold = \"half\"", "size = \"6 x 17 in\"\nfold = \"letter\"")]);
    look("letter", &set);
    let plan = set.grid.unwrap();
    let x = |role| plan.columns[plan.column(&role).unwrap()].rect;
    // 17 in, 1/32 in shorter for the panel that folds in: folds at 5.677 and 11.354 in from the left of the inside.
    let (first, second) = (Length::from_in(5.677), Length::from_in(11.354));
    assert!(x(ColumnRole::Half(Half::Out)).x1 < first && first < x(ColumnRole::Initials).x0);
    assert!(x(ColumnRole::Half(Half::In)).x1 < second && second < x(ColumnRole::Total).x0);
}
