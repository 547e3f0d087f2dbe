//! Before and after on a terminal: the answer, what became of each wall line, then the list to sign.

use retrofit_core::check::Ruling;
use retrofit_core::sign_off::Status;

use super::{COLUMNS, Page, padded, shown_width};
use crate::result::{BeforeAfter, CameTo, ChangedCheck, ChangedPlace, SignedLine, SignedPiece, ToldIn};

/// Renders two records of a house side by side.
pub fn render_before_after(compared: &BeforeAfter, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&compared.after.house));
    let files = format!("{} → {}", compared.before.input_file, compared.after.input_file);
    page.wrapped("before → after: ", &files);
    page.wrapped("checked against ", &compared.provisions.title);
    page.blank();
    let headline = page.ruling(compared.ruling, &compared.headline, 0);
    page.line(&headline);
    page.wrapped("", &compared.counts);
    for warning in &compared.warnings {
        page.wrapped("Note: ", warning);
    }

    page.heading("Wall lines");
    let lines = || compared.places.iter().skip(1);
    let width = lines().map(|place| shown_width(&place.name)).max().unwrap_or(0);
    for place in lines() {
        page.place(place, width);
    }

    for place in &compared.places {
        let told: Vec<&ChangedCheck> = place.changes.iter().filter(|check| check.worth_telling).collect();
        // Of a wall line that only one record has, the list of wall lines has said all there is.
        if told.is_empty() || place.told_in != ToldIn::Both {
            continue;
        }
        page.heading(&format!("What became of {}", place.name));
        for check in told {
            page.changed(check);
        }
    }

    if !compared.less_said.is_empty() {
        page.heading("What the later record no longer says");
        page.wrapped("  ", "None of it counts as closed.");
        for less in &compared.less_said {
            let place = less.wall_line.as_deref().unwrap_or("the house");
            let text = format!("{place}: {}: {} before; now {}", less.path, less.said, less.now);
            page.wrapped("  - ", &text);
        }
    }

    if let Some(designed) = &compared.designed {
        if !designed.assumptions.is_empty() {
            page.heading("Taken as given in the design");
            for assumed in &designed.assumptions {
                let place = assumed.wall_line.as_deref().unwrap_or("the house");
                let text = format!("{place}: {}: {}", assumed.what, assumed.taken_as);
                page.wrapped("  - ", &text);
            }
        }
        for line in &designed.wall_lines {
            page.signed_line(line);
        }
    }
    page.blank();
    page.wrapped(
        "",
        "Not a permit or an inspector's approval: the local code official and a licensed engineer decide.",
    );
    page.text
}

impl Page {
    fn place(&mut self, place: &ChangedPlace, width: usize) {
        let words = |ruling: Option<Ruling>, missing: &str| match ruling {
            Some(ruling) => self.ruling(ruling, ruling.words(), 0),
            None => missing.to_owned(),
        };
        let name = padded(&place.name, width);
        let before = words(
            place.before.as_ref().map(|verdict| verdict.ruling),
            "not in the earlier record",
        );
        let after = words(place.ruling, "not in the later record");
        self.line(&format!("  {name}  {before} → {after}"));
    }

    fn changed(&mut self, check: &ChangedCheck) {
        let shown = |came: &Option<CameTo>| came.as_ref().map_or("–", |came| came.shown.as_str()).to_owned();
        let (before, after) = (shown(&check.before), shown(&check.after));
        let mut text = if before == after {
            format!("{}: {after}", check.title)
        } else {
            format!("{}: {before} → {after}", check.title)
        };
        if let Some(required) = check.after.as_ref().and_then(|came| came.required.as_ref()) {
            text = format!("{text}, {required} asked for");
        }
        if !check.decided_by.is_empty() {
            let looks: Vec<&str> = check.decided_by.iter().map(|look| look.what.as_str()).collect();
            text = format!("{text}; decided by {}", looks.join(", "));
        }
        self.wrapped(&format!("  {}  ", padded(&check.became_words, 20)), &text);
    }

    fn signed_line(&mut self, line: &SignedLine) {
        self.heading(&format!("As designed and as built: {}", line.name));
        self.wrapped("  ", &line.says);
        for piece in &line.pieces {
            self.signed_piece(piece);
        }
        if line.pieces.is_empty() && line.without_layout.is_empty() {
            self.wrapped("  ", "No work was designed here.");
        }
        if !line.without_layout.is_empty() {
            let parts = line.without_layout.join(", ");
            self.wrapped(
                "  ",
                &format!("No layout to hold what was built against: {parts}."),
            );
        }
        for extra in &line.not_designed {
            let station = extra.station.as_ref();
            let station = station.map_or_else(String::new, |station| format!(" at {station}"));
            self.wrapped(
                "  + ",
                &format!("{}{station}: not designed ({})", extra.what, extra.path),
            );
        }
    }

    /// A box to tick, what to see, and what the record says of it; what is not as designed stands out.
    fn signed_piece(&mut self, piece: &SignedPiece) {
        let text = format!("{} {}", piece.station, piece.what);
        let lead = "  [ ] ";
        if piece.status == Status::AsDesigned && shown_width(lead) + shown_width(&text) < COLUMNS {
            self.wrapped(lead, &format!("{text} – {}", piece.says));
            return;
        }
        self.wrapped(lead, &text);
        self.wrapped("      » ", &piece.says);
    }
}
