//! Files that are out to hang, crash or flood whoever reads them. Each is built here, kept in `tests/hostile` under the name of its fault
//! where it is small, and handed to the program: the answer is a card with findings or a fault, in little time and little memory.

use std::fs;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::Command;

use super::artwork_pdf::Pdf;
use super::program::root;

fn deflated(bytes: &[u8]) -> Vec<u8> {
    zlib(std::iter::once(bytes.to_vec()))
}

/// A zlib stream of these pieces one after another, as Python's zlib makes it: an encoder from outside.
fn zlib(pieces: impl Iterator<Item = Vec<u8>>) -> Vec<u8> {
    let program = "
import sys, zlib
c = zlib.compressobj(9)
while True:
    piece = sys.stdin.buffer.read(1 << 20)
    if not piece: break
    sys.stdout.buffer.write(c.compress(piece))
sys.stdout.buffer.write(c.flush())
";
    let mut child = Command::new("python3")
        .args(["-c", program])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .expect("python3 is needed for this test; run tests/all.sh to install it");
    let mut stdin = child.stdin.take().unwrap();
    let feeding: Vec<Vec<u8>> = pieces.collect();
    let feeder = std::thread::spawn(move || {
        for piece in feeding {
            stdin.write_all(&piece).unwrap();
        }
    });
    let output = child.wait_with_output().unwrap();
    feeder.join().unwrap();
    output.stdout
}

/// `megabytes` of zeros, deflated twice.
fn twice_deflated_zeros(megabytes: usize) -> Vec<u8> {
    deflated(&zlib(std::iter::repeat_n(vec![0; 1 << 20], megabytes)))
}

/// A page whose only object beyond the usual is under the test's hand.
fn page_with(object: &str, resources: &str, content: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    pdf.add(object);
    pdf.page(&format!("/MediaBox [0 0 400 200] /Resources << {resources} >>"), content);
    pdf.bytes()
}

fn filtered(keys: &str, data: &[u8]) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let contents = pdf.stream(keys, data);
    pdf.page_of(&format!("/MediaBox [0 0 400 200] /Contents {contents} 0 R"));
    pdf.bytes()
}

/// A form tree: every form but the last draws the next one `times` times.
fn forms(depth: usize, times: usize) -> Vec<u8> {
    let mut pdf = Pdf::new();
    for n in 0..depth {
        let next = 3 + n + 1;
        let content = if n + 1 < depth { "/X Do ".repeat(times) } else { "0 0 5 5 re f".to_owned() };
        pdf.stream(
            &format!("/Type /XObject /Subtype /Form /BBox [0 0 400 200] /Resources << /XObject << /X {next} 0 R >> >>"),
            content,
        );
    }
    pdf.page("/MediaBox [0 0 400 200] /Resources << /XObject << /X 3 0 R >> >>", "/X Do");
    pdf.bytes()
}

fn form(resources: &str, content: &str, page_content: &str, page_resources: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 400 200] /PatternType 1 /PaintType 1 /TilingType 1 /XStep 9 /YStep 9 /Group << /S /Transparency >> /Resources << {resources} >>"),
        content,
    );
    pdf.page(&format!("/MediaBox [0 0 400 200] /Resources << {page_resources} >>"), page_content);
    pdf.bytes()
}

fn raw(text: &str) -> Vec<u8> {
    text.as_bytes().to_vec()
}

/// Each file by its fault, with the exit codes that are right for it and what must be said.
#[expect(clippy::too_many_lines, reason = "a list of files")]
fn hostile() -> Vec<(&'static str, Vec<u8>, &'static [i32], &'static str)> {
    const CARD: &[i32] = &[0, 1];
    const FAULT: &[i32] = &[2];
    const EITHER: &[i32] = &[0, 1, 2];
    let bomb = twice_deflated_zeros(2048);
    let header = "%PDF-1.6\n";
    let deep = |open: &str, close: &str, times: usize| format!("{}{}", open.repeat(times), close.repeat(times));
    let mut loop_kids = Pdf::new();
    loop_kids.set(1, "<< /Type /Catalog /Pages 2 0 R >>");
    loop_kids.set(2, "<< /Type /Pages /Kids [2 0 R 2 0 R 3 0 R] /Count 3 >>");
    loop_kids.add("<< /Type /Pages /Kids [2 0 R 3 0 R] /Parent 3 0 R /Count 1 >>");
    let mut many_kids = Pdf::new();
    many_kids.set(2, format!("<< /Type /Pages /Kids [{}] /Count 20000 >>", "3 0 R ".repeat(20_000)));
    many_kids.add("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 400 200] >>");
    vec![
        (
            "content-of-two-gigabytes",
            filtered("/Filter [/FlateDecode /FlateDecode]", &bomb),
            FAULT,
            "decodes to more than",
        ),
        (
            "content-of-zeros-by-predictor",
            filtered(
                "/Filter [/FlateDecode /FlateDecode] /DecodeParms [null << /Predictor 15 /Columns 1000000 >>]",
                &bomb,
            ),
            FAULT,
            "decodes to more than",
        ),
        (
            "object-stream-of-two-gigabytes",
            {
                let mut pdf = Pdf::new();
                pdf.stream("/Type /ObjStm /N 1 /First 4 /Filter [/FlateDecode /FlateDecode]", &bomb);
                pdf.page("/MediaBox [0 0 400 200]", "0 0 5 5 re f");
                pdf.bytes()
            },
            EITHER,
            "",
        ),
        (
            "profile-of-two-gigabytes",
            {
                let mut pdf = Pdf::new();
                pdf.stream("/N 4 /Filter [/FlateDecode /FlateDecode]", &bomb);
                let resources = "/Resources << /ColorSpace << /I [/ICCBased 3 0 R] >> >>";
                pdf.page(&format!("/MediaBox [0 0 400 200] {resources}"), "/I cs 0 0 0 1 scn 0 0 5 5 re f");
                pdf.bytes()
            },
            CARD,
            "ICC profile is damaged",
        ),
        (
            "picture-of-two-gigabytes",
            {
                let mut pdf = Pdf::new();
                pdf.stream("/Type /XObject /Subtype /Image /Width 40000 /Height 40000 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter [/FlateDecode /FlateDecode]", &bomb);
                pdf.page(
                    "/MediaBox [0 0 400 200] /Resources << /XObject << /P 3 0 R >> >>",
                    "q 100 0 0 50 20 20 cm /P Do Q",
                );
                pdf.bytes()
            },
            CARD,
            "",
        ),
        (
            "form-of-two-gigabytes",
            {
                let mut pdf = Pdf::new();
                pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Filter [/FlateDecode /FlateDecode]", &bomb);
                pdf.page("/MediaBox [0 0 400 200] /Resources << /XObject << /X 3 0 R >> >>", "/X Do");
                pdf.bytes()
            },
            FAULT,
            "decodes to more than",
        ),
        ("forms-that-double-thirty-times", forms(31, 2), FAULT, "more than"),
        ("forms-five-thousand-deep", forms(5000, 1), FAULT, "deep inside one another"),
        (
            "form-draws-itself",
            form("/XObject << /X 3 0 R >>", "/X Do 0 0 9 9 re f", "/X Do", "/XObject << /X 3 0 R >>"),
            CARD,
            "a form draws itself",
        ),
        (
            "pattern-fills-itself",
            form(
                "/Pattern << /X 3 0 R >>",
                "/Pattern cs /X scn 0 0 9 9 re f",
                "/Pattern cs /X scn 0 0 90 90 re f",
                "/Pattern << /X 3 0 R >>",
            ),
            CARD,
            "a pattern fills itself",
        ),
        (
            "mask-uses-itself",
            form(
                "/ExtGState << /G << /SMask << /S /Alpha /G 3 0 R >> >> >>",
                "/G gs 0 0 9 9 re f",
                "/G gs 0 0 90 90 re f",
                "/ExtGState << /G << /SMask << /S /Alpha /G 3 0 R >> >> >>",
            ),
            CARD,
            "a soft mask uses itself",
        ),
        ("page-tree-circle", loop_kids.bytes(), FAULT, "no pages"),
        ("twenty-thousand-kids", many_kids.bytes(), CARD, "names this node twice"),
        (
            "cross-reference-circle",
            raw(&format!(
                "{header}1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 400 200] >>\nendobj\nxref\n0 1\n0000000000 65535 f \ntrailer\n<< /Size 4 /Root 1 0 R /Prev 186 >>\nstartxref\n186\n%%EOF\n"
            )),
            EITHER,
            "",
        ),
        (
            "length-that-is-its-own-stream",
            raw(&format!(
                "{header}1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 400 200] /Contents 4 0 R >>\nendobj\n4 0 obj\n<< /Length 4 0 R >>\nstream\n0 0 5 5 re f\nendstream\nendobj\ntrailer\n<< /Root 1 0 R >>\n"
            )),
            EITHER,
            "",
        ),
        ("arrays-a-hundred-thousand-deep", page_with(&deep("[", "]", 100_000), "", "0 0 5 5 re f"), EITHER, ""),
        (
            "content-arrays-a-hundred-thousand-deep",
            page_with("null", "", &format!("{} TJ 0 0 5 5 re f", deep("[", "]", 100_000))),
            EITHER,
            "",
        ),
        ("saved-states-a-million-deep", page_with("null", "", &"q ".repeat(1_000_000)), EITHER, ""),
        (
            "function-that-stitches-itself",
            page_with(
                "<< /FunctionType 3 /Domain [0 1] /Functions [3 0 R 3 0 R] /Bounds [0.5] /Encode [0 1 0 1] >>",
                "/ColorSpace << /S [/Separation /Heron /DeviceCMYK 3 0 R] >>",
                "/S cs 1 scn 0 0 50 50 re f",
            ),
            CARD,
            "",
        ),
        (
            "space-whose-base-is-itself",
            page_with("[/Indexed 3 0 R 1 <0000>]", "/ColorSpace << /S 3 0 R >>", "/S cs 1 scn 0 0 50 50 re f"),
            CARD,
            "",
        ),
        (
            "space-of-a-thousand-colorants",
            page_with(
                "null",
                &format!(
                    "/ColorSpace << /S [/DeviceN [{}] /DeviceCMYK << /FunctionType 4 /Domain [0 1] /Range [0 1] >>] >>",
                    "/Heron ".repeat(1000)
                ),
                "/S cs 1 scn 0 0 50 50 re f",
            ),
            CARD,
            "",
        ),
        (
            "boxes-beyond-all-numbers",
            raw(&String::from_utf8_lossy(&page_with("null", "", "1e300 0 0 1e300 0 0 cm 0 0 1e300 1e300 re f"))
                .replace("[0 0 400 200]", "[-1e38 -1e38 1e38 1e38]")),
            EITHER,
            "",
        ),
        (
            "membership-in-itself",
            page_with(
                "<< /Type /OCMD /OCGs 3 0 R /VE [/Not 3 0 R] >>",
                "/Properties << /M 3 0 R >>",
                "/OC /M BDC 0 0 50 50 re f EMC",
            ),
            CARD,
            "",
        ),
        (
            "field-whose-parent-is-itself",
            {
                let mut pdf = Pdf::new();
                pdf.add("<< /Type /Annot /Subtype /Widget /F 4 /Rect [0 0 9 9] /Parent 3 0 R /AP << /N 3 0 R >> >>");
                pdf.page("/MediaBox [0 0 400 200] /Annots [3 0 R 3 0 R]", "0 0 5 5 re f");
                pdf.bytes()
            },
            CARD,
            "",
        ),
        (
            "glyph-that-shows-itself",
            {
                let mut pdf = Pdf::new();
                pdf.stream("", "1000 0 d0 BT /F 1 Tf (H) Tj ET 0 0 500 700 re f");
                pdf.add("<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 72 /LastChar 72 /Widths [1000] /CharProcs << /H 3 0 R >> /Encoding << /Differences [72 /H] >> /Resources << /Font << /F 4 0 R >> >> >>");
                pdf.page(
                    "/MediaBox [0 0 400 200] /Resources << /Font << /F 4 0 R >> >>",
                    "BT /F 30 Tf 20 20 Td (HHHH) Tj ET",
                );
                pdf.bytes()
            },
            CARD,
            "",
        ),
        (
            "picture-of-thirty-thousand-by-thirty-thousand",
            {
                let mut pdf = Pdf::new();
                pdf.stream("/Type /XObject /Subtype /Image /Width 30000 /Height 30000 /ImageMask true /BitsPerComponent 1 /Filter /FlateDecode", zlib(std::iter::repeat_n(vec![0; 1 << 20], 108)));
                pdf.page(
                    "/MediaBox [0 0 400 200] /Resources << /XObject << /P 3 0 R >> >>",
                    "q 100 0 0 50 20 20 cm /P Do Q",
                );
                pdf.bytes()
            },
            CARD,
            "",
        ),
        ("nothing", Vec::new(), FAULT, "not a PDF"),
        ("header-alone", raw("%PDF-1.7\n%%EOF\n"), FAULT, ""),
        ("operands-without-end", page_with("null", "", &"1 ".repeat(2_000_000)), EITHER, ""),
        (
            "calculator-without-end",
            {
                let mut pdf = Pdf::new();
                pdf.stream(
                    "/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1 0 1]",
                    format!("{{ {} }}", "dup ".repeat(200_000)),
                );
                pdf.page("/MediaBox [0 0 400 200] /Resources << /ColorSpace << /S [/Separation /Heron /DeviceCMYK 3 0 R] >> >>", "/S cs 1 scn 0 0 50 50 re f");
                pdf.bytes()
            },
            CARD,
            "",
        ),
    ]
}

fn kept(name: &str) -> PathBuf {
    root().join("tests/hostile").join(format!("{name}.pdf"))
}

/// Files larger than this are built anew at each run and not kept.
const MOST_KEPT: usize = 64 << 10;

#[test]
fn every_hostile_file_gets_its_answer_in_little_time_and_memory() {
    // The program runs under a watch that counts seconds and kilobytes, in Python.
    let watch = "
import resource, subprocess, sys, time
start = time.time()
done = subprocess.run(sys.argv[1:], capture_output=True, timeout=60)
print(done.returncode, round(time.time() - start, 2), resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024)
sys.stdout.write(done.stdout.decode(errors='replace') + done.stderr.decode(errors='replace'))
";
    let folder = tempfile::tempdir().unwrap();
    let mut wrong = Vec::new();
    for (name, bytes, codes, words) in hostile() {
        let mut bytes = bytes;
        if bytes.len() <= MOST_KEPT {
            if std::env::var_os("FAIRFOLD_REBUILD").is_some() {
                fs::write(kept(name), &bytes).unwrap();
            }
            // The kept file is the one that counts: compressors differ from machine to machine.
            bytes = fs::read(kept(name)).unwrap_or_else(|why| panic!("tests/hostile/{name}.pdf: {why}"));
        }
        let file = super::press_files::saved(&folder, &format!("{name}.pdf"), &bytes);
        let out = folder.path().join("press.pdf");
        let file = file.to_str().unwrap();
        let impose = ["impose", file, "--one-up", "--date", "2027-01-15", "--job", "O", "--out", out.to_str().unwrap()];
        for run in [&["check", file, "--fold", "none"][..], &impose] {
            let program = [&["-c", watch, env!("CARGO_BIN_EXE_fairfold")], run].concat();
            let said = super::press_files::judged("python3", &program);
            let (numbers, said) = said.split_once('\n').unwrap();
            let numbers: Vec<&str> = numbers.split(' ').collect();
            let code: i32 = numbers[0].parse().unwrap();
            let (seconds, memory): (f64, u32) = (numbers[1].parse().unwrap(), numbers[2].parse().unwrap());
            let mut wrong_where = |is: bool, what: String| {
                if is {
                    let said: String = said.chars().take(600).collect();
                    wrong.push(format!("{name} {}: {what}\n{said}", run[0]));
                }
            };
            wrong_where(!codes.contains(&code), format!("exit code {code}"));
            wrong_where(!said.contains(words), format!("`{words}` is not said"));
            wrong_where(said.contains("panicked"), "it panicked".to_owned());
            wrong_where(memory >= 512, format!("{memory} MiB"));
            // Five seconds are for the program as it is used; tests are built without optimisation and share the machine.
            wrong_where(seconds > 20.0, format!("{seconds} s"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}
