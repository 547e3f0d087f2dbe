//! How a report looks and is worded: our templates or a user's own, with a letterhead.
//!
//! A folder of templates overrides ours file by file. It is read whole and tried when it is loaded, so that a mistake
//! is told with its file and line before any house is judged. A template reaches nothing but what the report holds: it
//! can open no file, and the page it fills in stays under the policy of [`policy`], which lets the browser fetch
//! nothing and run nothing but [the report's own script](SCRIPT). What a template may cost is bounded: a file by
//! [`LARGEST_TEMPLATE`], a `range` and the depth of components by the template engine, a page by [`LARGEST_PAGE`] and
//! its making by [`LONGEST_MAKING`]. Memory is bounded by nothing but these; whoever fills in templates of strangers
//! does it under the limits of the operating system.

mod folder;
mod letterhead;
mod photo;
mod script;

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError, mpsc};
use std::thread;
use std::time::Duration;

use tera::{Context, Tera};
use thiserror::Error;

use crate::markdown::escape;
use crate::result::RenderError;

pub use folder::FolderError;
pub use letterhead::{Letterhead, LetterheadError};
pub use photo::{LARGEST_PHOTO, LARGEST_PHOTOS, PhotoError, Picture, read_photos};
pub use script::{SCRIPT, script_fingerprint};

/// The largest template that is read, in bytes: ours take a tenth of it.
pub const LARGEST_TEMPLATE: u64 = 512 << 10;
/// The largest page that templates of a user's own may make, in bytes.
pub const LARGEST_PAGE: usize = 64 << 20;
/// The longest that templates of a user's own may take to make a page: ours take milliseconds.
pub const LONGEST_MAKING: Duration = Duration::from_secs(10);

/// What every web page begins with: its policy is not a matter of look.
const HEAD: &str = "head.html";

/// Templates of web pages and of the drawing within them, by name.
const FOR_HTML: &[(&str, &str)] = &[
    (HEAD, include_str!("../templates/head.html")),
    ("style.css", include_str!("../templates/style.css")),
    ("letter.html", include_str!("../templates/letter.html")),
    ("end.html", include_str!("../templates/end.html")),
    ("parts.html", include_str!("../templates/parts.html")),
    ("load-path.html", include_str!("../templates/load-path.html")),
    ("plan.svg", include_str!("../templates/plan.svg")),
    ("report.html", include_str!("../templates/report.html")),
    ("owner.css", include_str!("../templates/owner.css")),
    ("passages.html", include_str!("../templates/passages.html")),
    ("picture.svg", include_str!("../templates/picture.svg")),
    ("owner.html", include_str!("../templates/owner.html")),
    ("assessor.html", include_str!("../templates/assessor.html")),
    ("crew.css", include_str!("../templates/crew.css")),
    ("crew.html", include_str!("../templates/crew.html")),
    ("print.html", include_str!("../templates/print.html")),
    (
        "before-after.html",
        include_str!("../templates/before-after.html"),
    ),
    ("comparison.html", include_str!("../templates/comparison.html")),
    ("worksheet.html", include_str!("../templates/worksheet.html")),
    ("worksheets.html", include_str!("../templates/worksheets.html")),
    ("screen.html", include_str!("../templates/screen.html")),
    ("screens.html", include_str!("../templates/screens.html")),
    ("document.html", include_str!("../templates/document.html")),
];

/// Templates of Markdown texts, by name.
const FOR_MARKDOWN: &[(&str, &str)] = &[
    ("parts.md", include_str!("../templates/parts.md")),
    ("report.md", include_str!("../templates/report.md")),
    ("passages.md", include_str!("../templates/passages.md")),
    ("owner.md", include_str!("../templates/owner.md")),
    ("assessor.md", include_str!("../templates/assessor.md")),
    ("crew.md", include_str!("../templates/crew.md")),
    ("before-after.md", include_str!("../templates/before-after.md")),
    ("comparison.md", include_str!("../templates/comparison.md")),
    ("worksheet.md", include_str!("../templates/worksheet.md")),
    ("worksheets.md", include_str!("../templates/worksheets.md")),
    ("screen.md", include_str!("../templates/screen.md")),
    ("screens.md", include_str!("../templates/screens.md")),
    ("document.md", include_str!("../templates/document.md")),
];

/// Every template that a folder of a user's own may override, by name.
pub fn templates() -> impl Iterator<Item = (&'static str, &'static str)> {
    let all = FOR_HTML.iter().chain(FOR_MARKDOWN);
    all.copied().filter(|(name, _)| *name != HEAD)
}

/// How reports look and are worded.
#[derive(Debug, Default)]
pub struct Look {
    /// The templates of each page that was asked for so far, by its name: a run makes few, and parsing all takes longer
    /// than making one.
    parsed: Mutex<BTreeMap<&'static str, Arc<Tera>>>,
    /// Templates of the user's own, by name, with where they came from.
    own: BTreeMap<&'static str, (PathBuf, String)>,
    letterhead: Option<Letterhead>,
}

/// Why templates of a user's own make no page.
#[derive(Debug, Error)]
pub enum TemplateError {
    /// A template cannot be understood or filled in.
    #[error("{}: a template that cannot be filled in\n{}", .path.display(), .report.trim_end())]
    Faulty {
        /// The file.
        path: PathBuf,
        /// What is wrong with it, with line and column.
        report: String,
    },
    /// The page does not begin with the head that every page has.
    #[error(
        "{}: found a page that does not begin with the head every page has; expected \
         `{{% include \"head.html\" %}}` at its very beginning: it holds the policy that keeps a page from the network",
        .0.display()
    )]
    NoHead(PathBuf),
    /// The page is larger than a page may be.
    #[error("{}: found a page of more than {} MB; expected less", .0.display(), LARGEST_PAGE >> 20)]
    TooLarge(PathBuf),
    /// The page takes too long.
    #[error("{}: found no page after {} seconds; expected a template that ends", .0.display(), LONGEST_MAKING.as_secs())]
    TooLong(PathBuf),
    /// The page could not be made for want of means.
    #[error("{}: cannot be filled in: {why}", .path.display())]
    Means {
        /// The file.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
}

impl Look {
    /// Ours, without a letterhead.
    pub fn shipped() -> &'static Self {
        static SHIPPED: OnceLock<Look> = OnceLock::new();
        SHIPPED.get_or_init(Self::default)
    }

    /// Ours, with whatever a folder has of its own. Every template is tried.
    pub fn from_folder(folder: &Path) -> Result<Self, FolderError> {
        let look = Self {
            own: folder::read(folder)?,
            ..Self::default()
        };
        for all in [FOR_HTML, FOR_MARKDOWN] {
            look.parse(all.iter()).map_err(|error| look.own_fault(error))?;
        }
        Ok(look)
    }

    /// The same under a letterhead.
    #[must_use]
    pub fn under(self, letterhead: Letterhead) -> Self {
        Self {
            letterhead: Some(letterhead),
            own: self.own,
            // Filled in anew, with the letterhead.
            ..Self::default()
        }
    }

    /// Fills in a template; what it is for hangs on the ending of its name.
    pub(crate) fn fill_in(&self, name: &'static str, context: Context) -> Result<String, RenderError> {
        let tera = self.templates_of(name)?;
        if self.own.is_empty() {
            return Ok(tera.render(name, &context)?);
        }
        let head = if ending(name) == Some("html") {
            tera.render(HEAD, &context)?
        } else {
            String::new()
        };
        let page = self.within_bounds(tera, name, context, LONGEST_MAKING)?;
        if page.starts_with(&head) {
            Ok(page)
        } else {
            Err(TemplateError::NoHead(self.place_of(name)).into())
        }
    }

    /// Fills in a template that may be a user's own, on a thread that is left behind when it takes too long.
    fn within_bounds(
        &self,
        tera: Arc<Tera>,
        name: &'static str,
        context: Context,
        longest: Duration,
    ) -> Result<String, RenderError> {
        let (hand_over, page) = mpsc::channel();
        let work = move || {
            let mut bounded = Bounded::default();
            let filled_in = tera.render_to(name, &context, &mut bounded);
            // Nobody waits any more when it took too long.
            drop(hand_over.send((filled_in, bounded)));
        };
        let means = |why| TemplateError::Means {
            path: self.place_of(name),
            why,
        };
        thread::Builder::new()
            .name(name.to_owned())
            .stack_size(16 << 20)
            .spawn(work)
            .map_err(means)?;
        match page.recv_timeout(longest) {
            Ok((_, bounded)) if bounded.is_over => Err(TemplateError::TooLarge(self.place_of(name)).into()),
            Ok((Ok(()), bounded)) => Ok(String::from_utf8_lossy(&bounded.page).into_owned()),
            Ok((Err(error), _)) => Err(self.own_fault(error).into()),
            Err(mpsc::RecvTimeoutError::Timeout) => Err(TemplateError::TooLong(self.place_of(name)).into()),
            Err(mpsc::RecvTimeoutError::Disconnected) => {
                Err(means(io::Error::other("it came to no end")).into())
            }
        }
    }

    fn own_fault(&self, error: tera::Error) -> TemplateError {
        // The report names the template and its line; its file is where the user finds it.
        let report = error.to_string();
        let named = self
            .own
            .iter()
            .find(|(name, _)| report.contains(&format!("{name}:")) || report.contains(&format!("'{name}'")));
        let path = named.map_or_else(|| PathBuf::from("templates"), |(_, (path, _))| path.clone());
        TemplateError::Faulty { path, report }
    }

    fn place_of(&self, name: &str) -> PathBuf {
        let own = self.own.get(name);
        own.map_or_else(|| PathBuf::from(name), |(path, _)| path.clone())
    }

    /// What a page needs: itself, and what pages share.
    fn templates_of(&self, name: &'static str) -> Result<Arc<Tera>, tera::Error> {
        let mut parsed = self.parsed.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(tera) = parsed.get(name) {
            return Ok(Arc::clone(tera));
        }
        let all = match ending(name) {
            Some("md") => FOR_MARKDOWN,
            _ => FOR_HTML,
        };
        let needed = all
            .iter()
            .filter(|(other, text)| *other == name || !is_page(other, text));
        let tera = Arc::new(self.parse(needed)?);
        parsed.insert(name, Arc::clone(&tera));
        Ok(tera)
    }

    fn parse<'a>(
        &self,
        templates: impl Iterator<Item = &'a (&'static str, &'static str)>,
    ) -> Result<Tera, tera::Error> {
        let mut tera = Tera::new();
        tera.autoescape_on([".html", ".svg", ".md"]);
        let globals = tera.global_context();
        globals.insert("policy", &policy());
        globals.insert("script", SCRIPT);
        globals.insert("letterhead", &self.letterhead);
        let mut is_markdown = false;
        tera.add_raw_templates(templates.map(|(name, ours)| {
            is_markdown |= ending(name) == Some("md");
            let own = self.own.get(name).map(|(_, text)| text.as_str());
            (*name, own.unwrap_or(ours))
        }))?;
        if is_markdown {
            tera.set_escape_fn(escape);
        }
        Ok(tera)
    }
}

/// Whether a template is made into a page or a picture by itself, so that no other needs it.
fn is_page(name: &str, text: &str) -> bool {
    match ending(name) {
        Some("html") => text.starts_with("{% include \"head.html\" %}"),
        Some("md") => !matches!(name, "parts.md" | "passages.md"),
        Some("svg") => true,
        _ => false,
    }
}

/// What a template is for, by the ending of its name.
fn ending(name: &str) -> Option<&str> {
    Path::new(name).extension()?.to_str()
}

/// The content security policy that every web page carries: nothing from anywhere, but its own style, its own script
/// by fingerprint, and pictures that are part of the file.
///
/// ```
/// use retrofit_report::look::policy;
/// assert!(policy().starts_with("default-src 'none';"));
/// ```
pub fn policy() -> String {
    format!(
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src 'sha256-{}'; base-uri 'none'; \
         form-action 'none'",
        script_fingerprint()
    )
}

/// A page in the making, of a bounded size.
#[derive(Debug, Default)]
struct Bounded {
    page: Vec<u8>,
    is_over: bool,
}

impl Write for Bounded {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.page.len().saturating_add(bytes.len()) > LARGEST_PAGE {
            self.is_over = true;
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        self.page.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[cfg(test)]
mod tests;
