//! Any text as a column map: read, held against its own columns, and its faults shown.
#![no_main]

use libfuzzer_sys::fuzz_target;
use retrofit_report::input::{Origin, parse_column_map};

fuzz_target!(|text: &str| {
    match parse_column_map(&Origin::from("map.toml"), text.to_owned()) {
        Ok(file) => {
            let header: Vec<String> = file.map.sources().map(str::to_owned).collect();
            match file.map.compile(&header) {
                Ok(mut translator) => {
                    let mut line = Vec::new();
                    let _ = translator.translate(|_| text.lines().next().unwrap_or_default(), &mut line);
                    assert!(line.iter().filter(|byte| **byte == b'\n').count() <= 1);
                }
                Err(fault) => assert!(!file.fault(&fault).picture(false).is_empty()),
            }
        }
        Err(error) => assert!(!error.picture(false).is_empty()),
    }
});
