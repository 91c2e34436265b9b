//! Will the sheets lie flat?

use super::place::end;
use super::{Sentences, both};
use crate::finding::SkinFact;
use crate::flat::sound::Unsound;
use crate::part::LineId;
use crate::units::Units;
use crate::words::bend::sheet_way;

pub(super) fn said(fact: &SkinFact, units: Units) -> Sentences {
    match fact {
        SkinFact::KeptStraight(at) => both(
            "their edges are kept straight: trimmed to a plane one of them would twist there",
            format!(
                "have all edges straight at the {}, or pull the lines' ends apart less",
                end(*at)
            ),
        ),
        SkinFact::NoSuchPanel(panels) => both(
            "this hull has no panel of that name, so its sheet is not used",
            format!("her panels are {}", panels.join(", ")),
        ),
        SkinFact::NoSuchSeam(seams) => {
            let named: Vec<String> = seams.iter().map(LineId::to_string).collect();
            both(
                "no two panels meet there, so it changes nothing",
                match seams.is_empty() {
                    true => "this hull has one panel a side".to_string(),
                    false => format!("panels meet along {}", named.join(", ")),
                },
            )
        }
        SkinFact::Twist { lower, upper, warp, stretch } => both(
            format!(
                "no flat sheet bends to fit between the {lower} and the {upper} there: it would twist by {:.1}°, which stretches its edges by {:.3} %",
                warp.to_degrees(),
                100.0 * stretch
            ),
            "pull one of the two lines there until the twist goes; a little twist a thin sheet will take",
        ),
        SkinFact::Radius { radius, sheet, thickness, least, instead } => both(
            format!(
                "the sheet is asked to bend to a radius of {}; {sheet} of {} takes {} there",
                units.radius(*radius),
                units.fine(*thickness),
                units.radius(*least)
            ),
            match instead {
                Some(way) => format!("{} would hold", sheet_way(way)),
                None => "ease the lines there: no sheet of the table takes it, even in two layers"
                    .into(),
            },
        ),
        SkinFact::PatternOff { by, wrong } => {
            let by = if *wrong { units.fine(*by) } else { units.accuracy(*by) };
            both(format!("its pattern may be off by {by}"), "ease the sharpest bend of its lines")
        }
        SkinFact::Unsound(why) => both(
            format!("{}: no pattern of it is written", unsound(why)),
            "the lines fold the panel over or leave nothing of it: pull them apart there",
        ),
        SkinFact::UnknownSheet(sheet) => both(
            format!(
                "the sheet {sheet:?} is not in the table; its measured thickness is used, and the density of other plywood"
            ),
            "add a row for it to the document's `sheets`, or name one of the table",
        ),
        SkinFact::EdgesDiffer { by, below, surface } => both(
            format!(
                "its edge is {} {} than the {below}'s: the {} of the two sheets lie apart by their thickness",
                units.fine(by.abs()),
                if *by > 0.0 { "longer" } else { "shorter" },
                surface.word()
            ),
            "start fastening amidships and let both ends run",
        ),
    }
}

/// Why nothing may be cut by a pattern.
fn unsound(why: &Unsound) -> String {
    match why {
        Unsound::Corners(n) => {
            format!("its outline has {n} corners, and encloses nothing with fewer than 3")
        }
        Unsound::Crosses(i) => format!("its outline crosses itself near point {}", i + 1),
        Unsound::Area { in_space, in_flat } => format!(
            "laid flat it covers {:.4} m² of the {:.4} m² that it has on the hull",
            in_flat * 1e-6,
            in_space * 1e-6
        ),
    }
}
