//! Every page of a result in one, to be printed: each begins on a new sheet, behind a list of contents.
//!
//! The pages are taken as they stand, so what is printed together is what each reader gets alone. What makes a page
//! move is left out, names in links are kept apart by that of the reader, and there is one list of styles.

use std::fmt::Write as _;

use serde::Serialize;
use tera::Context;

use super::{HouseResult, Reader, ReaderError};
use crate::language::Words;
use crate::look::Look;

/// What is put in front of a name in a link.
const LINKS: [&str; 9] = [
    " id=\"",
    " href=\"#",
    " for=\"",
    " headers=\"",
    " aria-labelledby=\"",
    " aria-describedby=\"",
    " aria-controls=\"",
    "url(#",
    " xlink:href=\"#",
];

/// The order in which the pages follow one another: from the plainest to the work itself.
const ORDER: [Reader; 5] = [
    Reader::Owner,
    Reader::Assessor,
    Reader::Engineer,
    Reader::Permit,
    Reader::Crew,
];

#[derive(Serialize)]
struct Bound {
    /// The name in links.
    name: &'static str,
    /// The line in the list of contents.
    title: String,
    /// The tag of its language.
    language: String,
    /// What stands on it, as markup.
    body: String,
}

impl HouseResult {
    /// All pages in one web page for printing, in a language where they are written in it.
    pub fn in_one_file(&self, words: &Words, look: &Look) -> Result<String, ReaderError> {
        let mut styles: Vec<String> = Vec::new();
        let mut pages = Vec::new();
        for reader in ORDER {
            let html = self.page_for(reader, words, look)?.html;
            let names: Vec<&str> = between(&html, " id=\"", "\"").collect();
            for style in between(&html, "<style>", "</style>") {
                let style = style_apart(style, &names);
                if !styles.contains(&style) {
                    styles.push(style);
                }
            }
            let name = reader.name();
            let language = if reader.is_in_every_language() {
                words.language().tag()
            } else {
                "en"
            };
            pages.push(Bound {
                name,
                title: words.term(&format!("print-{name}"))?,
                language: language.to_owned(),
                body: apart(&body(&html), name),
            });
        }
        let mut context = Context::new();
        context.insert("lang", words.language().tag());
        context.insert("house", &self.report.house);
        context.insert("contents", &words.term("print-contents")?);
        context.insert("about", &words.term("print-about")?);
        context.insert("styles", &styles.concat());
        context.insert("pages", &pages);
        Ok(look.fill_in("print.html", context)?)
    }
}

/// Whatever stands between two marks, each time.
fn between<'t>(text: &'t str, open: &'static str, close: &'static str) -> impl Iterator<Item = &'t str> {
    text.split(open)
        .skip(1)
        .filter_map(move |rest| rest.split_once(close).map(|(inside, _)| inside))
}

/// What stands in the body of a page, without what skips to the answer and without scripts.
fn body(html: &str) -> String {
    let (_, body) = html.split_once("<body").unwrap_or(("", html));
    let (_, body) = body.split_once('>').unwrap_or(("", body));
    let (body, _) = body.rsplit_once("</body>").unwrap_or((body, ""));
    let body = without(body, "<a class=\"skip\"", "</a>");
    let body = without(&body, "<script", "</script>");
    // One page has one main part; here each is an article.
    body.replace("<main", "<div").replace("</main>", "</div>")
}

fn without(text: &str, open: &str, close: &str) -> String {
    let mut parts = text.split(open);
    let mut kept = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        kept.push_str(part.split_once(close).map_or(part, |(_, rest)| rest));
    }
    kept
}

/// Puts a name in front of every name that links of a page go by. What a user wrote has no straight quote in it that
/// is not escaped, so nothing but markup is met.
fn apart(body: &str, name: &str) -> String {
    LINKS.iter().fold(body.to_owned(), |body, link| {
        let mut parts = body.split(link);
        let mut kept = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            // A label may be made of several names.
            let (names, rest) = part.split_at(part.find(['"', ')']).unwrap_or(part.len()));
            let names: Vec<String> = names.split(' ').map(|one| format!("{name}-{one}")).collect();
            let _ = write!(kept, "{link}{}{rest}", names.join(" "));
        }
        kept
    })
}

/// Lets what a style says of a name hold for it whatever is put in front.
fn style_apart(style: &str, names: &[&str]) -> String {
    let mut parts = style.split('#');
    let mut kept = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let end = part.find(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '-' | '_')));
        let (name, rest) = part.split_at(end.unwrap_or(part.len()));
        let _ = if names.contains(&name) {
            write!(kept, "[id$=\"-{name}\"]{rest}")
        } else {
            write!(kept, "#{part}")
        };
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_links_are_kept_apart() {
        let body = "<h2 id=\"found\">A</h2><a href=\"#found\">B</a><svg aria-labelledby=\"t d\"/><i style=\"fill:url(#hatch)\"/>";
        assert_eq!(
            apart(body, "crew"),
            "<h2 id=\"crew-found\">A</h2><a href=\"#crew-found\">B</a><svg aria-labelledby=\"crew-t crew-d\"/>\
             <i style=\"fill:url(#crew-hatch)\"/>"
        );
    }

    #[test]
    fn a_style_of_a_name_holds_for_it_in_the_print() {
        let style = "#drawings { page: drawing; color: #fff } .plan:has(#draw) {}";
        assert_eq!(
            style_apart(style, &["drawings", "answer"]),
            "[id$=\"-drawings\"] { page: drawing; color: #fff } .plan:has(#draw) {}"
        );
    }

    #[test]
    fn only_what_stands_on_a_page_is_taken() {
        let html = "<html><body class=\"a\"><a class=\"skip\" href=\"#x\">Skip</a><main>One<script>two</script></main></body></html>";
        assert_eq!(body(html), "<div>One</div>");
    }
}
