//! What the core found, row by row.

use retrofit_core::choice::Choice;
use retrofit_core::foundation::decision::{EngineerReason, LengthDecision, OptionFinding, OptionRule};
use retrofit_core::foundation::gates::{Gates, Step};
use retrofit_core::foundation::lift::{LiftPlan, LiftTarget};
use retrofit_core::foundation::loads::{LineLoads, LoadKind};
use retrofit_core::foundation::plan::{FoundationPlan, PlanFigures};
use retrofit_core::foundation::sequence::{Activity, Practice, Published, Schedule};
use retrofit_core::foundation::shoring::{
    self, Arrangement, GateKind, LoadCheck, Scheme, ShoringFigures, Side, Trial,
};
use retrofit_core::foundation::work_takeoff::WorkAmount;
use retrofit_core::house::House;
use retrofit_core::measure::Length;
use retrofit_core::observation::{Basis, Observed, Truth};
use retrofit_core::prices::CostRange;
use retrofit_core::provisions::{Standing, cited};
use retrofit_core::screen::{Figure, PLF};

use super::{
    BayRow, ComparedRow, GateRow, JackRow, LengthRow, LiftPart, LiftStepRow, LoadPartRow, LoadRow,
    NewWorkRow, OptionRow, PourRow, QuantitiesPart, QuantityRow, SchemeRow, SequencePart, SettingRow,
    ShoringRow, SupportCheckRow, SupportRow, TaskRow,
};
use crate::drawing::bay_name;
use crate::result::wording::{length, plain, sentence_case, sourced};
use crate::survey::signed;

/// Every length with its options.
pub(super) fn lengths(plan: &FoundationPlan<'_>) -> Vec<LengthRow> {
    let lengths = plan.decisions.lengths.iter().enumerate();
    lengths
        .map(|(number, found)| length_row(number + 1, found))
        .collect()
}

fn length_row(number: usize, found: &LengthDecision<'_>) -> LengthRow {
    let chosen = found.chosen();
    let chosen_words = match (chosen, found.chosen_by()) {
        (Some(option), Some(by)) => {
            let not_open = match found.estimator_is_open() {
                Some(Truth::False) => "; the rules do not leave it open",
                Some(Truth::Maybe) => "; whether the rules leave it open cannot be told",
                _ => "",
            };
            format!("{}, {}{not_open}", option.words(), by.words())
        }
        _ if found.possible.is_empty() => "not decided: nothing is open by what was seen".to_owned(),
        _ => "not decided".to_owned(),
    };
    LengthRow {
        number,
        wall_line: plain(&found.name),
        from: length(found.from),
        to: found.to.map(length).unwrap_or_default(),
        chosen: chosen.map(Choice::spelling),
        chosen_words,
        possible: found.possible.iter().map(|option| option.words()).collect(),
        options: found.options.iter().map(option_row).collect(),
        engineer: engineer(found),
        look_at: found.look_at().iter().map(|rule| look_at(rule)).collect(),
    }
}

/// Why an engineer's word is asked for: what was seen, one by one; what was not seen, together.
fn engineer(found: &LengthDecision<'_>) -> Vec<String> {
    let reasons = found.engineer();
    let (seen, not_seen): (Vec<&EngineerReason<'_>>, Vec<_>) =
        reasons.iter().partition(|reason| reason.asked == Truth::True);
    let mut words: Vec<String> = seen
        .iter()
        .map(|reason| {
            format!(
                "{}: {}",
                sentence_case(reason.rule.fact.words()),
                reason.rule.reason
            )
        })
        .collect();
    let mut facts: Vec<&str> = not_seen.iter().map(|reason| reason.rule.fact.words()).collect();
    facts.dedup();
    if !facts.is_empty() {
        words.push(format!(
            "Also, though nobody saw whether it is so: {}",
            facts.join(", ")
        ));
    }
    words
}

fn look_at(rule: &OptionRule) -> String {
    if rule.look_at.is_empty() {
        sentence_case(rule.fact.words())
    } else {
        sentence_case(&rule.look_at)
    }
}

fn reason(rule: &OptionRule) -> String {
    format!("{} ({})", rule.reason, rule.provenance.standing.words())
}

fn option_row(found: &OptionFinding<'_>) -> OptionRow {
    OptionRow {
        option: found.option.spelling(),
        words: found.option.words(),
        open: match found.open {
            Truth::True => "yes",
            Truth::False => "no",
            Truth::Maybe => "cannot_be_told",
        },
        against: found.against().map(reason).collect(),
        in_favor: found.in_favor().map(reason).collect(),
        not_seen: found
            .not_seen()
            .map(|rule| rule.fact.words().to_owned())
            .collect(),
        requires: found
            .requires
            .iter()
            .map(|asked| {
                let from = &asked.provenance;
                format!(
                    "{} ({})",
                    asked.words,
                    sourced(&from.document, &from.section, from.standing)
                )
            })
            .collect(),
    }
}

/// How much is to be replaced.
pub(super) fn replacing(plan: &FoundationPlan<'_>) -> String {
    let found = &plan.decisions.replacing;
    let possibly = found
        .possibly
        .map_or_else(|| "an extent that nobody measured".to_owned(), length);
    let of = found
        .of
        .map_or_else(String::new, |of| format!(" of {}", length(of)));
    let all = match found.most {
        Truth::True => "That is enough for replacing all of it to be considered.",
        Truth::False => "That is too little for replacing all of it to be considered.",
        Truth::Maybe => "Whether that is enough for replacing all of it to be considered cannot be told.",
    };
    format!(
        "By the rules, {} surely has to be replaced and {possibly} may have to be{of}. {all} The share from which it is \
         considered is {}.",
        length(found.surely),
        found.share
    )
}

/// Names of wall lines by number.
fn wall_name(house: &House, number: usize) -> String {
    house
        .wall_lines
        .get(number)
        .map(|wall| plain(&wall.name))
        .unwrap_or_default()
}

/// What every wall line carries.
pub(super) fn loads(house: &House, plan: &FoundationPlan<'_>) -> Vec<LoadRow> {
    let lines = plan.loads.wall_lines.iter().enumerate();
    lines
        .map(|(number, line)| load_row(wall_name(house, number), line))
        .collect()
}

fn load_row(wall_line: String, line: &LineLoads) -> LoadRow {
    LoadRow {
        wall_line,
        total_plf: line.total().map(|(low, high)| [low.to(PLF), high.to(PLF)]),
        parts: line
            .parts
            .iter()
            .map(|part| LoadPartRow {
                what: part.words.to_owned(),
                kind: match part.kind {
                    LoadKind::Dead => "dead",
                    LoadKind::Live => "live",
                },
                plf: [part.low.to(PLF), part.high.to(PLF)],
                sources: part.sources.clone(),
                standing: part.standing.words(),
                open: part.open.clone(),
            })
            .collect(),
        not_determined: line.not_determined.iter().map(ToString::to_string).collect(),
    }
}

/// New work of each length.
pub(super) fn new_work(plan: &FoundationPlan<'_>) -> Vec<NewWorkRow> {
    let rows = plan.sizes.iter().filter_map(|sized| {
        let found = plan.decision(sized)?;
        let option = found.chosen()?;
        let title = format!(
            "{}, {} to {}: {}",
            plain(&found.name),
            length(found.from),
            found.to.map_or_else(|| "the end".to_owned(), length),
            option.words()
        );
        Some(match &sized.size {
            Err(error) => NewWorkRow {
                number: sized.length + 1,
                title,
                not_sized: error.to_string(),
                sizes: Vec::new(),
                notes: Vec::new(),
            },
            Ok(size) => NewWorkRow {
                number: sized.length + 1,
                title,
                not_sized: String::new(),
                sizes: super::sizes::rows(size),
                notes: super::sizes::notes(size),
            },
        })
    });
    rows.collect()
}

/// Piers under posts.
pub(super) fn piers(plan: &FoundationPlan<'_>) -> Vec<NewWorkRow> {
    plan.piers
        .iter()
        .map(|sized| {
            let size = sized.size.as_ref();
            NewWorkRow {
                number: sized.posts + 1,
                title: "pad and post".to_owned(),
                not_sized: size.err().map(ToString::to_string).unwrap_or_default(),
                sizes: size.map(super::sizes::pier_rows).unwrap_or_default(),
                notes: size.map(super::sizes::pier_notes).unwrap_or_default(),
            }
        })
        .collect()
}

/// Girders over posts.
pub(super) fn girders(plan: &FoundationPlan<'_>) -> Vec<NewWorkRow> {
    let Some((low, high)) = plan.loads.girder.total() else {
        return Vec::new();
    };
    let load = format!(
        "{} to {} plf along it",
        grouped(low.to(PLF).round()),
        grouped(high.to(PLF).round())
    );
    plan.girders
        .iter()
        .enumerate()
        .map(|(number, girders)| {
            let entries: Vec<String> = girders.posts.iter().map(|post| (post + 1).to_string()).collect();
            let (noun, span) = match girders.posts.len() {
                1 => ("entry", "span"),
                _ => ("entries", "spans"),
            };
            let recorded = if girders.is_recorded {
                String::new()
            } else {
                format!("; the {span} not on record, and common ones beside each other")
            };
            NewWorkRow {
                number: number + 1,
                title: format!("over posts of {noun} {}, {load}{recorded}", entries.join(", ")),
                not_sized: String::new(),
                sizes: girders.spans.iter().map(super::sizes::girder_row).collect(),
                notes: super::sizes::girder_notes(girders),
            }
        })
        .collect()
}

/// Why no girder over posts is sized.
pub(super) fn girders_not_determined(plan: &FoundationPlan<'_>) -> Vec<String> {
    if plan.loads.posts.is_empty() {
        return Vec::new();
    }
    let reasons = plan.loads.girder.not_determined.iter();
    reasons.map(ToString::to_string).collect()
}

/// Why the load of posts is not determined.
pub(super) fn piers_not_determined(plan: &FoundationPlan<'_>) -> Vec<String> {
    let posts = plan.loads.posts.iter();
    posts
        .flat_map(|load| &load.not_determined)
        .map(ToString::to_string)
        .collect()
}

/// Temporary support.
pub(super) fn shoring(house: &House, plan: &FoundationPlan<'_>) -> Vec<ShoringRow> {
    plan.shoring
        .iter()
        .map(|line| ShoringRow {
            wall_line: wall_name(house, line.wall_line),
            schemes: line.shoring.schemes.iter().map(scheme_row).collect(),
            not_determined: line
                .shoring
                .not_determined
                .iter()
                .map(ToString::to_string)
                .collect(),
            not_seen: line.shoring.not_seen.to_vec(),
        })
        .collect()
}

pub(super) fn scheme_row(scheme: &Scheme) -> SchemeRow {
    let parts: [(&str, &[Trial]); 5] = [
        ("beam", &scheme.beams),
        ("post", &scheme.posts),
        ("crib", &scheme.cribs),
        ("jack", &scheme.jacks),
        ("pad", &scheme.pads),
    ];
    SchemeRow {
        arrangement: match scheme.arrangement {
            Arrangement::CarryingBeam => {
                "a carrying beam along the wall, inside, under joists that run across it"
            }
            Arrangement::Needles => "needle beams through the wall, along which the joists run",
        },
        line_load_plf: scheme.line_load,
        span: length(scheme.span),
        supports: scheme
            .supports
            .iter()
            .map(|support| SupportRow {
                label: support.label.clone(),
                station: length(support.station),
                place: format!(
                    "{}, {} from the foundation",
                    match support.side {
                        Side::Inside => "inside",
                        Side::Outside => "outside",
                    },
                    length(support.offset)
                ),
                load_pounds: support.load,
            })
            .collect(),
        checks: parts
            .iter()
            .flat_map(|(part, trials)| trial_rows(part, trials))
            .collect(),
        asks_for_design: scheme.asks_for_design,
    }
}

/// The first size that keeps every figure, with everything it was put beside; the largest where none does.
fn trial_rows(part: &str, trials: &[Trial]) -> Vec<SupportCheckRow> {
    let shown = shoring::shown(trials);
    let none = shoring::without_a_match(trials);
    shown
        .into_iter()
        .flat_map(|trial| {
            let what = format!("{part} {}{none}", trial.size);
            let checks = trial.checks.as_deref().unwrap_or_default();
            checks.iter().map(move |check| check_row(what.clone(), check))
        })
        .collect()
}

fn check_row(what: String, check: &LoadCheck) -> SupportCheckRow {
    let amount = |value: f64| format!("{} {}", grouped(value), check.unit.sign());
    SupportCheckRow {
        what,
        of: check.words,
        load: amount(check.load),
        figure: amount(check.figure),
        ratio: check.ratio(),
        source: cited(&check.published.document, &check.published.section),
        standing: check.published.standing.words(),
    }
}

/// A number for a reader: whole from 100 up, with commas; below, two places where it is not whole.
pub(super) fn grouped(value: f64) -> String {
    if !value.is_finite() {
        return "without bound".to_owned();
    }
    if value.abs() < 100.0 && value.fract() != 0.0 {
        return format!("{value:.2}");
    }
    let digits = format!("{:.0}", value.abs());
    let mut words = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place) % 3 == 0 {
            words.push(',');
        }
        words.push(digit);
    }
    if value < 0.0 { format!("−{words}") } else { words }
}

/// The lift, or why there is none.
pub(super) fn lift(plan: &FoundationPlan<'_>, figures: &ShoringFigures) -> (Option<LiftPart>, String) {
    let Some(found) = &plan.lift else {
        return (None, "no floor level survey is on record".to_owned());
    };
    let lift = match &found.plan {
        Ok(lift) => lift,
        Err(error) => return (None, error.to_string()),
    };
    let faults = found.faults.iter().map(ToString::to_string).collect();
    (
        Some(lift_part(lift, found.surveyed.to_string(), faults, figures)),
        String::new(),
    )
}

/// A rise as a tape shows it.
pub(super) fn rise(inches: f64) -> String {
    length(Length::nearest_inches(inches))
}

pub(super) const fn target_words(target: LiftTarget) -> &'static str {
    match target {
        LiftTarget::StandingPlane => "the plane of the part that still stands, whatever its tilt",
        LiftTarget::Level => "level, at the height of the highest reading",
    }
}

fn lift_part(lift: &LiftPlan, surveyed: String, faults: Vec<String>, figures: &ShoringFigures) -> LiftPart {
    let settings = &lift.settings;
    let target = target_words(settings.target);
    let most = settings.most_lift.map_or_else(String::new, |most| {
        format!("; no place more than {} in all", length(most))
    });
    let steps_words = if lift.steps.is_empty() {
        format!(
            "Nothing is lifted: every place is within {} of it.",
            length(settings.tolerance)
        )
    } else {
        format!(
            "{} steps, the last on day {}; new sills are set after it. No place rises more than {} in a step, nor two neighbors by more than {} \
             apart, nor any more than {} in {} days ({}).",
            lift.steps.len(),
            lift.days(),
            length(settings.largest_step),
            length(settings.neighbor_step),
            rise(settings.pace.rise),
            settings.pace.days,
            published(&settings.pace.published)
        )
    };
    let residuals = lift.residuals();
    let jacks = lift.jacks.iter().zip(&residuals);
    LiftPart {
        surveyed,
        target: format!("{target}, within {}{most}", length(settings.tolerance)),
        steps_words,
        jacks: jacks
            .map(|(jack, left)| JackRow {
                label: plain(&jack.label),
                at: [length(jack.at.x), length(jack.at.y)],
                now: signed(jack.now),
                target: signed(jack.target),
                lift: length(jack.lift),
                left: format!(
                    "{}{}",
                    signed(left.below),
                    if left.is_within {
                        ""
                    } else {
                        ", beyond the tolerance"
                    }
                ),
            })
            .collect(),
        steps: lift
            .steps
            .iter()
            .enumerate()
            .map(|(number, step)| LiftStepRow {
                step: number + 1,
                day: step.day,
                rises: step.rises.iter().map(|rise| length(*rise)).collect(),
                totals: lift.totals_after(number + 1).into_iter().map(length).collect(),
            })
            .collect(),
        left_out: lift
            .left_out
            .iter()
            .map(|left| format!("{}: {}", plain(&left.label), left.because.words()))
            .collect(),
        uncertain: lift
            .uncertain()
            .map(|jack| {
                format!(
                    "{}: its height can be off by {}",
                    plain(&jack.label),
                    length(jack.off)
                )
            })
            .collect(),
        faults,
        gates: GateKind::ALL
            .iter()
            .flat_map(|kind| figures.gates_of(*kind).map(move |gate| (kind, gate)))
            .map(|(kind, gate)| GateRow {
                before: kind.words().to_owned(),
                words: gate.words.clone(),
                surely: true,
                defer_to: "the engineer who designed the lift".to_owned(),
                source: cited(&gate.document, &gate.section),
                standing: gate.standing.words(),
            })
            .collect(),
    }
}

fn day_words(schedule: &Schedule, day: u32) -> String {
    schedule
        .date(day)
        .map_or_else(|| format!("day {}", day + 1), |date| date.to_string())
}

/// Order and days, or why there are none.
pub(super) fn sequence(plan: &FoundationPlan<'_>, practice: &Practice) -> (Option<SequencePart>, String) {
    let schedule = match &plan.schedule {
        None => {
            return (
                None,
                "no length has new work that is sized and of known extent".to_owned(),
            );
        }
        Some(Err(error)) => return (None, error.to_string()),
        Some(Ok(schedule)) => schedule,
    };
    let bays = plan.bays.iter().enumerate();
    let part = SequencePart {
        days: schedule.days(),
        lower_bound: schedule.lower_bound,
        proven_shortest: schedule.is_proven_shortest(),
        crew_days: schedule.crew_days,
        compared: compared(plan, schedule, practice),
        bays: bays
            .map(|(number, bay)| BayRow {
                bay: number + 1,
                name: plain(&bay_name(bay)),
                length: length(bay.length()),
                open: schedule
                    .open
                    .get(number)
                    .map(|open| [day_words(schedule, open.from), day_words(schedule, open.to)])
                    .unwrap_or_default(),
            })
            .collect(),
        tasks: schedule
            .tasks
            .iter()
            .map(|task| TaskRow {
                bay: task.bay + 1,
                activity: task.activity.spelling(),
                crew: task.crew.map(|crew| crew.saturating_add(1)),
                first: task.first.saturating_add(1),
                last: task.last.saturating_add(1),
            })
            .collect(),
        pours: schedule
            .pours
            .iter()
            .map(|pour| PourRow {
                day: day_words(schedule, pour.day),
                bays: pour.bays.iter().map(|bay| bay + 1).collect(),
                ordered: pour.ordered.to_string(),
                trucks: pour.trucks,
            })
            .collect(),
        faults: plan.schedule_faults.iter().map(ToString::to_string).collect(),
    };
    (Some(part), String::new())
}

/// The order beside the same work a side at a time, and beside what such jobs were seen to take.
fn compared(plan: &FoundationPlan<'_>, schedule: &Schedule, practice: &Practice) -> Vec<ComparedRow> {
    let used = &plan.settings.sequence;
    let takes = |schedule: &Schedule| {
        format!(
            "{} calendar days, {} weeks begun; {} crew days",
            schedule.days(),
            schedule.weeks(),
            schedule.crew_days
        )
    };
    let carries = |cure: u16| {
        let used = &practice.cure_before_load.used;
        let others = practice.cure_before_load.others.iter().map(|(_, figure)| figure);
        let from = std::iter::once(used)
            .chain(others)
            .find(|figure| (figure.low - f64::from(cure)).abs() < 0.5);
        (
            format!("the new work carries {} after its pour", days(cure)),
            from.map_or_else(|| "as it was set".to_owned(), figure_source),
        )
    };
    let (carry, from) = carries(used.load_cure);
    let mut rows = vec![ComparedRow {
        way: format!("As set: in bays of {} or less", length(used.largest_open)),
        takes: takes(schedule),
        because: format!(
            "no two bays with fewer than {} untouched between them are open together, {carry}",
            used.least_between
        ),
        source: from,
    }];
    for by_side in &plan.by_side {
        let (carry, from) = carries(by_side.settings.load_cure);
        rows.push(ComparedRow {
            way: format!(
                "A whole side at a time, up to {}",
                length(by_side.settings.largest_open)
            ),
            takes: match &by_side.schedule {
                Ok(schedule) => takes(schedule),
                Err(error) => error.to_string(),
            },
            because: format!(
                "a whole side hangs on temporary support, and is dug in the days of one bay, by more hands or a machine; \
                 {carry}; an engineer says whether a side may be opened at once"
            ),
            source: from,
        });
    }
    rows.extend(practice.seen.iter().map(|(of, figure)| ComparedRow {
        way: format!("Other jobs: {of}"),
        takes: format!("{} days", figure_words(figure)),
        because: figure.note.to_string(),
        source: figure_source(figure),
    }));
    rows
}

fn days(days: u16) -> String {
    if days == 1 {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    }
}

fn figure_source<F, L>(figure: &Figure<F, L>) -> String {
    sourced(&figure.document, &figure.section, figure.standing)
}

fn published(figure: &shoring::Published) -> String {
    sourced(&figure.document, &figure.section, figure.standing)
}

fn figure_words<F, L>(figure: &Figure<F, L>) -> String {
    let factor = figure.unit.factor();
    let sign = match figure.unit.sign() {
        "" | "pcs" => String::new(),
        sign => format!(" {sign}"),
    };
    // Metric figures are kept in inches; a tenth is as near as they mean.
    let shown = |value: f64| (value / factor * 10.0).round() / 10.0;
    let (low, high) = (shown(figure.low), shown(figure.high));
    if figure.is_range() {
        format!("{low} to {high}{sign}")
    } else {
        format!("{low}{sign}")
    }
}

fn setting_row<F, L>(what: &str, used: String, published: &Published<F, L>) -> SettingRow {
    SettingRow {
        what: what.to_owned(),
        used,
        source: figure_source(&published.used),
        others: published
            .others
            .iter()
            .map(|(whose, figure)| format!("{whose}: {} ({})", figure_words(figure), figure_source(figure)))
            .collect(),
    }
}

/// What order and lift were made by.
pub(super) fn settings(plan: &FoundationPlan<'_>, figures: &PlanFigures<'_>) -> Vec<SettingRow> {
    let practice: &Practice = figures.practice;
    let used = &plan.settings.sequence;
    let mut rows = vec![
        setting_row("Longest bay", length(used.largest_open), &practice.largest_open),
        setting_row(
            "Untouched bays between two open ones",
            used.least_between.to_string(),
            &practice.least_between,
        ),
        setting_row(
            "Share of the perimeter open at once",
            used.share_open.to_string(),
            &practice.share_open,
        ),
        setting_row(
            "Cure before forms are stripped",
            days(used.strip_cure),
            &practice.cure_before_strip,
        ),
        setting_row(
            "Cure before the new work carries",
            days(used.load_cure),
            &practice.cure_before_load,
        ),
        setting_row(
            "Cure before a neighbor opens",
            days(used.neighbor_cure),
            &practice.cure_before_neighbor,
        ),
        setting_row("Crews", used.crews.to_string(), &practice.crews),
        setting_row(
            "Bays a crew works in on one day",
            used.bays_a_crew.to_string(),
            &practice.bays_a_crew,
        ),
        setting_row(
            "Concrete trucks a day",
            used.trucks_a_day.to_string(),
            &practice.trucks_a_day,
        ),
    ];
    rows.extend(practice.durations.iter().map(|(activity, figure)| SettingRow {
        what: format!("Work days: {}", Activity::words(*activity)),
        used: used.durations.of(*activity).to_string(),
        source: figure_source(figure),
        others: Vec::new(),
    }));
    let lift = &plan.settings.lift;
    rows.push(SettingRow {
        what: "Pace of the lift".to_owned(),
        used: format!("{} in {} days", rise(lift.pace.rise), lift.pace.days),
        source: published(&lift.pace.published),
        others: figures
            .shoring
            .paces
            .iter()
            .filter(|pace| pace.name != lift.pace.name)
            .map(|pace| {
                format!(
                    "{}: {} in {} days ({})",
                    pace.name,
                    rise(pace.rise),
                    pace.days,
                    published(&pace.published)
                )
            })
            .collect(),
    });
    rows
}

fn cost_words(cost: CostRange) -> String {
    if cost == CostRange::ZERO {
        return String::new();
    }
    let dollars = |cents: retrofit_core::prices::Cents| grouped_dollars(cents.0);
    format!(
        "{} to {}, likely {}",
        dollars(cost.low),
        dollars(cost.high),
        dollars(cost.likely)
    )
}

#[expect(clippy::cast_precision_loss, reason = "shown to the dollar")]
fn grouped_dollars(cents: i64) -> String {
    let dollars = cents as f64 / 100.0;
    if dollars.abs() < 100.0 {
        format!("${dollars:.0}")
    } else {
        format!("${}", grouped(dollars))
    }
}

/// Quantities and cost.
pub(super) fn quantities(plan: &FoundationPlan<'_>) -> Option<QuantitiesPart> {
    let takeoff = match plan.takeoff.as_ref()? {
        Ok(takeoff) => takeoff,
        Err(error) => {
            return Some(QuantitiesPart {
                not_counted: error.to_string(),
                lines: Vec::new(),
                total_dollars: [0.0; 3],
                total: String::new(),
                notes: Vec::new(),
            });
        }
    };
    let total = takeoff.total();
    #[expect(clippy::cast_precision_loss, reason = "dollars of a job")]
    let dollars = [total.low, total.likely, total.high].map(|cents| cents.0 as f64 / 100.0);
    let mut notes: Vec<String> = takeoff.notes.iter().map(|note| (*note).to_owned()).collect();
    if !takeoff.placeholders.is_empty() {
        let items: Vec<&str> = takeoff.placeholders.iter().map(|item| item.words()).collect();
        notes.push(format!(
            "Prices without a source, which stand in for your own: {}.",
            items.join(", ")
        ));
    }
    Some(QuantitiesPart {
        not_counted: String::new(),
        lines: takeoff
            .lines
            .iter()
            .map(|line| QuantityRow {
                what: sentence_case(&line.article.to_string()),
                total: amount(&line.total),
                by_length: line
                    .parts
                    .iter()
                    .filter_map(|(piece, part)| {
                        let piece = plan.pieces.get(*piece)?;
                        Some(format!(
                            "{} from {}: {}",
                            plain(&piece.name),
                            length(piece.from),
                            amount(part)
                        ))
                    })
                    .collect(),
                because: line.article.because(),
                cost: cost_words(line.cost),
            })
            .collect(),
        total_dollars: dollars,
        total: cost_words(total),
        notes,
    })
}

fn amount(amount: &WorkAmount) -> String {
    match amount {
        WorkAmount::Pounds(pounds) => format!("{} lb", grouped(pounds.round())),
        other => other.to_string(),
    }
}

/// What the record says of the way to every length of work, and of what nobody wrote down.
pub(super) fn access(house: &House, plan: &FoundationPlan<'_>) -> Vec<String> {
    let mut notes = vec![match house.inspection.clear_height.bounds() {
        (Some(least), _) => format!("Clear height of the crawl space: {} or more.", length(*least)),
        _ => "The clear height of the crawl space is not on record.".to_owned(),
    }];
    notes.push(
        match house
            .inspection
            .access_width
            .value()
            .zip(house.inspection.access_height.value())
        {
            Some((width, height)) => format!("Way in: {} by {}.", length(*width), length(*height)),
            None => {
                "The size of the way in is not on record: soil, forms and concrete go through it.".to_owned()
            }
        },
    );
    for piece in &plan.pieces {
        let found = plan
            .decisions
            .lengths
            .iter()
            .find(|found| found.wall_line == piece.wall_line && found.from == piece.from);
        let wall = house.wall_lines.get(piece.wall_line);
        let stretch = wall
            .zip(found.and_then(|found| found.stretch))
            .and_then(|(wall, stretch)| wall.foundation.listed().get(stretch));
        let outside = stretch
            .and_then(|stretch| stretch.outside.value())
            .map(|side| side.words());
        let inside = stretch
            .and_then(|stretch| stretch.inside.value())
            .map(|side| side.words());
        notes.push(format!(
            "Wall line {}, {} to {}: outside {}; inside {}.",
            plain(&piece.name),
            length(piece.from),
            length(piece.to),
            outside.unwrap_or("not looked at"),
            inside.unwrap_or("not looked at")
        ));
    }
    notes
}

/// The steps of the work that this plan comes to, in their order.
pub(super) fn steps(plan: &FoundationPlan<'_>) -> Vec<Step> {
    let lifts = plan
        .lift
        .as_ref()
        .and_then(|lift| lift.plan.as_ref().ok())
        .is_some_and(|lift| !lift.steps.is_empty());
    let digs = !plan.sizes.is_empty();
    Step::ALL
        .iter()
        .copied()
        .filter(|step| match step {
            Step::Survey => true,
            Step::Jacking | Step::Lowering => lifts || digs,
            _ => digs,
        })
        .collect()
}

/// What must be so before a step.
pub(super) fn gates(gates: &Gates, step: Step, house: &House, deepest: Option<Length>) -> Vec<GateRow> {
    let depth = deepest.map_or_else(Observed::default, |depth| {
        Observed::bounded(Some(depth), None, Basis::Inferred)
    });
    gates
        .guarding_dug_to(step, house, &depth)
        .into_iter()
        .map(|found| GateRow {
            before: step.words().to_owned(),
            words: found.gate.words.clone(),
            surely: found.applies == Truth::True,
            defer_to: found.gate.defer_to.clone(),
            source: cited(&found.gate.document, &found.gate.section),
            standing: Standing::words(found.gate.standing),
        })
        .collect()
}
