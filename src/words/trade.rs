//! The trade's words, each in a sentence for someone who has not met it.
//!
//! Common usage of the trade; no single source.

/// Words and what they mean.
pub const WORDS: [(&str, &str); 71] = [
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
    ("bevel", "The slant planed on a frame's or transom's edge so that the sheet lies on it flat."),
    ("crown", "How far an edge bows out from the straight line between its ends."),
    ("limber", "A gap at the foot of a frame through which bilge water runs to the lowest place."),
    ("gusset", "A plate of plywood over a joint of two pieces of a frame, glued to both."),
    (
        "cross-spall",
        "A temporary board across a frame's head that holds its breadth until she is planked.",
    ),
    (
        "strongback",
        "The straight, level bed on which frames are set up, upside down, and held until she is planked.",
    ),
    ("notch", "The slot in a frame's edge in which a length of lumber lies."),
    ("freeboard", "Height of the edge over the water: what keeps the next wave out."),
    ("trim", "How far she lies down by bow or stern, as an angle."),
    ("heel", "How far she leans to one side, as an angle."),
    ("draft", "Depth of her lowest place under the water."),
    (
        "righting arm",
        "How far the push of the water lies to the low side of her weight when she heels: the lever that brings her back.",
    ),
    ("boot-top", "A painted band over the waterline, where the bottom paint ends."),
    ("strake", "One run of planking from bow to stern."),
    ("deadrise", "The slope of a V-bottom from level, from keel to chine."),
    ("cleat", "A strip fastened along an edge that a sheet or board is fastened to."),
    ("lap", "How far one sheet runs past another's edge, to be planed to it."),
    (
        "level line",
        "A line struck level on every frame at one height, by which they are set up true.",
    ),
    (
        "gm",
        "Height of the metacentre over her weight: how stiffly she stands upright. Below nought she falls to one side.",
    ),
    (
        "metacentre",
        "The point about which she swings at small heels; above her weight she stands, below it she falls.",
    ),
    (
        "hump",
        "The speed at which she must climb her own bow wave before she planes: most power is asked there.",
    ),
    ("displacement", "What she weighs with all aboard: as much water as she pushes aside."),
    ("wetted skin", "The skin that lies under water: what drags."),
    ("rake", "Lean of stem or transom from upright, fore and aft."),
    ("spring of the sheer", "How far the sheer sags below the straight line between its ends."),
    (
        "batten",
        "A straight-grained, limber stick that is sprung through marks to draw a fair line.",
    ),
    ("spall", "The board across a frame's head that holds its breadth until she is planked."),
    ("knee", "A bracket in the angle of two pieces, as between the keelson and the transom."),
    ("pad", "The thickening of the transom that the motor's clamps bite on."),
    ("reverses", "Places where a line turns from bending one way to bending the other."),
    ("least radius", "The sharpest bend that a sheet takes without breaking."),
    ("baseline", "The level line from which all heights are measured, upward."),
    ("awash", "Full of water: what still floats her then is her wood and her foam."),
    ("land", "The band in which two pieces lie on one another and are glued or fastened."),
    (
        "string",
        "A line stretched over the strongback from end to end: breadths are measured from it.",
    ),
    (
        "far face",
        "The face of a frame, transom or stem that is turned away in the drawing in hand.",
    ),
    ("centre of gravity", "The point in which all that she weighs could hang: G on the hull."),
    (
        "centre of buoyancy",
        "The middle of the room that she takes up in the water, through which it pushes: B on the hull.",
    ),
    ("porpoising", "Pitching up and down by herself at speed."),
    (
        "diagonals",
        "Lengths from corner to corner: where they are alike on both sides, the frame stands square.",
    ),
    ("face", "The side of a frame: its fore face looks to the bow, its after face to the stern."),
];

/// What a word means; longer names are known by the trade word that they hold.
pub fn meaning(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let exact = WORDS.iter().find(|(w, _)| *w == word);
    let held = || WORDS.iter().filter(|(w, _)| holds(&word, w)).max_by_key(|(w, _)| w.len());
    exact.or_else(held).map(|(_, m)| *m)
}

/// Whether `text` has `word` in it as a word of its own, one or several.
fn holds(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        let after = text[at + word.len()..].trim_start_matches('s');
        !letter(text[..at].chars().next_back()) && !letter(after.chars().next())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_name_is_taught_by_its_trade_word() {
        assert_eq!(meaning("Chine log, port"), meaning("chine log"));
        assert_ne!(meaning("chine log"), meaning("chine"));
        assert_eq!(meaning("weight"), None);
        assert_eq!(meaning("steered from a wheel"), None, "a wheel is no heel");
        assert_eq!(meaning("steepest bevels"), meaning("bevel"));
    }

    #[test]
    fn every_trade_word_of_the_cards_is_taught_once() {
        for word in [
            "bevel",
            "crown",
            "limber",
            "gusset",
            "cross-spall",
            "strongback",
            "notch",
            "freeboard",
            "trim",
            "heel",
            "draft",
            "righting arm",
            "boot-top",
            "strake",
            "deadrise",
            "cleat",
            "lap",
            "level line",
            "GM",
            "hump",
            "GM across, held upright",
            "least freeboard",
            "knee",
            "pad width",
        ] {
            assert!(meaning(word).is_some(), "{word}");
        }
        for (i, (word, _)) in WORDS.iter().enumerate() {
            assert!(WORDS[..i].iter().all(|(w, _)| w != word), "{word} twice");
        }
    }
}
