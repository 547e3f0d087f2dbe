//! The report's own script, and the fingerprint by which a page admits it and no other.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// The script of a web page. Without it a page says the same.
pub const SCRIPT: &str = include_str!("../../templates/report.js");

/// The SHA-256 fingerprint of [`SCRIPT`] in Base64, as a content security policy names it.
pub fn script_fingerprint() -> String {
    STANDARD.encode(Sha256::digest(SCRIPT))
}
