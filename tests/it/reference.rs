//! Frozen output of the scripts under `tests/reference/`.

use std::path::Path;

use serde::de::DeserializeOwned;

/// Reads one frozen table.
pub(crate) fn frozen<T: DeserializeOwned>(name: &str) -> T {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name);
    let text = std::fs::read_to_string(&path).expect("frozen reference is in the repository");
    serde_json::from_str(&text).expect("frozen reference has the expected keys")
}
