//! The order in which she is built, step by step.

use super::ends::EndStand;
use super::strongback::Strongback;
use crate::bend::BentMember;
use crate::frames::Frame;
use crate::hull::{Face, Lap, MemberSide};
use crate::units::{Units, half_degrees};

/// Something that is put up in a step. Indices are those of the model.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Item {
    /// Rails, rungs and posts of the strongback.
    Rails,
    /// Its legs and braces.
    Legs,
    /// A frame with its cross-spall.
    Frame(usize),
    /// The stem.
    Stem,
    /// The post of a sharp stern.
    Sternpost,
    /// The transom.
    Transom,
    /// The bow transom.
    BowTransom,
    /// A member.
    Member(usize),
    /// A panel, both sides.
    Panel(usize),
}

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is put up.
    pub title: String,
    /// How.
    pub how: String,
    /// The pieces.
    pub items: Vec<Item>,
}

/// What there is to build.
#[derive(Debug, Clone)]
pub struct ToBuild<'a> {
    /// The jig.
    pub jig: &'a Strongback,
    /// Frames, bow to stern.
    pub frames: &'a [Frame],
    /// Members.
    pub members: &'a [BentMember],
    /// Names of the panels from the keel up.
    pub panels: Vec<&'a str>,
    /// Who laps whom between panel k and panel k + 1.
    pub laps: Vec<Lap>,
}

/// Panels in the order in which they go on: one that is lapped before the one that covers
/// its edge, and of those that may the uppermost first.
pub fn planking_order(laps: &[Lap]) -> Vec<usize> {
    let count = laps.len() + 1;
    let mut left: Vec<usize> = (0..count).rev().collect();
    let mut out = Vec::with_capacity(count);
    // Panel k waits for k + 1 where it laps over it, and for k - 1 where that is lapped.
    let waits_for = |k: usize| {
        let above = (k + 1 < count && laps[k] == Lap::LowerOver).then_some(k + 1);
        let below = (k > 0 && laps[k - 1] == Lap::UpperOver).then(|| k - 1);
        [above, below]
    };
    while let Some(i) =
        left.iter().position(|k| waits_for(*k).into_iter().flatten().all(|w| !left.contains(&w)))
    {
        out.push(left.remove(i));
    }
    out
}

/// How an end is stood up: where its foot and head go, what holds it, what is taped.
fn end_stands(jig: &Strongback, e: &EndStand, units: Units) -> String {
    let along = |x: f64| {
        let by = jig.from_first(x);
        format!(
            "{} {} the first line",
            units.show(by.abs()),
            if by < 0.0 { "ahead of" } else { "aft of" }
        )
    };
    let held = match (&e.support.crosspiece, &e.support.post) {
        (Some(_), _) => {
            "Its head in the crosspiece's notch, its back against the leaning post, plumb over the string"
        }
        (None, Some(p)) if p.at > 0.0 => "Against its two leaning posts, square to the string",
        _ => "Against its leaning post, square to the string",
    };
    let taped = if e.end.is_transom() {
        "tape from the rails' marks to its corners, the same on both sides"
    } else {
        "tape from both rails' marks to its foot and head, the same from either"
    };
    format!(
        "{held}: foot {}, {} above the floor; {} {}, {} above the floor; rake {} (plumb-bob {} off); {taped}. Bevel it now and finish when a batten lies fair.",
        along(e.foot.x),
        units.show(e.foot.z),
        e.end.head_word(),
        along(e.head.x),
        units.show(e.head.z),
        half_degrees(e.rake.abs()),
        units.show(e.plumb()),
    )
}

/// All steps, lengths written in `units`.
pub fn build_order(of: &ToBuild, units: Units) -> Vec<Step> {
    let jig = of.jig;
    let step =
        |title: &str, how: String, items: Vec<Item>| Step { title: title.into(), how, items };
    let mut out = vec![
        step(
            "Rails, rungs and posts",
            format!(
                "Top of the rails {} above the floor and level both ways, {} over both; {} rungs between them; square when both diagonals from the first line to the last are {}. Mark every line on them from the first. Stretch the string down the middle.",
                units.show(jig.rail_top),
                units.show(jig.rail_spacing),
                jig.rungs.len(),
                units.show(jig.rail_diagonal)
            ),
            vec![Item::Rails],
        ),
        step(
            "Legs and braces",
            format!(
                "Legs {} long with one face on each station's line, plumb, the level line marked {} up; braces across every pair.",
                units.show(jig.leg_length),
                units.show(jig.level_on_legs)
            ),
            vec![Item::Legs],
        ),
    ];
    for (i, f) in of.frames.iter().enumerate() {
        let side = if f.face == Face::Aft { "ahead of" } else { "aft of" };
        let stand = jig.stands.iter().find(|s| s.station == f.station);
        let how = match stand {
            Some(s) => format!(
                "{} from the first line. Its {} face on the line, its wood {side} it; level line {} above the floor, its centre mark plumb over the string.",
                units.show(s.from_first),
                f.face.word(),
                units.show(jig.above_floor(jig.level))
            ),
            None => "The level line misses it: stand it by its corners' heights.".into(),
        };
        out.push(step(&format!("Frame {}", f.station), how, vec![Item::Frame(i)]));
    }
    for end in &of.jig.ends {
        out.push(step(
            &super::capital(end.end.word()),
            end_stands(jig, end, units),
            vec![end.end.item()],
        ));
    }
    let inside = |m: &BentMember| m.member.side == MemberSide::Inside;
    for (i, m) in of.members.iter().enumerate().filter(|(_, m)| inside(m)) {
        let way = m.advice.recommended.map_or("see Bones", |w| w.word());
        out.push(step(
            &super::capital(&m.member.name),
            // There is one keelson; the rest come in pairs.
            if m.member.line == "keel" {
                format!("Lay it in {way} along the string, fastening from amidships to both ends; plane it flush with the frames.")
            } else {
                format!("Bend it in {way}, port and starboard in turn, so that neither pulls the frames over; plane it flush with the frames.")
            },
            vec![Item::Member(i)],
        ));
    }
    for k in planking_order(&of.laps) {
        let name = of.panels[k];
        let covers: Vec<&str> = [
            (k + 1 < of.panels.len() && of.laps[k] == Lap::LowerOver).then(|| of.panels[k + 1]),
            (k > 0 && of.laps[k - 1] == Lap::UpperOver).then(|| of.panels[k - 1]),
        ]
        .into_iter()
        .flatten()
        .collect();
        let how = if covers.is_empty() {
            "Try a batten over all frames first. Fasten amidships and let both ends run; plane its edges to the next panel's bevel.".to_string()
        } else {
            format!(
                "It laps over the {}: plane that fair first, then glue and fasten.",
                covers.join(" and the ")
            )
        };
        out.push(step(&super::capital(name), how, vec![Item::Panel(k)]));
    }
    for (i, m) in of.members.iter().enumerate().filter(|(_, m)| !inside(m)) {
        out.push(step(
            &super::capital(&m.member.name),
            "Outside the planking, once she is turned over or before.".into(),
            vec![Item::Member(i)],
        ));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_lapped_goes_on_first() {
        assert_eq!(planking_order(&[Lap::LowerOver]), [1, 0], "sides, then the bottom");
        assert_eq!(planking_order(&[Lap::UpperOver]), [0, 1]);
        let laps = [Lap::LowerOver, Lap::UpperOver, Lap::LowerOver];
        // The topmost is lapped by the third, which laps the second, which the bottom laps.
        assert_eq!(planking_order(&laps), [3, 1, 2, 0]);
        assert_eq!(planking_order(&[]), [0]);
    }
}
