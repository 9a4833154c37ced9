//! Files: read with a fault that names them, written beside the target and renamed.
#![expect(clippy::disallowed_methods, reason = "this is the one place that touches the disk")]

use std::cell::RefCell;
use std::fs;
use std::io::{self, Read as _, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::fault::{Fault, Result, Source};
use crate::job::Files;
use crate::pdf::{Pieces, ReadBack};

/// The largest input that is read: 2 GiB, far past any card.
const LARGEST: u64 = 2 << 30;

/// Reads files relative to one folder and remembers what was read, so that no output can overwrite an input.
#[derive(Debug)]
pub(super) struct Disk {
    folder: PathBuf,
    seen: RefCell<Vec<PathBuf>>,
}

impl Disk {
    /// Files beside `input`.
    pub(super) fn beside(input: &Path) -> Self {
        let folder = input.parent().map(Path::to_path_buf).unwrap_or_default();
        Self { folder, seen: RefCell::default() }
    }

    /// The same record of what was read, with names now taken relative to another file.
    pub(super) fn moved_beside(self, input: &Path) -> Self {
        Self { seen: self.seen, ..Self::beside(input) }
    }

    /// The bytes of a file that the user named on the command line.
    pub(super) fn input(&self, path: &Path) -> Result<Arc<[u8]>> {
        self.load(path, &path.display().to_string())
    }

    fn load(&self, path: &Path, name: &str) -> Result<Arc<[u8]>> {
        let bytes = read(path).map_err(|e| {
            let fault = Fault::new(Source::File(name.to_owned()), format!("cannot be read: {}", plain(&e)));
            match e.kind() {
                io::ErrorKind::NotFound => fault.hint(format!("looked for it at {}", path.display())),
                _ => fault,
            }
        })?;
        self.seen.borrow_mut().push(path.to_path_buf());
        Ok(bytes)
    }

    /// Makes a folder for outputs where there is none.
    pub(super) fn folder(path: &Path) -> Result<()> {
        fs::create_dir_all(path).map_err(|e| {
            let fault = Fault::new(Source::File(path.display().to_string()), format!("cannot be made: {}", plain(&e)));
            fault.hint("give another folder with --out").into()
        })
    }

    /// Writes all of `bytes` to `path`, or nothing: into a file beside it that is renamed when it is whole. What a power cut leaves is up
    /// to the file system.
    pub(super) fn output(&self, path: &Path, bytes: &[u8]) -> Result<()> {
        self.beside_target(path, |file| file.write_all(bytes), |_| Ok(()))
    }

    /// Writes a file, and keeps it if `prove` is content with what is read back.
    pub(super) fn proven<T>(
        &self,
        path: &Path,
        file: &Pieces,
        prove: impl FnOnce(&ReadBack) -> Result<T>,
    ) -> Result<T> {
        let read_back = |written: &Path| {
            let read = fs::File::open(written).and_then(|mut from| ReadBack::compare(file, &mut from));
            let read = read.map_err(|e| {
                Fault::new(Source::File(path.display().to_string()), format!("cannot be read back: {}", plain(&e)))
            })?;
            prove(&read?)
        };
        self.beside_target(path, |to| file.write_to(to), read_back)
    }

    fn beside_target<T>(
        &self,
        path: &Path,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
        prove: impl FnOnce(&Path) -> Result<T>,
    ) -> Result<T> {
        let name = path.display().to_string();
        let same = |input: &PathBuf| match (fs::canonicalize(input), fs::canonicalize(path)) {
            (Ok(a), Ok(b)) => a == b,
            _ => false,
        };
        if self.seen.borrow().iter().any(same) {
            let fault = Fault::new(Source::File(name), "is an input of this job, and an input is never overwritten");
            return Err(fault.hint("give the output another name with --out").into());
        }
        let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
        let failed = |e: &io::Error| {
            let fault = Fault::new(Source::File(name.clone()), format!("cannot be written: {}", plain(e)));
            match e.kind() {
                io::ErrorKind::NotFound => fault.hint(format!("there is no folder {}", folder.display())),
                _ => fault,
            }
        };
        let whole = || -> io::Result<tempfile::NamedTempFile> {
            let mut beside = tempfile::NamedTempFile::new_in(folder)?;
            write(&mut beside)?;
            readable(beside.path())?;
            Ok(beside)
        };
        let beside = whole().map_err(|e| failed(&e))?;
        let proven = prove(beside.path())?;
        beside.persist(path).map_err(|e| failed(&e.error))?;
        Ok(proven)
    }
}

impl Files for Disk {
    fn read(&self, name: &str) -> Result<Arc<[u8]>> {
        self.load(&self.folder.join(name), name)
    }
}

fn read(path: &Path) -> io::Result<Arc<[u8]>> {
    let file = fs::File::open(path)?;
    let about = file.metadata()?;
    if about.is_dir() {
        return Err(io::Error::other("it is a folder"));
    }
    let too_large = || Err(io::Error::other("it is larger than 2 GiB"));
    if about.len() > LARGEST {
        return too_large();
    }
    // Large files are read straight into the memory in which they stay.
    let mut stated: Arc<[u8]> = std::iter::repeat_n(0, usize::try_from(about.len()).unwrap_or(0)).collect();
    let mut file = file;
    if let Some(room) = Arc::get_mut(&mut stated) {
        let read = fill(&mut file, room)?;
        let mut rest = Vec::new();
        file.take(LARGEST + 1).read_to_end(&mut rest)?;
        if rest.len() as u64 > LARGEST {
            return too_large();
        }
        // A pipe states no length, and a file may change while it is read.
        if read < stated.len() || !rest.is_empty() {
            return Ok([stated.get(..read).unwrap_or_default(), &rest].concat().into());
        }
    }
    Ok(stated)
}

/// Reads until `room` is full or the file ends; how many bytes were read.
fn fill(file: &mut fs::File, room: &mut [u8]) -> io::Result<usize> {
    let mut read = 0;
    while let Some(left) = room.get_mut(read..).filter(|left| !left.is_empty()) {
        match file.read(left) {
            Ok(0) => break,
            Ok(n) => read += n,
            Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
            Err(e) => return Err(e),
        }
    }
    Ok(read)
}

/// Temporary files come with no rights for others; an output is an ordinary file.
#[cfg(unix)]
fn readable(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    fs::set_permissions(path, fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable(_: &Path) -> io::Result<()> {
    Ok(())
}

fn plain(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        _ => error.to_string(),
    }
}
