//! One number of a foundation plan with everything behind it.

use retrofit_core::choice::nearest;
use retrofit_core::foundation::loads::{Ends, Loads};
use retrofit_core::foundation::new_work::{Wall, Work};
use retrofit_core::foundation::plan::FoundationPlan;
use retrofit_core::foundation::shoring::Arrangement;
use retrofit_core::house::House;
use retrofit_core::provisions::{Standing, cited};
use retrofit_core::screen::{PLF, POUND};
use schemars::JsonSchema;
use serde::Serialize;
use thiserror::Error;

use super::SizeRow;
use super::rows::{self, grouped};
use super::sizes;
use crate::result::wording::{length, plain, sentence_case};
use crate::survey::signed;

/// Which number of a plan is asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AskedOfPlan {
    /// Its name.
    pub name: String,
    /// The wall line, where there are several of it.
    pub wall: Option<String>,
    /// The entry of posts, from 1.
    pub posts: Option<usize>,
    /// The jack, by the label of its reading.
    pub jack: Option<String>,
}

/// What has to be named with a number.
#[derive(Clone, Copy, PartialEq, Eq)]
enum With {
    Wall,
    Posts,
    Jack,
}

impl With {
    const fn option(self) -> &'static str {
        match self {
            Self::Wall => "--wall",
            Self::Posts => "--posts",
            Self::Jack => "--jack",
        }
    }
}

/// The numbers, each with what it is.
const NUMBERS: [(&str, &str, With); 6] = [
    (
        "line-load",
        "what the house brings to a foot of a wall line",
        With::Wall,
    ),
    (
        "footing-width",
        "width of the new footing of a wall line",
        With::Wall,
    ),
    (
        "shoring-load",
        "what comes down on the temporary supports of a wall line",
        With::Wall,
    ),
    (
        "post-load",
        "what comes down on a post, beside what pad and post carry",
        With::Posts,
    ),
    ("girder", "least girder over posts", With::Posts),
    ("lift-step", "how far a place is lifted, step by step", With::Jack),
];

/// Why a number of a plan cannot be explained.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PlanExplainError {
    /// There is no number of this name.
    #[error("found {found:?}; expected a number of a foundation plan{hint}")]
    Name {
        /// What was asked for.
        found: String,
        /// The nearest name.
        hint: String,
    },
    /// Something has to be named.
    #[error("{name} is one of several; name one with {option}: {names}")]
    NotNamed {
        /// The number.
        name: String,
        /// The option.
        option: &'static str,
        /// What there is.
        names: String,
    },
    /// There is nothing of this name.
    #[error("{option}: found {found:?}; expected one of {names}")]
    NotThere {
        /// The option.
        option: &'static str,
        /// What was asked for.
        found: String,
        /// What there is.
        names: String,
    },
    /// The plan has no such number here.
    #[error("{name}: {why}")]
    NotPlanned {
        /// The number.
        name: String,
        /// Why.
        why: String,
    },
}

/// A number of a plan with everything behind it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Derivation of a number of a foundation plan")]
pub struct PlanExplanation {
    /// The name of the house.
    pub house: String,
    /// What the number is.
    pub title: String,
    /// What it rests on, each after those it uses.
    pub steps: Vec<ExplainedStep>,
}

/// One number on the way.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ExplainedStep {
    /// What it is.
    pub what: String,
    /// How much.
    pub value: String,
    /// How it comes about, in words and figures; empty where it is read off a table or the record.
    pub how: String,
    /// Where it comes from; empty where it is only computed.
    pub source: String,
    /// How well that was seen; empty where it is only computed.
    pub standing: &'static str,
}

impl ExplainedStep {
    fn new(what: impl Into<String>, value: impl Into<String>, how: impl Into<String>) -> Self {
        Self {
            what: sentence_case(&what.into()),
            value: value.into(),
            how: how.into(),
            source: String::new(),
            standing: "",
        }
    }

    fn from(mut self, document: &str, section: &str, standing: Standing) -> Self {
        self.source = cited(document, section);
        self.standing = standing.words();
        self
    }

    fn of_size(row: SizeRow) -> Self {
        Self {
            what: sentence_case(&row.what),
            value: row.value,
            how: String::new(),
            source: row.source,
            standing: row.standing,
        }
    }
}

/// The names of everything of a plan that can be explained: of each, what it is and what has to be named with it.
pub fn explainable() -> impl Iterator<Item = (&'static str, &'static str, &'static str)> {
    NUMBERS
        .into_iter()
        .map(|(name, words, with)| (name, words, with.option()))
}

/// The name of a number of a plan that is nearest to one that is none.
pub fn nearest_name(name: &str) -> Option<&'static str> {
    nearest(name, NUMBERS.iter().map(|(name, _, _)| *name))
}

/// A number of a plan with everything behind it.
pub fn explain(
    house: &House,
    plan: &FoundationPlan<'_>,
    asked: &AskedOfPlan,
) -> Result<PlanExplanation, PlanExplainError> {
    let Some((name, words, with)) = NUMBERS.iter().find(|(name, _, _)| *name == asked.name) else {
        let found: String = asked.name.chars().take(60).collect();
        let hint =
            nearest_name(&asked.name).map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
        return Err(PlanExplainError::Name { found, hint });
    };
    let at = At { house, plan, name };
    let (of, steps) = match *with {
        With::Wall => {
            let wall = at.wall(asked.wall.as_deref())?;
            let steps = match *name {
                "line-load" => at.line_load(wall),
                "footing-width" => at.footing_width(wall)?,
                _ => at.shoring_load(wall)?,
            };
            (format!("wall line {}", at.wall_name(wall)), steps)
        }
        With::Posts => {
            let posts = at.posts(asked.posts)?;
            let steps = if *name == "girder" {
                at.girder(posts)?
            } else {
                at.post_load(posts)
            };
            (format!("posts of entry {}", posts + 1), steps)
        }
        With::Jack => {
            let (label, steps) = at.lift_step(asked.jack.as_deref())?;
            (format!("jack {label}"), steps)
        }
    };
    Ok(PlanExplanation {
        house: plain(&house.name),
        title: format!("{}, {of}", sentence_case(words)),
        steps,
    })
}

/// A plan that is asked for one of its numbers.
struct At<'a> {
    house: &'a House,
    plan: &'a FoundationPlan<'a>,
    name: &'static str,
}

type Steps = Result<Vec<ExplainedStep>, PlanExplainError>;

impl At<'_> {
    fn not_planned(&self, why: impl Into<String>) -> PlanExplainError {
        PlanExplainError::NotPlanned {
            name: self.name.to_owned(),
            why: why.into(),
        }
    }

    /// The place of what was named among what there is.
    fn choose(
        &self,
        option: &'static str,
        asked: Option<&str>,
        names: &[String],
    ) -> Result<usize, PlanExplainError> {
        let all = names.join(", ");
        match asked {
            // Where there is one, it needs no name.
            None if names.len() == 1 => Ok(0),
            None => Err(PlanExplainError::NotNamed {
                name: self.name.to_owned(),
                option,
                names: all,
            }),
            Some(asked) => {
                names
                    .iter()
                    .position(|name| name == asked)
                    .ok_or_else(|| PlanExplainError::NotThere {
                        option,
                        found: asked.chars().take(60).collect(),
                        names: all,
                    })
            }
        }
    }

    fn wall(&self, asked: Option<&str>) -> Result<usize, PlanExplainError> {
        let names: Vec<String> = self
            .house
            .wall_lines
            .iter()
            .map(|wall| plain(&wall.name))
            .collect();
        self.choose(With::Wall.option(), asked, &names)
    }

    fn wall_name(&self, wall: usize) -> String {
        let wall = self.house.wall_lines.get(wall);
        wall.map(|wall| plain(&wall.name)).unwrap_or_default()
    }

    fn posts(&self, asked: Option<usize>) -> Result<usize, PlanExplainError> {
        let names: Vec<String> = (1..=self.house.posts.listed().len())
            .map(|number| number.to_string())
            .collect();
        if names.is_empty() {
            return Err(self.not_planned("no posts are on record"));
        }
        let asked = asked.map(|number| number.to_string());
        self.choose(With::Posts.option(), asked.as_deref(), &names)
    }

    fn line_load(&self, wall: usize) -> Vec<ExplainedStep> {
        let loads = self.plan.loads.wall_lines.get(wall);
        loads
            .map(|loads| load_steps(loads, |(low, high)| (low.to(PLF), high.to(PLF)), "plf"))
            .unwrap_or_default()
    }

    fn footing_width(&self, wall: usize) -> Steps {
        let mut steps = Vec::new();
        for sized in &self.plan.sizes {
            let Some(found) = self.plan.decision(sized).filter(|found| found.wall_line == wall) else {
                continue;
            };
            if steps.is_empty() {
                steps = self.line_load(wall);
            }
            let to = found.to.map_or_else(|| "the end".to_owned(), length);
            let place = format!("{} to {to}", length(found.from));
            match &sized.size {
                Ok(size) => match &size.work {
                    Work::Wall(wall) => steps.extend(width_steps(wall, &place)),
                    Work::Cap(_) => steps.push(ExplainedStep::new(
                        format!("footing, {place}"),
                        "none",
                        "a cap lies on the old wall and has no footing of its own",
                    )),
                },
                Err(error) => steps.push(ExplainedStep::new(
                    format!("footing, {place}"),
                    "not sized",
                    error.to_string(),
                )),
            }
        }
        if steps.is_empty() {
            return Err(self.not_planned(format!(
                "wall line {} gets no new footing in this plan",
                self.wall_name(wall)
            )));
        }
        Ok(steps)
    }

    fn shoring_load(&self, wall: usize) -> Steps {
        let line = self.plan.shoring.iter().find(|line| line.wall_line == wall);
        let line = line
            .filter(|line| !line.shoring.schemes.is_empty())
            .ok_or_else(|| {
                self.not_planned(format!(
                    "nothing holds up wall line {} in this plan",
                    self.wall_name(wall)
                ))
            })?;
        let mut steps = self.line_load(wall);
        for scheme in &line.shoring.schemes {
            let load = grouped(scheme.line_load.round());
            let (way, how) = match scheme.arrangement {
                Arrangement::CarryingBeam => (
                    "carrying beam",
                    format!(
                        "{load} plf, times {:.3} since the beam stands inside the wall, over {} from support to support; \
                         an inner support of a beam that runs on takes five quarters of that, an end half (statics)",
                        scheme.lever,
                        length(scheme.span)
                    ),
                ),
                Arrangement::Needles => (
                    "needle beams",
                    format!("{load} plf over the stretch of each beam, half of it on either support"),
                ),
            };
            // Supports beside each other that carry the same are told once.
            for alike in scheme.supports.chunk_by(|a, b| (a.load - b.load).abs() < 0.5) {
                let labels: Vec<&str> = alike.iter().map(|support| support.label.as_str()).collect();
                let load = alike.first().map_or(0.0, |support| support.load);
                steps.push(ExplainedStep::new(
                    format!("{way}: support {}", labels.join(", ")),
                    format!("{} lb", grouped(load.round())),
                    how.clone(),
                ));
            }
            steps.extend(
                rows::scheme_row(scheme)
                    .checks
                    .into_iter()
                    .map(|check| ExplainedStep {
                        what: sentence_case(&format!("{}: {}", check.what, check.of)),
                        value: format!("{:.2}", check.ratio),
                        how: format!("{} beside the published {}", check.load, check.figure),
                        source: check.source,
                        standing: check.standing,
                    }),
            );
            steps.push(ExplainedStep::new(
                "what has to go with it",
                scheme.asks_for_design,
                "",
            ));
        }
        Ok(steps)
    }

    fn post_load(&self, posts: usize) -> Vec<ExplainedStep> {
        let loads = self.plan.loads.posts.get(posts);
        let mut steps = loads
            .map(|loads| load_steps(loads, |(low, high)| (low.to(POUND), high.to(POUND)), "lb"))
            .unwrap_or_default();
        for sized in self.plan.piers.iter().filter(|sized| sized.posts == posts) {
            match &sized.size {
                Ok(pier) => {
                    steps.extend(sizes::pier_rows(pier).into_iter().map(ExplainedStep::of_size));
                    if let Some(post) = pier.post {
                        steps.push(ExplainedStep::new(
                            "load over what the post can carry",
                            format!("{:.2}", post.load_over_capacity),
                            format!(
                                "the most that comes down over {} lb of a {}x{}",
                                grouped(post.capacity),
                                post.name.0,
                                post.name.1
                            ),
                        ));
                    }
                }
                Err(error) => steps.push(ExplainedStep::new("pad", "not sized", error.to_string())),
            }
        }
        steps
    }

    fn girder(&self, posts: usize) -> Steps {
        let mut steps = load_steps(
            &self.plan.loads.girder,
            |(low, high)| (low.to(PLF), high.to(PLF)),
            "plf",
        );
        let over = |girders: &&retrofit_core::foundation::plan::SizedGirders| girders.posts.contains(&posts);
        let girders = self.plan.girders.iter().find(over);
        let girders = girders.ok_or_else(|| self.not_planned("the load on a girder is not determined"))?;
        steps.extend(
            girders
                .spans
                .iter()
                .map(|span| ExplainedStep::of_size(sizes::girder_row(span))),
        );
        Ok(steps)
    }

    fn lift_step(&self, asked: Option<&str>) -> Result<(String, Vec<ExplainedStep>), PlanExplainError> {
        let lift = self.plan.lift.as_ref();
        let lift = lift.ok_or_else(|| self.not_planned("no floor level survey is on record"))?;
        let lift = lift
            .plan
            .as_ref()
            .map_err(|error| self.not_planned(error.to_string()))?;
        let names: Vec<String> = lift.jacks.iter().map(|jack| plain(&jack.label)).collect();
        let number = self.choose(With::Jack.option(), asked, &names)?;
        let (Some(jack), Some(label)) = (lift.jacks.get(number), names.get(number)) else {
            return Err(self.not_planned("no such jack"));
        };
        let settings = &lift.settings;
        let pace = &settings.pace;
        let mut steps = vec![
            ExplainedStep::new("floor now", signed(jack.now), "by the latest survey, corrected"),
            ExplainedStep::new("wanted", signed(jack.target), rows::target_words(settings.target)),
            ExplainedStep::new(
                "lift in all",
                length(jack.lift),
                format!(
                    "from now to wanted, in whole {}; a place within {} is left as it is",
                    length(settings.grid),
                    length(settings.tolerance)
                ),
            ),
            ExplainedStep::new(
                "most in a step",
                length(settings.largest_step),
                format!("and {} between two neighbors", length(settings.neighbor_step)),
            ),
            ExplainedStep::new(
                "pace",
                format!("{} in {} days", rows::rise(pace.rise), pace.days),
                format!("published practice {:?}; practice disagrees", pace.name),
            )
            .from(
                &pace.published.document,
                &pace.published.section,
                pace.published.standing,
            ),
        ];
        for (done, step) in (1..).zip(&lift.steps) {
            let rise = step.rises.get(number).copied().unwrap_or_default();
            if rise > retrofit_core::measure::Length::ZERO {
                let total = lift
                    .totals_after(number + 1)
                    .get(number)
                    .copied()
                    .unwrap_or_default();
                steps.push(ExplainedStep::new(
                    format!("step {done}, day {}", step.day),
                    length(rise),
                    format!("{} in all", length(total)),
                ));
            }
        }
        Ok((label.clone(), steps))
    }
}

/// The parts of a load and their sum.
fn load_steps<L: Copy>(
    loads: &Loads<L>,
    in_pounds: impl Fn(Ends<L>) -> (f64, f64),
    sign: &str,
) -> Vec<ExplainedStep> {
    let range = |ends: Ends<L>| {
        let (low, high) = in_pounds(ends);
        let (low, high) = (grouped(low.round()), grouped(high.round()));
        if low == high {
            format!("{low} {sign}")
        } else {
            format!("{low} to {high} {sign}")
        }
    };
    let mut steps: Vec<ExplainedStep> = loads
        .parts
        .iter()
        .map(|part| {
            let open = if part.open.is_empty() {
                String::new()
            } else {
                format!("left open by {}", part.open.join("; "))
            };
            ExplainedStep {
                source: part.sources.join("; "),
                standing: part.standing.words(),
                ..ExplainedStep::new(part.words, range((part.low, part.high)), open)
            }
        })
        .collect();
    match loads.total() {
        Some(ends) => steps.push(ExplainedStep::new(
            "together",
            range(ends),
            "the parts added up; what is sized goes by the most",
        )),
        None => steps.extend(
            loads
                .not_determined
                .iter()
                .map(|reason| ExplainedStep::new("together", "not determined", reason.to_string())),
        ),
    }
    steps
}

/// How a footing came by its width.
fn width_steps(wall: &Wall, place: &str) -> Vec<ExplainedStep> {
    let footing = &wall.footing;
    let mut steps = Vec::new();
    if let Some(by) = &footing.by_load {
        let bearing = &by.bearing_psf;
        steps.push(
            ExplainedStep::new(
                format!("what the soil carries, {place}"),
                format!("{} psf", grouped(bearing.value)),
                "",
            )
            .from(
                &bearing.source.document,
                &bearing.source.section,
                bearing.source.standing,
            ),
        );
        steps.push(ExplainedStep::new(
            "weight of footing and stem at the width taken",
            format!("{} plf", grouped(by.own_plf)),
            "",
        ));
        steps.push(ExplainedStep::new(
            "width by the load",
            length(by.width),
            format!(
                "({} plf + {} plf) over {} psf, up to the next whole inch",
                grouped(by.load.high),
                grouped(by.own_plf),
                grouped(bearing.value)
            ),
        ));
    }
    for by in &footing.by_table {
        let from = &by.width.source;
        steps.push(
            ExplainedStep::new(
                format!("width by the table, stories: {}", by.stories),
                length(by.width.value),
                "",
            )
            .from(&from.document, &from.section, from.standing),
        );
    }
    let least = &footing.projection_least;
    steps.push(
        ExplainedStep::new(
            format!("width taken, {place}"),
            length(footing.width),
            format!(
                "the widest of these, and no less than the stem wall of {} with a projection of {}",
                length(wall.section.stem_thickness),
                length(least.value)
            ),
        )
        .from(
            &least.source.document,
            &least.source.section,
            least.source.standing,
        ),
    );
    steps
}
