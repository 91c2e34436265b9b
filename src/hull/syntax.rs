//! What is wrong with a document's text, in plain words: what stands there and what is
//! accepted in its place.

use ron::error::SpannedError;

use crate::units::short::{short_numbers, shortened};

/// How a document begins, for one that is none.
const DOCUMENT: &str = "a hull document, which begins with ( and its fields: (version: 1, name: \"…\", lines: […]); a table of offsets is a .csv, which the window opens and `chinewright import` brings in";

/// The error of the text's reader as a sentence of ours.
pub(super) fn explain(text: &str, error: &SpannedError) -> String {
    let at = offset(text, error.span.start.line, error.span.start.col);
    let found = Found::at(text, at);
    let message = match &error.code {
        ron::Error::NoSuchStructField { expected, found, outer } => format!(
            "unknown field `{}`{}; accepted: {}",
            shortened(found),
            inside(outer.as_deref()),
            expected.join(", ")
        ),
        ron::Error::MissingStructField { field, outer } => format!(
            "the field `{field}` is missing{}; accepted: {field}: and its value",
            inside(outer.as_deref())
        ),
        ron::Error::DuplicateStructField { field, outer } => format!(
            "the field `{field}` is there twice{}; accepted: once",
            inside(outer.as_deref())
        ),
        ron::Error::NoSuchEnumVariant { expected, found, .. } => {
            format!("`{}` is unknown; accepted: {}", shortened(found), expected.join(", "))
        }
        ron::Error::InvalidValueForType { expected, found } => {
            format!("{} is not accepted here; accepted: {expected}", shortened(found))
        }
        ron::Error::ExpectedDifferentLength { expected, found } => {
            format!("{found} values in this list; accepted: {expected}")
        }
        ron::Error::UnclosedBlockComment => {
            "a comment begins here and has no end; accepted: */ at its end".into()
        }
        ron::Error::Eof => match last_open(text) {
            Some((bracket, line)) => format!(
                "the file ends before {bracket} of line {line} is closed; accepted: {} there",
                if bracket == '(' { ')' } else { ']' }
            ),
            None => "the file ends too early; accepted: the rest of the document".into(),
        },
        ron::Error::ExpectedDifferentStructName { .. }
        | ron::Error::ExpectedNamedStructLike(_)
        | ron::Error::ExpectedStructLike
            if text[..at].trim().is_empty() =>
        {
            format!("this is no boat: {found}; accepted: {DOCUMENT}")
        }
        code => {
            let price = lumber_price(&text[..at], code, &found);
            let accepted = price.unwrap_or_else(|| accepted(code, &found));
            format!("{found}; accepted: {accepted}")
        }
    };
    short_numbers(&message)
}

/// What is accepted where a bare number stands for the price of lumber, which is for a metre or
/// for a length of it; every other price is a number.
fn lumber_price(before: &str, code: &ron::Error, found: &Found) -> Option<String> {
    let Found::Number(n) = found else {
        return None;
    };
    let word = matches!(
        code,
        ron::Error::ExpectedIdentifier
            | ron::Error::InvalidIdentifier(_)
            | ron::Error::SuggestRawIdentifier(_)
    );
    let before = before.trim_end();
    let before = before.strip_suffix("Some(").unwrap_or(before).trim_end();
    let price = before.strip_suffix(':').is_some_and(|b| b.trim_end().ends_with("price"));
    (word && price).then(|| format!("PerMetre({n}) for a metre of it, or Each({n}) for a length"))
}

/// What is accepted where the reader gave up with this code.
fn accepted(code: &ron::Error, found: &Found) -> String {
    match code {
        ron::Error::ExpectedFloat
        | ron::Error::ExpectedInteger
        | ron::Error::FloatUnderscore
        | ron::Error::UnderscoreAtBeginning
        | ron::Error::InvalidIntegerDigit { .. } => "a number such as 420 or 420.5, in digits and with a point".into(),
        ron::Error::IntegerOutOfBounds => "a whole number, 0 or more".into(),
        ron::Error::ExpectedBoolean => "true or false".into(),
        ron::Error::ExpectedString => "a text in double quotes, such as \"marine ply 9\"".into(),
        ron::Error::ExpectedStringEnd => "the closing \" of the text that begins here".into(),
        ron::Error::InvalidEscape(_) => "in a text, \\\\ for a backslash and \\\" for a quotation mark".into(),
        ron::Error::ExpectedArray => "[ and a list of values, then ]".into(),
        ron::Error::ExpectedArrayEnd => "a comma before the next value, or ] at the end of the list".into(),
        ron::Error::ExpectedComma => "a comma before the next field or value, or ) or ] to close what was opened; a number has no unit behind it".into(),
        ron::Error::ExpectedMapColon => "a colon between a field's name and its value, as in x: 100".into(),
        ron::Error::ExpectedDifferentStructName { .. }
        | ron::Error::ExpectedNamedStructLike(_)
        | ron::Error::ExpectedStructLike => "( and fields by name, as in (x: 100, y: 0, z: 150)".into(),
        ron::Error::ExpectedStructLikeEnd | ron::Error::ExpectedOptionEnd => "a comma before the next field, or ) at the end".into(),
        ron::Error::ExpectedIdentifier
        | ron::Error::InvalidIdentifier(_)
        | ron::Error::SuggestRawIdentifier(_) => match found {
            Found::Text(_) => "a word without quotation marks".into(),
            Found::Number(_) => "a field's name and a colon before its value, as in x: 100; decimals are written with a point".into(),
            _ => "a field's name, as in x: 100, or ) or ] to close what was opened".into(),
        },
        ron::Error::TrailingCharacters => "nothing but comments behind the document's last )".into(),
        ron::Error::ExpectedOption => "a value, or None".into(),
        ron::Error::ExceededRecursionLimit => "fewer brackets within brackets".into(),
        // What no document of ours asks for, such as maps and bytes.
        other => format!("text that can be read here ({other})"),
    }
}

/// ` in …` for the thing that a field belongs to.
fn inside(outer: Option<&str>) -> String {
    match outer {
        None => String::new(),
        Some("Hull") => " in the document".into(),
        Some(name) => format!(" in {name}"),
    }
}

/// What stands at a place of the text.
enum Found {
    End,
    Text(String),
    Number(String),
    Word(String),
    Sign(char),
}

impl Found {
    fn at(text: &str, at: usize) -> Found {
        let rest = past_blanks(&text[at..]);
        let Some(first) = rest.chars().next() else {
            return Found::End;
        };
        let run = |more: &dyn Fn(char) -> bool| -> String {
            rest.chars().take_while(|c| more(*c)).collect()
        };
        match first {
            '"' => {
                let inside: String =
                    rest[1..].chars().take_while(|c| *c != '"' && *c != '\n').collect();
                Found::Text(inside)
            }
            c if c.is_ascii_digit() || matches!(c, '-' | '+' | '.') => {
                Found::Number(run(&|c: char| {
                    c.is_alphanumeric() || matches!(c, '-' | '+' | '.' | '_')
                }))
            }
            c if c.is_alphabetic() || c == '_' => {
                Found::Word(run(&|c: char| c.is_alphanumeric() || matches!(c, '_' | '-')))
            }
            c => Found::Sign(c),
        }
    }
}

impl std::fmt::Display for Found {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Found::End => write!(f, "the file ends here"),
            Found::Text(t) => write!(f, "the text \"{}\" stands here", shortened(t)),
            Found::Number(t) | Found::Word(t) => write!(f, "`{}` stands here", shortened(t)),
            Found::Sign(c) if c.is_control() => {
                write!(f, "a sign that cannot be seen ({}) stands here", c.escape_unicode())
            }
            Found::Sign(c) => write!(f, "`{c}` stands here"),
        }
    }
}

/// The text behind blanks and comments.
fn past_blanks(text: &str) -> &str {
    let mut rest = text.trim_start();
    loop {
        let after = if let Some(line) = rest.strip_prefix("//") {
            line.split_once('\n').map_or("", |(_, after)| after)
        } else if let Some(block) = rest.strip_prefix("/*") {
            match block.split_once("*/") {
                Some((_, after)) => after,
                None => return rest,
            }
        } else {
            return rest;
        };
        rest = after.trim_start();
    }
}

/// The byte at a line and column, both from 1; the end if there is no such place.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let start: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let here = &text[start.min(text.len())..];
    let into: usize = here.chars().take(column.saturating_sub(1)).map(char::len_utf8).sum();
    (start + into).min(text.len())
}

/// The last bracket that is not closed, and its line.
fn last_open(text: &str) -> Option<(char, usize)> {
    let mut open: Vec<(char, usize)> = Vec::new();
    let mut line = 1;
    let mut chars = text.char_indices().peekable();
    while let Some((i, c)) = chars.next() {
        match c {
            '\n' => line += 1,
            '(' | '[' => open.push((c, line)),
            ')' | ']' => {
                open.pop();
            }
            '"' => {
                let mut escaped = false;
                for (_, c) in chars.by_ref() {
                    line += usize::from(c == '\n');
                    if c == '"' && !escaped {
                        break;
                    }
                    escaped = c == '\\' && !escaped;
                }
            }
            '/' => {
                // A comment's own brackets close nothing.
                let end = match text[i..].get(..2) {
                    Some("//") => text[i..].find('\n').map(|n| i + n),
                    Some("/*") => text[i..].find("*/").map(|n| i + n + 2),
                    _ => continue,
                };
                while chars.peek().is_some_and(|(j, _)| end.is_none_or(|end| *j < end)) {
                    line += usize::from(chars.next().is_some_and(|(_, c)| c == '\n'));
                }
            }
            _ => {}
        }
    }
    open.pop()
}
