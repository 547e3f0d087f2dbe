//! What a reader sees of a web page that this program wrote: a small reader of its own regular markup.

/// A block of running text, or of anything else.
#[derive(Debug)]
pub(crate) struct Block {
    pub(crate) text: String,
    /// Whether it is prose, and not a heading, a caption, a table, a list of places or a figure.
    pub(crate) is_prose: bool,
}

/// What stands in these is read, but is not prose.
const NOT_PROSE: [&str; 7] = ["h1", "h2", "h3", "dl", "table", "figcaption", "a"];
const CLASSES_NOT_PROSE: [&str; 4] = ["places", "amount", "kind", "small"];

/// The blocks of a page, in order; of pictures, only their words.
pub(crate) fn blocks(html: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Vec<(String, bool, bool)> = Vec::new();
    let (mut prose, mut other) = (String::new(), String::new());
    let mut rest = html;
    while !rest.is_empty() {
        let (text, after) = rest.split_at(rest.find('<').unwrap_or(rest.len()));
        let is_hidden = open.iter().any(|(_, hidden, _)| *hidden);
        if !is_hidden {
            let is_prose = open.iter().all(|(.., prose)| *prose);
            if is_prose { &mut prose } else { &mut other }.push_str(&unescaped(text));
        }
        if after.is_empty() {
            break;
        }
        let end = after.find('>').expect("a tag ends");
        let tag = &after[1..end];
        rest = &after[end + 1..];
        if tag.starts_with('!') {
            continue;
        }
        if let Some(name) = tag.strip_prefix('/') {
            let (opened, ..) = open.pop().expect("what is closed was opened");
            assert_eq!(opened, name, "tags are nested");
            if [
                "p", "li", "h1", "h2", "h3", "dd", "dt", "td", "th", "text", "title", "desc", "div",
            ]
            .contains(&name)
            {
                for (text, is_prose) in [(&mut prose, true), (&mut other, false)] {
                    if !text.trim().is_empty() {
                        blocks.push(Block {
                            text: text.split_whitespace().collect::<Vec<_>>().join(" "),
                            is_prose,
                        });
                    }
                    text.clear();
                }
            }
            continue;
        }
        let name = tag.split_whitespace().next().unwrap().trim_end_matches('/');
        if name == "br" {
            prose.push('\n');
            other.push('\n');
        }
        if tag.ends_with('/') || ["meta", "br", "link"].contains(&name) {
            continue;
        }
        let class = tag
            .split_once("class=\"")
            .and_then(|(_, class)| class.split('"').next())
            .unwrap_or_default();
        let is_prose = name != "svg"
            && !NOT_PROSE.contains(&name)
            && !class.split(' ').any(|class| CLASSES_NOT_PROSE.contains(&class));
        // Small print stands on a line of its own.
        if class.split(' ').any(|class| class == "small") {
            prose.push('\n');
            other.push('\n');
        }
        open.push((
            name.to_owned(),
            ["style", "head", "script"].contains(&name),
            is_prose,
        ));
    }
    assert!(open.is_empty(), "{open:?}");
    blocks
}

/// All that is seen, as one text.
pub(crate) fn text(html: &str) -> String {
    let blocks: Vec<String> = blocks(html).into_iter().map(|block| block.text).collect();
    blocks.join("\n")
}

fn unescaped(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#x27;", "'")
        .replace("&#39;", "'")
        .replace("&ensp;", " ")
        .replace("&amp;", "&")
}

#[test]
fn prose_is_told_from_the_rest() {
    let html = "<!DOCTYPE html><html><head><meta charset=\"utf-8\"><style>p { a: 1 }</style></head><body>\
        <h2>Heading</h2><p>One <dfn>two</dfn>. <span class=\"small\">three</span></p><ul><li>It&#39;s four</li></ul>\
        </body></html>";
    let blocks = blocks(html);
    let of = |is_prose: bool| -> Vec<&str> {
        let blocks = blocks.iter().filter(|block| block.is_prose == is_prose);
        blocks.map(|block| block.text.as_str()).collect()
    };
    assert_eq!(of(true), ["One two.", "It's four"]);
    assert_eq!(of(false), ["Heading", "three"]);
}
