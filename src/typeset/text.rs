//! Words with what is stressed in them, and where they lead.

/// Words, piece by piece.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Text(pub Vec<Span>);

/// A piece of words in one manner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// What it says; where it is the number of a page, what stands before that number.
    pub words: String,
    /// Whether it is stressed.
    pub bold: bool,
    /// The heading that it leads to.
    pub to: Option<String>,
    /// Whether the number of that heading's page follows the words.
    pub paged: bool,
}

impl Text {
    /// Words that are stressed.
    pub fn bold(words: impl Into<String>) -> Text {
        Text(vec![Span { words: words.into(), bold: true, to: None, paged: false }])
    }

    /// The same with more words behind it.
    pub fn and(mut self, more: impl Into<Text>) -> Text {
        self.0.extend(more.into().0);
        self
    }

    /// The same with the number of the heading's page behind `words`.
    pub fn page_of(mut self, words: impl Into<String>, to: &str) -> Text {
        let to = Some(to.to_string());
        self.0.push(Span { words: words.into(), bold: false, to, paged: true });
        self
    }

    /// What it says, without the numbers of pages.
    pub fn plain(&self) -> String {
        self.0.iter().map(|s| s.words.as_str()).collect()
    }

    /// Whether it says nothing.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|s| s.words.trim().is_empty() && !s.paged)
    }
}

impl From<&str> for Text {
    fn from(words: &str) -> Text {
        Text::from(words.to_string())
    }
}

impl From<String> for Text {
    fn from(words: String) -> Text {
        Text(vec![Span { words, bold: false, to: None, paged: false }])
    }
}

impl From<&String> for Text {
    fn from(words: &String) -> Text {
        Text::from(words.clone())
    }
}
