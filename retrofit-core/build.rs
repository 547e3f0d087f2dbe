//! Rebuilds the crate when a shipped table changes; the tables are embedded at compile time.

#![allow(clippy::print_stdout)]

fn main() {
    println!("cargo::rerun-if-changed=../tables");
}
