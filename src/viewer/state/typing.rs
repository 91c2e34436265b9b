//! What is being typed and not yet taken.

use crate::hull::Dimension;

/// What is being typed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Typing {
    /// Typed but not yet taken, or refused: (which field, text), the last one typed in last.
    pub typed: Vec<(String, String)>,
    /// A dimension that was typed and is far from what she is: to be entered once more.
    pub doubted: Option<(Dimension, f64)>,
    /// A stick test being typed: span, width, depth, weight, sag.
    pub stick: [String; 5],
    /// A text was being typed in the last frame.
    pub typing: bool,
}

impl Typing {
    /// What stands in a field that was typed in and is not taken.
    pub fn of(&self, field: &str) -> Option<&str> {
        self.typed.iter().find(|(f, _)| f == field).map(|(_, text)| text.as_str())
    }

    /// This is typed in a field.
    pub fn put(&mut self, field: &str, text: String) {
        self.forget(field);
        self.typed.push((field.into(), text));
    }

    /// What was typed in a field is taken, or given up.
    pub fn forget(&mut self, field: &str) {
        self.typed.retain(|(f, _)| f != field);
    }
}
