//! Builds small PDFs object by object, as the tests of the artwork reader need them.

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::{Element, Face, Mark, PathMark, Side, TextRun};

/// A PDF in the making. Object 1 is the catalog and object 2 the page tree.
#[derive(Clone, Default)]
pub(crate) struct Pdf {
    objects: Vec<Vec<u8>>,
    pages: Vec<usize>,
    root_extra: String,
    tree_extra: String,
}

impl Pdf {
    pub(crate) fn new() -> Self {
        Self { objects: vec![Vec::new(), Vec::new()], ..Self::default() }
    }

    /// More keys for the catalog.
    pub(crate) fn root(&mut self, keys: &str) -> &mut Self {
        self.root_extra.push_str(keys);
        self
    }

    /// More keys for the root of the page tree, which pages inherit.
    pub(crate) fn tree(&mut self, keys: &str) -> &mut Self {
        self.tree_extra.push_str(keys);
        self
    }

    /// Adds an object and gives its number.
    pub(crate) fn add(&mut self, body: impl AsRef<[u8]>) -> usize {
        self.objects.push(body.as_ref().to_vec());
        self.objects.len()
    }

    /// Keeps a number for an object that comes later.
    pub(crate) fn reserve(&mut self) -> usize {
        self.add("null")
    }

    /// Gives a kept number its object.
    pub(crate) fn set(&mut self, number: usize, body: impl AsRef<[u8]>) {
        self.objects[number - 1] = body.as_ref().to_vec();
    }

    /// Adds a stream and gives its number.
    pub(crate) fn stream(&mut self, keys: &str, data: impl AsRef<[u8]>) -> usize {
        let body = stream(keys, data.as_ref());
        self.add(body)
    }

    /// Gives a kept number its stream.
    pub(crate) fn set_stream(&mut self, number: usize, keys: &str, data: impl AsRef<[u8]>) {
        let body = stream(keys, data.as_ref());
        self.set(number, body);
    }

    /// Adds a page with these keys and this content; gives the page's number.
    pub(crate) fn page(&mut self, keys: &str, content: impl AsRef<[u8]>) -> usize {
        let contents = self.stream("", content);
        self.page_of(&format!("{keys} /Contents {contents} 0 R"))
    }

    /// Adds a page that says itself what its contents are.
    pub(crate) fn page_of(&mut self, keys: &str) -> usize {
        let number = self.add(format!("<< /Type /Page /Parent 2 0 R {keys} >>"));
        self.pages.push(number);
        number
    }

    /// The bytes of the file.
    pub(crate) fn bytes(&self) -> Vec<u8> {
        let kids: Vec<String> = self.pages.iter().map(|n| format!("{n} 0 R")).collect();
        let mut objects = self.objects.clone();
        if objects[0].is_empty() {
            objects[0] = format!("<< /Type /Catalog /Pages 2 0 R {} >>", self.root_extra).into_bytes();
        }
        if objects[1].is_empty() {
            let (kids, count) = (kids.join(" "), self.pages.len());
            objects[1] = format!("<< /Type /Pages /Kids [{kids}] /Count {count} {} >>", self.tree_extra).into_bytes();
        }
        let mut file = b"%PDF-1.6\n%\xE2\xE3\xCF\xD3\n".to_vec();
        let mut places = Vec::new();
        for (n, body) in objects.iter().enumerate() {
            places.push(file.len());
            file.extend(format!("{} 0 obj\n", n + 1).bytes());
            file.extend(body);
            file.extend(b"\nendobj\n");
        }
        let start = file.len();
        file.extend(format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).bytes());
        for place in places {
            file.extend(format!("{place:010} 00000 n \n").bytes());
        }
        file.extend(
            format!("trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n", objects.len() + 1).bytes(),
        );
        file
    }

    pub(crate) fn open(&self) -> Artwork {
        open(&self.bytes())
    }

    /// The first page as a face.
    pub(crate) fn face(&self) -> Face {
        self.open().face(1, Side::Outside).unwrap_or_else(|faults| panic!("{faults}"))
    }
}

fn stream(keys: &str, data: &[u8]) -> Vec<u8> {
    let mut body = format!("<< {keys} /Length {} >>\nstream\n", data.len()).into_bytes();
    body.extend(data);
    body.extend(b"\nendstream");
    body
}

/// A one-page PDF of 200 x 100 pt with these resources and this content.
pub(crate) fn one_page(resources: &str, content: &str) -> Pdf {
    let mut pdf = Pdf::new();
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), content);
    pdf
}

pub(crate) fn open(bytes: &[u8]) -> Artwork {
    Artwork::open(bytes, "otterby.pdf", &OpenOptions::default()).unwrap_or_else(|faults| panic!("{faults}"))
}

/// The messages of all remarks, one a line.
pub(crate) fn remarks(artwork: &Artwork) -> String {
    artwork.remarks().iter().map(|r| format!("{}: {}", r.source, r.message)).collect::<Vec<_>>().join("\n")
}

pub(crate) fn texts(face: &Face) -> Vec<&TextRun> {
    face.elements.iter().filter_map(|e| if let Mark::Text(t) = &e.mark { Some(t) } else { None }).collect()
}

pub(crate) fn paths(face: &Face) -> Vec<&PathMark> {
    face.elements.iter().filter_map(|e| if let Mark::Path(p) = &e.mark { Some(p) } else { None }).collect()
}

/// The bounds of an element in points, to 1/1000: left, bottom, right, top.
pub(crate) fn bounds(element: &Element) -> String {
    let b = element.bounds;
    [b.x0, b.y0, b.x1, b.y1].map(|v| short(v.to_pt())).join(" ")
}

/// A number to 1/1000 without trailing zeros.
pub(crate) fn short(v: f64) -> String {
    let text = format!("{v:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A standard font as a resource.
pub(crate) const HELVETICA: &str = "/Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>";
