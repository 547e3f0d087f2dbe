//! The `retrofit` command.

fn main() {}
