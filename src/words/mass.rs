//! What an item of the hull's mass was worked from, and where its figures are from.

use crate::float::mass::{Basis, Item};
use crate::units::Units;
use crate::words::stock::so_many;

/// What it was worked from.
pub fn basis(basis: &Basis, units: Units) -> String {
    match basis {
        Basis::OfWood(share) => format!("{:.0} % of all wood", 100.0 * share),
        Basis::Margin(pct) => format!("{pct:.0} % of what was computed"),
        Basis::Cloth { area, cloth, resin } => format!(
            "{} outside, cloth {}, resin {resin} times its weight",
            units.area(*area),
            units.cloth(*cloth)
        ),
        Basis::Blocks { count, area } => format!(
            "{}, {} of their panels' ply, by the fewest joints that the sheets ask",
            so_many(*count, "block", "blocks"),
            units.area(*area)
        ),
        Basis::Paint { area, coats, coat } => {
            format!(
                "{} in and out with frames and transoms, {coats} coats of {}",
                units.area(*area),
                units.coat(*coat)
            )
        }
        Basis::Ply { area, sheet, thickness, density } => format!(
            "{} of {}, {}, {}",
            units.area(*area),
            sheet.as_deref().unwrap_or("ply"),
            units.gauge(*thickness),
            units.density(*density)
        ),
        Basis::Lumber { count, section: [moulded, sided], length, density } => format!(
            "{count} of {}, {}, {}",
            units.section(*moulded, *sided),
            units.show(*length),
            units.density(*density)
        ),
        Basis::Board { sided, density } => {
            format!("{} sided, {}", units.fine(*sided), units.density(*density))
        }
        Basis::Foam { volume, density } => {
            format!("{} of {}", units.volume(volume * 1e-6), units.density(*density))
        }
        Basis::Block { volume, density } => {
            format!("{} of {}", units.small_volume(*volume), units.density(*density))
        }
        Basis::Density(density) => units.density(*density),
        Basis::Transom { thickness, density } => format!(
            "board {} of {}, cleats and pad",
            units.gauge(*thickness),
            units.density(*density)
        ),
        Basis::Frame { sided, lumber, ply } => format!(
            "boards {} of {}, gussets of ply of {}",
            units.fine(*sided),
            lumber.map_or(String::new(), |density| units.density(density)),
            units.density(*ply)
        ),
        Basis::Solid(volume) => units.small_volume(*volume),
        Basis::Weighed(computed) => format!("weighed; {} was computed", units.mass(*computed)),
    }
}

/// Where its density or coverage is from; empty for what was weighed.
pub fn source(item: &Item) -> &str {
    match item.basis {
        Basis::Margin(_) => "our judgement, no source",
        _ => &item.source,
    }
}
