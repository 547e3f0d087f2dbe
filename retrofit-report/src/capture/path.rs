//! Places in a house file.

use std::fmt;

/// One step from a value to one that lies in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// To a field of an object.
    Field(String),
    /// To an item of a list, counted from 0.
    Item(usize),
}

/// The steps of a path whose `[]` stand for the given items, the outermost first.
pub(super) fn steps(path: &str, items: &[usize]) -> Vec<Step> {
    let mut items = items.iter();
    let mut steps = Vec::new();
    for name in path.split('.') {
        let field = name.strip_suffix("[]").unwrap_or(name);
        steps.push(Step::Field(field.to_owned()));
        if field != name
            && let Some(item) = items.next()
        {
            steps.push(Step::Item(*item));
        }
    }
    steps
}

/// The steps as a house file's errors spell them: `wall_lines[0].anchors[2].kind`.
#[derive(Debug)]
pub(super) struct Spelled<'s>(pub(super) &'s [Step]);

impl fmt::Display for Spelled<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (position, step) in self.0.iter().enumerate() {
            match step {
                Step::Field(name) if position == 0 => f.write_str(name)?,
                Step::Field(name) => write!(f, ".{name}")?,
                Step::Item(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}
