//! Where figures are from: every source that the book's figures name, once.

use std::collections::BTreeSet;

use super::Of;
use crate::typeset::{Block, Text};
use crate::words::bend::source;
use crate::words::mass;

/// The chapter.
pub(super) fn sources(of: &Of) -> Vec<Block> {
    let model = of.model;
    let mut all: BTreeSet<String> = BTreeSet::new();
    let mut put = |words: &str| {
        let words = words.trim();
        if !words.is_empty() {
            all.insert(words.trim_end_matches('.').to_string());
        }
    };
    for b in &model.members {
        b.advice.rungs.iter().for_each(|r| put(source(r.method)));
    }
    for p in &model.panels {
        put(model.materials.sheets.source_of_radii(p.bend.quality));
    }
    if let Some(a) = model.afloat.as_deref() {
        a.items.iter().for_each(|i| put(mass::source(i)));
        a.capacity.lines.iter().for_each(|l| put(crate::words::working::source(&l.worked)));
    }
    if let Some(list) = of.list {
        list.stores.lines.iter().for_each(|l| put(&l.source));
    }
    for words in [
        "Displacement and centres: the closed mesh of her outside, cut by the water, exact for its triangles",
        "Equilibrium and metacentres: Lewis (ed.), Principles of Naval Architecture, vol. I (1988)",
        "Panels laid flat: rulings of the developable surface through two lines, developed strip by strip",
    ] {
        put(words);
    }
    vec![
        Block::heading(1, "Sources"),
        Block::words(
            "Where a figure of this book is from. \"Common practice, no source\" and \"our judgement\" mean what they say.",
        ),
        Block::List(all.into_iter().map(Text::from).collect()),
    ]
}
