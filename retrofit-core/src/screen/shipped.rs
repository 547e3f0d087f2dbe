//! The editions of standards that come with the program.

use include_dir::{Dir, include_dir};

use super::standard::{Edition, StandardTable};
use crate::table::{TableError, TableFile};

static SHIPPED: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/../tables/standards");

impl StandardTable {
    /// The ids of the shipped editions, in order.
    pub fn shipped_ids() -> impl Iterator<Item = &'static str> {
        SHIPPED
            .dirs()
            .filter_map(|folder| folder.path().file_name()?.to_str())
    }

    /// The shipped edition of this id; the error says what is wrong with its table, or that there is none.
    ///
    /// ```
    /// use retrofit_core::screen::StandardTable;
    /// assert_eq!(StandardTable::shipped("asce7-16").unwrap().edition.name(), "ASCE 7-16");
    /// assert!(StandardTable::shipped("asce7-99").is_err());
    /// ```
    pub fn shipped(id: &str) -> Result<Self, Vec<TableError>> {
        let files: Vec<TableFile> = files_of(id).collect();
        Self::read(id, &files)
    }

    /// Whether the shipped edition of this id is the one that a screen computes by where no other is asked for. Its
    /// figures are not read for that.
    pub(super) fn is_shipped_default(id: &str) -> Result<bool, Vec<TableError>> {
        let head = files_of(id).find(|file| file.name == "edition.json");
        head.map_or(Ok(false), |head| Ok(Edition::read(id, &head)?.default))
    }
}

fn files_of(id: &str) -> impl Iterator<Item = TableFile> + use<> {
    let files = SHIPPED.get_dir(id).into_iter().flat_map(Dir::files);
    files.filter_map(|file| {
        Some(TableFile {
            path: format!("tables/standards/{}", file.path().display()),
            name: file.path().file_name()?.to_str()?.to_owned(),
            text: file.contents_utf8()?.to_owned(),
        })
    })
}
