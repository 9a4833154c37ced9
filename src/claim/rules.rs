use super::Standard;

/// One rule.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Its name here.
    pub id: &'static str,
    /// What it asks.
    pub asks: &'static str,
    /// What to do with a file that breaks it.
    pub advice: &'static str,
    /// The clauses it comes from. Those of ISO 32000-1 say what the keys are; what PDF/X makes of them is restated.
    pub source: &'static str,
    /// Whether PDF/X-4 has it.
    pub x4: bool,
    /// Whether PDF/X-1a:2003 has it.
    pub x1a: bool,
    /// Whether it is about what pages paint, and not about objects alone.
    pub painted: bool,
}

impl Rule {
    /// Whether a standard has it.
    pub const fn holds(&self, standard: Standard) -> bool {
        match standard {
            Standard::X4 => self.x4,
            Standard::X1a => self.x1a,
        }
    }

    const fn new(id: &'static str, asks: &'static str, advice: &'static str, source: &'static str) -> Self {
        Self { id, asks, advice, source, x4: true, x1a: true, painted: false }
    }

    const fn only_x4(self) -> Self {
        Self { x1a: false, ..self }
    }

    const fn only_x1a(self) -> Self {
        Self { x4: false, ..self }
    }

    const fn painted(self) -> Self {
        Self { painted: true, ..self }
    }
}

const EXPORT: &str = "export it again by that standard";
const FLATTEN: &str = "flatten the transparency, or claim PDF/X-4";
const INTENT: &str = "export it again with the output intent of the print condition";

/// Every rule that is tested. No clause numbers of ISO 15930 are given: its rules are restated from memory and from common descriptions.
pub const RULES: &[Rule] = &[
    // The file.
    Rule::new(
        "pdf-version",
        "a PDF version that the standard knows: up to 1.6, or up to 1.4",
        EXPORT,
        "ISO 32000-1, 7.5.2; ISO 15930-7 and -4, from memory",
    ),
    Rule::new("cross-reference", "a cross-reference that leads to the objects", EXPORT, "ISO 32000-1, 7.5.4"),
    Rule::new("encryption", "no encryption", "export it without a password", "ISO 32000-1, 7.6; ISO 15930, restated"),
    Rule::new("file-id", "an ID of two strings in the trailer", EXPORT, "ISO 32000-1, 14.4; ISO 15930, restated"),
    Rule::new(
        "object-streams",
        "no object streams and no cross-reference streams",
        EXPORT,
        "ISO 32000-1, 7.5.7 and 7.5.8, which PDF 1.4 has not",
    )
    .only_x1a(),
    Rule::new(
        "info",
        "a document information dictionary with title, dates, trapping and the version of PDF/X",
        EXPORT,
        "ISO 32000-1, 14.3.3; ISO 15930-4, restated",
    )
    .only_x1a(),
    Rule::new("xmp-packet", "an XMP packet at the catalog", EXPORT, "ISO 32000-1, 14.3.2; ISO 15930-7, restated")
        .only_x4(),
    Rule::new("xmp-version", "GTS_PDFXVersion in the XMP packet, and it says PDF/X-4", EXPORT, "ISO 15930-7, restated")
        .only_x4(),
    Rule::new("xmp-document-id", "xmpMM:DocumentID in the XMP packet", EXPORT, "ISO 15930-7, restated").only_x4(),
    Rule::new("xmp-version-id", "xmpMM:VersionID in the XMP packet", EXPORT, "ISO 15930-7, restated").only_x4(),
    Rule::new("xmp-rendition-class", "xmpMM:RenditionClass in the XMP packet", EXPORT, "ISO 15930-7, restated")
        .only_x4(),
    Rule::new(
        "xmp-title",
        "dc:title in the XMP packet, and it is not empty",
        "give the document a title and export it again",
        "ISO 15930-7, restated",
    )
    .only_x4(),
    Rule::new(
        "xmp-dates",
        "xmp:CreateDate, ModifyDate and MetadataDate in the XMP packet",
        EXPORT,
        "ISO 15930-7, restated",
    )
    .only_x4(),
    Rule::new("xmp-trapped", "pdf:Trapped in the XMP packet, True or False", EXPORT, "ISO 15930-7, restated").only_x4(),
    Rule::new(
        "xmp-agrees",
        "the title and trapping of Info, where it states them, as in the XMP packet",
        EXPORT,
        "ISO 15930-7, from memory",
    )
    .only_x4(),
    // The print condition.
    Rule::new("output-intent", "one output intent of PDF/X", INTENT, "ISO 32000-1, 14.11.5; ISO 15930, restated"),
    Rule::new("output-condition", "an output intent that names its print condition", INTENT, "ISO 32000-1, table 365"),
    Rule::new(
        "output-profile",
        "the profile of the print condition in the file (PDF/X-1a: or the registry that has it)",
        INTENT,
        "ISO 15930-7 and -4, restated",
    ),
    Rule::new(
        "output-profile-class",
        "an output profile for presses, of as many components as its stream states",
        "embed a sound output profile of the press and paper",
        "ISO 15076-1, 7.2; ISO 15930, from memory",
    ),
    // The pages.
    Rule::new("trim-box", "a TrimBox or an ArtBox, and not both", EXPORT, "ISO 32000-1, 14.11.2; ISO 15930, restated"),
    Rule::new(
        "boxes-nested",
        "the TrimBox or ArtBox inside the BleedBox inside the MediaBox",
        "set the page's boxes right and export again",
        "ISO 32000-1, 14.11.2; ISO 15930, restated",
    ),
    Rule::new(
        "annotations",
        "no annotations on the page but trap networks and printer's marks",
        "take comments, links and fields off the page",
        "ISO 32000-1, 12.5; ISO 15930, from memory",
    ),
    Rule::new(
        "pre-separated",
        "pages that are not separated already",
        "export composite pages",
        "ISO 32000-1, 14.11.4; ISO 15930, from memory",
    ),
    // What acts.
    Rule::new(
        "actions",
        "no actions and no JavaScript",
        "take out actions, links and scripts",
        "ISO 32000-1, 12.6; ISO 15930, restated",
    ),
    // What is drawn.
    Rule::new(
        "fonts-embedded",
        "every font that is painted with embedded",
        "embed the font, or set the text in another one",
        "ISO 32000-1, 9.9; ISO 15930, restated",
    )
    .painted(),
    Rule::new(
        "transfer",
        "no transfer functions",
        "take the transfer function out",
        "ISO 32000-1, 10.5; ISO 15930, restated",
    ),
    Rule::new("postscript", "no PostScript", "take PostScript objects out", "ISO 32000-1, 8.8.2; ISO 15930, restated"),
    Rule::new(
        "opi",
        "no stand-ins for pictures elsewhere (OPI)",
        "place the pictures themselves",
        "ISO 32000-1, 14.11.7; ISO 15930, restated",
    ),
    Rule::new(
        "reference-forms",
        "no forms that stand for pages of other files",
        "place the page itself",
        "ISO 32000-1, 8.10.4; ISO 15930, from memory",
    ),
    Rule::new(
        "alternates",
        "no other picture chosen for printing",
        "place the picture that is to print",
        "ISO 32000-1, 8.9.5.4; ISO 15930, from memory",
    ),
    Rule::new(
        "filters",
        "no filters that the standard forbids: LZW and Crypt, in PDF/X-1a also JPEG 2000",
        "compress the data in another way",
        "ISO 32000-1, 7.4; ISO 15930, restated",
    ),
    Rule::new(
        "external-data",
        "no streams whose data stand in other files",
        "bring the data into the file",
        "ISO 32000-1, 7.3.8; ISO 15930, from memory",
    ),
    Rule::new(
        "blend-modes",
        "no blend modes but those of PDF 1.6",
        "use one of the known blend modes",
        "ISO 32000-1, 11.3.5",
    )
    .only_x4(),
    Rule::new(
        "profile-components",
        "ICC colour spaces of as many components as their profile",
        "assign a sound profile to what carries this one",
        "ISO 32000-1, 8.6.5.5",
    ),
    Rule::new(
        "profile-repeated",
        "no colour space with the very profile of the output intent",
        "use DeviceCMYK, which the output intent defines",
        "ISO 15930-7, from memory",
    )
    .only_x4(),
    Rule::new(
        "device-colour",
        "no DeviceRGB where the output intent is not RGB (PDF/X-1a: no colour but gray, CMYK and spots)",
        "convert it to the inks of the print condition",
        "ISO 15930-7 and -4, restated",
    )
    .painted(),
    Rule::new(
        "blend-space",
        "no transparency group that blends in DeviceRGB where the output intent is not RGB",
        "blend in the inks of the press",
        "ISO 32000-1, 11.6.6; ISO 15930-7, restated",
    )
    .only_x4(),
    Rule::new(
        "profile-overprint",
        "no ICC-based CMYK that overprints by OPM 1",
        "use DeviceCMYK for what overprints",
        "ISO 15930-7, restated",
    )
    .only_x4()
    .painted(),
    // Layers.
    Rule::new(
        "layer-configurations",
        "a name for every configuration of layers, each another one, and no usage events (AS)",
        "export the layers again, or merge them",
        "ISO 32000-1, table 101; ISO 15930-7, restated",
    )
    .only_x4(),
    Rule::new("layers", "no layers", "merge the layers, or claim PDF/X-4", "ISO 32000-1, 8.11, which PDF 1.4 has not")
        .only_x1a(),
    // Transparency.
    Rule::new(
        "transparency",
        "no transparency groups, soft masks, alpha or blend modes",
        FLATTEN,
        "ISO 15930-4, restated",
    )
    .only_x1a(),
    Rule::new(
        "opentype",
        "no font programs of OpenType",
        "embed the font as TrueType or CFF",
        "ISO 32000-1, table 126, which PDF 1.4 has not",
    )
    .only_x1a(),
    Rule::new(
        "colour-spaces",
        "no colour spaces but gray, CMYK and spots among the objects",
        "convert it to the inks of the print condition",
        "ISO 15930-4, restated",
    )
    .only_x1a(),
];

/// What the standards ask and is not tested.
pub const NOT_TESTED: &[&str] = &[
    "whether font programs are whole, and their widths those of the file",
    "whether content streams keep to the operators and operands of ISO 32000-1",
    "whether the halftones that a file states are those the standard allows",
    "whether spaces of one spot ink agree in their tint transforms",
    "whether compressed pictures are sound inside",
    "whether the XMP packet keeps to its schemas",
];
