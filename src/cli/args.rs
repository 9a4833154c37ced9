//! The command line, word for word as it is typed; meaning comes in `settings`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Checks a folded golf scorecard before it prints, and lays it many-up on a marked press sheet.
#[derive(Parser, Debug)]
#[command(name = "fairfold", version, about, max_term_width = 100, after_help = EXAMPLE)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

const EXAMPLE: &str = "\
Example, from a card to a press sheet:
  fairfold new otterby.toml --size \"6 x 12 in\" --fold half
  fairfold check otterby.toml
  fairfold impose otterby.toml --sheet \"19 x 25 in\" --style work-and-turn --date 2027-01-15 --out press.pdf

Exit codes: 0 nothing found at or above the failing severity, 1 findings, 2 could not run.";

/// What to do.
#[derive(Subcommand, Debug)]
pub enum Command {
    /// Check a card: is it true, legible, writable, printable?
    #[command(after_help = "Example:\n  fairfold check otterby.toml --limits our-press.toml\n  \
        fairfold check art.pdf --size \"6 x 12 in\" --fold half\n  fairfold check press.pdf --claim x-4")]
    Check(CheckArgs),
    /// Lay a card many-up on a press sheet and write one marked press PDF.
    #[command(after_help = "Example:\n  fairfold impose otterby.toml --sheet \"19 x 25 in\" --style work-and-turn \
        --date 2027-01-15 --out press.pdf\n  fairfold impose job.toml --out press.pdf\n\n\
        The press file is read back and compared with the plan before it is kept. Printing and cutting are done by \
        trained operators, by the maker's instructions and local safety rules.")]
    Impose(ImposeArgs),
    /// Draw the plates of a card, of artwork or of a press sheet: one picture an ink, all together on the paper, and coverage.
    #[command(
        after_help = "Example:\n  fairfold plates otterby.toml --ppi 300\n  fairfold plates press.pdf --condition uncoated"
    )]
    Plates(PlatesArgs),
    /// Write a commented starter card file.
    #[command(
        after_help = "Example:\n  fairfold new otterby.toml --title \"Otterby Common\" --size \"6 x 12 in\" --fold half"
    )]
    New(NewArgs),
    /// Print the JSON Schema of card files or job files.
    #[command(after_help = "Example:\n  fairfold schema card > card.schema.json")]
    Schema(SchemaArgs),
    /// List the checks, or tell all about one: what, why, what to do, and the source of its limit.
    #[command(after_help = "Example:\n  fairfold explain\n  fairfold explain text-contrast")]
    Explain(ExplainArgs),
    /// Print completions for a shell.
    #[command(
        after_help = "Example:\n  fairfold completions bash > ~/.local/share/bash-completion/completions/fairfold"
    )]
    Completions(CompletionsArgs),
    /// Print the manual page.
    #[command(after_help = "Example:\n  fairfold manual > fairfold.1")]
    Manual,
}

/// The card, and what it should be where the file does not say.
#[derive(Args, Debug)]
pub struct CardArgs {
    /// Card file (TOML or JSON), job file (TOML or JSON), or a finished artwork PDF.
    pub input: PathBuf,
    /// Flat size of an artwork PDF, height x width; its TrimBox where not given.
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// Fold of an artwork PDF: none, half, letter, accordion:N or gate.
    #[arg(long, value_name = "FOLD")]
    pub fold: Option<String>,
    /// Colour past the trim on every side of an artwork PDF; 1/8 in where not given.
    #[arg(long, value_name = "LENGTH")]
    pub bleed: Option<String>,
    /// How far needed matter keeps from the trim of an artwork PDF; 1/8 in where not given.
    #[arg(long, value_name = "LENGTH")]
    pub safe: Option<String>,
    /// Page of an artwork PDF that is the outside; the first where neither is given.
    #[arg(long, value_name = "PAGE")]
    pub outside: Option<u32>,
    /// Page of an artwork PDF that is the inside; the second where neither is given.
    #[arg(long, value_name = "PAGE")]
    pub inside: Option<u32>,
    /// Print condition of an artwork PDF: coated, uncoated, or a CMYK output profile.
    #[arg(long, value_name = "CONDITION")]
    pub condition: Option<String>,
    /// Whether carts are used, for an artwork PDF: their clip hides the top of the open card.
    #[arg(long)]
    pub carts: bool,
    /// Password of an encrypted artwork PDF.
    #[arg(long, value_name = "PASSWORD")]
    pub password: Option<String>,
    /// Limits file: limits, severities and waivers over a built-in set.
    #[arg(long, value_name = "FILE")]
    pub limits: Option<PathBuf>,
    /// Built-in set of limits, where neither limits file nor condition says.
    #[arg(long = "for", value_name = "SET")]
    pub limit_set: Option<String>,
    /// Shape of the report.
    #[arg(long, value_enum, default_value_t = ReportShape::Text)]
    pub report: ReportShape,
    /// The least severity that fails.
    #[arg(long, value_enum, default_value_t = FailOn::Error)]
    pub fail_on: FailOn,
}

/// `fairfold check`.
#[derive(Args, Debug)]
pub struct CheckArgs {
    /// The card.
    #[command(flatten)]
    pub card: CardArgs,
    /// Write the report to a file and not to the terminal.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Do not draw plates: faster, but total ink and what lies over pictures and blends stay unchecked.
    #[arg(long)]
    pub no_plates: bool,
    /// Hold any PDF against a standard of PDF/X, rule by rule, and check no card.
    #[arg(long, value_enum, value_name = "STANDARD")]
    pub claim: Option<StandardName>,
    /// Also write the card's pages as a PDF, as they will print.
    #[arg(long, value_name = "FILE")]
    pub pages: Option<PathBuf>,
}

/// `fairfold impose`.
#[derive(Args, Debug)]
pub struct ImposeArgs {
    /// The card.
    #[command(flatten)]
    pub card: CardArgs,
    /// The sheet.
    #[command(flatten)]
    pub sheet: SheetArgs,
    /// Press PDF to write; the input's name with `-press.pdf` where not given.
    #[arg(long, short, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Also write the docket, a page that goes with the press file through the shop, as a PDF.
    #[arg(long, value_name = "FILE")]
    pub docket: Option<PathBuf>,
    /// Also write where every station lies, as JSON.
    #[arg(long, value_name = "FILE")]
    pub stations: Option<PathBuf>,
}

/// The sheet; each option goes over the job file's.
#[derive(Args, Debug, Default)]
pub struct SheetArgs {
    /// Sheet size: a name such as 19x25 or SRA3, or any size, width x height.
    #[arg(long, value_name = "SIZE")]
    pub sheet: Option<String>,
    /// Work style.
    #[arg(long, value_enum)]
    pub style: Option<StyleName>,
    /// How rows of cards meet.
    #[arg(long, value_enum)]
    pub rows: Option<RowsName>,
    /// Grain of the stock: along the long or the short side of the sheet.
    #[arg(long, value_enum)]
    pub grain: Option<GrainName>,
    /// Gripper margin.
    #[arg(long, value_name = "LENGTH")]
    pub gripper: Option<String>,
    /// Tail margin.
    #[arg(long, value_name = "LENGTH")]
    pub tail: Option<String>,
    /// Side margins.
    #[arg(long, value_name = "LENGTH")]
    pub sides: Option<String>,
    /// Space between trims; twice the bleed where not given.
    #[arg(long, value_name = "LENGTH")]
    pub gutter: Option<String>,
    /// One card with bleed and crop marks, for a printer who imposes himself.
    #[arg(long, conflicts_with_all = ["sheet", "style", "rows", "grain", "gripper", "tail", "sides", "gutter"])]
    pub one_up: bool,
    /// What the press file keeps: PDF/X-4, or PDF/X-1a:2003 where the artwork can be that.
    #[arg(long, value_enum)]
    pub standard: Option<StandardName>,
    /// Date of the job, YYYY-MM-DD, or `today`; SOURCE_DATE_EPOCH where not given.
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Name or number of the job for the slug line; the card's title where not given.
    #[arg(long, value_name = "TEXT")]
    pub job: Option<String>,
}

/// How the two faces come onto the sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum StyleName {
    /// Two sets of plates, one for each side.
    Sheetwise,
    /// One set of plates; the sheet turns over its side, gripper edge kept.
    WorkAndTurn,
    /// One set of plates; the sheet turns over its gripper edge.
    WorkAndTumble,
    /// Both sides in one pass.
    Perfecting,
    /// One side only.
    OneSide,
}

/// What a press file keeps.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum StandardName {
    /// PDF/X-4: live transparency and layers.
    #[value(name = "x-4")]
    X4,
    /// PDF/X-1a:2003: process and spot inks only.
    #[value(name = "x-1a")]
    X1a,
}

/// How rows of cards meet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum RowsName {
    /// All heads the same way.
    HeadToFoot,
    /// Heads of neighbouring rows meet.
    HeadToHead,
}

/// Grain of the stock.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum GrainName {
    /// Along the long side.
    Long,
    /// Along the short side.
    Short,
}

/// Shape of the report.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum ReportShape {
    /// For people.
    Text,
    /// For programs; the schema version stands in it.
    Json,
}

/// The least severity that fails.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum FailOn {
    /// Errors.
    Error,
    /// Warnings and errors.
    Warning,
    /// Anything found.
    Note,
}

/// `fairfold plates`.
#[derive(Args, Debug)]
pub struct PlatesArgs {
    /// Card file, job file, artwork PDF or press PDF; every page of a PDF is drawn.
    pub input: PathBuf,
    /// Pixels an inch.
    #[arg(long, value_name = "NUMBER", default_value_t = 300.0)]
    pub ppi: f64,
    /// Folder to write to; the input's name with `.plates` where not given.
    #[arg(long, short, value_name = "FOLDER")]
    pub out: Option<PathBuf>,
    /// Print condition of a PDF: coated, uncoated, or a CMYK output profile.
    #[arg(long, value_name = "CONDITION")]
    pub condition: Option<String>,
    /// Also write how golfers see it who lack the cones for red or for green.
    #[arg(long)]
    pub sights: bool,
    /// Password of an encrypted PDF.
    #[arg(long, value_name = "PASSWORD")]
    pub password: Option<String>,
}

/// `fairfold new`.
#[derive(Args, Debug)]
pub struct NewArgs {
    /// The card file to write; its ending says TOML or JSON.
    pub file: PathBuf,
    /// The card's title.
    #[arg(long, default_value = "Your Course")]
    pub title: String,
    /// Flat size, height x width.
    #[arg(long, default_value = "6 x 12 in")]
    pub size: String,
    /// Fold: none, half, letter, accordion or gate.
    #[arg(long, default_value = "half")]
    pub fold: String,
}

/// `fairfold schema`.
#[derive(Args, Debug)]
pub struct SchemaArgs {
    /// Of which file.
    #[arg(value_enum, default_value_t = SchemaName::Card)]
    pub of: SchemaName,
}

/// Files that have a schema.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum SchemaName {
    /// Card files.
    Card,
    /// Job files.
    Job,
}

/// `fairfold explain`.
#[derive(Args, Debug)]
pub struct ExplainArgs {
    /// The check; all of them where not given.
    pub check: Option<String>,
}

/// `fairfold completions`.
#[derive(Args, Debug)]
pub struct CompletionsArgs {
    /// The shell.
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}
