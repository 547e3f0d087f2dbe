//! The pages that are opened: every kind of page of every example, written by the program once for all tests.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

use retrofit_core::provisions::Library;
use retrofit_report::language::Language;

/// Readers who have a page of their own in every language.
const READERS: [&str; 3] = ["owner", "assessor", "crew"];

/// A folder below `target/` for one kind of page, empty; what stands there afterwards can be looked at.
fn folder_for(kind: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("browser").join(kind);
    // It is there only where the tests ran before.
    drop(std::fs::remove_dir_all(&folder));
    std::fs::create_dir_all(&folder).expect("a folder below target/");
    folder
}

pub(crate) fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let mut houses: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("examples/ is there")
        .map(|entry| entry.expect("examples/ can be listed").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "json"))
        .collect();
    houses.sort();
    assert!(houses.len() >= 20, "ten houses and their twins");
    houses
}

/// Runs the program, which answers with a verdict or with none, and gives its exit code.
pub(crate) fn retrofit(arguments: &[&str]) -> i32 {
    let output = Command::new(env!("CARGO_BIN_EXE_retrofit"))
        .args(arguments)
        .output()
        .expect("retrofit starts");
    let code = output.status.code().unwrap_or(4);
    assert!(
        code <= 2,
        "{arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    code
}

pub(crate) fn text(path: &Path) -> &str {
    path.to_str().expect("a path in letters")
}

/// Writes the HTML report of every example into a folder and names the files.
pub(crate) fn reports() -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<PathBuf>> = LazyLock::new(|| {
        let folder = folder_for("reports");
        let mut pages = Vec::new();
        for house in examples() {
            let page = folder.join(house.with_extension("html").file_name().expect("a file name"));
            retrofit(&["report", "--quiet", "--html", text(&page), text(&house)]);
            pages.push(page);
        }
        pages
    });
    PAGES.clone()
}

/// Writes the pages that are one reader's alone, the owner's, the assessor's and the crew's, of every example in one
/// language into a folder.
pub(crate) fn pages_for_readers(language: Language) -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<(Language, Vec<PathBuf>)>> = LazyLock::new(|| {
        let folder = folder_for("readers");
        let all = Language::all().into_iter();
        all.map(|language| (language, pages_in(&folder, language)))
            .collect()
    });
    let mut all = PAGES.iter();
    let (_, pages) = all
        .find(|(spoken, _)| *spoken == language)
        .expect("a language there is");
    pages.clone()
}

fn pages_in(folder: &Path, language: Language) -> Vec<PathBuf> {
    let language = language.to_string();
    let folder = folder.join(&language);
    let mut pages = Vec::new();
    for house in examples() {
        for reader in READERS {
            let (out, house_file) = (text(&folder), text(&house));
            retrofit(&[
                "report",
                "--quiet",
                "--for",
                reader,
                "--language",
                &language,
                "--out",
                out,
                house_file,
            ]);
            let page = house.with_extension(format!("{reader}.html"));
            pages.push(folder.join(page.file_name().expect("a file name")));
        }
    }
    pages
}

/// The house that was strengthened, as found and as built.
pub(crate) fn before_and_after() -> [PathBuf; 2] {
    ["found", "built"].map(|record| {
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join(format!("../examples/before-after/nettle-weir-row.{record}.json"))
    })
}

/// Writes the permit worksheet of every example, and of the house that was strengthened, into a folder.
pub(crate) fn worksheets() -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<PathBuf>> = LazyLock::new(|| {
        let folder = folder_for("worksheets");
        let mut with_layout = 0;
        let houses: Vec<PathBuf> = examples().into_iter().chain(before_and_after()).collect();
        let pages: Vec<PathBuf> = houses
            .iter()
            .map(|house| {
                let code = retrofit(&["remedy", "--quiet", "--out", text(&folder), text(house)]);
                with_layout += usize::from(code == 0);
                let page = house.with_extension("worksheet.html");
                folder.join(page.file_name().expect("a file name"))
            })
            .collect();
        let without = pages.len() - with_layout;
        assert!(
            with_layout >= 2 && without >= 2,
            "{with_layout} houses with a layout for everything, {without} with something left out"
        );
        pages
    });
    PAGES.clone()
}

/// Writes what the work came to: two records of one house, and the later one against the design.
pub(crate) fn befores_and_afters() -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<PathBuf>> = LazyLock::new(|| {
        let folder = folder_for("befores-and-afters");
        let [found, built] = before_and_after();
        [("before-after", None), ("designed", Some("--designed"))]
            .into_iter()
            .map(|(name, designed)| {
                let page = folder.join(format!("{name}.html"));
                let mut arguments = vec![
                    "compare",
                    "--quiet",
                    "--html",
                    text(&page),
                    text(&found),
                    text(&built),
                ];
                arguments.extend(designed);
                retrofit(&arguments);
                page
            })
            .collect()
    });
    PAGES.clone()
}

/// Writes the screen of a house as a web page, by lists of editions where there are any.
pub(crate) fn write_screen(page: &Path, house: &Path, lists: &[&str]) {
    let mut arguments = vec![
        "screen",
        "--quiet",
        "--format",
        "html",
        "--out",
        text(page),
        text(house),
    ];
    arguments.extend(lists.iter().flat_map(|list| ["--standards", list]));
    retrofit(&arguments);
}

/// The house whose screen is shown by several editions.
pub(crate) fn larch_harbor_way() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/larch-harbor-way.json")
}

/// Writes the screen of every example as a web page, and of one by several editions.
pub(crate) fn screens() -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<PathBuf>> = LazyLock::new(|| {
        let folder = folder_for("screens");
        let mut pages: Vec<PathBuf> = examples()
            .iter()
            .map(|house| {
                let page = folder.join(
                    house
                        .with_extension("screen.html")
                        .file_name()
                        .expect("a file name"),
                );
                write_screen(&page, house, &[]);
                page
            })
            .collect();
        let house = larch_harbor_way();
        let lists: [&[&str]; 2] = [
            &["asce7-10,sdpws-2008", "asce7-22,sdpws-2021"],
            &[
                "asce7-10",
                "asce7-16",
                "asce7-22",
                "sdpws-2008",
                "sdpws-2021",
                "aci318-14",
            ],
        ];
        for (name, lists) in ["two", "many"].into_iter().zip(lists) {
            let page = folder.join(format!("{name}-editions.html"));
            write_screen(&page, &house, lists);
            pages.push(page);
        }
        pages
    });
    PAGES.clone()
}

/// Writes level survey and foundation plan of every example that has a survey.
pub(crate) fn foundation_pages() -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<PathBuf>> = LazyLock::new(|| {
        let folder = folder_for("foundation");
        let surveyed = examples().into_iter().filter(|house| {
            let record = std::fs::read_to_string(house).expect("an example can be read");
            record.contains("\"surveys\"")
        });
        let mut pages = Vec::new();
        for house in surveyed {
            for verb in ["survey", "foundation"] {
                let page = house.with_extension(format!("{verb}.html"));
                let page = folder.join(page.file_name().expect("a file name"));
                let (out, house) = (text(&page), text(&house));
                retrofit(&[verb, "--quiet", "--format", "html", "--out", out, house]);
                pages.push(page);
            }
        }
        assert!(pages.len() >= 16, "four houses and their twins");
        pages
    });
    PAGES.clone()
}

/// Comparisons of one house: under few sets, which stand side by side, and under all there are.
pub(crate) fn comparisons() -> Vec<PathBuf> {
    static PAGES: LazyLock<Vec<PathBuf>> = LazyLock::new(|| {
        let folder = folder_for("comparisons");
        let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/cinder-alder-terrace.json");
        let all = Library::shipped().ids();
        assert!(all.len() > 5, "more sets than stand side by side");
        let few = all.iter().copied().take(3).collect();
        [("few", few), ("all", all)]
            .into_iter()
            .map(|(name, sets): (&str, Vec<&str>)| {
                let page = folder.join(format!("{name}-sets.html"));
                let mut arguments = vec!["report", "--quiet", "--html", text(&page)];
                arguments.extend(sets.iter().flat_map(|set| ["--provisions", set]));
                arguments.push(text(&house));
                retrofit(&arguments);
                page
            })
            .collect()
    });
    PAGES.clone()
}
