//! How paths, levels and what a screen leans on are said.

use std::fmt::Write;

use retrofit_core::choice::Choice;
use retrofit_core::screen::{Declined, Edition, LineScreen, LinkScreen, Options, Path, PlanError, Screen};

use super::{PathStanding, PathState};
use crate::result::wording::{plain, sentence_case};

/// What the page is, and is not.
pub(super) const TITLE: &str = "Engineering screen of a load path: not a design";

/// To whom the reader has to turn.
pub(super) const DEFERRAL: &str = "This is a screen, not a design, a permit or an engineer's opinion. It computes, from \
    what was recorded and from published equations, what an earthquake asks of each link between floor and soil and \
    what each may give, to tell where an engineer should look first. A licensed engineer designs; the local code \
    official decides what applies to the house and what is accepted. Ask both before work begins.";

pub(super) fn standing(screened: &Result<Screen, Declined>) -> PathStanding {
    let (path, headline, meaning) = match screened {
        Err(declined) => (PathState::Declined, "Not screened", not_screened(declined)),
        Ok(screen) => {
            let path = screen.path();
            (
                path.into(),
                headline(path),
                meaning(path, screen.shaking.is_ok()).to_owned(),
            )
        }
    };
    PathStanding {
        path,
        mark: path.mark(),
        headline: headline.to_owned(),
        meaning,
    }
}

/// Why a house is not screened, and what would help.
pub(crate) fn not_screened(declined: &Declined) -> String {
    let help = match declined {
        Declined::Plan(PlanError::NoOutline | PlanError::NoPlace(_)) | Declined::Stories => {
            "Once that is on record, it can be."
        }
        Declined::Plan(PlanError::NoArea) => "Once the record is mended, it can be.",
        _ => "A licensed engineer can compute it.",
    };
    format!(
        "This house is not screened: {}. {help}",
        plain(&declined.to_string())
    )
}

const fn headline(path: Path) -> &'static str {
    match path {
        Path::Short => "A link of the load path falls short",
        Path::MayBeShort => "A link of the load path may fall short",
        Path::NotDetermined => "Not determined",
        Path::Reaches => "Every link that was computed reaches its demand",
    }
}

const fn meaning(path: Path, is_shaking_known: bool) -> &'static str {
    match path {
        Path::Short => {
            "At least one link cannot carry what this screen asks of it, whatever the things are that are not known. \
             The wall lines below say which, and by how much."
        }
        Path::MayBeShort => {
            "No link falls short at the better end of what is not known; at the worse end at least one does. Until \
             the unknowns named below are looked at, take the worse end as possible."
        }
        Path::NotDetermined if !is_shaking_known => {
            "The shaking of the site is not on record, so that nothing can be held against it. The ladder below says \
             at which shaking each link reaches its capacity."
        }
        Path::NotDetermined => {
            "A link could not be computed from what is on record, or by the equations that are here. Until it is, \
             take it to fall short."
        }
        Path::Reaches => {
            "That holds at both ends of what is not known, for the links, equations and figures named below. It says \
             nothing of what is not computed here, and nothing of how the house will fare in a given earthquake."
        }
    }
}

/// What a reader must know before anything else.
pub(super) fn warnings(
    screened: &Result<Screen, Declined>,
    editions: &[&Edition],
    options: Options,
) -> Vec<String> {
    let mut warnings = Vec::new();
    if let Ok(screen) = screened
        && let Err(why) = &screen.shaking
    {
        warnings.push(format!(
            "{}. Demands below are for a design acceleration of 1 g, which stands in for that of the site; only the \
             ladder, which names the shaking at which each link reaches its capacity, means something for this house.",
            sentence_case(&plain(why))
        ));
    }
    let superseded: Vec<String> = editions
        .iter()
        .filter_map(|edition| {
            let by = edition.superseded_by.as_deref()?;
            Some(format!(
                "{} (by {})",
                plain(edition.name().trim_end_matches(", ")),
                plain(by)
            ))
        })
        .collect();
    if !superseded.is_empty() {
        warnings.push(format!(
            "Superseded editions were used: {}.",
            superseded.join("; ")
        ));
    }
    if options.reduced {
        warnings.push(
            "Forces were reduced as for an existing building, because that was asked for. Whether a reduction is \
             allowed is for the local code official to say."
                .to_owned(),
        );
    }
    warnings
}

/// A level in words.
pub(super) fn level(level: usize, roof: usize) -> String {
    match level {
        0 => "first floor".to_owned(),
        _ if level == roof => "roof".to_owned(),
        1 => "second floor".to_owned(),
        2 => "third floor".to_owned(),
        _ => format!("floor {}", level + 1),
    }
}

/// How the path of a wall line stands, its weakest link named.
pub(super) fn sentence(line: &LineScreen, is_shaking_known: bool) -> String {
    let weakest = line.weakest.map(|kind| {
        let found = line.links.iter().find(|(other, _)| *other == kind);
        (kind.words(), found.map(|(_, found)| found))
    });
    let has_open = || {
        line.links.iter().find_map(|(kind, link)| match link {
            LinkScreen::NotDetermined(why) => Some(format!("{} ({})", kind.words(), plain(why))),
            _ => None,
        })
    };
    let Some((words, found)) = weakest else {
        return match has_open() {
            Some(open) => format!("No link could be computed; {open}."),
            None => "No link of this wall line has a part in the path.".to_owned(),
        };
    };
    let mut sentence = match line.path {
        Path::Short => "The path falls short, whatever is not known.",
        Path::MayBeShort => {
            "The path may fall short: it does at the worse end of what is not known, and not at the better."
        }
        Path::NotDetermined if !is_shaking_known => "The shaking of the site is not known.",
        Path::NotDetermined => "Every link that was computed reaches its demand, but not every link was.",
        Path::Reaches => "Every link reaches its demand, at both ends of what is not known.",
    }
    .to_owned();
    sentence.push_str(" Weakest link: ");
    sentence.push_str(words);
    if line.path == Path::Short
        && let Some(surely) = line.surely_short()
        && Some(surely) != line.weakest
    {
        let _ = write!(
            sentence,
            " at its worse end; short at both ends: {}",
            surely.words()
        );
    }
    match found {
        Some(LinkScreen::NoCapacity(why)) => {
            let _ = write!(sentence, " (no capacity: {why})");
        }
        Some(LinkScreen::Computed(result)) if line.path == Path::MayBeShort => {
            if let Some(widest) = result.widest {
                let _ = write!(sentence, "; what widens its range most is {}", widest.words());
            }
        }
        _ => {}
    }
    sentence.push('.');
    if let (Path::MayBeShort | Path::NotDetermined, Some(open)) = (line.path, has_open()) {
        let _ = write!(sentence, " Not determined: {open}.");
    }
    sentence
}
