//! Large artwork files that the benchmarks impose.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

/// A PDF written object by object.
struct Plain {
    out: BufWriter<File>,
    at: u64,
    offsets: Vec<u64>,
}

impl Plain {
    fn create(path: &Path) -> Self {
        let mut plain = Self { out: BufWriter::new(File::create(path).unwrap()), at: 0, offsets: Vec::new() };
        plain.put(b"%PDF-1.6\n%\xe2\xe3\xcf\xd3\n");
        plain
    }

    fn put(&mut self, bytes: &[u8]) {
        self.out.write_all(bytes).unwrap();
        self.at += bytes.len() as u64;
    }

    fn object(&mut self, body: &[u8]) {
        self.offsets.push(self.at);
        self.put(format!("{} 0 obj\n", self.offsets.len()).as_bytes());
        self.put(body);
        self.put(b"\nendobj\n");
    }

    fn stream(&mut self, keys: &str, data: &[u8]) {
        let head = format!("<< {keys} /Length {} >>\nstream\n", data.len());
        self.object(&[head.as_bytes(), data, b"\nendstream"].concat());
    }

    fn end(mut self) {
        let (start, size) = (self.at, self.offsets.len() + 1);
        let rows = self.offsets.iter().map(|o| format!("{o:010} 00000 n \n")).collect::<Vec<_>>().concat();
        let tail = format!("trailer << /Size {size} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n");
        self.put(format!("xref\n0 {size}\n0000000000 65535 f \n{rows}{tail}").as_bytes());
        self.out.flush().unwrap();
    }
}

/// Catalog, page tree and two pages of 4.5 x 12 in with bleed; page `n` from 0 names `resources(n)` and object `5 + n` as its contents.
fn pages(pdf: &mut Plain, resources: impl Fn(usize) -> String) {
    pdf.object(b"<< /Type /Catalog /Pages 2 0 R >>");
    pdf.object(b"<< /Type /Pages /Kids [3 0 R 4 0 R] /Count 2 >>");
    for page in 0..2 {
        let boxes = "/MediaBox [0 0 882 342] /TrimBox [9 9 873 333] /BleedBox [0 0 882 342]";
        let (resources, contents) = (resources(page), 5 + page);
        let page = format!(
            "<< /Type /Page /Parent 2 0 R {boxes} /Resources << /XObject << {resources} >> >> /Contents {contents} 0 R >>"
        );
        pdf.object(page.as_bytes());
    }
}

/// Eight CMYK pictures of 18.75 MB each, four on each page: 150 MB that do not deflate.
pub(crate) fn heavy(path: &Path) {
    const SIDE: usize = 2165;
    let mut pdf = Plain::create(path);
    pages(&mut pdf, |page| (0..4).map(|n| format!("/P{n} {} 0 R ", 7 + page * 4 + n)).collect::<Vec<_>>().concat());
    for _ in 0..2 {
        let content =
            (0..4).map(|n| format!("q 222 0 0 342 {} 0 cm /P{n} Do Q ", n * 220)).collect::<Vec<_>>().concat();
        pdf.stream("", content.as_bytes());
    }
    let keys = format!(
        "/Type /XObject /Subtype /Image /Width {SIDE} /Height {SIDE} /BitsPerComponent 8 /ColorSpace /DeviceCMYK /Filter /FlateDecode"
    );
    for seed in 1..=8_u64 {
        pdf.stream(&keys, &stored(SIDE * SIDE * 4, seed));
    }
    pdf.end();
}

/// Noise (a 64-bit xorshift) as stored blocks in a zlib stream (RFC 1950, RFC 1951).
fn stored(length: usize, seed: u64) -> Vec<u8> {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut noise = Vec::with_capacity(length + 8);
    while noise.len() < length {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        noise.extend(state.to_be_bytes());
    }
    noise.truncate(length);
    let mut out = vec![0x78, 0x01];
    let (mut a, mut b) = (1_u32, 0_u32);
    let blocks = noise.chunks(65_535);
    let last = blocks.len() - 1;
    for (n, block) in blocks.enumerate() {
        let size = u16::try_from(block.len()).unwrap();
        out.push(u8::from(n == last));
        out.extend(size.to_le_bytes());
        out.extend((!size).to_le_bytes());
        out.extend(block);
        for byte in block {
            a = (a + u32::from(*byte)) % 65_521;
            b = (b + a) % 65_521;
        }
    }
    out.extend(((b << 16) | a).to_be_bytes());
    out
}

/// 300 000 small forms, of which each page names half and draws a thousand.
pub(crate) fn crowded(path: &Path) {
    const FORMS: usize = 300_000;
    let mut pdf = Plain::create(path);
    pages(&mut pdf, |page| {
        (0..FORMS / 2).map(|n| format!("/F{n} {} 0 R ", 7 + page * (FORMS / 2) + n)).collect::<Vec<_>>().concat()
    });
    for _ in 0..2 {
        let place = |n: usize| (20 + (n % 40) * 20, 20 + (n / 40) * 12);
        let content = (0..1000)
            .map(|n| {
                let (x, y) = place(n);
                format!("q 1 0 0 1 {x} {y} cm /F{n} Do Q ")
            })
            .collect::<Vec<_>>()
            .concat();
        pdf.stream("", content.as_bytes());
    }
    for n in 0..FORMS {
        let drawing = format!("0 0 0 {:.2} k 0 0 {} {} re f", 0.5 + (n % 50) as f64 / 100.0, 5 + n % 7, 5 + n % 5);
        pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 20 20]", drawing.as_bytes());
    }
    pdf.end();
}
