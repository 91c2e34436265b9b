//! The trade's words, each in a sentence for someone who has not met it.
//!
//! Common usage of the trade; no single source.

use bevy_egui::egui::{Label, Response, RichText, Sense, Ui};

/// Words and what they mean.
pub const WORDS: [(&str, &str); 30] = [
    ("keel", "The bottom's line on the centreplane, from stem to transom."),
    ("chine", "The line where bottom and side meet at an angle."),
    ("sheer", "The top edge of the side, from bow to stern: what the eye takes in first."),
    (
        "duck",
        "A point that a line is made to pass through, after the lead weights that hold a batten on the loft floor.",
    ),
    (
        "station",
        "A plane square across the boat at a distance from the bow; frames stand at stations.",
    ),
    (
        "ruling",
        "A straight line lying in a bent sheet. The sheet does not bend along it, so a straight-edge lies flat there.",
    ),
    ("panel", "One sheet of the skin, between two neighbouring lines."),
    ("pattern", "A panel laid flat at full size, to be cut from a sheet."),
    ("knuckle", "A duck where the line bends sharply instead of fairly."),
    ("fair", "Without bumps or hollows that the eye or the hand would find."),
    (
        "curvature comb",
        "Teeth along a line, longer where it bends more: a fair line has a comb without steps.",
    ),
    ("half-breadth", "Distance out from the centreplane: half of the width there."),
    ("moulded", "A member's depth square to the skin."),
    ("sided", "A member's width along the skin."),
    ("keelson", "The length of lumber inside along the keel."),
    (
        "chine log",
        "The length of lumber inside along the chine, that bottom and side are fastened to.",
    ),
    ("sheer clamp", "The length of lumber inside along the sheer that stiffens the top edge."),
    ("rub rail", "The length of lumber outside along the sheer that takes the knocks."),
    (
        "strain",
        "How much a fibre is stretched, as a share of its length. Wood breaks at about 1 %.",
    ),
    (
        "twist",
        "How much the sheet would have to turn along a ruling. A sheet that is bent and not twisted has none.",
    ),
    ("tightest radius", "The radius of the sharpest bend of the sheet: less is tighter."),
    (
        "moisture",
        "Water in the wood as a share of its dry weight. Wetter wood bends further and breaks later.",
    ),
    ("profile", "The boat seen from the side: heights."),
    ("plan", "The boat seen from above: half-breadths."),
    ("flare", "The side leaning outward as it rises."),
    ("rocker", "The bottom's curve fore and aft."),
    ("transom", "The flat board that closes the stern, or the bow of a pram."),
    ("stem", "The post that closes the bow."),
    ("trim allowance", "What is left on a pattern to be planed off."),
    ("face grain", "The run of the outer veneer; a sheet bends easier across it than along it."),
];

/// What a word means; longer names are known by the trade word that they hold.
pub fn meaning(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let exact = WORDS.iter().find(|(w, _)| *w == word);
    let held = || WORDS.iter().filter(|(w, _)| word.contains(w)).max_by_key(|(w, _)| w.len());
    exact.or_else(held).map(|(_, m)| *m)
}

/// A label; where it holds a trade word it teaches it when pointed at.
pub fn taught(ui: &mut Ui, text: RichText) -> Response {
    let meaning = meaning(text.text());
    let sense = if meaning.is_some() { Sense::hover() } else { Sense::empty() };
    let response = ui.add(Label::new(text).sense(sense));
    match meaning {
        Some(m) => response.on_hover_text(m),
        None => response,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_name_is_taught_by_its_trade_word() {
        assert_eq!(meaning("Chine log, port"), meaning("chine log"));
        assert_ne!(meaning("chine log"), meaning("chine"));
        assert_eq!(meaning("weight"), None);
    }
}
