//! Below `drawing` no sentence is made but in `words`: facts go up as data, and one module makes
//! of them what people read.

use std::collections::BTreeMap;

use crate::layers::{ORDER, sources};
use crate::paths::named;

/// So many words in one text are a sentence; fewer name a thing.
const SENTENCE: usize = 4;

/// Where sentences are made all the same, from the root of the sources, and why.
const SAID_BELOW: [(&str, &str); 26] = [
    ("units.rs", "what may be typed as a length, and how the loft's notation is read"),
    ("curve/spline.rs", "an error says what it is; documents are checked before it can come"),
    ("flat/laps.rs", "a word of a table"),
    ("frames/bevel.rs", "a word of a label"),
    ("hull/check", "a fault quotes the field, the value and the range at the place that asks"),
    ("hull/dimension.rs", "a refusal of a change, beside the search that failed"),
    ("hull/document.rs", "the head of the file"),
    ("hull/edit", "refusals of changes: see hull/check"),
    ("hull/framing.rs", "a word of a list"),
    ("hull/matrix_label.rs", "reading names the cell, its text and what is accepted there"),
    ("hull/offsets", "reading, as above"),
    ("hull/outside_of.rs", "reading, as above"),
    ("hull/read.rs", "reading, as above"),
    ("hull/starters.rs", "a starter's own description, beside its document"),
    ("hull/stock.rs", "what wood of no species is called in documents"),
    ("hull/syntax.rs", "reading, as above"),
    ("hull/table_", "reading, as above"),
    ("material", "units of a table's figures, by their words"),
    ("model/parts", "names of pieces, as documents and reports have them"),
    ("model/stock/sheets.rs", "names of pieces, as above"),
    ("panel/deduct.rs", "an error of the import"),
    ("part/case.rs", "names of load cases, as reports have them"),
    ("setup/sticks.rs", "names of sticks, as the list to cut has them"),
    ("stock/lumber/check.rs", "the check of a plan, for who mends the planner"),
    ("stock/nest/problem.rs", "an error says what it is"),
    ("stock/stores", "names of stores, as the table and documents have them"),
];

/// Words of two letters and more, what is filled in aside.
fn words(text: &str) -> usize {
    let mut depth = 0;
    let said: String = text
        .chars()
        .map(|c| {
            depth += i32::from(c == '{');
            let inside = depth > 0;
            depth -= i32::from(c == '}');
            if inside { ' ' } else { c }
        })
        .collect();
    said.split_whitespace().filter(|w| w.chars().filter(|c| c.is_alphabetic()).count() > 1).count()
}

#[test]
fn sentences_are_made_by_words_and_above_it() {
    let place = |module: &str| ORDER.iter().position(|m| *m == module);
    let mut said_below: BTreeMap<&str, usize> = BTreeMap::new();
    let mut said_there = 0;
    let mut wrong = Vec::new();
    for source in sources() {
        let sentences = || source.named.texts.iter().filter(|t| words(t) >= SENTENCE);
        if source.top() == "words" {
            said_there += sentences().count();
        }
        if place(source.top()).is_none_or(|own| Some(own) >= place("words")) {
            continue;
        }
        let file = source.path.to_string_lossy().replace('\\', "/");
        let file = file.rsplit_once("/src/").map_or(file.as_str(), |(_, file)| file).to_string();
        let known = SAID_BELOW.iter().find(|(of, _)| file.starts_with(of));
        match known {
            Some((of, _)) => *said_below.entry(of).or_default() += sentences().count(),
            None => wrong.extend(sentences().map(|t| format!("{file}: {t:?}"))),
        }
    }
    assert!(wrong.is_empty(), "{} sentences below words:\n{}", wrong.len(), wrong.join("\n"));
    for (of, why) in SAID_BELOW {
        assert!(said_below.get(of).is_some_and(|n| *n > 0), "{of} says nothing: {why}");
    }
    assert!(said_there > 250, "the check finds only {said_there} sentences in words itself");
}

/// Each way in which a sentence could stand in a source is found; what a panic says, what only
/// tests say and what documents the source are not.
#[test]
fn texts_of_a_file_are_read() {
    let text = r#"
        /// This is no sentence of the program.
        #[derive(Error)]
        enum E { #[error("an error says what it is")] A }
        const C: &str = "a constant says one too";
        fn f(n: usize) -> String {
            assert!(n > 0, "this is said by a panic only");
            let x = g("an argument says it as well").expect("this is said by a panic only");
            format!("{n} of them are in a macro {x}")
        }
        macro_rules! m { () => { /** A comment is none here either. */ fn g() {} } }
        #[cfg(test)]
        mod tests { fn f() { let x = "only a test would say this"; } }
    "#;
    let found = named(text, &["flat".to_string()]).texts;
    assert_eq!(
        found,
        [
            "an error says what it is",
            "a constant says one too",
            "an argument says it as well",
            "{n} of them are in a macro {x}",
        ]
    );
    let count = ["{n} mm", "off the far face", "{a} lies {b:.1} on {c}", "1 2 3 4 5"].map(words);
    assert_eq!(count, [1, 4, 2, 0]);
}
