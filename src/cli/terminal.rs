//! The terminal: results on standard output, faults and progress on standard error.

use std::io::{self, IsTerminal as _, Write as _};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use indicatif::{ProgressBar, ProgressStyle};

use crate::fault::{Fault, Faults, Result, Source};

/// Puts text on standard output; colour is taken out where the terminal does not want it. A closed pipe is not a fault.
pub(super) fn say(text: &str) -> Result<()> {
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Fault::new(Source::Nowhere, format!("standard output cannot be written: {error}")).into())
        }
        _ => Ok(()),
    }
}

/// Puts a line on standard error.
pub(super) fn remark(text: &str) {
    // Where standard error is gone there is nobody left to tell.
    let _ = writeln!(anstream::stderr(), "{text}");
}

/// Puts every fault on standard error, with the line it speaks of.
pub(super) fn complain(faults: &Faults) {
    let renderer = Renderer::styled();
    for fault in faults {
        remark(&rendered(fault, &renderer));
    }
    if faults.iter().count() > 1 {
        remark(&format!("{} faults; nothing was written", faults.iter().count()));
    }
}

fn rendered(fault: &Fault, renderer: &Renderer) -> String {
    let mut message = fault.message.clone();
    let snippet = match &fault.source {
        Source::Nowhere => None,
        Source::Span(span) => Some((span.file.name.as_str(), span.file.text.as_str(), span.range.clone())),
        other => {
            message = format!("{other}: {message}");
            None
        }
    };
    let mut group = Level::ERROR.primary_title(message.as_str()).elements(snippet.map(|(name, text, range)| {
        let end = range.end.min(text.len()).max(range.start.min(text.len()));
        Snippet::source(text).path(name).annotation(AnnotationKind::Primary.span(range.start.min(end)..end))
    }));
    for hint in &fault.hints {
        group = group.element(Level::HELP.message(hint.as_str()));
    }
    renderer.render(&[group])
}

/// Shows what is going on once it takes longer than a second, where standard error is a terminal; gone when dropped.
pub(super) struct Progress {
    done: Option<Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl Progress {
    /// Begins a stretch of work, such as `reading the pages`.
    pub(super) fn begin(what: &str) -> Self {
        if !io::stderr().is_terminal() {
            return Self { done: None, thread: None };
        }
        let (done, wait) = channel::<()>();
        let what = what.to_owned();
        let thread = thread::spawn(move || {
            if wait.recv_timeout(Duration::from_secs(1)) != Err(RecvTimeoutError::Timeout) {
                return;
            }
            let bar = ProgressBar::new_spinner().with_message(what);
            if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} … {elapsed}") {
                bar.set_style(style);
            }
            while wait.recv_timeout(Duration::from_millis(120)) == Err(RecvTimeoutError::Timeout) {
                bar.tick();
            }
            bar.finish_and_clear();
        });
        Self { done: Some(done), thread: Some(thread) }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.done.take();
        if let Some(thread) = self.thread.take() {
            // A spinner that panicked must not take the work with it.
            let _ = thread.join();
        }
    }
}
