//! Files: read with a fault that names them, written beside the target and renamed.
#![expect(clippy::disallowed_methods, reason = "this is the one place that touches the disk")]

use std::cell::RefCell;
use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::fault::{Fault, Result, Source};
use crate::job::Files;

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
        Ok(bytes.into())
    }

    /// Writes all of `bytes` to `path`, or nothing: into a file beside it that is renamed when it is whole.
    pub(super) fn output(&self, path: &Path, bytes: &[u8]) -> Result<()> {
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
        let whole = || -> io::Result<()> {
            let mut beside = tempfile::NamedTempFile::new_in(folder)?;
            beside.write_all(bytes)?;
            beside.as_file().sync_all()?;
            readable(beside.path())?;
            beside.persist(path).map_err(|e| e.error)?;
            Ok(())
        };
        whole().map_err(|e| {
            let fault = Fault::new(Source::File(name), format!("cannot be written: {}", plain(&e)));
            match e.kind() {
                io::ErrorKind::NotFound => fault.hint(format!("there is no folder {}", folder.display())).into(),
                _ => fault.into(),
            }
        })
    }
}

impl Files for Disk {
    fn read(&self, name: &str) -> Result<Arc<[u8]>> {
        self.load(&self.folder.join(name), name)
    }
}

fn read(path: &Path) -> io::Result<Vec<u8>> {
    let file = fs::File::open(path)?;
    let about = file.metadata()?;
    if about.is_dir() {
        return Err(io::Error::other("it is a folder"));
    }
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LARGEST {
        return Err(io::Error::other("it is larger than 2 GiB"));
    }
    Ok(bytes)
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
