//! The page of a ranked portfolio: what it comes to, for whoever decides where the money goes.

use retrofit_core::check::Ruling;
use retrofit_core::choice::Choice;

use super::amount::{count, money, number};
use super::chart;
use super::map::Tier;
use super::summary::{GroupRow, RankingSummary, SensitivityRow};
use crate::document::{Answer, Cell, Document, Part, Table};
use crate::result::ReportInfo;
use crate::result::wording::{CAUTIONS, sentence_case};

/// To whom the reader of a portfolio has to turn.
const DEFERRAL: &str = "A place in this list is a reason to look, and no finding about any one house. Nothing here says that \
    a house is safe, or that it is not. The local code official decides what is required, and a licensed engineer has to \
    design what lies outside the prescriptive provisions.";

/// How many groups of a column a page shows; the rest stand together in one row.
const MOST_GROUPS: usize = 40;

/// How many points of the curve stand in its table.
const POINTS: usize = 10;

impl RankingSummary {
    /// The portfolio as a page.
    pub fn document(&self) -> Document {
        let info = ReportInfo {
            program_version: self.program_version.clone(),
            input_file: self.input.file.display().to_string(),
            input_sha256: self.input.blake3.clone(),
        };
        let name = self.input.file.file_stem().unwrap_or(self.input.file.as_os_str());
        let mut page = Document::new(
            "Portfolio of houses, ranked; not a forecast",
            &name.to_string_lossy(),
            self.answer(),
            DEFERRAL,
            &info,
        );
        "BLAKE3".clone_into(&mut page.fingerprint_by);
        page.head = self.head();
        page.warnings = self.warnings();
        page.section(
            "verdicts",
            "What was found, and what nobody looked at",
            self.verdict_parts(),
        );
        page.section("map", "Where the houses stand", self.map_parts());
        page.section("budget", "What a budget avoids", self.budget_parts());
        page.section("groups", "By era and by group", self.group_parts());
        page.section("looks", "What to look at next", self.look_parts());
        page.section(
            "reliance",
            "How far the list can be relied on",
            self.reliance_parts(),
        );
        page.section("costs", "What the costs rest on", self.cost_parts());
        page.section("data", "What the table did not tell", self.data_parts());
        page.section("method", "How it was come by", self.method_parts());
        page.section(
            "cautions",
            "Before anyone goes under a house",
            [Part::list(CAUTIONS.iter().map(|caution| (*caution).to_owned()))],
        );
        "Method: as told under \"How it was come by\". Money is in whole dollars; losses are those of one earthquake, with the \
         shaking told or assumed for each site, by proxy curves."
            .clone_into(&mut page.method);
        page
    }

    fn head(&self) -> Vec<(String, String)> {
        let settings = &self.settings;
        let money_or =
            |dollars: Option<f64>, otherwise: &str| dollars.map_or_else(|| otherwise.to_owned(), money);
        [
            ("Houses", number(self.all.houses)),
            (
                "Budget",
                money_or(settings.budget, "as long as a dollar avoids a dollar"),
            ),
            (
                "Most for one house",
                money_or(settings.grant_cap, "its whole cost"),
            ),
            ("Provisions", settings.provisions_document.clone()),
            (
                "Draws",
                format!("{} with seed {}", number(settings.draws as u64), settings.seed),
            ),
        ]
        .map(|(label, value)| (label.to_owned(), value))
        .into()
    }

    fn answer(&self) -> Answer {
        let all = &self.all;
        let headline = format!(
            "{} of {} are reached",
            number(all.funded),
            count(all.houses, "house")
        );
        let inferred = self.data_quality.not_looked_at;
        Answer {
            // A ranking is no verdict on anything.
            mark: Ruling::NotApplicable,
            headline,
            meaning: format!(
                "{} pay for work that avoids {} of loss, should the shaking come to each site that is told or assumed for it; \
                 all houses together could avoid {}. At the end of the money a dollar avoids {}. Nobody looked under {} of \
                 the {}: their places are inferred.",
                money(all.paid),
                money(all.avoided),
                money(all.avoidable),
                cents(self.cut_line),
                number(inferred),
                count(all.houses, "house"),
            ),
        }
    }

    fn warnings(&self) -> Vec<String> {
        let (all, quality) = (self.all.houses, &self.data_quality);
        let left_out = match self.input.bad_rows {
            0 => None,
            1 => Some("1 row could not be read and is left out.".to_owned()),
            rows => Some(format!(
                "{} rows could not be read and are left out.",
                number(rows)
            )),
        };
        let assumed = [
            (
                quality.shaking_assumed,
                "have no shaking of their own; it is assumed",
            ),
            (quality.value_assumed, "have no value of their own; it is assumed"),
        ]
        .into_iter()
        .filter(|(houses, _)| *houses > 0)
        .map(|(houses, what)| format!("{} of {} {what}.", number(houses), count(all, "house")));
        let placeholders = self.costs.prices_are_placeholders.then(|| {
            "Every unit price behind the costs is a placeholder. Put in your own before money hangs on this list.".to_owned()
        });
        let repeated = match self.data_quality.repeated_ids.ids {
            0 => None,
            1 => Some("1 id stands in more than one row.".to_owned()),
            ids => Some(format!("{} ids stand in more than one row.", number(ids))),
        };
        left_out
            .into_iter()
            .chain(placeholders)
            .chain(assumed)
            .chain(repeated)
            .collect()
    }

    fn verdict_parts(&self) -> Vec<Part> {
        let verdicts = group_table(
            "Houses by verdict; of those that somebody looked under, by every prescriptive check",
            "Verdict",
            self.verdicts.iter().map(|row| (row, ruling_of(&row.name))),
        );
        let deficiencies = group_table(
            "Houses that fall short or lie outside the provisions, by the deficiency to begin with",
            "Deficiency",
            self.deficiencies.iter().map(|row| (&row.group, None)),
        );
        let evidence = group_table(
            "Houses by how much was seen of them",
            "Evidence",
            self.evidence.iter().map(|row| (row, None)),
        );
        [verdicts, deficiencies, evidence].into_iter().flatten().collect()
    }

    fn map_parts(&self) -> Vec<Part> {
        let without = self.map.without_place;
        let mut parts = Vec::new();
        if let Some(svg) = chart::map(&self.map) {
            let each = if self.map.cell_degrees == 0.0 {
                "Each mark is a house, or houses at one place.".to_owned()
            } else {
                format!(
                    "Too many houses to tell apart: each mark stands for all houses of a cell of {}° a side, by what most of \
                     them come to. Its area goes with their number.",
                    self.map.cell_degrees
                )
            };
            parts.push(Part::Chart {
                svg,
                caption: format!(
                    "{each} North is up; no streets are drawn, since nothing is fetched from a network."
                ),
                key: [
                    (Tier::Funded, "the budget reaches it"),
                    (Tier::BeyondBudget, "beyond the budget"),
                    (Tier::NothingShort, "nothing found short"),
                ]
                .map(|(tier, words)| (chart::key(tier), words))
                .into(),
            });
        }
        if without > 0 {
            parts.push(Part::words(format!(
                "{} without a place {} not on the map.",
                count(without, "house"),
                if without == 1 { "is" } else { "are" }
            )));
        }
        parts
    }

    fn budget_parts(&self) -> Vec<Part> {
        let mut parts: Vec<Part> = chart::curve(&self.budget_curve, self.all.paid, self.all.avoided)
            .map(|svg| Part::Chart {
                svg,
                caption: "Dollars of loss avoided over dollars paid, from the top of the list to its end. The disk is where \
                          the money is gone."
                    .to_owned(),
                key: Vec::new(),
            })
            .into_iter()
            .collect();
        let last = self.budget_curve.len().saturating_sub(1);
        let mut table = Table::new(
            "What so many houses from the top cost and avoid",
            ["Houses", "Paid", "Avoided"],
        );
        for step in 1..=POINTS {
            // The curve may have fewer points than the table has rows.
            let at = last * step / POINTS;
            if at > last * (step - 1) / POINTS
                && let Some(point) = self.budget_curve.get(at)
            {
                table.push([
                    number(point.houses).into(),
                    money(point.paid).into(),
                    Cell::from(money(point.benefit)).with_bar(share(point.benefit, self.all.avoidable)),
                ]);
            }
        }
        parts.extend(table.part());
        parts
    }

    fn group_parts(&self) -> Vec<Part> {
        let mut table = Table::new(
            "Houses by the year in which they were built",
            ["Years", "Houses", "Nobody looked under", "Reached", "Avoided"],
        );
        let most = self.eras.iter().map(|era| era.group.houses).max().unwrap_or(0);
        for era in self.eras.iter().filter(|era| era.group.houses > 0) {
            table.push([
                sentence_case(&era.group.words).into(),
                houses_cell(era.group.houses, most),
                number(era.inferred).into(),
                number(era.group.funded).into(),
                money(era.group.avoided).into(),
            ]);
        }
        let mut parts: Vec<Part> = table.part().into_iter().collect();
        for cut in &self.cuts {
            let mut groups: Vec<&GroupRow> = cut.groups.iter().collect();
            let mut rest = GroupRow::default();
            if groups.len() > MOST_GROUPS {
                // The largest are shown, in the order of their names; the others in one row.
                groups.sort_by(|a, b| b.houses.cmp(&a.houses).then_with(|| a.name.cmp(&b.name)));
                for group in groups.split_off(MOST_GROUPS) {
                    rest.houses += group.houses;
                    rest.funded += group.funded;
                    rest.paid += group.paid;
                    rest.avoided += group.avoided;
                    rest.avoidable += group.avoidable;
                }
                groups.sort_by(|a, b| a.name.cmp(&b.name));
                rest.words = format!("all {} others", cut.groups.len() - MOST_GROUPS);
            }
            let rest = (rest.houses > 0).then_some(&rest);
            parts.extend(group_table(
                &format!("Houses by {}", cut.column),
                "Group",
                groups.into_iter().chain(rest).map(|row| (row, None)),
            ));
        }
        parts
    }

    fn look_parts(&self) -> Vec<Part> {
        let mut table = Table::new(
            "The one thing to find out of each house, and what knowing it is worth",
            ["What", "Houses", "Worth at one of them, on average"],
        );
        let most = self
            .looks
            .by_unknown
            .iter()
            .map(|look| look.houses)
            .max()
            .unwrap_or(0);
        for look in &self.looks.by_unknown {
            table.push([
                sentence_case(&look.words).into(),
                houses_cell(look.houses, most),
                money(look.mean_worth).into(),
            ]);
        }
        if self.looks.nothing_to_gain > 0 {
            table.push([
                "No answer would change the decision".into(),
                houses_cell(self.looks.nothing_to_gain, most),
                Cell::default(),
            ]);
        }
        let mut houses = Table::new(
            "Where looking is worth most",
            ["House", "Place in the list", "Find out", "Worth"],
        );
        for house in &self.looks.houses {
            houses.push([
                house.id.clone().into(),
                Cell::from(number(house.rank)).under(if house.funded { "reached" } else { "not reached" }),
                house.words.clone().into(),
                money(house.worth).into(),
            ]);
        }
        let words = "What an answer is worth is how much more loss the same money would avoid on average, were it known before \
                     the money is spent. Worths of several houses do not add up: they share one budget.";
        [Some(Part::words(words)), table.part(), houses.part()]
            .into_iter()
            .flatten()
            .collect()
    }

    fn reliance_parts(&self) -> Vec<Part> {
        let facts = &self.stability;
        let of = self.all.funded.max(1);
        let mut table = Table::new(
            "The houses that are reached, and in how many of the draws they are",
            ["In the draws", "Houses"],
        );
        for (words, houses) in [
            ("Reached in nine of ten draws or more", facts.funded_and_sure),
            ("In half of them or more", facts.funded_and_likely),
            ("In fewer", facts.funded_and_unsure),
            (
                "Not reached, and reached in half of the draws or more",
                facts.left_out_and_likely,
            ),
        ] {
            table.push([words.into(), houses_cell(houses, of)]);
        }
        let mut ends = Table::new(
            "Figures that nobody observed, each at the ends of its range, all others as they are",
            [
                "Figure",
                "Houses it is open at",
                "Avoided at its low end",
                "At its high end",
                "Places that change",
            ],
        );
        for row in self.sensitivity.iter().filter(|row| row.houses > 0) {
            ends.push(sensitivity_cells(row));
        }
        [table.part(), ends.part()].into_iter().flatten().collect()
    }

    fn data_parts(&self) -> Vec<Part> {
        let quality = &self.data_quality;
        let mut table = Table::new("Houses by what is not known of them", ["What", "Houses"]);
        for (words, houses) in [
            ("Nobody looked under the floor", quality.not_looked_at),
            ("Year unknown", quality.no_year),
            (
                "Year 1900, which often stands for an unknown one",
                quality.year_1900,
            ),
            ("Climate zone unknown", quality.no_climate_zone),
            ("No place on the map", quality.no_place),
            ("Shaking assumed", quality.shaking_assumed),
            (
                "Shaking assumed although the place is known",
                quality.shaking_assumed_with_place,
            ),
            ("Shaking from the grid", quality.shaking_from_grid),
            ("Value assumed", quality.value_assumed),
            ("Value assumed without a floor area", quality.no_floor_area),
            (
                "Row under an id that stands higher in the list; paid for once, there",
                quality.repeated_ids.further_rows,
            ),
        ] {
            if houses > 0 {
                table.push([words.into(), houses_cell(houses, self.all.houses)]);
            }
        }
        let mut parts: Vec<Part> = table.part().into_iter().collect();
        parts.extend(self.repeated_parts());
        parts
    }

    /// Ids in more than one row, which nobody but the owner of the table can sort out.
    fn repeated_parts(&self) -> Vec<Part> {
        let repeated = &self.data_quality.repeated_ids;
        if repeated.ids == 0 {
            return Vec::new();
        }
        let words = format!(
            "{} in more than one row: one house twice, or two under one number. Every row stays in the list; the \
             budget pays for an id once, at its best place. {}",
            if repeated.ids == 1 {
                "1 id stands".to_owned()
            } else {
                format!("{} ids stand", number(repeated.ids))
            },
            match repeated.ids_that_differ {
                0 => "Under each of them, the rows come to the same score.".to_owned(),
                ids => format!(
                    "The rows of {} come to different scores: one of them is wrong, or is another house.",
                    count(ids, "id")
                ),
            },
        );
        let mut table = Table::new(
            if (repeated.named.len() as u64) < repeated.ids {
                "Ids in more than one row: those whose rows differ first, then those with the most rows; not all are shown"
            } else {
                "Ids in more than one row: those whose rows differ first, then those with the most rows"
            },
            ["Id", "Rows", "Their scores", "Lines of the table"],
        );
        for id in &repeated.named {
            let mut lines: Vec<String> = id.lines.iter().map(u64::to_string).collect();
            if (id.lines.len() as u64) < id.rows {
                lines.push("…".to_owned());
            }
            table.push([
                id.id.clone().into(),
                number(id.rows).into(),
                if id.differs { "differ" } else { "are alike" }.into(),
                lines.join(", ").into(),
            ]);
        }
        std::iter::once(Part::words(words)).chain(table.part()).collect()
    }

    /// Where the costs come from, and published prices of whole jobs to hold them beside.
    fn cost_parts(&self) -> Vec<Part> {
        let range = |cost: &[f64; 3]| cost.map(|dollars| Cell::from(money(dollars)));
        let costs = &self.costs;
        let mut table = Table::new(
            "Houses by where their cost comes from, with the mean of their costs",
            ["Cost from", "Houses", "Low", "Likely", "High"],
        );
        for row in &costs.by_source {
            let [low, likely, high] = range(&row.mean_cost);
            table.push([
                sentence_case(&row.words).into(),
                houses_cell(row.houses, self.all.houses),
                low,
                likely,
                high,
            ]);
        }
        let mut whole = Table::new(
            "Published prices of whole jobs, of several years; where no other cost is known they stand in",
            ["Work", "Low", "Likely", "High"],
        );
        for row in &costs.whole_jobs {
            let [low, likely, high] = range(&row.cost);
            whole.push([sentence_case(&row.words).into(), low, likely, high]);
        }
        let words = match (costs.prices_are_placeholders, costs.price_years) {
            (_, None) => "Every cost is a published range for whole jobs of its kind.".to_owned(),
            (true, Some([from, to])) => format!(
                "Every unit price behind these costs is a placeholder, of {from} to {to} and added as it stands. They put \
                 houses in order until prices of your own take their place, and are no offer."
            ),
            (false, Some([from, to])) => format!(
                "The unit prices are those that were given, of {from} to {to} and added as they stand."
            ),
        };
        [Some(Part::words(words)), table.part(), whole.part()]
            .into_iter()
            .flatten()
            .collect()
    }

    fn method_parts(&self) -> Vec<Part> {
        let mut table = Table::new(
            "Sources of the figures",
            ["Used for", "Document", "Rows", "Standing"],
        );
        for source in &self.method.sources {
            table.push([
                sentence_case(source.used_for.words()).into(),
                source.document.clone().into(),
                number(source.rows as u64).into(),
                source.standing.words().into(),
            ]);
        }
        std::iter::once(Part::list(self.method.sentences.iter().cloned()))
            .chain(table.part())
            .collect()
    }
}

/// Houses by group, with a bar as long as their number.
fn group_table<'a>(
    caption: &str,
    head: &'static str,
    rows: impl Iterator<Item = (&'a GroupRow, Option<Ruling>)> + Clone,
) -> Option<Part> {
    let most = rows.clone().map(|(row, _)| row.houses).max().unwrap_or(0);
    let mut table = Table::new(caption, [head, "Houses", "Reached", "Paid", "Avoided"]);
    for (row, ruling) in rows {
        let words = match row.words.as_str() {
            "" => "(blank)".to_owned(),
            words => sentence_case(words),
        };
        table.push([
            ruling.map_or_else(
                || words.clone().into(),
                |ruling| Cell::ruling(ruling, words.clone()),
            ),
            houses_cell(row.houses, most),
            number(row.funded).into(),
            money(row.paid).into(),
            money(row.avoided).into(),
        ]);
    }
    table.part()
}

fn houses_cell(houses: u64, most: u64) -> Cell {
    #[expect(clippy::cast_precision_loss, reason = "the length of a bar")]
    let share = share(houses as f64, most as f64);
    Cell::from(number(houses)).with_bar(share)
}

fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 {
        (part / whole).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

fn sensitivity_cells(row: &SensitivityRow) -> [Cell; 5] {
    [
        sentence_case(&row.words).into(),
        number(row.houses).into(),
        money(row.avoided_low).into(),
        money(row.avoided_high).into(),
        format!(
            "{} drop out at the low end, {} come in at the high end",
            number(row.drop_out_at_low),
            number(row.come_in_at_high)
        )
        .into(),
    ]
}

/// A ruling by its spelling in JSON; none for houses that nobody looked at.
fn ruling_of(name: &str) -> Option<Ruling> {
    serde_json::from_value(name.into()).ok()
}

/// Dollars and cents.
fn cents(dollars: f64) -> String {
    format!("${dollars:.2}")
}
