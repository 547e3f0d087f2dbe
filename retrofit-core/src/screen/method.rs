//! How loads and strengths are compared.

/// Allowable stress design, or load and resistance factor design.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// Allowable stress design.
    Asd,
    /// Load and resistance factor design.
    Lrfd,
}
