//! The editions of standards that come with the program.

use include_dir::{Dir, include_dir};

use super::standard::StandardTable;
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
        let folder = SHIPPED.get_dir(id);
        let files: Vec<TableFile> = folder
            .into_iter()
            .flat_map(Dir::files)
            .filter_map(|file| {
                Some(TableFile {
                    path: format!("tables/standards/{}", file.path().display()),
                    name: file.path().file_name()?.to_str()?.to_owned(),
                    text: file.contents_utf8()?.to_owned(),
                })
            })
            .collect();
        Self::read(id, &files)
    }
}
