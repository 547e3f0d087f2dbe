//! How the equations of a standard are listed in its file: a line for each.

/// Declares equations of one standing: name, symbol, unit, section, and what the result is in words.
macro_rules! equations {
    ($standing:ident: $($name:ident $symbol:literal $unit:ident $section:literal $words:literal;)+) => {
        $(const $name: $crate::screen::Equation = $crate::screen::Equation {
            symbol: $symbol,
            words: $words,
            unit: $crate::screen::Unit::$unit,
            section: $section,
            standing: $crate::provisions::Standing::$standing,
        };)+
    };
}
pub(super) use equations;
