//! Whether the floor is tied to the wall or sill below it.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::limit;
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Connection, ConnectionKind, Parts, Rim, Span};
use crate::measure::Length;
use crate::observation::{Basis, Observed, Truth};
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "floor-connection",
    group: Group::Floor,
    title: "Floor to wall",
    explanation: Explanation {
        looks_at: "What ties the floor to the wall or sill below, stretch by stretch: toenails along a rim, toenails in blocks, or framing clips.",
        why: "The push of the house comes down through the floor; where the floor only rests on the wall, it slides off the best of panels.",
        satisfied_by: "Along the whole wall line, toenails no farther apart than allowed along a rim, enough toenails in each block, or framing clips no farther apart than allowed.",
        fix: "Add framing clips between rim or blocks and the plate.",
    },
    figures: &[
        FigureName::RimToenails,
        FigureName::ToenailsPerBlock,
        FigureName::ClipSpacing,
    ],
    reads: &[
        LookAt::WallLength,
        LookAt::Rim,
        LookAt::Connections,
        LookAt::ConnectionKind,
        LookAt::ConnectionSpacing,
        LookAt::NailsPerBlock,
    ],
    run: Run::Line(check),
};

/// The three ways in which a set may ask for the floor to be tied.
#[derive(Clone, Copy)]
struct Ways {
    rim_toenails: Rule<Length>,
    toenails_per_block: Rule<u32>,
    clips: Rule<Length>,
}

impl Ways {
    fn of(line: &Line<'_>) -> Self {
        Self {
            rim_toenails: line.rule(keys::RIM_TOENAILS),
            toenails_per_block: line.rule(keys::TOENAILS_PER_BLOCK),
            clips: line.rule(keys::CLIP_SPACING),
        }
    }

    /// Puts what is asked for on a judgment: a spacing is a most, a number of nails a least.
    fn ask(judgment: Judgment, required: Quantity) -> Judgment {
        match required {
            Quantity::Count(_) => judgment.at_least(required),
            Quantity::Length(_) | Quantity::LessThan(_) => judgment.at_most(required),
            _ => judgment.required(required),
        }
    }

    /// The figures by which a stretch is judged: those of its way of tying, or all where it has none.
    fn figures_for(
        self,
        judgment: Judgment,
        connection: Option<&Connection>,
        rim: &Observed<Rim>,
    ) -> Judgment {
        match (
            connection.and_then(|connection| connection.kind.value()),
            rim.value(),
        ) {
            (Some(ConnectionKind::Clips), _) => judgment.figure_of(self.clips),
            (Some(ConnectionKind::Toenails), Some(Rim::Continuous)) => judgment.figure_of(self.rim_toenails),
            (Some(ConnectionKind::NailedBlocks), _) | (Some(ConnectionKind::Toenails), Some(_)) => {
                judgment.figure_of(self.toenails_per_block)
            }
            _ => judgment
                .figure_of(self.rim_toenails)
                .figure_of(self.toenails_per_block)
                .figure_of(self.clips),
        }
    }

    /// The judgment where the set waives the toenails, is silent, or its figures are missing.
    fn nothing_to_judge_by(self) -> Option<Judgment> {
        if let (Rule::Silent(_), Rule::Silent(_)) = (self.rim_toenails, self.toenails_per_block) {
            return Some(Judgment::not_applicable(
                "The document does not ask for the toenails of a house like this one to be verified.",
            ));
        }
        let is_given = self.rim_toenails.value().is_some()
            || self.toenails_per_block.value().is_some()
            || self.clips.value().is_some();
        if is_given {
            return None;
        }
        Some(match (self.rim_toenails, self.toenails_per_block) {
            (Rule::Missing(_), _) => without_figure(self.rim_toenails),
            (_, Rule::Missing(_)) => without_figure(self.toenails_per_block),
            _ => without_figure(self.clips),
        })
    }

    /// Whether a stretch is tied in one of the ways.
    fn tie(self, connection: &Connection, rim: &Observed<Rim>) -> Truth {
        match connection.kind.value() {
            Some(ConnectionKind::Toenails) => {
                let along_a_rim = rim.satisfies(|rim| rim == Rim::Continuous);
                let in_blocks = rim.satisfies(Rim::is_of_blocks);
                along_a_rim
                    .and(spaced(&connection.spacing, self.rim_toenails))
                    .or(in_blocks.and(self.nailed(connection)))
            }
            Some(ConnectionKind::NailedBlocks) => self.nailed(connection),
            Some(ConnectionKind::Clips) => spaced(&connection.spacing, self.clips),
            Some(ConnectionKind::None) => Truth::False,
            None => Truth::Maybe,
        }
    }

    fn nailed(self, connection: &Connection) -> Truth {
        match self.toenails_per_block {
            Rule::Given { value, .. } => connection
                .nails_per_block
                .at_least(u16::try_from(value).unwrap_or(u16::MAX)),
            _ => Truth::Maybe,
        }
    }

    /// What is asked of a stretch that is tied in its way.
    fn required(self, connection: Option<&Connection>, rim: &Observed<Rim>) -> Quantity {
        let kind = connection.and_then(|connection| connection.kind.value());
        let length = |rule: Rule<Length>| rule.value().map_or(Quantity::None, |l| limit::shown(l, rule));
        let blocks = self
            .toenails_per_block
            .value()
            .map_or(Quantity::None, Quantity::Count);
        let in_blocks = rim.value().is_some_and(|rim| rim.is_of_blocks());
        match kind {
            Some(ConnectionKind::Clips) => length(self.clips),
            Some(ConnectionKind::NailedBlocks) => blocks,
            Some(ConnectionKind::Toenails) if in_blocks => blocks,
            Some(ConnectionKind::Toenails) => length(self.rim_toenails),
            _ => Quantity::Word("toenails or clips along the whole wall line"),
        }
    }
}

/// Whether nails or clips are close enough. Where the set gives no figure for this way, whether it will do
/// is left open: that the document names another way does not make this one fail.
fn spaced(spacing: &Observed<Length>, rule: Rule<Length>) -> Truth {
    match rule {
        Rule::Given { value, .. } => limit::is_within(spacing, value, rule),
        _ => Truth::Maybe,
    }
}

fn measured(connection: &Connection, required: Quantity) -> Quantity {
    match (required, connection.nails_per_block.value()) {
        (Quantity::Count(_), Some(nails)) => Quantity::Count((*nails).into()),
        (Quantity::Count(_), None) => Quantity::None,
        (Quantity::Word(_), _) => Quantity::of_choice(&connection.kind),
        _ => Quantity::of_length(&connection.spacing),
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let ways = Ways::of(line);
    let judgment = match ways.nothing_to_judge_by() {
        Some(judgment) => ways
            .figures_for(judgment, None, &line.wall.rim)
            .about(LookAt::Connections, None),
        None => judge(line, ways),
    };
    findings.add(judgment);
}

/// How what was found of a connection is known.
fn basis(connection: &Connection, required: Quantity) -> Option<Basis> {
    let kind = connection.kind.basis();
    match required {
        Quantity::Count(_) => connection.nails_per_block.basis().max(kind),
        Quantity::Word(_) => kind,
        _ => connection.spacing.basis().max(kind),
    }
}

/// What a rule without a figure comes to.
fn without_figure<T: Copy>(rule: Rule<T>) -> Judgment {
    Judgment::by(rule, |_| Judgment::met_if(Truth::Maybe))
}

fn judge(line: &Line<'_>, ways: Ways) -> Judgment {
    let Some(connections) = line.wall.connections.value() else {
        let judgment = Judgment::met_if(Truth::Maybe)
            .fact("What ties the floor to the wall below was not recorded.")
            .about(LookAt::Connections, None)
            .required(ways.required(None, &line.wall.rim))
            .decided_by(LookAt::Connections);
        return ways.figures_for(judgment, None, &line.wall.rim);
    };
    let list_basis = line.wall.connections.basis();
    let rim = &line.wall.rim;
    let ties = || connections.iter().map(|connection| ways.tie(connection, rim));
    let bare = bare_stretch(line, connections);
    let answer = is_tied(line, ways, connections);

    let judgment = Judgment::met_if(answer).facts(
        "The floor is tied to the wall below along the whole wall line.",
        "A stretch of floor is not tied to the wall below as asked for.",
        "Whether the floor is tied to the wall below depends on something that was not seen.",
    );
    // The stretch that decides: one that surely falls short, then one without any tie, then one that is open.
    let item = ties()
        .position(|tie| tie == Truth::False)
        .or_else(|| {
            ties()
                .position(|tie| tie == Truth::Maybe)
                .filter(|_| bare.is_none())
        })
        .or_else(|| (bare.is_none() && !connections.is_empty()).then_some(0));
    let judgment = match item.and_then(|item| Some((item, connections.get(item)?))) {
        Some((item, connection)) => {
            let required = ways.required(Some(connection), rim);
            ways.figures_for(Ways::ask(judgment, required), Some(connection), rim)
                .about(LookAt::Connections, Some(item))
                .measured(measured(connection, required))
                .basis(list_basis.max(if answer == Truth::True {
                    // What is met rests on every stretch.
                    connections
                        .iter()
                        .filter_map(|other| basis(other, ways.required(Some(other), rim)))
                        .max()
                } else {
                    basis(connection, required)
                }))
                .span(Some(connection.span(line.length())))
        }
        None => ways
            .figures_for(judgment, None, rim)
            .about(LookAt::Connections, None)
            .measured(bare.map_or(Quantity::None, |(_, surely)| {
                Quantity::Word(if surely { "no connection" } else { "not seen" })
            }))
            .required(ways.required(None, rim))
            .basis(list_basis)
            .span(bare.map(|(span, _)| span)),
    };
    decided_by_what_is_open(line, ways, connections, bare.is_some(), judgment)
}

/// Whether stretches that are tied as asked for leave no part of the wall line out. Two ways of tying may lie
/// over one another, clips over old toenails for one; the better of them counts.
fn is_tied(line: &Line<'_>, ways: Ways, connections: &[Connection]) -> Truth {
    let length = line.length();
    let tied = |holds: fn(Truth) -> bool| {
        connections
            .iter()
            .filter(move |connection| holds(ways.tie(connection, &line.wall.rim)))
            .map(move |connection| connection.span(length))
    };
    let unseen = line
        .wall
        .unseen_of(Parts::Connections)
        .map(move |unseen| unseen.span(length));
    let mut possible = tied(Truth::possible).chain(unseen);
    let best = match length {
        Some(_) => line.is_covered_by(possible),
        // How far the wall line goes is not known; what is there may reach its end.
        None => possible.next().is_some(),
    };
    Truth::from_cases(best, line.is_covered_by(tied(Truth::certain)))
}

fn decided_by_what_is_open(
    line: &Line<'_>,
    ways: Ways,
    connections: &[Connection],
    is_bare: bool,
    mut judgment: Judgment,
) -> Judgment {
    let rim = &line.wall.rim;
    let open = |connection: &&Connection| ways.tie(connection, rim) == Truth::Maybe;
    for connection in connections.iter().filter(open) {
        judgment = match connection.kind.value() {
            None => judgment.decided_by(LookAt::ConnectionKind),
            Some(ConnectionKind::Toenails) if !rim.is_known() => judgment.decided_by(LookAt::Rim),
            Some(ConnectionKind::Toenails) if rim.value() == Some(&Rim::Continuous) => {
                judgment.decided_by(LookAt::ConnectionSpacing)
            }
            Some(ConnectionKind::Clips) => judgment.decided_by(LookAt::ConnectionSpacing),
            Some(_) => judgment.decided_by(LookAt::NailsPerBlock),
        };
    }
    if is_bare {
        judgment = judgment.decided_by(LookAt::Connections);
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
    }
    judgment
}

/// The first stretch of the wall line for which no connection is recorded, and whether it surely has none.
fn bare_stretch(line: &Line<'_>, connections: &[Connection]) -> Option<(Span, bool)> {
    let recorded = connections
        .iter()
        .map(|connection| connection.span(line.length()));
    if line.is_covered_by(recorded.clone()) {
        return None;
    }
    let unseen = line
        .wall
        .unseen_of(Parts::Connections)
        .map(|unseen| unseen.span(line.length()));
    // The list is complete except where it could not be seen; without a length its end is not known.
    let surely = if line.length().is_some() {
        !line.is_covered_by(recorded.clone().chain(unseen.clone()))
    } else {
        connections.is_empty() && unseen.clone().next().is_none()
    };
    let mut reached = Length::ZERO;
    let spans = || recorded.clone().chain(unseen.clone().filter(move |_| surely));
    // Each turn ends farther on, so there are no more turns than stretches.
    while let Some(next) = spans()
        .filter(|span| span.from <= reached)
        .filter_map(|span| span.to)
        .max()
        .filter(|next| *next > reached)
    {
        reached = next;
    }
    let next = spans().map(|span| span.from).filter(|from| *from > reached).min();
    Some((
        Span {
            from: reached,
            to: next.or(line.length()),
        },
        surely,
    ))
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use crate::house::Span;
    use crate::measure::Length;
    use rstest::rstest;

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "toenails", "spacing": "5 63/64 in"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "toenails", "spacing": "6 in"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "toenails", "spacing": "6 1/64 in"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "toenails"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.rim = ?; wall.connections = [{"kind": "toenails", "spacing": "6 in"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.rim = "every_bay";
            wall.connections = [{"kind": "toenails", "nails_per_block": 2}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.rim = "every_bay";
            wall.connections = [{"kind": "toenails", "nails_per_block": 3}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.rim = "alternate_and_over_panels";
            wall.connections = [{"kind": "toenails", "nails_per_block": 3}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.rim = "every_bay";
            wall.connections = [{"kind": "toenails", "nails_per_block": 4}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.rim = "every_bay"; wall.connections = [{"kind": "toenails"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "nailed_blocks", "nails_per_block": 2}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "nailed_blocks", "nails_per_block": 3}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "nailed_blocks"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "clips", "spacing": "31 63/64 in"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "clips", "spacing": "32 in"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "clips", "spacing": "32 1/64 in"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 3; wall.connections = [{"kind": "clips", "spacing": "16 in"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 3; wall.connections = [{"kind": "clips", "spacing": "16 1/64 in"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections = [{"kind": "none"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        "building.stories = 2; wall.connections = [{}]",
        NotDetermined
    )]
    fn each_way_of_tying_has_its_limit(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "floor-connection"), expected);
    }

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections.0.to = "18 ft""#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections.0.from = "6 ft""#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.connections.0.to = "18 ft";
            wall.unseen = [{"from": "18 ft", "why": "duct"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.connections.0.to = "17 ft";
            wall.unseen = [{"from": "18 ft", "why": "duct"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2;
            wall.connections.0.spacing = "40 in";
            wall.unseen = [{"from": "18 ft", "why": "duct"}]"#,
        NotMet
    )]
    #[case("cebc-a3-2013", "building.stories = 2; wall.connections = []", NotMet)]
    #[case("cebc-a3-2013", "building.stories = 2; wall.connections = ?", NotDetermined)]
    #[case("cebc-a3-2013", "building.stories = 2; wall.length = ?", Met)]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 2; wall.connections.0.to = "18 ft"; wall.length = ?"#,
        NotDetermined
    )]
    fn the_whole_wall_line_is_tied(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "floor-connection"), expected);
    }

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = 1; wall.connections = [{"kind": "none"}]"#,
        NotApplicable
    )]
    #[case(
        "la-division-92-2018",
        r#"building.stories = 1; wall.connections = [{"kind": "none"}]"#,
        NotDetermined
    )]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"building.stories = 2; wall.connections = [{"kind": "clips", "spacing": "8 in"}]"#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"building.stories = 2; wall.connections = [{"kind": "none"}]"#,
        NotApplicable
    )]
    fn what_is_not_asked_or_not_known_is_not_judged(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "floor-connection"), expected);
    }

    #[test]
    fn the_bare_stretch_is_the_one_shown() {
        let house = changed(
            r#"building.stories = 2; wall.connections = [
                {"to": "9 ft", "kind": "clips", "spacing": "16 in"},
                {"from": "13 ft", "kind": "clips", "spacing": "16 in"}]"#,
        );
        let found = findings(house, "cebc-a3-2013", "floor-connection");
        assert_eq!(found[0].span, Some(Span::new(Length::feet(9), Length::feet(13))));
        assert_eq!(found[0].measured.to_string(), "no connection");
    }
}
