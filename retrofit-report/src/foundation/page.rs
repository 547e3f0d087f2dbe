//! The page of foundation work.

use retrofit_core::check::Ruling;

use super::rows::grouped;
use super::{
    FoundationReport, GateRow, LengthRow, LiftPart, LoadRow, NewWorkRow, OptionRow, QuantitiesPart,
    SchemeRow, SequencePart, ShoringRow,
};
use crate::document::{Answer, Cell, Document, Part, Table};
use crate::result::ReportInfo;
use crate::result::wording::sentence_case;

/// To whom the reader has to turn.
const DEFERRAL: &str = "This page plans work on a foundation from a field record. It is not a design, a permit or a \
    diagnosis, and no verdict on earthquakes, which is given by retrofit check. Temporary support, lifting and digging under \
    a footing are designed by a licensed engineer and watched by a competent person; the local code official decides \
    what is required. Nobody works under a load that stands on jacks alone.";

const METHOD: &str = "Method: rules decide only by what was seen, and where something unseen could change the outcome \
    nothing is decided. Loads come from the house's own weights. Sizes stand beside the prescriptive table and beside \
    the load, and the wider is taken. The order of pours is searched for, and then checked by a program that knows \
    nothing of the search; so is the table of the lift.";

/// More jacks than this do not stand side by side: the table of steps is set out jack by jack.
const WIDEST: usize = 8;

impl FoundationReport {
    /// The foundation work as a page.
    pub fn document(&self) -> Document {
        let info = ReportInfo {
            program_version: self.program_version.clone(),
            input_file: self.input_file.clone(),
            input_sha256: self.input_sha256.clone(),
        };
        let mut page = Document::new(
            "Foundation work, planned from a field record; not a design",
            &self.house,
            self.answer(),
            DEFERRAL,
            &info,
        );
        METHOD.clone_into(&mut page.method);
        page.head = vec![("New sills and anchors by".to_owned(), self.provisions.clone())];
        for fault in self.faults() {
            page.warnings
                .push(format!("A check of the plan failed: {fault}."));
        }
        page.section("gates", "Before anything is touched", gate_parts(&self.gates));
        page.section("lengths", "Length by length", self.length_parts());
        page.section(
            "drawings",
            "Drawings",
            self.drawings().iter().cloned().map(Part::drawing),
        );
        page.section(
            "loads",
            "What the house brings to its foundation",
            self.load_parts(),
        );
        page.section(
            "new-work",
            "New work, sized",
            self.new_work.iter().flat_map(|row| new_work_parts("Length", row)),
        );
        page.section("piers", "Posts, piers and girders", self.pier_parts());
        page.section(
            "shoring",
            "Holding the house up",
            self.shoring.iter().flat_map(shoring_parts),
        );
        page.section("lift", "Lifting", self.lift_parts());
        page.section("sequence", "Order and days", self.sequence_parts());
        if !self.new_work.is_empty() {
            page.section(
                "access",
                "Staging and access",
                [Part::list(self.access.iter().cloned())],
            );
        }
        page.section(
            "quantities",
            "Quantities and cost",
            self.quantities.iter().flat_map(quantity_parts),
        );
        page.section(
            "settings",
            "Settings, and what else is published",
            self.setting_parts(),
        );
        page
    }

    fn faults(&self) -> impl Iterator<Item = &String> {
        let lift = self.lift.iter().flat_map(|lift| &lift.faults);
        let sequence = self.sequence.iter().flat_map(|sequence| &sequence.faults);
        lift.chain(sequence)
    }

    fn answer(&self) -> Answer {
        let undecided = self.lengths.iter().filter(|row| row.chosen.is_none()).count();
        let worked = self
            .lengths
            .iter()
            .filter(|row| row.chosen.is_some_and(|chosen| chosen != "keep"))
            .count();
        let engineer = self.lengths.iter().filter(|row| !row.engineer.is_empty()).count();
        let (mark, headline) = match (self.lengths.len(), undecided, worked) {
            (0, _, _) => (Ruling::NotDetermined, "No wall line is on record".to_owned()),
            (all, 0, 0) => (
                Ruling::Met,
                format!("All {all} lengths may be kept by what was seen"),
            ),
            (all, 0, worked) => (
                Ruling::NotMet,
                format!("Work on {worked} of {all} lengths of foundation"),
            ),
            (all, undecided, 0) => (
                Ruling::NotDetermined,
                format!("{undecided} of {all} lengths of foundation are not decided"),
            ),
            (all, undecided, worked) => (
                Ruling::NotMet,
                format!("Work on {worked} of {all} lengths of foundation; {undecided} not decided"),
            ),
        };
        let days = self.sequence.as_ref().map_or_else(String::new, |sequence| {
            format!(" The order of pours takes {} calendar days.", sequence.days)
        });
        let cost = self
            .quantities
            .as_ref()
            .filter(|quantities| !quantities.total.is_empty())
            .map_or_else(String::new, |quantities| {
                format!(" It may cost {}.", quantities.total)
            });
        Answer {
            mark,
            headline,
            meaning: format!(
                "An engineer's word is asked for at {engineer} of {} lengths.{days}{cost} {}",
                self.lengths.len(),
                self.replacing
            ),
        }
    }

    fn length_parts(&self) -> Vec<Part> {
        let mut overview = Table::new(
            "Each length, what is to be done, and who is asked",
            [
                "Length",
                "Outcome",
                "Can still come to",
                "An engineer is asked because",
                "Look at",
            ],
        );
        for row in &self.lengths {
            overview.push([
                Cell::from(length_name(row)),
                match row.chosen {
                    Some("keep") => row.chosen_words.clone().into(),
                    Some(_) => Cell::ruling(Ruling::NotMet, row.chosen_words.clone()),
                    None => Cell::ruling(Ruling::NotDetermined, row.chosen_words.clone()),
                },
                row.possible.join(", ").into(),
                row.engineer.join("; ").into(),
                row.look_at.join("; ").into(),
            ]);
        }
        let mut parts: Vec<Part> = overview.part().into_iter().collect();
        // Lengths with the same options, for the same reasons, are told once.
        let mut told: Vec<(&[OptionRow], Vec<String>)> = Vec::new();
        for row in &self.lengths {
            match told.iter_mut().find(|(options, _)| *options == row.options) {
                Some((_, names)) => names.push(length_name(row)),
                None => told.push((&row.options, vec![length_name(row)])),
            }
        }
        for (options, names) in told {
            parts.push(Part::heading(format!("Options: {}", names.join("; "))));
            parts.extend(options_table(options, &names).part());
        }
        parts.extend(self.asked_of_options());
        parts
    }

    /// What provisions ask of every option that is not ruled out everywhere: the same for every length, and so told once.
    fn asked_of_options(&self) -> Vec<Part> {
        let mut table = Table::new(
            "What is asked of each option that may be open",
            ["Option", "Asked of it"],
        );
        let options = self
            .lengths
            .first()
            .map(|row| row.options.as_slice())
            .unwrap_or_default();
        for option in options {
            let same = |row: &&OptionRow| row.option == option.option;
            let mut everywhere = self
                .lengths
                .iter()
                .filter_map(|row| row.options.iter().find(same));
            if everywhere.any(|row| row.open != "no") && !option.requires.is_empty() {
                table.push([
                    sentence_case(option.words).into(),
                    option.requires.join("; ").into(),
                ]);
            }
        }
        let table = table.part();
        let heading = table
            .as_ref()
            .map(|_| Part::heading("What is asked of each option"));
        heading.into_iter().chain(table).collect()
    }

    fn load_parts(&self) -> Vec<Part> {
        let mut parts = vec![Part::words(
            "Least and most by what was not seen. Temporary support goes by the most.",
        )];
        for row in &self.loads {
            parts.push(Part::heading(format!("Wall line {}", row.wall_line)));
            parts.extend(load_table(row));
        }
        if !self.not_counted.is_empty() {
            parts.push(Part::words(format!(
                "Not counted: {}.",
                self.not_counted.join("; ")
            )));
        }
        parts
    }

    fn pier_parts(&self) -> Vec<Part> {
        let mut parts: Vec<Part> = self
            .piers
            .iter()
            .flat_map(|row| new_work_parts("Entry of posts", row))
            .collect();
        if !self.piers_not_determined.is_empty() {
            parts.push(Part::list(self.piers_not_determined.iter().cloned()));
        }
        parts.extend(self.girders.iter().flat_map(|row| new_work_parts("Girder", row)));
        if !self.girders_not_determined.is_empty() {
            parts.push(Part::heading("Girders"));
            parts.push(Part::list(self.girders_not_determined.iter().cloned()));
        }
        parts
    }

    fn lift_parts(&self) -> Vec<Part> {
        match &self.lift {
            None => vec![Part::words(format!("No lift is planned: {}.", self.no_lift))],
            Some(lift) => lift_parts(lift),
        }
    }

    fn sequence_parts(&self) -> Vec<Part> {
        match &self.sequence {
            None => vec![Part::words(format!(
                "Nothing is put in order: {}.",
                self.no_sequence
            ))],
            Some(sequence) => sequence_parts(sequence),
        }
    }

    fn setting_parts(&self) -> Vec<Part> {
        let mut table = Table::new(
            "Published practice disagrees; what was used stands first",
            ["Setting", "Used", "From", "Published besides"],
        );
        for row in &self.settings {
            table.push([
                row.what.clone().into(),
                row.used.clone().into(),
                row.source.clone().into(),
                row.others.join("; ").into(),
            ]);
        }
        table.part().into_iter().collect()
    }
}

fn length_name(row: &LengthRow) -> String {
    let to = if row.to.is_empty() { "the end" } else { &row.to };
    format!(
        "{}. Wall line {}, {} to {to}",
        row.number, row.wall_line, row.from
    )
}

fn options_table(options: &[OptionRow], names: &[String]) -> Table<5> {
    let mut table = Table::new(
        format!("Options for {}", names.join("; ")),
        ["Option", "Open", "Why not", "What speaks for it", "Not seen"],
    );
    for row in options {
        table.push([
            Cell::from(sentence_case(row.words)),
            match row.open {
                "yes" => "open".into(),
                "no" => "not open".into(),
                _ => Cell::ruling(Ruling::NotDetermined, "cannot be told"),
            },
            row.against.join("; ").into(),
            row.in_favor.join("; ").into(),
            row.not_seen.join("; ").into(),
        ]);
    }
    table
}

fn load_table(row: &LoadRow) -> Option<Part> {
    let mut table = Table::new(
        format!("Load on wall line {}, in pounds on a foot", row.wall_line),
        ["Part", "Least", "Most", "From", "Left open by"],
    );
    for part in &row.parts {
        let [low, high] = part.plf;
        table.push([
            Cell::from(sentence_case(&part.what)).under(part.kind),
            grouped(low.round()).into(),
            grouped(high.round()).into(),
            Cell::from(part.sources.join("; ")).under(part.standing),
            part.open.join("; ").into(),
        ]);
    }
    match row.total_plf {
        Some([low, high]) => table.push([
            "Together".into(),
            grouped(low.round()).into(),
            grouped(high.round()).into(),
            Cell::default(),
            Cell::default(),
        ]),
        None => table.push([
            "Together".into(),
            Cell::ruling(Ruling::NotDetermined, "not determined"),
            Cell::default(),
            Cell::default(),
            row.not_determined.join("; ").into(),
        ]),
    }
    table.part()
}

fn new_work_parts(of: &str, row: &NewWorkRow) -> Vec<Part> {
    let mut parts = vec![Part::heading(format!("{of} {}: {}", row.number, row.title))];
    if !row.not_sized.is_empty() {
        parts.push(Part::words(format!("Not sized: {}.", row.not_sized)));
    }
    let mut table = Table::new(
        format!("New work, {} {}", of.to_lowercase(), row.number),
        ["What", "Size", "From"],
    );
    for size in &row.sizes {
        table.push([
            Cell::from(sentence_case(&size.what)),
            size.value.clone().into(),
            Cell::from(size.source.clone()).under(size.standing),
        ]);
    }
    parts.extend(table.part());
    if !row.notes.is_empty() {
        parts.push(Part::list(row.notes.iter().cloned()));
    }
    parts
}

fn shoring_parts(row: &ShoringRow) -> Vec<Part> {
    let mut parts = vec![Part::heading(format!("Wall line {}", row.wall_line))];
    if !row.not_determined.is_empty() {
        parts.push(Part::list(
            row.not_determined.iter().map(|words| sentence_case(words)),
        ));
    }
    for scheme in &row.schemes {
        parts.extend(scheme_parts(scheme, &row.wall_line));
    }
    parts.push(Part::words(format!(
        "Not looked at: {}.",
        row.not_seen.join("; ")
    )));
    parts
}

fn scheme_parts(scheme: &SchemeRow, wall_line: &str) -> Vec<Part> {
    let mut parts = vec![
        Part::words(format!(
            "{}: {} plf along it at the most, from support to support {}.",
            sentence_case(scheme.arrangement),
            grouped(scheme.line_load_plf.round()),
            scheme.span
        )),
        Part::warning(scheme.asks_for_design),
    ];
    let mut checks = Table::new(
        format!("Wall line {wall_line}: load beside published figures"),
        ["What", "Of", "Load", "Figure", "Load over figure", "From"],
    );
    for check in &scheme.checks {
        let ratio = format!("{:.2}", check.ratio);
        checks.push([
            Cell::from(sentence_case(&check.what)),
            check.of.into(),
            check.load.clone().into(),
            check.figure.clone().into(),
            if check.ratio > 1.0 {
                Cell::ruling(Ruling::NotMet, ratio)
            } else {
                ratio.into()
            },
            Cell::from(check.source.clone()).under(check.standing),
        ]);
    }
    parts.extend(checks.part());
    let mut supports = Table::new(
        format!("Wall line {wall_line}: where the supports stand"),
        ["Support", "Station", "Place", "Load at the most"],
    );
    for support in &scheme.supports {
        supports.push([
            support.label.clone().into(),
            support.station.clone().into(),
            support.place.clone().into(),
            format!("{} lb", grouped(support.load_pounds.round())).into(),
        ]);
    }
    parts.extend(supports.part());
    parts
}

fn lift_parts(lift: &LiftPart) -> Vec<Part> {
    let mut parts = vec![Part::words(format!(
        "By the survey of {}, to {}. {}",
        lift.surveyed, lift.target, lift.steps_words
    ))];
    parts.push(Part::words(if lift.faults.is_empty() {
        "A check that reads the table of steps alone finds every limit kept."
    } else {
        "A check that reads the table of steps alone finds limits that are not kept; do not use this table."
    }));
    for words in lift.left_out.iter().chain(&lift.uncertain) {
        parts.push(Part::warning(format!("Reading {words}.")));
    }
    parts.extend(gate_parts(&lift.gates));
    let mut jacks = Table::new(
        "Jacks",
        [
            "Jack",
            "East",
            "North",
            "Floor now",
            "Wanted",
            "Lift in all",
            "Left below",
        ],
    );
    for jack in &lift.jacks {
        let [east, north] = jack.at.clone();
        jacks.push([
            jack.label.clone().into(),
            east.into(),
            north.into(),
            jack.now.clone().into(),
            jack.target.clone().into(),
            jack.lift.clone().into(),
            jack.left.clone().into(),
        ]);
    }
    parts.extend(jacks.part());
    // Only jacks that rise stand in the table for the crew.
    let rising: Vec<usize> = (0..lift.jacks.len())
        .filter(|jack| {
            lift.steps
                .iter()
                .any(|step| step.rises.get(*jack).is_some_and(|rise| rise != "0\""))
        })
        .collect();
    for group in rising.chunks(WIDEST) {
        let names: Vec<String> = group
            .iter()
            .filter_map(|jack| lift.jacks.get(*jack))
            .map(|jack| jack.label.clone())
            .collect();
        let mut table = Table::new(
            format!(
                "Steps for the crew, jacks {}: rise in the step, and in all",
                names.join(", ")
            ),
            ["Step", "Day", "Rise, and in all"],
        );
        for step in &lift.steps {
            let moves: Vec<String> = group
                .iter()
                .zip(&names)
                .filter_map(|(jack, name)| {
                    let rise = step.rises.get(*jack).filter(|rise| *rise != "0\"")?;
                    let total = step.totals.get(*jack)?;
                    Some(format!("{name} {rise} ({total})"))
                })
                .collect();
            if !moves.is_empty() {
                table.push([
                    step.step.to_string().into(),
                    step.day.to_string().into(),
                    moves.join(", ").into(),
                ]);
            }
        }
        parts.extend(table.part());
    }
    parts
}

fn sequence_parts(sequence: &SequencePart) -> Vec<Part> {
    let proven = if sequence.proven_shortest {
        "no order under these settings is shorter".to_owned()
    } else {
        format!(
            "no order under these settings takes fewer than {}",
            sequence.lower_bound
        )
    };
    let check = if sequence.faults.is_empty() {
        "A program that knows nothing of how the order was found has checked it: no two neighbors open, cure and \
         inspections before what they guard, crews and trucks within their number."
    } else {
        "A program that knows nothing of how the order was found refuses it; do not use it."
    };
    let mut parts = vec![Part::words(format!(
        "{} calendar days; {proven}. {} crew days. {check}",
        sequence.days, sequence.crew_days
    ))];
    let mut compared = Table::new(
        "How long it takes, beside other ways and other jobs",
        ["Way", "Takes", "What is different", "From"],
    );
    for row in &sequence.compared {
        compared.push([
            row.way.clone().into(),
            row.takes.clone().into(),
            row.because.clone().into(),
            row.source.clone().into(),
        ]);
    }
    parts.extend(compared.part());
    let mut pours = Table::new("Pours", ["Pour", "Day", "Bays", "Concrete to order", "Trucks"]);
    for (number, pour) in sequence.pours.iter().enumerate() {
        let bays: Vec<String> = pour.bays.iter().map(ToString::to_string).collect();
        pours.push([
            (number + 1).to_string().into(),
            pour.day.clone().into(),
            bays.join(", ").into(),
            pour.ordered.clone().into(),
            pour.trucks.to_string().into(),
        ]);
    }
    parts.extend(pours.part());
    let mut bays = Table::new(
        "Bays; a neighbor opens only after the last day",
        ["Bay", "Where", "Length", "Open from", "Last day open"],
    );
    for bay in &sequence.bays {
        let [from, to] = bay.open.clone();
        bays.push([
            bay.bay.to_string().into(),
            bay.name.clone().into(),
            bay.length.clone().into(),
            from.into(),
            to.into(),
        ]);
    }
    parts.extend(bays.part());
    parts
}

fn quantity_parts(quantities: &QuantitiesPart) -> Vec<Part> {
    if !quantities.not_counted.is_empty() {
        return vec![Part::words(format!("Not counted: {}.", quantities.not_counted))];
    }
    let mut table = Table::new(
        "Quantities, and what they may cost",
        ["What", "How much", "By length", "Because", "Cost"],
    );
    for row in &quantities.lines {
        table.push([
            row.what.clone().into(),
            row.total.clone().into(),
            row.by_length.join("; ").into(),
            row.because.into(),
            row.cost.clone().into(),
        ]);
    }
    if !quantities.total.is_empty() {
        table.push([
            "Together".into(),
            Cell::default(),
            Cell::default(),
            Cell::default(),
            quantities.total.clone().into(),
        ]);
    }
    let mut parts: Vec<Part> = table.part().into_iter().collect();
    if !quantities.notes.is_empty() {
        parts.push(Part::list(quantities.notes.iter().cloned()));
    }
    parts
}

/// Gates in the order of the steps they stand before, each told once with all its steps.
fn gate_parts(gates: &[GateRow]) -> Vec<Part> {
    let mut told: Vec<(&GateRow, Vec<&str>)> = Vec::new();
    for gate in gates {
        match told.iter_mut().find(|(other, _)| other.words == gate.words) {
            Some((_, steps)) => steps.push(&gate.before),
            None => told.push((gate, vec![&gate.before])),
        }
    }
    let mut all: Vec<&str> = gates.iter().map(|gate| gate.before.as_str()).collect();
    all.sort_unstable();
    all.dedup();
    let all = all.len();
    let mut table = Table::new(
        "What must be so, before which step",
        ["What must be so", "Before", "Whose word counts", "From"],
    );
    for (gate, steps) in told {
        let what = if gate.surely {
            Cell::from(gate.words.clone())
        } else {
            Cell::from(gate.words.clone()).under("if it is so here: nobody saw it")
        };
        table.push([
            what,
            if steps.len() > 2 && steps.len() == all {
                "every step".into()
            } else {
                steps.join(", ").into()
            },
            gate.defer_to.clone().into(),
            Cell::from(gate.source.clone()).under(gate.standing),
        ]);
    }
    table.part().into_iter().collect()
}
