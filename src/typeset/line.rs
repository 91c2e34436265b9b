//! Words broken into lines.

use std::collections::BTreeMap;

use super::text::{Span, Text};
use crate::drawing::face::width;

/// The page of each heading by its name, counted from 1; those of a first setting are not known.
pub(super) type PageOf = BTreeMap<String, usize>;

/// Sums of widths are rounded by less, mm: what was measured to fit does.
const ROUNDING: f64 = 1e-6;

/// Words in one manner on one line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    pub(super) text: String,
    pub(super) bold: bool,
    pub(super) to: Option<String>,
    /// From the line's left end, mm.
    pub(super) x: f64,
    /// mm.
    pub(super) width: f64,
}

/// The words of a span as they are set.
fn words_of(span: &Span, pages: &PageOf) -> String {
    match (&span.to, span.paged) {
        (Some(to), true) => {
            let number = pages.get(to).map_or("00".to_string(), usize::to_string);
            format!("{}{number}", span.words)
        }
        _ => span.words.clone(),
    }
}

/// A text broken into lines no wider than `room` mm, capitals `height` mm high. A word that is
/// wider than the room is broken where it must be.
pub(super) fn broken(text: &Text, height: f64, room: f64, pages: &PageOf) -> Vec<Vec<Run>> {
    let mut lines: Vec<Vec<Run>> = Vec::new();
    let mut line: Vec<Run> = Vec::new();
    // Whether a space stands before the next word, and how wide the line is so far.
    let (mut apart, mut used) = (false, 0.0);
    for span in &text.0 {
        let words = words_of(span, pages);
        for (k, word) in words.split(' ').enumerate() {
            apart |= k > 0;
            if word.is_empty() {
                continue;
            }
            for part in cut(word, height, span.bold, room) {
                let alone = width(&part, height, span.bold);
                let space = if apart { width(" ", height, span.bold) } else { 0.0 };
                if !line.is_empty() && used + space + alone > room + ROUNDING {
                    lines.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                let before = if line.is_empty() || !apart { "" } else { " " };
                used += if before.is_empty() { alone } else { space + alone };
                put(&mut line, format!("{before}{part}"), span, height);
                apart = false;
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Adds words to a line, to its last run where they are in the same manner.
fn put(line: &mut Vec<Run>, words: String, span: &Span, height: f64) {
    match line.last_mut() {
        Some(last) if last.bold == span.bold && last.to == span.to => {
            last.text.push_str(&words);
            last.width = width(&last.text, height, last.bold);
        }
        last => {
            let x = last.map_or(0.0, |l| l.x + l.width);
            let width = width(&words, height, span.bold);
            line.push(Run { text: words, bold: span.bold, to: span.to.clone(), x, width });
        }
    }
}

/// A word, in parts that fit the room.
fn cut(word: &str, height: f64, bold: bool, room: f64) -> Vec<String> {
    if width(word, height, bold) <= room + ROUNDING {
        return vec![word.into()];
    }
    let mut parts: Vec<String> = vec![String::new()];
    for c in word.chars() {
        let last = parts.last_mut().map(std::mem::take).unwrap_or_default();
        let longer = format!("{last}{c}");
        let end = parts.len() - 1;
        if !last.is_empty() && width(&longer, height, bold) > room + ROUNDING {
            parts[end] = last;
            parts.push(c.to_string());
        } else {
            parts[end] = longer;
        }
    }
    parts
}

/// How wide a text would be on one line, mm, and its widest word.
pub(super) fn natural(text: &Text, height: f64, pages: &PageOf) -> (f64, f64) {
    let whole: f64 = text.0.iter().map(|s| width(&words_of(s, pages), height, s.bold)).sum();
    let widest = text.0.iter().flat_map(|s| {
        let words = words_of(s, pages);
        let widths: Vec<f64> = words.split(' ').map(|w| width(w, height, s.bold)).collect();
        widths
    });
    (whole, widest.fold(0.0, f64::max))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(lines: &[Vec<Run>]) -> Vec<String> {
        lines.iter().map(|l| l.iter().map(|r| r.text.as_str()).collect()).collect()
    }

    #[test]
    fn no_word_is_lost_and_no_line_is_wider_than_its_room() {
        let text = Text::bold("Caution: ")
            .and("a full pot heats till it smokes; ")
            .page_of("see page ", "resin");
        let pages = PageOf::from([("resin".to_string(), 41)]);
        for room in [18.0, 30.0, 55.0, 200.0] {
            let lines = broken(&text, 2.2, room, &pages);
            for l in &lines {
                let last = l.last().expect("a line has words");
                assert!(last.x + last.width <= room + 1e-9, "{room}: {l:?}");
            }
            let all = said(&lines).join(" ");
            assert_eq!(all, "Caution: a full pot heats till it smokes; see page 41");
        }
        assert_eq!(broken(&text, 2.2, 200.0, &pages)[0].len(), 3, "three manners, three runs");
    }

    #[test]
    fn a_word_without_a_space_is_cut_and_one_across_two_spans_is_not_parted_by_one() {
        let long = Text::from("plywood".repeat(20));
        let lines = broken(&long, 2.2, 40.0, &PageOf::new());
        assert!(lines.len() > 3);
        assert_eq!(said(&lines).concat(), "plywood".repeat(20));
        let joined = Text::bold("half").and("-round");
        assert_eq!(said(&broken(&joined, 2.2, 90.0, &PageOf::new())), ["half-round"]);
    }
}
