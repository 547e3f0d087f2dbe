//! Derivations in a web page: every step stands once, folded up, and whatever uses it again leads to it.

use std::fmt::Write;

use super::working::{WorkLine, equation, named};

/// The symbol of demand over capacity, whose place in a table says what it is.
const RATIO: &str = "D/C";

/// Writes the derivations of a page; the page opens without a script.
pub(crate) struct Trees<'a> {
    lines: &'a [WorkLine],
    /// Which steps stand on the page already.
    written: Vec<bool>,
    text: String,
}

impl<'a> Trees<'a> {
    pub(crate) fn new(lines: &'a [WorkLine]) -> Self {
        Self {
            lines,
            written: vec![false; lines.len()],
            text: String::new(),
        }
    }

    /// The derivation of a number; empty where it has none.
    pub(crate) fn of(&mut self, place: usize) -> String {
        self.text.clear();
        let Some(line) = self.lines.get(place) else {
            return String::new();
        };
        if line.expression().is_none() {
            self.text.push_str("<p class=\"worked\">");
            self.leaf(&name(&line.symbol), line);
            self.text.push_str("</p>");
        } else if self.is_written(place) {
            let _ = write!(
                self.text,
                "<p class=\"worked\">{}: {}, <a href=\"#w{place}\">worked above</a>.</p>",
                escaped(&line.title()),
                escaped(&line.value.shown)
            );
        } else {
            let _ = write!(
                self.text,
                "<details class=\"work\" id=\"w{place}\"><summary>How it is computed{}</summary>",
                if line.symbol == RATIO {
                    String::new()
                } else {
                    format!(": {}", escaped(&line.title()))
                }
            );
            self.step(place, line);
            self.text.push_str("</details>");
        }
        std::mem::take(&mut self.text)
    }

    fn is_written(&self, place: usize) -> bool {
        self.written.get(place).copied().unwrap_or(false)
    }

    /// The equation of a step in symbols and in numbers, where it stands, and its inputs.
    fn step(&mut self, place: usize, line: &WorkLine) {
        if let Some(written) = self.written.get_mut(place) {
            *written = true;
        }
        let Some(expression) = line.expression() else {
            return;
        };
        let of_inputs = line.input_names(self.lines);
        let symbols = equation(expression, &|line| name(&named(&of_inputs, line)));
        let symbol = if line.symbol.is_empty() {
            "<i>x</i>".to_owned()
        } else {
            name(&line.symbol)
        };
        let numbers = line.numbers.as_deref().unwrap_or_default();
        let _ = write!(
            self.text,
            "<p class=\"eq\">{symbol} = {}<br>= <span class=\"numbers\">{}</span><br>= <b>{}</b></p>\
             <p class=\"from\">{}</p>",
            raised(&symbols),
            raised(&escaped(numbers)),
            escaped(&line.value.shown),
            escaped(&line.source.words()),
        );
        if line.inputs.is_empty() {
            return;
        }
        self.text.push_str("<ul class=\"inputs\">");
        for (input, input_name) in of_inputs {
            self.input(input, &name(&input_name));
        }
        self.text.push_str("</ul>");
    }

    fn input(&mut self, place: usize, name: &str) {
        let lines = self.lines;
        let Some(line) = lines.get(place) else {
            return;
        };
        self.text.push_str("<li>");
        if line.expression().is_none() {
            self.leaf(name, line);
        } else if self.is_written(place) {
            let _ = write!(
                self.text,
                "{name} = {}: {}, <a href=\"#w{place}\">worked above</a>",
                escaped(&line.value.shown),
                escaped(&line.title())
            );
        } else {
            let _ = write!(
                self.text,
                "<details id=\"w{place}\"><summary>{name} = {}: {}</summary>",
                escaped(&line.value.shown),
                escaped(&line.title())
            );
            self.step(place, line);
            self.text.push_str("</details>");
        }
        self.text.push_str("</li>");
    }

    fn leaf(&mut self, name: &str, line: &WorkLine) {
        let _ = write!(
            self.text,
            "{name} = {}: {} <span class=\"from\">{}</span>",
            escaped(&line.value.shown),
            escaped(&line.title()),
            escaped(&line.source.words())
        );
    }
}

/// A symbol with its index set low.
fn name(symbol: &str) -> String {
    let (symbol, number) = symbol.split_once('[').map_or((symbol, ""), |(symbol, number)| {
        (symbol, number.trim_end_matches(']'))
    });
    let (symbol, is_bracketed) = symbol
        .strip_prefix('(')
        .and_then(|symbol| symbol.strip_suffix(')'))
        .map_or((symbol, false), |symbol| (symbol, true));
    let symbol = symbol.replace('\'', "′");
    let mut html = match symbol.split_once('_') {
        Some((base, index)) => format!("<i>{}</i><sub>{}</sub>", escaped(base), escaped(index)),
        None => format!("<i>{}</i>", escaped(&symbol)),
    };
    if !number.is_empty() {
        let _ = write!(html, "[{}]", escaped(number));
    }
    if is_bracketed { format!("({html})") } else { html }
}

/// Powers set high.
fn raised(text: &str) -> String {
    let mut raised = String::with_capacity(text.len());
    let mut parts = text.split('^');
    raised.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let end = part
            .find(|c: char| !c.is_ascii_alphanumeric() && c != '.' && c != '−')
            .unwrap_or(part.len());
        let (exponent, rest) = part.split_at(end);
        let _ = write!(raised, "<sup>{exponent}</sup>{rest}");
    }
    raised
}

fn escaped(text: &str) -> String {
    let mut html = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => html.push_str("&amp;"),
            '<' => html.push_str("&lt;"),
            '>' => html.push_str("&gt;"),
            '"' => html.push_str("&quot;"),
            '\'' => html.push_str("&#39;"),
            c => html.push(c),
        }
    }
    html
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_have_their_index_low_and_nothing_of_them_is_markup() {
        assert_eq!(name("S_DS"), "<i>S</i><sub>DS</sub>");
        assert_eq!(name("W_i[2]"), "<i>W</i><sub>i</sub>[2]");
        assert_eq!(name("(n Z')"), "(<i>n Z′</i>)");
        assert_eq!(name("<b>_<i>"), "<i>&lt;b&gt;</i><sub>&lt;i&gt;</sub>");
        assert_eq!(raised("(2 ft)^0.75 + 1"), "(2 ft)<sup>0.75</sup> + 1");
    }
}
