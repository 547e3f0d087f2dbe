//! Whether the footing is as wide, as thick and as deep as the provisions ask.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::FoundationStretch;
use crate::measure::Length;
use crate::observation::Observed;
use crate::provisions::{FigureKey, FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "footing-size",
    group: Group::Foundation,
    title: "Size of the footing",
    explanation: Explanation {
        looks_at: "The width, thickness and depth of the footing, where the provisions give a least size.",
        why: "The panels push down and pull up at their ends; a narrow or shallow footing rocks and cracks under them.",
        satisfied_by: "A footing of at least the least width, thickness and depth along the whole wall line.",
        fix: "Widen or replace the footing, or have an engineer show that it is enough.",
    },
    figures: &[
        FigureName::MinFootingWidth,
        FigureName::MinFootingThickness,
        FigureName::MinFootingDepth,
    ],
    reads: &[
        LookAt::WallLength,
        LookAt::Foundation,
        LookAt::FootingWidth,
        LookAt::FootingThickness,
        LookAt::FootingDepth,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

/// One dimension of a footing: the figure that limits it, where it is recorded, and what is said of it.
struct Dimension {
    key: FigureKey<Length>,
    look_at: LookAt,
    of: fn(&FoundationStretch) -> &Observed<Length>,
    facts: [&'static str; 3],
}

const DIMENSIONS: [Dimension; 3] = [
    Dimension {
        key: keys::MIN_FOOTING_WIDTH,
        look_at: LookAt::FootingWidth,
        of: |stretch| &stretch.footing_width,
        facts: [
            "The footing is as wide as asked for.",
            "The footing is narrower than asked for.",
            "The width of the footing is not known along the whole wall line.",
        ],
    },
    Dimension {
        key: keys::MIN_FOOTING_THICKNESS,
        look_at: LookAt::FootingThickness,
        of: |stretch| &stretch.footing_thickness,
        facts: [
            "The footing is as thick as asked for.",
            "The footing is thinner than asked for.",
            "The thickness of the footing is not known along the whole wall line.",
        ],
    },
    Dimension {
        key: keys::MIN_FOOTING_DEPTH,
        look_at: LookAt::FootingDepth,
        of: |stretch| &stretch.footing_depth,
        facts: [
            "The footing is as deep as asked for.",
            "The footing is shallower than asked for.",
            "The depth of the footing is not known along the whole wall line.",
        ],
    },
];

fn check(line: &Line<'_>, findings: &mut Findings) {
    if DIMENSIONS
        .iter()
        .all(|dimension| line.rule(dimension.key).is_open())
    {
        // One line tells it; each dimension has its row all the same.
        let judgment = Judgment::not_applicable("No least size is given for an existing footing.");
        return findings.add(DIMENSIONS.iter().fold(judgment, |judgment, dimension| {
            judgment.figure_of(line.rule(dimension.key))
        }));
    }
    for dimension in &DIMENSIONS {
        let [met, not_met, open] = dimension.facts;
        findings.add(Judgment::by(line.rule(dimension.key), |least| {
            Stretches::of_foundation(line)
                .judge(line, met_or_not(), dimension.look_at, |stretch| {
                    let size = (dimension.of)(stretch);
                    Reading {
                        outcomes: Judgment::met_if(size.at_least(least)).outcomes(),
                        measured: Quantity::of_length(size),
                        basis: size.basis(),
                    }
                })
                .facts(met, not_met, open)
                .required(Quantity::Length(least))
        }));
    }
}
