//! Rows of an extract become lines of our columns, one after another, in memory that is used again.

use super::compile::CellJudge;
use super::{DecimalMark, INFERRED, SourceFault, Test, plain_number};
use crate::choice::nearest;
use crate::portfolio::cell::shown;

/// What became of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellState {
    /// It holds something.
    Filled,
    /// It is empty.
    Blank,
    /// It holds a text that only fills a gap.
    Placeholder,
    /// It holds a code that tells nothing, or several that differ.
    Untold,
    /// It says nothing itself, and was concluded from other columns.
    Inferred,
    /// It cannot be read, and the map lets that be unknown.
    Unread,
}

/// Turns rows of an extract into lines of our columns; see [`super::ColumnMap::compile`].
#[derive(Clone, Debug)]
pub struct Translator {
    recipes: Vec<Recipe>,
    names: Vec<String>,
    has_inferences: bool,
    text: String,
    scratch: String,
    /// The conclusions drawn in the present row: the number of the recipe, and of the conclusion in it.
    drawn: Vec<(usize, usize)>,
}

/// How one of our columns gets its cells.
#[derive(Clone, Debug)]
pub(super) struct Recipe {
    pub(super) column: String,
    /// The columns of the extract, as an error names them.
    source: String,
    origin: Origin,
    pub(super) conclusions: Vec<Conclusion>,
}

/// Where cells come from.
#[derive(Clone, Debug)]
pub(super) enum Origin {
    /// They are only concluded.
    Nothing,
    Constant(String),
    Text(Combined),
    Value(Box<Reading>),
}

/// Text that is handed on as it stands, from one column or several.
#[derive(Clone, Debug)]
pub(super) struct Combined {
    /// Where each part stands, and how many characters it has at least.
    pub(super) parts: Vec<(usize, usize)>,
    pub(super) between: String,
    pub(super) blank: Vec<String>,
}

/// How a cell that holds something is read.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    pub(super) position: usize,
    pub(super) blank: Vec<String>,
    pub(super) codes: Vec<(String, String)>,
    pub(super) separator: Option<String>,
    pub(super) worst_first: Vec<String>,
    pub(super) is_number: bool,
    pub(super) is_yes_or_no: bool,
    pub(super) unit: Option<String>,
    pub(super) mark: DecimalMark,
    /// Where what cannot be read is unknown: who says so.
    pub(super) judge: Option<CellJudge>,
}

/// A conclusion, and when it is drawn.
#[derive(Clone, Debug)]
pub(super) struct Conclusion {
    pub(super) text: String,
    pub(super) because: String,
    pub(super) conditions: Vec<Condition>,
}

#[derive(Clone, Debug)]
pub(super) struct Condition {
    pub(super) position: usize,
    pub(super) test: Test,
    pub(super) mark: DecimalMark,
}

impl Translator {
    pub(super) fn new(recipes: Vec<Recipe>, has_inferences: bool) -> Self {
        let names = recipes.iter().map(|recipe| recipe.column.clone());
        Self {
            names: names.chain(has_inferences.then(|| INFERRED.to_owned())).collect(),
            recipes,
            has_inferences,
            text: String::new(),
            scratch: String::new(),
            drawn: Vec::new(),
        }
    }

    /// Our columns, in the order of a translated line.
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// The columns of the extract that one of ours comes from, as an error names them.
    pub fn source_of(&self, column: &str) -> Option<&str> {
        let recipe = self.recipes.iter().find(|recipe| recipe.column == column)?;
        Some(&recipe.source)
    }

    /// Where in a row of the extract the cells of one of our columns come from, by its position in
    /// [`Translator::names`].
    pub fn positions(&self, column: usize) -> Vec<usize> {
        match self
            .recipes
            .get(column)
            .map(|recipe| (&recipe.origin, &recipe.conclusions))
        {
            Some((Origin::Text(combined), _)) => {
                combined.parts.iter().map(|(position, _)| *position).collect()
            }
            Some((Origin::Value(reading), _)) => vec![reading.position],
            Some((Origin::Nothing, conclusions)) => {
                let conditions = conclusions.iter().flat_map(|conclusion| &conclusion.conditions);
                conditions.map(|condition| condition.position).collect()
            }
            Some((Origin::Constant(_), _)) | None => Vec::new(),
        }
    }

    /// Writes a row as a line of our columns, its line break included. `cell` gives the cells of the row by their
    /// position in the header. After an error nothing of the row has been written.
    pub fn translate<'c>(
        &mut self,
        cell: impl Fn(usize) -> &'c str,
        out: &mut Vec<u8>,
    ) -> Result<(), SourceFault> {
        let start = out.len();
        self.drawn.clear();
        for number in 0..self.recipes.len() {
            if let Err(fault) = self.read(number, &cell) {
                out.truncate(start);
                return Err(fault);
            }
            if number > 0 {
                out.push(b',');
            }
            write_cell(&self.text, out);
        }
        if self.has_inferences {
            self.text.clear();
            for (recipe, conclusion) in &self.drawn {
                let recipe = self.recipes.get(*recipe);
                if let Some(drawn) = recipe.and_then(|recipe| recipe.conclusions.get(*conclusion)) {
                    if !self.text.is_empty() {
                        self.text.push_str("; ");
                    }
                    self.text.push_str(&drawn.because);
                }
            }
            out.push(b',');
            write_cell(&self.text, out);
        }
        out.push(b'\n');
        Ok(())
    }

    /// Reads the cell of one of our columns, by its position in [`Translator::names`]: what became of it, and what
    /// stands in the translated line.
    pub fn cell<'c>(
        &mut self,
        column: usize,
        cell: impl Fn(usize) -> &'c str,
    ) -> Result<(CellState, &str), SourceFault> {
        self.drawn.clear();
        let state = self.read(column, &cell)?;
        Ok((state, &self.text))
    }

    fn read<'c>(
        &mut self,
        number: usize,
        cell: &impl Fn(usize) -> &'c str,
    ) -> Result<CellState, SourceFault> {
        self.text.clear();
        let Some(recipe) = self.recipes.get_mut(number) else {
            return Ok(CellState::Blank);
        };
        let state = match &mut recipe.origin {
            Origin::Nothing => CellState::Blank,
            Origin::Constant(text) => {
                self.text.push_str(text);
                CellState::Filled
            }
            Origin::Text(combined) => combined.read(cell, &mut self.text),
            Origin::Value(reading) => {
                let source = cell(reading.position);
                reading
                    .read(source, &mut self.text)
                    .map_err(|problem| SourceFault {
                        column: recipe.source.clone(),
                        problem,
                    })?
            }
        };
        if state == CellState::Filled {
            return Ok(state);
        }
        for (drawn, conclusion) in recipe.conclusions.iter().enumerate() {
            let conditions = &conclusion.conditions;
            if conditions
                .iter()
                .all(|condition| condition.holds(cell(condition.position), &mut self.scratch))
            {
                self.text.push_str(&conclusion.text);
                self.drawn.push((number, drawn));
                return Ok(CellState::Inferred);
            }
        }
        Ok(state)
    }
}

impl Recipe {
    pub(super) fn new(column: &str, origin: Origin, source: &str) -> Self {
        Self {
            column: column.to_owned(),
            source: source.to_owned(),
            origin,
            conclusions: Vec::new(),
        }
    }
}

impl Combined {
    fn read<'c>(&self, cell: &impl Fn(usize) -> &'c str, out: &mut String) -> CellState {
        let is_blank = |part: &str| part.is_empty() || is_among(part, &self.blank);
        let mut parts = self.parts.iter().map(|(position, _)| cell(*position).trim());
        if parts.clone().all(str::is_empty) {
            return CellState::Blank;
        }
        if parts.all(is_blank) {
            return CellState::Placeholder;
        }
        for (number, (position, width)) in self.parts.iter().enumerate() {
            if number > 0 {
                out.push_str(&self.between);
            }
            let part = cell(*position).trim();
            out.extend(std::iter::repeat_n(
                '0',
                width.saturating_sub(part.chars().count()),
            ));
            out.push_str(part);
        }
        CellState::Filled
    }
}

impl Reading {
    /// Reads a cell; what stands in `out` is then for our column, and nothing where it tells nothing.
    fn read(&mut self, cell: &str, out: &mut String) -> Result<CellState, String> {
        let cell = cell.trim();
        if cell.is_empty() {
            return Ok(CellState::Blank);
        }
        if is_among(cell, &self.blank) {
            return Ok(CellState::Placeholder);
        }
        if !self.codes.is_empty() {
            if let Some(separator) = &self.separator {
                return self.several(cell, separator, out);
            }
            match self.word_of(cell) {
                Some("") => return Ok(CellState::Untold),
                Some(word) => {
                    out.push_str(word);
                    return Ok(CellState::Filled);
                }
                None if !self.is_number => return self.not_listed(cell),
                None => {}
            }
        }
        if self.is_number && plain_number(cell, self.mark, out) {
            // A gap filled with 0 may be written 0.00 or 000.
            if self.blank.iter().any(|blank| same_number(blank, out)) {
                out.clear();
                return Ok(CellState::Placeholder);
            }
            if let Some(unit) = &self.unit {
                out.push(' ');
                out.push_str(unit);
            }
        } else if let (true, Some(answer)) = (self.is_yes_or_no, yes_or_no(cell)) {
            out.push_str(answer);
        } else {
            out.push_str(cell);
        }
        if let Some(judge) = &mut self.judge
            && judge.accepts(out).is_err()
        {
            out.clear();
            return Ok(CellState::Unread);
        }
        Ok(CellState::Filled)
    }

    /// Several codes in one cell: what they agree on, or the worst of them where the map ranks them.
    fn several(&self, cell: &str, separator: &str, out: &mut String) -> Result<CellState, String> {
        let rank = |word: &str| self.worst_first.iter().position(|ranked| ranked == word);
        let mut found: Option<&str> = None;
        let (mut is_open, mut do_differ, mut is_any) = (false, false, false);
        for part in cell.split(separator).map(str::trim) {
            if part.is_empty() || is_among(part, &self.blank) {
                continue;
            }
            is_any = true;
            match self.word_of(part) {
                None => return self.not_listed(part),
                Some("") => is_open = true,
                Some(word) => {
                    do_differ |= found.is_some_and(|other| other != word);
                    found = match found {
                        Some(other) if rank(other) <= rank(word) => Some(other),
                        _ => Some(word),
                    };
                }
            }
        }
        let Some(word) = found else {
            return Ok(if is_any {
                CellState::Untold
            } else {
                CellState::Placeholder
            });
        };
        // What is open beside a word may be worse than it, unless the word is the worst there is.
        let is_certain = match rank(word) {
            Some(0) => true,
            Some(_) => !is_open,
            None => !is_open && !do_differ,
        };
        if !is_certain {
            return Ok(CellState::Untold);
        }
        out.push_str(word);
        Ok(CellState::Filled)
    }

    fn word_of(&self, code: &str) -> Option<&str> {
        let is_it = |(other, _): &&(String, String)| other.eq_ignore_ascii_case(code);
        self.codes.iter().find(is_it).map(|(_, word)| word.as_str())
    }

    fn not_listed(&self, code: &str) -> Result<CellState, String> {
        if self.judge.is_some() {
            return Ok(CellState::Unread);
        }
        let codes = || self.codes.iter().map(|(code, _)| code.as_str());
        let hint =
            nearest(code, codes()).map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
        let listed: Vec<&str> = codes().collect();
        Err(format!(
            "found {}; expected a code of the map: one of {}{hint}",
            shown(code),
            listed.join(", ")
        ))
    }
}

impl Condition {
    fn holds(&self, cell: &str, scratch: &mut String) -> bool {
        let cell = cell.trim();
        let test = &self.test;
        if !test.is.is_empty() && !is_among(cell, &test.is) {
            return false;
        }
        if test.above.is_none() && test.below.is_none() {
            return true;
        }
        let number: Option<f64> = plain_number(cell, self.mark, scratch)
            .then(|| scratch.parse().ok())
            .flatten();
        number.is_some_and(|number| {
            test.above.is_none_or(|limit| number > limit) && test.below.is_none_or(|limit| number < limit)
        })
    }
}

/// Whether a text is on a list; capitals make no difference.
fn is_among(text: &str, list: &[String]) -> bool {
    list.iter().any(|other| other.eq_ignore_ascii_case(text))
}

/// Whether two plain numbers are one; zeros before it make no difference.
fn same_number(one: &str, other: &str) -> bool {
    let is_number = |text: &str| text.bytes().any(|byte| byte.is_ascii_digit());
    is_number(one) && one.trim_start_matches('0') == other.trim_start_matches('0')
}

fn yes_or_no(text: &str) -> Option<&'static str> {
    const ANSWERS: [(&str, &str); 6] = [
        ("yes", "yes"),
        ("y", "yes"),
        ("true", "yes"),
        ("no", "no"),
        ("n", "no"),
        ("false", "no"),
    ];
    let is_it = |(written, _): &&(&str, &str)| written.eq_ignore_ascii_case(text);
    ANSWERS.iter().find(is_it).map(|(_, answer)| *answer)
}

/// Writes a cell of a line, in quotes where it needs them. A row is one line: a line break becomes a space.
fn write_cell(text: &str, out: &mut Vec<u8>) {
    let needs_quotes = |byte: &u8| matches!(byte, b',' | b'"' | b'\n' | b'\r');
    if !text.as_bytes().iter().any(needs_quotes) {
        out.extend_from_slice(text.as_bytes());
        return;
    }
    out.push(b'"');
    for byte in text.bytes() {
        match byte {
            b'"' => out.extend_from_slice(b"\"\""),
            b'\n' | b'\r' => out.push(b' '),
            byte => out.push(byte),
        }
    }
    out.push(b'"');
}
