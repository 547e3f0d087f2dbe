//! Writes an invented portfolio: `cargo run --example generate_portfolio > portfolio.csv`.
//!
//! A number of rows may be given; without one it is that of `examples/palo-verde-junction.csv`, which this
//! program wrote.

#[path = "palo_verde_junction.rs"]
mod palo_verde_junction;

use std::io::{self, BufWriter, Write};

fn main() -> io::Result<()> {
    let rows = match std::env::args().nth(1).map(|rows| rows.parse()) {
        None => palo_verde_junction::ROWS,
        Some(Ok(rows)) => rows,
        Some(Err(_)) => {
            let problem = "expected a number of rows, such as 5000";
            return Err(io::Error::new(io::ErrorKind::InvalidInput, problem));
        }
    };
    let mut out = BufWriter::new(io::stdout().lock());
    palo_verde_junction::write(
        rows,
        palo_verde_junction::Seen::Variously,
        palo_verde_junction::SEED,
        &palo_verde_junction::all_columns(),
        &mut out,
    )?;
    out.flush()
}
