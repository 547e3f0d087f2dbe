//! Two records of one house, before and after work, as a report shows them.

use retrofit_core::before_after::{self, Became, Came, Change, LessSaid, SaidNow};
use retrofit_core::check::{Assessment, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::Remedy;
use schemars::JsonSchema;
use serde::Serialize;

use super::sign_off::{AssumedInDesign, SignedLine};
use super::wording::{self, plain, sentence_case};
use super::{Open, ProvisionsUsed, ReportInfo, Verdict, record};

/// The version of the format of a comparison of two records.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum BeforeAfterFormat {
    /// The first published format.
    #[default]
    #[serde(rename = "before-after-1")]
    BeforeAfter1,
}

/// The same house in two records under one set of provisions: what closed, what is still open, what is newly
/// short, what the later record no longer says, and where it was asked for, what differs from the designed
/// layout.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Before and after")]
pub struct BeforeAfter {
    /// The version of this format: always `before-after-1`.
    pub format: BeforeAfterFormat,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The earlier record.
    pub before: Record,
    /// The later record.
    pub after: Record,
    /// What the house comes to by the later record. Where that does not tell of a wall line of the earlier
    /// one, it is no better than not determined, whatever the verdict on the rest is.
    pub ruling: Ruling,
    /// The answer: before and now.
    pub headline: String,
    /// How many checks closed, are short and are not determined.
    pub counts: String,
    /// What a reader must know before anything else.
    pub warnings: Vec<String>,
    /// How many checks, at how many places, came to what.
    pub tally: Vec<Tally>,
    /// The house as a whole and the wall lines, in the order of the later record.
    pub places: Vec<ChangedPlace>,
    /// What the earlier record says and the later one does not.
    pub less_said: Vec<NoLongerSaid>,
    /// What was built against what was designed for the earlier record; null where it was not asked for.
    pub designed: Option<AgainstDesign>,
    /// The set of provisions.
    pub provisions: ProvisionsUsed,
    /// To whom the reader has to turn.
    pub deferral: String,
}

/// One of the two records.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Record {
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// The verdict on what is recorded.
    pub verdict: Verdict,
}

/// How many checks came to the same.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Tally {
    /// What became of them.
    pub became: Became,
    /// The same in words.
    pub words: String,
    /// How many.
    pub count: usize,
}

/// The changes at one place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChangedPlace {
    /// The house or the wall line.
    pub name: String,
    /// Which records tell of it.
    pub told_in: ToldIn,
    /// The verdict by the earlier record.
    pub before: Option<Verdict>,
    /// The verdict by the later record.
    pub after: Option<Verdict>,
    /// What it comes to now: the verdict by the later record, and no better than not determined where what
    /// fell short could not be seen again.
    pub ruling: Option<Ruling>,
    /// The same in words.
    pub ruling_words: Option<String>,
    /// Whether a reader has to know of any of its checks.
    pub worth_telling: bool,
    /// What became of each check.
    pub changes: Vec<ChangedCheck>,
}

/// Which records tell of a wall line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ToldIn {
    /// Both.
    Both,
    /// The earlier one only.
    Before,
    /// The later one only.
    After,
}

/// One check, before and after.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChangedCheck {
    /// The name of the check.
    pub check: String,
    /// The title of the check.
    pub title: String,
    /// What became of it.
    pub became: Became,
    /// The same in words.
    pub became_words: String,
    /// Whether a reader has to know: it changed, it falls short or it is open. What is met where there was
    /// nothing to look at before goes without saying.
    pub worth_telling: bool,
    /// What it came to by the earlier record.
    pub before: Option<CameTo>,
    /// What it came to by the later record.
    pub after: Option<CameTo>,
    /// The observations that would decide it now.
    pub decided_by: Vec<Open>,
}

/// What a check came to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CameTo {
    /// The ruling.
    pub ruling: Ruling,
    /// The ruling in words.
    pub ruling_words: String,
    /// What was found, in a sentence.
    pub fact: String,
    /// The value found.
    pub measured: Option<String>,
    /// The value asked for.
    pub required: Option<String>,
    /// Where along the wall line; null for all of it.
    pub station: Option<String>,
    /// What there is to tell, in short: the value found, the fact, or the ruling alone.
    pub shown: String,
}

/// An observation that the later record no longer makes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NoLongerSaid {
    /// The wall line; null for the house as a whole.
    pub wall_line: Option<String>,
    /// Its path in the earlier house file.
    pub path: String,
    /// What the earlier record says.
    pub said: String,
    /// What the later record says instead.
    pub now: String,
}

/// What was built, against what was designed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AgainstDesign {
    /// What the design took as given where the earlier record was open.
    pub assumptions: Vec<AssumedInDesign>,
    /// The wall lines, in the order of the earlier record.
    pub wall_lines: Vec<SignedLine>,
}

impl BeforeAfter {
    /// Puts a comparison into words; the remedy is the one designed for the earlier record.
    pub fn new(
        compared: &before_after::BeforeAfter<'_>,
        remedy: Option<&Remedy>,
        before: &ReportInfo,
        after: &ReportInfo,
    ) -> Self {
        let (earlier, later) = (&compared.before, &compared.after);
        let provisions = later.provisions;
        let mut warnings = record::warnings(later.house, provisions);
        if earlier.house.name != later.house.name {
            warnings.push(
                "The two records name different houses; wall lines are compared by their names all the same."
                    .to_owned(),
            );
        }
        let places: Vec<ChangedPlace> = compared
            .places
            .iter()
            .map(|place| changed_place(compared, *place))
            .collect();
        let left_out: Vec<&str> = places
            .iter()
            .filter(|place| place.told_in == ToldIn::Before)
            .map(|place| place.name.as_str())
            .collect();
        if !left_out.is_empty() {
            warnings.push(format!(
                "The later record does not tell of every wall line of the earlier one: {}. What fell short there \
                 counts as open, not as closed.",
                left_out.join(", ")
            ));
        }
        let new_here: Vec<&str> = places
            .iter()
            .filter(|place| place.told_in == ToldIn::After)
            .map(|place| place.name.as_str())
            .collect();
        if !new_here.is_empty() {
            warnings.push(format!(
                "The earlier record does not tell of every wall line of the later one: {}. What falls short there is \
                 in the answer, and not in the number of checks. If it has another name in the earlier record, give \
                 it the same one in both.",
                new_here.join(", ")
            ));
        }
        Self {
            format: BeforeAfterFormat::BeforeAfter1,
            program_version: plain(&after.program_version),
            before: Record::of(earlier, before),
            after: Record::of(later, after),
            ruling: compared.ruling(),
            headline: headline(compared),
            counts: counts(compared),
            warnings,
            tally: tally(compared),
            places,
            less_said: compared
                .less_said
                .iter()
                .map(|less| no_longer_said(less, earlier))
                .collect(),
            designed: remedy.map(|remedy| AgainstDesign::new(remedy, compared)),
            provisions: ProvisionsUsed::of(provisions),
            deferral: wording::DEFERRAL_BEFORE_AFTER.to_owned(),
        }
    }
}

impl Record {
    fn of(assessment: &Assessment<'_>, info: &ReportInfo) -> Self {
        Self {
            input_file: plain(&info.input_file),
            input_sha256: plain(&info.input_sha256),
            house: plain(&assessment.house.name),
            verdict: Verdict::of(&assessment.verdict, assessment),
        }
    }
}

fn headline(compared: &before_after::BeforeAfter<'_>) -> String {
    let before = sentence_case(compared.before.verdict.ruling().words());
    format!("{before} before, {} now", compared.ruling().words())
}

fn counts(compared: &before_after::BeforeAfter<'_>) -> String {
    let count = |became: &[Became]| {
        let changes = compared.changes.iter();
        changes.filter(|change| became.contains(&change.became)).count()
    };
    let short = [Became::StillShort, Became::NewlyShort, Became::FoundShort];
    let open = [Became::NoLongerDetermined, Became::StillNotDetermined];
    let checks = |count: usize, words: &str| match count {
        1 => format!("1 check {words}"),
        count => format!("{count} checks {words}"),
    };
    format!(
        "{}, {}, {}.",
        checks(count(&[Became::Closed]), "closed"),
        checks(count(&short), "short"),
        checks(count(&open), "not determined"),
    )
}

fn tally(compared: &before_after::BeforeAfter<'_>) -> Vec<Tally> {
    let all = Became::ALL.iter().map(|became| Tally {
        became: *became,
        words: became.words().to_owned(),
        count: (compared.changes.iter().filter(|change| change.became == *became)).count(),
    });
    all.filter(|tally| tally.count > 0).collect()
}

fn changed_place(compared: &before_after::BeforeAfter<'_>, place: before_after::Place) -> ChangedPlace {
    use before_after::Place;
    let (earlier, later) = (&compared.before, &compared.after);
    let line = |assessment: &Assessment<'_>, index: usize| {
        let verdict = assessment.wall_lines.get(index)?;
        Some(Verdict::of(verdict, assessment))
    };
    let changes: Vec<ChangedCheck> = compared
        .changes_at(place)
        .map(|change| changed_check(change, later.provisions))
        .collect();
    let name = |assessment: &Assessment<'_>, index: usize| wall_line_name(assessment, index);
    let (name, told_in, before, after) = match place {
        Place::House => (
            "the house".to_owned(),
            ToldIn::Both,
            Some(Verdict::of(&earlier.verdict, earlier)),
            Some(Verdict::of(&later.verdict, later)),
        ),
        Place::WallLine { before, after } => (
            name(later, after),
            ToldIn::Both,
            line(earlier, before),
            line(later, after),
        ),
        Place::OnlyBefore(index) => (name(earlier, index), ToldIn::Before, line(earlier, index), None),
        Place::OnlyAfter(index) => (name(later, index), ToldIn::After, None, line(later, index)),
    };
    let ruling = compared.ruling_at(place);
    let ruling_words = match (ruling, &after) {
        (Some(ruling), Some(verdict)) if ruling == verdict.ruling => Some(verdict.headline.clone()),
        (ruling, _) => ruling.map(|ruling| sentence_case(ruling.words())),
    };
    ChangedPlace {
        ruling,
        ruling_words,
        name,
        told_in,
        before,
        after,
        worth_telling: changes.iter().any(|change| change.worth_telling),
        changes,
    }
}

/// The name of a wall line, fit to print.
pub(super) fn wall_line_name(assessment: &Assessment<'_>, index: usize) -> String {
    let wall = assessment.house.wall_lines.get(index);
    wall.map(|wall| plain(&wall.name)).unwrap_or_default()
}

fn changed_check(change: &Change, provisions: &Provisions) -> ChangedCheck {
    let had_nothing = change
        .before
        .is_some_and(|came| came.ruling == Ruling::NotApplicable);
    let is_quiet = match change.became {
        Became::StillMet | Became::StillNotAsked => true,
        Became::NewlyMet => had_nothing,
        _ => false,
    };
    let finding = change.after.and_then(|came| came.finding);
    ChangedCheck {
        check: change.check.name.to_owned(),
        title: change.check.title.to_owned(),
        became: change.became,
        became_words: change.became.words().to_owned(),
        worth_telling: !is_quiet,
        before: change.before.map(|came| came_to(&came, provisions)),
        after: change.after.map(|came| came_to(&came, provisions)),
        decided_by: finding
            .iter()
            .flat_map(|finding| {
                finding.deciding.iter().map(|look_at| Open {
                    what: look_at.words().to_owned(),
                    path: look_at.path(finding.wall_line, None),
                })
            })
            .collect(),
    }
}

fn came_to(came: &Came, provisions: &Provisions) -> CameTo {
    let finding = came.finding;
    let measured = finding.and_then(|finding| wording::quantity(finding.measured, provisions));
    let fact = finding.map_or("", |finding| finding.fact).to_owned();
    let ruling_words = came.ruling.words().to_owned();
    let shown = match (&measured, came.ruling) {
        (Some(measured), _) => measured.clone(),
        (None, Ruling::NotMet | Ruling::Outside) if !fact.is_empty() => fact.trim_end_matches('.').to_owned(),
        _ => ruling_words.clone(),
    };
    CameTo {
        ruling: came.ruling,
        ruling_words,
        fact,
        measured,
        required: finding.and_then(|one| wording::required(one.required, one.limit, provisions)),
        station: finding.and_then(|finding| finding.span).map(wording::span),
        shown,
    }
}

fn no_longer_said(less: &LessSaid, earlier: &Assessment<'_>) -> NoLongerSaid {
    NoLongerSaid {
        wall_line: less.wall_line.map(|index| wall_line_name(earlier, index)),
        path: plain(&less.path),
        said: plain(&less.said),
        now: match &less.now {
            SaidNow::Nothing => "not recorded".to_owned(),
            SaidNow::Unknown(why) => format!("not known: {}", plain(why)),
            SaidNow::Bounds(bounds) => format!("only {}", plain(bounds)),
            SaidNow::Unseen(why) => format!("could not be seen: {}", plain(why)),
        },
    }
}

impl AgainstDesign {
    fn new(remedy: &Remedy, compared: &before_after::BeforeAfter<'_>) -> Self {
        Self {
            assumptions: remedy
                .assumptions
                .iter()
                .map(|assumption| AssumedInDesign::of(assumption, &compared.before))
                .collect(),
            wall_lines: retrofit_core::sign_off::sign_off(remedy, compared.after.house)
                .iter()
                .map(|line| SignedLine::of(line, compared))
                .collect(),
        }
    }
}
