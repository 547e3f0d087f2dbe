//! The prescriptive verdict and the engineering screen of each wall line, side by side, with the reason where they
//! differ.

use retrofit_core::check::{Assessment, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::screen::{
    Agreement, Declined, LineAgreement, LinkKind, LinkScreen, Path, Screen, agreement,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::wording::plain;
use crate::screen::{PathState, not_screened};

/// The engineering screen in short, beside the verdicts.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Screened {
    /// What the screen is, by which editions it was computed, and what it rests on; or why there is none.
    pub about: String,
    /// Whether the house was screened.
    pub is_screened: bool,
    /// The wall lines; those of which the same is to be said stand together.
    pub rows: Vec<ScreenedLines>,
}

/// Wall lines of which verdict and screen say the same.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ScreenedLines {
    /// Their numbers.
    pub numbers: Vec<usize>,
    /// Their names.
    pub wall_lines: Vec<String>,
    /// The prescriptive verdict on them.
    pub ruling: Ruling,
    /// The verdict in words.
    pub ruling_words: &'static str,
    /// How their load path stands.
    pub path: PathState,
    /// The path in words.
    pub path_words: &'static str,
    /// The ruling with whose mark and color the path is shown.
    pub path_mark: Ruling,
    /// The link it turns on; null where there is none.
    pub link: Option<&'static str>,
    /// Whether both say the same, as far as each says anything.
    pub agree: bool,
    /// Why they agree or differ.
    pub why: String,
}

impl Screened {
    pub(super) fn of(assessment: &Assessment<'_>, screened: &Result<Screen, Declined>) -> Self {
        let screen = match screened {
            Err(declined) => {
                return Self {
                    about: not_screened(declined),
                    is_screened: false,
                    rows: Vec::new(),
                };
            }
            Ok(screen) => screen,
        };
        let mut rows: Vec<ScreenedLines> = Vec::new();
        for line in agreement(assessment, screen) {
            let name = screen
                .lines
                .iter()
                .find(|other| other.wall == line.wall)
                .map_or_else(String::new, |line| plain(&line.name));
            let row = ScreenedLines::of(&line, screen, name);
            let same = rows.iter_mut().find(|other| {
                (other.ruling, other.path, other.link, &other.why)
                    == (row.ruling, row.path, row.link, &row.why)
            });
            match same {
                Some(same) => {
                    same.numbers.extend(row.numbers);
                    same.wall_lines.extend(row.wall_lines);
                }
                None => rows.push(row),
            }
        }
        Self {
            about: about(screen),
            is_screened: true,
            rows,
        }
    }
}

fn about(screen: &Screen) -> String {
    let asks = match &screen.shaking {
        Ok(shaking) => format!(
            "what a design acceleration of {:.2} g asks of each link of the load path and what it may give",
            shaking.range.high
        ),
        Err(_) => "which link of the load path goes first, since the shaking of the site is not on record"
            .to_owned(),
    };
    // The editions of loads, walls, connections and concrete; the rest stands in the screen itself.
    let editions: Vec<String> = screen
        .editions
        .iter()
        .take(4)
        .map(|edition| match edition.superseded_by {
            Some(_) => format!("{} (superseded)", plain(&edition.name())),
            None => plain(&edition.name()),
        })
        .collect();
    let editions = editions.join(", ");
    format!(
        "A screen, not a design: {asks}, by {editions} and others. Run retrofit screen to see every link and how each number is computed; a licensed \
         engineer designs."
    )
}

impl ScreenedLines {
    fn of(line: &LineAgreement, screen: &Screen, name: String) -> Self {
        let path = PathState::from(line.path);
        Self {
            numbers: vec![line.wall + 1],
            wall_lines: vec![name],
            ruling: line.ruling,
            ruling_words: line.ruling.words(),
            path,
            path_words: path.words(),
            path_mark: path.mark(),
            link: line.cause.map(Choice::words),
            agree: line.agreement.is_one(),
            why: why(line, screen),
        }
    }
}

/// What the provisions do instead of computing a link.
const fn provisions(link: LinkKind) -> &'static str {
    match link {
        LinkKind::FloorConnection => {
            "they ask for fastenings by kind and spacing, whatever the weight and the shaking"
        }
        LinkKind::TopPlate => "they compute no force in the top plate",
        LinkKind::Sheathing => {
            "they ask for a length of bracing by stories, whatever the weight and the shaking"
        }
        LinkKind::Overturning => {
            "they compute no uplift at the ends of the panels, and no check asks for hold-downs"
        }
        LinkKind::Compression => "they compute no compression at the ends of the panels",
        LinkKind::Drift => "they compute no drift",
        LinkKind::SillAnchors => {
            "they ask for anchors by size and spacing, whatever the weight and the shaking"
        }
        LinkKind::ConcreteEdge => "they compute no breaking out of the concrete at the anchors",
        LinkKind::StemWall => "they compute no bending of the stem wall",
        LinkKind::Rocking => "they compute no rocking of the foundation",
        LinkKind::Bearing | LinkKind::Pads => "they compute no pressure on the soil",
        LinkKind::Sliding => "they compute no sliding of the foundation",
        LinkKind::Posts | LinkKind::PostUplift => "they compute no force in the posts",
    }
}

/// Why verdict and screen agree or differ, in a sentence.
fn why(line: &LineAgreement, screen: &Screen) -> String {
    let cause = line.cause.map_or("a link", Choice::words);
    let unseen = line
        .widest
        .map_or_else(String::new, |widest| format!(", above all {}", widest.words()));
    let has_none = || {
        let of_line = screen.lines.iter().find(|other| other.wall == line.wall);
        of_line.is_some_and(|of_line| {
            of_line
                .links
                .iter()
                .any(|(kind, link)| Some(*kind) == line.cause && matches!(link, LinkScreen::NoCapacity(_)))
        })
    };
    let by_screen = || match line.path {
        Path::Short if has_none() => format!("finds a link without any capacity ({cause})"),
        Path::Short => format!("finds a link short whatever is not known ({cause})"),
        Path::MayBeShort => {
            format!("finds the weakest link ({cause}) short at the worse end of what was not seen{unseen}")
        }
        Path::NotDetermined => "leaves it open".to_owned(),
        Path::Reaches => "finds that every link reaches its demand".to_owned(),
    };
    match line.agreement {
        Agreement::BothReach => {
            "The provisions are met, and the screen finds that every link reaches its demand.".to_owned()
        }
        Agreement::BothShort | Agreement::NotMetAndMayBeShort => format!("The provisions are not met, and the screen {}.", by_screen()),
        Agreement::MetYetShort | Agreement::MetYetMayBeShort => format!(
            "The provisions are met, since {}, while the screen, by the weight of this house and the shaking of this \
             site, {}.",
            line.cause.map_or("they count pieces, whatever the weight and the shaking", provisions),
            by_screen()
        ),
        Agreement::NotMetYetReaches => {
            "The provisions are not met, since they count pieces, whatever the weight and the shaking, while the \
             screen finds that every link reaches what this site asks of it; the code official decides which counts."
                .to_owned()
        }
        Agreement::OpenYetShort | Agreement::OpenYetReaches => format!(
            "The provisions cannot be judged until more is seen, while the screen, which takes what was not seen at \
             both ends of what it may be, {}.",
            by_screen()
        ),
        Agreement::OpenAndMayBeShort => format!(
            "Both hang on what was not seen: the provisions cannot be judged, and the screen {}.",
            by_screen()
        ),
        Agreement::OutsideYetComputed => format!(
            "These provisions are not written for {}, while the screen computes it and {}, for an engineer to weigh.",
            if line.is_house_outside {
                "a house like this one"
            } else {
                "a wall line like this one"
            },
            by_screen()
        ),
        Agreement::NothingAsked => format!("The provisions ask nothing here, while the screen {}.", by_screen()),
        Agreement::NotScreened if screen.shaking.is_err() => {
            "The verdict stands by itself, because the shaking of the site is not on record and nothing can be held \
             against it."
                .to_owned()
        }
        Agreement::NotScreened => format!(
            "The verdict stands by itself, because the screen could not compute every link ({cause})."
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever the two say, the sentence is one, ends as one, and neither praises nor promises.
    #[test]
    fn every_agreement_over_every_link_is_one_sentence() {
        let text = include_str!("../../../examples/quince-lantern-way.json");
        let house = crate::input::parse_house(text).unwrap();
        let standards = retrofit_core::screen::Standards::shipped().unwrap();
        let screen =
            retrofit_core::screen::screen(&house, standards, retrofit_core::screen::Options::default())
                .unwrap();
        for agreement in [
            Agreement::BothReach,
            Agreement::BothShort,
            Agreement::MetYetShort,
            Agreement::MetYetMayBeShort,
            Agreement::NotMetYetReaches,
            Agreement::NotMetAndMayBeShort,
            Agreement::OpenYetShort,
            Agreement::OpenAndMayBeShort,
            Agreement::OpenYetReaches,
            Agreement::OutsideYetComputed,
            Agreement::NothingAsked,
            Agreement::NotScreened,
        ] {
            for path in [Path::Short, Path::MayBeShort, Path::NotDetermined, Path::Reaches] {
                for cause in LinkKind::ALL.iter().copied().map(Some).chain([None]) {
                    let line = LineAgreement {
                        wall: 0,
                        ruling: Ruling::Met,
                        is_house_outside: false,
                        path,
                        agreement,
                        cause,
                        widest: None,
                    };
                    let sentence = why(&line, &screen);
                    assert!(
                        sentence.ends_with('.') && sentence.matches('.').count() == 1,
                        "{sentence}"
                    );
                    assert!(!sentence.contains("  "), "{sentence}");
                }
            }
        }
    }

    #[test]
    fn met_yet_short_names_what_the_provisions_do_instead() {
        let text = include_str!("../../../examples/quince-lantern-way.json");
        let house = crate::input::parse_house(text).unwrap();
        let standards = retrofit_core::screen::Standards::shipped().unwrap();
        let screen =
            retrofit_core::screen::screen(&house, standards, retrofit_core::screen::Options::default())
                .unwrap();
        let line = LineAgreement {
            wall: 0,
            ruling: Ruling::Met,
            is_house_outside: false,
            path: Path::Short,
            agreement: Agreement::MetYetShort,
            cause: Some(LinkKind::Overturning),
            widest: None,
        };
        let sentence = why(&line, &screen);
        assert!(
            sentence.contains("hold-downs") && sentence.contains("overturning"),
            "{sentence}"
        );
    }
}
