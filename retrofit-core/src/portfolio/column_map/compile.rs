//! From a map and a header to a translator: every name, code and unit is looked at once, before the first row.

use super::translator::{Combined, Conclusion, Condition, Origin, Reading, Recipe};
use super::{ColumnMap, ColumnRule, INFERRED, Inference, MapFault, Otherwise, Test, Translator};
use crate::choice::nearest;
use crate::house::House;
use crate::observation::Basis;
use crate::portfolio::cell::shown;
use crate::portfolio::layout::{Meaning, meaning_of};
use crate::portfolio::{Form, Holds, ID, KNOWN_BY, Layout, PASSED_PREFIX, RowReader};

/// The unit of money; it is only taken off, since a column of money holds bare numbers.
const DOLLARS: &str = "dollars";

impl ColumnMap {
    /// Prepares the map for an extract with this header.
    ///
    /// A name that the header does not have, a column that is none of ours, and a code, a unit or a constant that our
    /// column cannot hold are faults of the map, with the keys that lead to them.
    pub fn compile<S: AsRef<str>>(&self, header: &[S]) -> Result<Translator, MapFault> {
        if !self.columns.contains_key(ID) {
            return Err(fault(
                ["columns"],
                format!("found no column {ID:?}; expected one that names the house"),
            ));
        }
        let compiler = Compiler { map: self, header };
        let mut recipes = Vec::new();
        for (column, rule) in &self.columns {
            recipes.push(compiler.recipe(column, rule)?);
        }
        if !self.columns.contains_key(KNOWN_BY) {
            recipes.push(compiler.known_by()?);
        } else if self.known_by.is_some() {
            return Err(fault(
                ["known_by"],
                format!("found it beside a column {KNOWN_BY:?}; expected one of them"),
            ));
        }
        for (number, inference) in self.inferences.iter().enumerate() {
            compiler.conclude(number, inference, &mut recipes)?;
        }
        // The house and how it is known come first, for whoever reads the translated rows.
        recipes.sort_by(|one, other| {
            let rank = |recipe: &Recipe| match recipe.column.as_str() {
                ID => 0,
                KNOWN_BY => 1,
                _ => 2,
            };
            (rank(one), &one.column).cmp(&(rank(other), &other.column))
        });
        Ok(Translator::new(recipes, !self.inferences.is_empty()))
    }
}

struct Compiler<'a, S> {
    map: &'a ColumnMap,
    header: &'a [S],
}

impl<S: AsRef<str>> Compiler<'_, S> {
    fn recipe(&self, column: &str, rule: &ColumnRule) -> Result<Recipe, MapFault> {
        let at = |key: &str, problem: String| fault(["columns", column, key], problem);
        let meaning = meaning(column).map_err(|problem| fault(["columns", column], problem))?;
        let is_text = matches!(meaning, Meaning::Id | Meaning::Passed);
        let mut judge = CellJudge::new(column);
        if let Some(text) = &rule.constant {
            if !rule.from.0.is_empty() {
                return Err(at(
                    "constant",
                    "found it beside `from`; expected one of them".into(),
                ));
            }
            judge.accepts(text).map_err(|problem| at("constant", problem))?;
            return Ok(Recipe::new(
                column,
                Origin::Constant(text.clone()),
                "a constant of the map",
            ));
        }
        if rule.from.0.is_empty() {
            return Err(fault(
                ["columns", column],
                "found neither `from` nor `constant`; expected where its cells come from".into(),
            ));
        }
        let positions: Vec<usize> = rule
            .from
            .0
            .iter()
            .map(|name| self.position(name).map_err(|problem| at("from", problem)))
            .collect::<Result<_, _>>()?;
        let shown_name = rule.from.0.join(" + ");
        if is_text {
            for (key, is_there) in [
                ("unit", rule.unit.is_some()),
                ("codes", !rule.codes.is_empty()),
                ("separator", rule.separator.is_some()),
                ("worst_first", !rule.worst_first.is_empty()),
                ("otherwise", rule.otherwise == Otherwise::Unknown),
            ] {
                if is_there {
                    return Err(at(
                        key,
                        format!(
                            "found it for {column:?}; expected none, since its text is handed on as it stands"
                        ),
                    ));
                }
            }
            let parts = parts(column, rule, positions)?;
            return Ok(Recipe::new(column, Origin::Text(parts), &shown_name));
        }
        for (key, is_there) in [("join", rule.join.is_some()), ("widths", !rule.widths.is_empty())] {
            if is_there {
                return Err(at(
                    key,
                    format!(
                        "found it for {column:?}; expected it only for text that is handed on as it stands"
                    ),
                ));
            }
        }
        let &[position] = positions.as_slice() else {
            return Err(at(
                "from",
                format!("found {} columns; expected one", positions.len()),
            ));
        };
        let reading = self.reading(column, rule, position, meaning, &mut judge)?;
        Ok(Recipe::new(column, Origin::Value(Box::new(reading)), &shown_name))
    }

    fn reading(
        &self,
        column: &str,
        rule: &ColumnRule,
        position: usize,
        meaning: Meaning,
        judge: &mut CellJudge,
    ) -> Result<Reading, MapFault> {
        let at = |key: &str, problem: String| fault(["columns", column, key], problem);
        let holds = match meaning {
            Meaning::Observation(column) => Some(column.holds()),
            _ => None,
        };
        let is_number = matches!(
            holds,
            None | Some(Holds::Length | Holds::Area | Holds::Slope | Holds::Stories | Holds::Count)
        );
        let unit = match rule.unit.as_deref() {
            Some(DOLLARS) if holds.is_none() => None,
            Some(unit) if is_number => {
                let tried = format!("1 {unit}");
                judge.accepts(&tried).map_err(|problem| {
                    at(
                        "unit",
                        format!("found {}; expected a unit of {column:?} ({problem})", shown(unit)),
                    )
                })?;
                Some(unit.to_owned())
            }
            Some(unit) => {
                return Err(at(
                    "unit",
                    format!(
                        "found {}; expected none, since {column:?} is no number",
                        shown(unit)
                    ),
                ));
            }
            None => None,
        };
        for (code, word) in &rule.codes {
            if !word.is_empty() {
                judge
                    .accepts(word)
                    .map_err(|problem| fault(["columns", column, "codes", code], problem))?;
            }
        }
        if rule.separator.as_deref().is_some_and(str::is_empty) {
            return Err(at(
                "separator",
                "found nothing; expected what stands between two codes".into(),
            ));
        }
        if rule.separator.is_some() && rule.codes.is_empty() {
            return Err(at(
                "separator",
                "found it without `codes`; expected them beside it".into(),
            ));
        }
        let words: Vec<&str> = rule
            .codes
            .values()
            .map(String::as_str)
            .filter(|word| !word.is_empty())
            .collect();
        if !rule.worst_first.is_empty() {
            if rule.separator.is_none() {
                return Err(at(
                    "worst_first",
                    "found it without `separator`; expected it beside it".into(),
                ));
            }
            let ranks = |word: &&str| rule.worst_first.iter().any(|ranked| ranked == word);
            if let Some(word) = words.iter().find(|word| !ranks(word)) {
                return Err(at(
                    "worst_first",
                    format!("found no {word:?}; expected every word that a code stands for"),
                ));
            }
        }
        let blank = self.map.blank.iter().chain(&rule.blank).cloned().collect();
        Ok(Reading {
            position,
            blank,
            codes: rule.codes.clone().into_iter().collect(),
            separator: rule.separator.clone(),
            worst_first: rule.worst_first.clone(),
            is_number,
            is_yes_or_no: holds == Some(Holds::YesOrNo),
            unit,
            mark: self.map.file.decimal,
            judge: (rule.otherwise == Otherwise::Unknown).then(|| CellJudge::new(column)),
        })
    }

    /// How the rows are known where no column says so.
    fn known_by(&self) -> Result<Recipe, MapFault> {
        let word = self.map.known_by.as_deref().unwrap_or(Basis::Reported.word());
        CellJudge::new(KNOWN_BY)
            .accepts(word)
            .map_err(|problem| fault(["known_by"], problem))?;
        Ok(Recipe::new(
            KNOWN_BY,
            Origin::Constant(word.to_owned()),
            "a constant of the map",
        ))
    }

    fn conclude(
        &self,
        number: usize,
        inference: &Inference,
        recipes: &mut Vec<Recipe>,
    ) -> Result<(), MapFault> {
        let number = number.to_string();
        let at = |key: &str, problem: String| fault(["infer", &number, key], problem);
        let column = inference.column.as_str();
        let meaning = meaning(column).map_err(|problem| at("column", problem))?;
        if !matches!(meaning, Meaning::Observation(_) | Meaning::Passed) {
            return Err(at(
                "column",
                format!("found {column:?}; expected a column that holds an observation, or one handed on"),
            ));
        }
        let text = format!("{}: {}", Basis::Inferred.word(), inference.then.trim());
        CellJudge::new(column)
            .accepts(&text)
            .map_err(|problem| at("then", problem))?;
        if inference.because.trim().is_empty() {
            return Err(at(
                "because",
                "found nothing; expected why it may be concluded".into(),
            ));
        }
        if inference.when.is_empty() {
            return Err(at(
                "when",
                "found nothing; expected a column and what has to be so in it".into(),
            ));
        }
        let mut conditions = Vec::new();
        for (source, test) in &inference.when {
            let problem = |problem| fault(["infer", &number, "when", source], problem);
            if *test == Test::default() {
                return Err(problem(
                    "found no condition; expected `is`, `above` or `below`".into(),
                ));
            }
            conditions.push(Condition {
                position: self.position(source).map_err(problem)?,
                test: test.clone(),
                mark: self.map.file.decimal,
            });
        }
        let conclusion = Conclusion {
            text,
            because: format!("{column}: {}", inference.because.trim()),
            conditions,
        };
        if let Some(recipe) = recipes.iter_mut().find(|recipe| recipe.column == column) {
            recipe.conclusions.push(conclusion);
        } else {
            let sources: Vec<&str> = inference.when.keys().map(String::as_str).collect();
            let mut recipe = Recipe::new(column, Origin::Nothing, &sources.join(" + "));
            recipe.conclusions.push(conclusion);
            recipes.push(recipe);
        }
        Ok(())
    }

    /// Where a column of the extract stands; one that differs only in capitals is taken for it.
    fn position(&self, name: &str) -> Result<usize, String> {
        let names = || self.header.iter().map(|name| name.as_ref().trim());
        let exactly = names().position(|other| other == name.trim());
        if names().filter(|other| *other == name.trim()).count() > 1 {
            return Err(format!(
                "found two columns of the extract with the name {}; expected one",
                shown(name)
            ));
        }
        let alike = || names().position(|other| other.eq_ignore_ascii_case(name.trim()));
        exactly.or_else(alike).ok_or_else(|| {
            let hint =
                nearest(name, names()).map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
            format!("found {}; expected a column of the extract{hint}", shown(name))
        })
    }
}

/// The columns that are put together, each with how wide it is.
fn parts(column: &str, rule: &ColumnRule, positions: Vec<usize>) -> Result<Combined, MapFault> {
    let widths = &rule.widths;
    if !widths.is_empty() && widths.len() != positions.len() {
        return Err(fault(
            ["columns", column, "widths"],
            format!(
                "found {}; expected as many as there are columns in `from`: {}",
                widths.len(),
                positions.len()
            ),
        ));
    }
    if let Some(width) = widths.iter().find(|width| **width > MOST_ZEROS) {
        return Err(fault(
            ["columns", column, "widths"],
            format!("found {width}; expected at most {MOST_ZEROS}"),
        ));
    }
    let width = widths.iter().copied().chain(std::iter::repeat(0));
    Ok(Combined {
        parts: positions.into_iter().zip(width).collect(),
        between: rule.join.clone().unwrap_or_default(),
        blank: rule.blank.clone(),
    })
}

/// More characters than this has no number of a parcel.
const MOST_ZEROS: usize = 64;

fn meaning(column: &str) -> Result<Meaning, String> {
    if column == INFERRED {
        return Err(format!(
            "found {INFERRED:?}; expected another name, since rows say there what was inferred and why"
        ));
    }
    meaning_of(column, Form::OneTable).map_err(|problem| {
        // Of the map's own conventions the one for columns handed on is the likeliest slip.
        if problem.contains("did you mean") {
            problem
        } else {
            format!("{problem}; is it {:?}?", format!("{PASSED_PREFIX}{column}"))
        }
    })
}

fn fault<'a>(path: impl IntoIterator<Item = &'a str>, problem: String) -> MapFault {
    MapFault {
        path: path.into_iter().map(str::to_owned).collect(),
        problem,
    }
}

/// Says whether one of our columns can hold a text, by reading it.
///
/// ```
/// use retrofit_core::portfolio::CellJudge;
///
/// let mut stories = CellJudge::new("stories");
/// assert!(stories.accepts("1.5").is_ok());
/// assert!(stories.accepts("one").is_err_and(|problem| problem.contains("found \"one\"")));
/// ```
#[derive(Clone, Debug)]
pub struct CellJudge {
    column: String,
    /// `None` for a column that stands in no row; it holds nothing that could be wrong.
    reader: Option<RowReader>,
    house: House,
    has_wall_length: bool,
}

impl CellJudge {
    /// For one of our columns.
    pub fn new(column: &str) -> Self {
        // The sill is divided along the wall, so that its pieces can only be read beside a length.
        let has_wall_length = column == "sill_pieces";
        let names: &[&str] = match (column, has_wall_length) {
            (ID, _) => &[ID],
            (_, false) => &[ID, column],
            (_, true) => &[ID, column, "wall_length"],
        };
        let layout = Layout::new(names.iter().copied(), Form::OneTable).ok();
        Self {
            column: column.to_owned(),
            reader: layout.map(RowReader::one_table),
            house: House::default(),
            has_wall_length,
        }
    }

    /// Reads a text as a cell of the column; the error says what was found and what was expected.
    pub fn accepts(&mut self, text: &str) -> Result<(), String> {
        let Some(reader) = &mut self.reader else {
            return Ok(());
        };
        let id = if self.column == ID { text } else { "a" };
        let rest = (self.column != ID).then_some(text);
        let wall_length = self.has_wall_length.then_some("1000 ft");
        let cells = std::iter::once(id).chain(rest).chain(wall_length);
        match reader.read(&mut self.house, cells) {
            Err(error) if error.column == self.column => Err(error.problem),
            _ => Ok(()),
        }
    }
}
