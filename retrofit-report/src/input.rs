//! Reading: house files and table folders, each fault with the place where it stands.
//!
//! ```no_run
//! use retrofit_report::input::{Origin, read_house};
//!
//! match read_house(&Origin::from("quince-lantern-way.json")) {
//!     Ok(file) => println!("{} wall lines", file.house.wall_lines.len()),
//!     Err(error) => eprintln!("{}", error.picture(false)),
//! }
//! ```

mod column_map;
mod comments;
mod fault;
mod house;
mod place;
mod prices;
mod tables;
mod text;

pub use column_map::{ColumnMapError, LARGEST_MAP, MapFile, parse_column_map, read_column_map};
pub use comments::without_comments;
pub use fault::Fault;
pub use house::{HouseError, HouseFile, parse_house, read_house};
pub use prices::{PricesError, read_prices};
pub use tables::{LARGEST_TABLE, TablesError, add_table_folders, read_standards, table_folders};
pub use text::{LARGEST_HOUSE_FILE, Origin, TextError, read_text};
