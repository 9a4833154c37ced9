//! What the user named: a card file, a job file or an artwork PDF, and the files beside it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::artwork::{Artwork, OpenOptions};
use crate::check::Limits;
use crate::fault::{Fault, Result, Source, Text};
use crate::ink::{Condition, SpotInk};
use crate::job::{self, CardSource, CardWishes, ConditionWish, JobFile, Prepared};
use crate::model::{self, Decoded};

use super::args::{CardArgs, PlatesArgs};
use super::disk::Disk;
use super::settings;

/// Pages that will print, and in what condition.
pub(super) struct Pages {
    pub(super) artwork: Artwork,
    pub(super) condition: Condition,
    /// Spots whose solids are known.
    pub(super) spots: Vec<SpotInk>,
}

/// An opened input.
pub(super) struct Input {
    /// The folder of the card, and what was read so far.
    pub(super) disk: Disk,
    job: Option<Decoded<JobFile>>,
    job_folder: PathBuf,
    card: Option<CardSource>,
}

impl Input {
    /// Reads the file that the user named, and the card that it names where it is a job.
    pub(super) fn open(input: &Path) -> Result<Self> {
        let disk = Disk::beside(input);
        let bytes = disk.input(input)?;
        let folder = input.parent().map(Path::to_path_buf).unwrap_or_default();
        let Some(syntax) = settings::syntax(input) else {
            return Ok(Self { disk, job: None, job_folder: folder, card: Some(source(input, bytes)?) });
        };
        let text = text(input, &bytes)?;
        if !job::is_job(&text, syntax) {
            return Ok(Self { disk, job: None, job_folder: folder, card: Some(CardSource::File(text, syntax)) });
        }
        let job = model::decode::<JobFile>(&text, syntax)?;
        let path = folder.join(&job.value.job.card);
        let disk = disk.moved_beside(&path);
        let bytes = disk.input(&path).map_err(|faults| faults.moved_to(&job.spans.at("job.card")))?;
        let card = Some(source(&path, bytes)?);
        Ok(Self { disk, job: Some(job), job_folder: folder, card })
    }

    /// The job file, where there is one.
    pub(super) fn job(&self) -> Option<&JobFile> {
        self.job.as_ref().map(|j| &j.value)
    }

    /// The job file's date and its place.
    pub(super) fn date(&self) -> Option<(&str, Source)> {
        let job = self.job.as_ref()?;
        let date = job.value.job.date.as_deref()?;
        Some((date, job.spans.get("job.date").map_or(Source::Nowhere, Source::from)))
    }

    /// The card, typeset and read; its bytes are then held by what was prepared alone.
    pub(super) fn prepare(&mut self, args: &CardArgs) -> Result<Prepared> {
        let Some(card) = self.card.take() else {
            return Err(Fault::new(Source::Nowhere, "the card was prepared before").into());
        };
        if let (CardSource::File(..), Some(job)) = (&card, &self.job)
            && job.value.artwork.is_some()
        {
            let fault = Fault::new(job.spans.at("artwork"), "this section is for artwork PDFs");
            return Err(fault.hint(format!("{} says these itself, under [card]", job.value.job.card)).into());
        }
        let mut wishes = settings::card_wishes(args, self.job())?;
        wishes.condition = self.condition(args.condition.as_deref())?;
        job::prepare(&card, &self.disk, &wishes)
    }

    /// The pages of the card, or of any PDF, with the condition they are printed in.
    pub(super) fn pages(&mut self, args: &PlatesArgs) -> Result<Pages> {
        let wish = self.condition(args.condition.as_deref())?;
        match self.card.take() {
            Some(CardSource::Artwork(name, bytes)) => {
                let options = OpenOptions { password: args.password.clone(), ..OpenOptions::default() };
                let condition = wish.as_ref().map_or_else(|| Ok(Condition::coated()), job::condition)?;
                Ok(Pages { artwork: Artwork::open_shared(&bytes, &name, &options)?, condition, spots: Vec::new() })
            }
            Some(card) => {
                let password = args.password.clone();
                let wishes = CardWishes { condition: wish, password, ..CardWishes::default() };
                let Prepared { artwork, card, .. } = job::prepare(&card, &self.disk, &wishes)?;
                Ok(Pages { artwork, condition: card.condition, spots: card.spots })
            }
            None => Err(Fault::new(Source::Nowhere, "the card was prepared before").into()),
        }
    }

    /// A PDF as it stands, for a look at the file itself.
    pub(super) fn pdf(&mut self, password: Option<&str>) -> Result<Artwork> {
        match self.card.take() {
            Some(CardSource::Artwork(name, bytes)) => {
                let options = OpenOptions { password: password.map(str::to_owned), ..OpenOptions::default() };
                Artwork::open_shared(&bytes, &name, &options)
            }
            Some(CardSource::File(text, _)) => {
                let fault =
                    Fault::new(Source::File(text.name.clone()), "a claim is one of a PDF, and this is a card file");
                Err(fault.hint("name the press file that was made of it").into())
            }
            None => Err(Fault::new(Source::Nowhere, "the card was prepared before").into()),
        }
    }

    /// The print condition of artwork: the command line's, else the job file's, each beside whoever names it.
    fn condition(&self, asked: Option<&str>) -> Result<Option<ConditionWish>> {
        let built_in = |name: &str| matches!(name, "coated" | "uncoated");
        let of_job = self.job.as_ref().and_then(|j| Some((j, j.value.artwork.as_ref()?.condition.clone()?)));
        let wish = match (asked, of_job) {
            (Some(name), _) if built_in(name) => ConditionWish::Named(name.to_owned()),
            (Some(path), _) => ConditionWish::Profile(path.to_owned(), self.disk.input(Path::new(path))?),
            (None, Some((_, name))) if built_in(&name) => ConditionWish::Named(name),
            (None, Some((job, name))) => {
                let bytes = self.disk.input(&self.job_folder.join(&name));
                let bytes = bytes.map_err(|faults| faults.moved_to(&job.spans.at("artwork.condition")))?;
                ConditionWish::Profile(name, bytes)
            }
            (None, None) => return Ok(None),
        };
        Ok(Some(wish))
    }

    /// The limits in force: the set that was asked for or that fits the condition, and what a limits file changes.
    pub(super) fn limits(&self, args: &CardArgs, prepared: &Prepared) -> Result<Limits> {
        let set = match &args.limit_set {
            Some(name) => settings::limit_set(name)?,
            None => job::usual_set(&prepared.card.condition),
        };
        let of_job = self.job().and_then(|j| j.job.limits.as_ref()).map(|name| self.job_folder.join(name));
        match args.limits.clone().or(of_job) {
            None => Ok(Limits::new(set)),
            Some(path) => Limits::read(&text(&path, &self.disk.input(&path)?)?, set),
        }
    }
}

fn text(path: &Path, bytes: &[u8]) -> Result<Arc<Text>> {
    let name = path.display().to_string();
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(Text::new(name, text.strip_prefix('\u{feff}').unwrap_or(text))),
        Err(e) => {
            let fault = Fault::new(Source::File(name), format!("is not UTF-8 text (byte {})", e.valid_up_to()));
            Err(fault.hint("save it as UTF-8").into())
        }
    }
}

/// A card file by its ending, anything that looks like a PDF as artwork.
fn source(path: &Path, bytes: Arc<[u8]>) -> Result<CardSource> {
    let name = path.display().to_string();
    if let Some(syntax) = settings::syntax(path) {
        return Ok(CardSource::File(text(path, &bytes)?, syntax));
    }
    let is_pdf = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("pdf"));
    if is_pdf || bytes.windows(5).take(1024).any(|w| w == b"%PDF-") {
        return Ok(CardSource::Artwork(name, bytes));
    }
    let fault = Fault::new(Source::File(name), "is neither a card file nor a PDF");
    Err(fault.hint("a card file ends in .toml or .json, artwork in .pdf").into())
}
