//! Why something cannot be cut or bought, and what a layout's bound rests on.

use crate::hull::stock::ANY_WOOD;
use crate::model::stock::{
    Asked, Cost, Laid, LumberList, Lying, SheetKind, Side, StockList, Unpriced,
};
use crate::stock::joints::{PlacedJoint, SheetFace, Split};
use crate::stock::lumber::{Board, CutPiece, Lack, Rules, StickScarf, Strip};
use crate::stock::nest::{Bound, Excess, Reason, RestsOn};
use crate::units::Units;

/// A part of a sheet as the builder calls it; `part` is its place among the parts of its kind.
pub fn part_name(list: &StockList, kind: &SheetKind, part: usize, lying: &Lying) -> String {
    let Laid::Piece(panel, k) = lying.of else {
        return kind.problem.parts[part].name.clone();
    };
    let split = list.panels.iter().find(|p| p.panel == panel);
    let (name, split) = split.map_or(("", None), |s| (s.name.as_str(), Some(&s.split)));
    piece_name(name, k, split, lying.side)
}

/// A piece of a panel as the builder calls it: its panel, its side, and where it lies from the
/// joints.
fn piece_name(panel: &str, k: usize, split: Option<&Split>, side: Option<Side>) -> String {
    let side = side.map(|s| s.word().to_string());
    let names = [Some(panel.to_string()), side, split.and_then(|s| place_of(s, k))];
    names.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Where a piece lies from the joints of its panel; `None` for one that is whole.
fn place_of(split: &Split, k: usize) -> Option<String> {
    let (pieces, joints) = (split.pieces.len(), split.joints.len());
    if split.joints.iter().any(|j| j.lengthwise) {
        return Some(format!("piece {} of {pieces}", k + 1));
    }
    Some(match (joints, k) {
        (0, _) => return None,
        (1, 0) => "forward of the joint".into(),
        (1, _) => "aft of the joint".into(),
        (_, 0) => "forward of joint 1".into(),
        (n, k) if k >= n => format!("aft of joint {n}"),
        (_, k) => format!("between joints {k} and {}", k + 1),
    })
}

/// What is done at a joint of a piece whose `face_up` lies up on the sheet: at its after end, or
/// at its forward one.
pub fn at_its_end(j: &PlacedJoint, after: bool, face_up: SheetFace, units: Units) -> String {
    let end = if after { "after" } else { "forward" };
    let face = if after { j.faces[0] } else { j.faces[1] };
    let up = if face == face_up { "up here" } else { "down here" };
    let made = match j.slope {
        Some(slope) => format!(
            "plane a slope of {slope:.0} in 1, {} long, on the {} face ({up})",
            units.show(j.taken),
            face.word()
        ),
        None => {
            format!("butt block, {} long, on the {} face ({up})", units.show(j.taken), face.word())
        }
    };
    format!("{end} end: {made}; {}", joint_bends(j, units))
}

/// A joint: what it is, where it lies, and what it does to the bend there.
pub fn joint(j: &PlacedJoint, units: Units) -> String {
    let at = match j.lengthwise {
        true => format!("{} across the pattern", units.show(j.at)),
        false => format!("{} along the pattern", units.show(j.at)),
    };
    let way = match j.in_the_way.is_empty() {
        true => String::new(),
        false => format!("; in its way: {}", j.in_the_way.join(", ")),
    };
    format!("{}, {at}; {}{way}", joint_made(j, units), joint_bends(j, units))
}

/// A joint's kind, its length and which face it is on.
pub fn joint_made(j: &PlacedJoint, units: Units) -> String {
    match j.slope {
        Some(slope) => format!(
            "scarf of {slope:.0} in 1, {} long, planed on the {} of the piece nearer to the bow",
            units.show(j.taken),
            j.faces[0].word()
        ),
        None => format!("butt block, {} long, on the {}", units.show(j.taken), j.faces[0].word()),
    }
}

/// What a joint does to the bend where it lies.
pub fn joint_bends(j: &PlacedJoint, units: Units) -> String {
    match j.bend.bends() {
        true => "glued flat, it bends with the panel".to_string(),
        false => format!(
            "the panel bends to {} there and a flat joint takes {}: glue it when the panel hangs",
            units.radius(j.bend.radius),
            units.radius(j.bend.least_radius)
        ),
    }
}

/// A kind of sheet with its measured thickness, once where it is called by that.
pub fn kind_words(sheet: &str, thickness: f64, units: Units) -> String {
    let gauge = units.gauge(thickness);
    if sheet.ends_with(&gauge) { sheet.to_string() } else { format!("{sheet}, {gauge}") }
}

/// What a list costs, as far as prices are known.
pub fn cost_words(cost: &Cost, currency: &str) -> String {
    let known = format!("{:.2} {currency}", cost.known());
    match (cost.unpriced, cost.known()) {
        (0, _) => known.trim().to_string(),
        (n, 0.0) => format!("{} without a price", so_many(n, "thing", "things")),
        (n, _) => format!("{} and {n} without a price", known.trim()),
    }
}

/// What lumber is asked for; sticks of the jig may be of any.
pub fn wood_name(species: &str) -> &str {
    if species.is_empty() { ANY_WOOD } else { species }
}

/// Something that has no price.
pub fn without_price(what: &Unpriced, units: Units) -> String {
    match what {
        Unpriced::Asked(what) => asked(what, units),
        Unpriced::Store(product) => product.clone(),
    }
}

/// A piece of a stick by its name, and which of its pieces it is where it is joined.
pub fn stick_piece(list: &LumberList, p: &CutPiece) -> String {
    let name = &list.cuts[p.cut].0.name;
    match list.joints(p.cut) {
        0 => name.clone(),
        joints if p.part > joints => format!("{name}, cleat {}", p.part - joints),
        joints => format!("{name}, piece {} of {}", p.part + 1, joints + 1),
    }
}

/// A piece of a stick with the length to cut, and the one that it has when it is trimmed.
pub fn stick_cut(list: &LumberList, p: &CutPiece, units: Units) -> String {
    let (name, cut) = (stick_piece(list, p), units.show(p.length));
    let finished = list.finished(p);
    match p.length - finished > 0.0 {
        true => format!("{name} {cut} (finished {})", units.show(finished)),
        false => format!("{name} {cut}"),
    }
}

/// What is cut from a strip of a board, and to what it is ripped where it is not as wide.
pub fn strip(list: &LumberList, of: &Board, s: &Strip, units: Units) -> String {
    let pieces: Vec<String> = s.pieces.iter().map(|p| stick_cut(list, p, units)).collect();
    let pieces = pieces.join("; ");
    match list.lengths[of.stock].width - s.width > Rules::default().section_room {
        true => format!("ripped to {}: {pieces}", units.show(s.width)),
        false => pieces,
    }
}

/// Where a board is crosscut before it is ripped, to stand before what is cut from it; nothing
/// for one that is ripped full length.
pub fn crosscut_first(at: &[f64], units: Units) -> String {
    if at.is_empty() {
        return String::new();
    }
    let at: Vec<String> = at.iter().map(|x| units.show(*x)).collect();
    format!("crosscut at {} from its trimmed end, then ripped: ", at.join(", "))
}

/// Where and how a stick is joined of pieces.
pub fn stick_joints(list: &LumberList, c: &StickScarf, units: Units) -> String {
    let at: Vec<String> = c.at.iter().map(|x| units.show(*x)).collect();
    let (name, at) = (&list.cuts[c.cut].0.name, at.join(", "));
    match c.cleat > 0.0 {
        true => format!(
            "{name}: butted at {at} from its forward end, over a post; a cleat {} long, its middle on the joint, screwed and glued or bolted to the outer side of both pieces",
            units.show(c.cleat)
        ),
        false => format!(
            "{name}: scarfed at {at} from its forward end as it is cut, each {} long",
            units.show(c.length)
        ),
    }
}

/// A thing asked for at the yard, without how many.
pub fn asked(what: &Asked, units: Units) -> String {
    let counted = |on_hand: bool| if on_hand { ", counted on your list" } else { "" };
    match what {
        Asked::Sheet { sheet, thickness, size, on_hand, boxes } => format!(
            "{}, {} by {}{}{}",
            kind_words(sheet, *thickness, units),
            units.show(size.0),
            units.show(size.1),
            counted(*on_hand),
            match boxes {
                true => ", for the boxes round the foam, cut to what they lie against",
                false => "",
            }
        ),
        Asked::Board { species, section, length, on_hand } => format!(
            "{} {}, {}{}",
            wood_name(species),
            units.section(section.0, section.1),
            units.show(*length),
            counted(*on_hand)
        ),
    }
}

/// How many sheets are cut, how many of them the document's list has not, and how many cannot be
/// done without.
pub fn so_many_sheets(cut: usize, bought: usize, least: usize) -> String {
    let all = so_many(cut, "sheet", "sheets");
    let listed = match cut.saturating_sub(bought) {
        0 => format!(", {bought} to buy"),
        n if bought == 0 => {
            format!(", {} counted on your list", if n == 1 { "it is" } else { "all" })
        }
        n => format!(", {n} counted on your list and {bought} to buy"),
    };
    let bound = if least > 0 { format!("; fewer than {least} cannot do") } else { String::new() };
    format!("{all}{listed}{bound}")
}

/// So many of a thing, in words of one or of several.
pub fn so_many(count: usize, one: &str, more: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { more })
}

/// Why a part is on no sheet.
pub fn on_no_sheet(reason: &Reason, units: Units) -> String {
    match reason {
        Reason::NoSheet => "there is no sheet to cut it from".into(),
        Reason::TooLarge { sheet, over_length, over_width } => {
            let over = |by: f64, what: &str| {
                (by > 0.0).then(|| format!("{} too {what}", units.show(by.max(units.step()))))
            };
            let parts: Vec<String> =
                over(*over_length, "long").into_iter().chain(over(*over_width, "wide")).collect();
            format!("it is {} for {sheet}", parts.join(" and "))
        }
        Reason::Grain { sheet } => {
            format!("it fits on {sheet} only with the grain the other way")
        }
        Reason::NoRoom => "no sheet on hand has room left for it".into(),
    }
}

/// How a layout lies above its bound.
pub fn above_bound(excess: &Excess) -> String {
    let Excess { over, least, bought, by_area } = *excess;
    format!(
        "{over} above the least possible of {least}: with {} the parts would have to fill {:.0} % of each, now they fill {:.0} %; no layout on fewer was found, which is no proof that there is none",
        bought - 1,
        100.0 * by_area / (bought - 1).max(1) as f64,
        100.0 * by_area / bought.max(1) as f64
    )
}

/// What a bound rests on.
pub fn rests_on(bound: &Bound) -> String {
    match bound.rests_on {
        RestsOn::Area => {
            format!("by area: {:.2} sheets' worth of parts and saw cuts", bound.by_area)
        }
        RestsOn::Width => format!(
            "parts wider than half a sheet take up the length of {:.2} sheets",
            bound.by_width
        ),
        RestsOn::Length => format!(
            "parts longer than half a sheet take up the width of {:.2} sheets",
            bound.by_length
        ),
        RestsOn::Middle => format!(
            "{} parts are over half a sheet long and wide: no two go on one sheet",
            bound.on_middle
        ),
    }
}

/// Why a stick cannot be had.
pub fn no_lumber(lack: &Lack, units: Units) -> String {
    let show = |mm: &f64| units.show(*mm);
    let too_long = |over: &f64, longest: &f64| {
        format!(
            "it is {} longer than the longest that can be cut, {}",
            show(&over.max(units.step())),
            show(longest)
        )
    };
    match lack {
        Lack::NoStick { length, section: (a, b) } => {
            format!("{} of {} is no stick", show(length), units.section(*a, *b))
        }
        Lack::NotRipped { species, section: (a, b) } => {
            format!("no {} from which {} can be ripped", wood_name(species), units.section(*a, *b))
        }
        Lack::TooLong { over, longest } => {
            format!("{}, and is not scarfed", too_long(over, longest))
        }
        // The ends of a jig's rail are butted.
        Lack::NoScarf { over, longest, scarf } if *scarf == 0.0 => {
            format!("{}, and no place is free for its joints", too_long(over, longest))
        }
        Lack::NoScarf { over, longest, scarf } => format!(
            "{}, and no place is free for its scarfs of {}",
            too_long(over, longest),
            show(scarf)
        ),
        Lack::UsedUp { part, length } => format!(
            "the stock is used up: piece {} of it, {}, is left over",
            part + 1,
            show(length)
        ),
        Lack::Wrong(what) => format!("the cutting list did not add up: {what}"),
    }
}

/// Layers of a board: "a layer of ply 18 and 2 layers of ply 6".
pub fn layers_of(of: &[(usize, String)]) -> String {
    let each = |(n, sheet): &(usize, String)| match n {
        1 => format!("a layer of {sheet}"),
        n => format!("{n} layers of {sheet}"),
    };
    of.iter().map(each).collect::<Vec<_>>().join(" and ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A builder with a tape in feet is told a lack in feet, one with a metric one in mm.
    #[test]
    fn a_lack_is_told_in_the_readers_units() {
        let species = String::from("Douglas-fir");
        let lacks = [
            Lack::NoStick { length: 609.6, section: (19.05, 38.1) },
            Lack::NotRipped { species, section: (19.05, 38.1) },
            Lack::TooLong { over: 152.4, longest: 3657.6 },
            Lack::NoScarf { over: 152.4, longest: 3657.6, scarf: 203.2 },
            Lack::UsedUp { part: 1, length: 609.6 },
        ];
        for lack in &lacks {
            let (metric, feet) =
                (no_lumber(lack, Units::Mm), no_lumber(lack, Units::FeetInchesEighths));
            assert!(metric.contains(" mm") && !feet.contains("mm"), "{metric}; {feet}");
        }
        assert!(no_lumber(&lacks[3], Units::FeetInchesEighths).ends_with(
            "it is 0-6-0 longer than the longest that can be cut, 12-0-0, and no place is free for its scarfs of 0-8-0"
        ));
        let large = Reason::TooLarge { sheet: "ply".into(), over_length: 25.4, over_width: 0.0 };
        assert_eq!(on_no_sheet(&large, Units::InchFraction), "it is 1\" too long for ply");
        // What is over by less than a tape shows is over by what it shows.
        let hair = Reason::TooLarge { sheet: "ply".into(), over_length: 0.2, over_width: 0.0 };
        assert_eq!(on_no_sheet(&hair, Units::Mm), "it is 1 mm too long for ply");
    }
}
