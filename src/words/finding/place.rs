//! Where a finding is.

use crate::finding::Place;
use crate::part::AtEnd;
use crate::units::Units;

/// An end of the boat.
pub(super) fn end(end: AtEnd) -> &'static str {
    match end {
        AtEnd::Bow => "bow",
        AtEnd::Stern => "stern",
    }
}

/// What of the transom a motor's finding is about; `None` where it is about something else.
pub fn on_its_transom(place: &Place) -> Option<&'static str> {
    match place {
        Place::Knee => Some("knee"),
        Place::Hung => Some("motor"),
        Place::Pad => Some("motor's pad"),
        Place::CutOut => Some("motor's cut-out"),
        _ => None,
    }
}

/// A place in words, its distances in `units`.
pub fn place(place: &Place, units: Units) -> String {
    match place {
        Place::Document(what) => what.clone(),
        Place::Hull => "the whole hull".into(),
        Place::AllLines => "all lines".into(),
        Place::AllPoints => "all points".into(),
        Place::Line(line) => format!("the {line}"),
        Place::LineIn(line, from) => format!("{line} in {}", from.word()),
        Place::Ducks { line, view: seen, from, to } if from == to => {
            format!("duck {from} of the {line} in {}", seen.word())
        }
        Place::Ducks { line, view: seen, from, to } => {
            format!("ducks {from} to {to} of the {line} in {}", seen.word())
        }
        Place::LastPoint(line) => format!("last point of the {line}"),
        Place::PanelsAtEnd(at) => format!("all panels, at the {}", end(*at)),
        Place::Planking(panel) => format!("planking of {panel:?}"),
        Place::Lap(line) => format!("lap along {line:?}"),
        Place::PanelAt(panel, x) => format!("{panel}, {} aft", units.show(*x)),
        Place::PanelAlong(panel, line) => format!("{panel} along the {line}"),
        Place::PanelBetween(panel, from, to) => {
            format!("{panel} between {} and {} aft", units.show(*from), units.show(*to))
        }
        Place::StickAt(stick, along) => {
            format!("{stick}, {} along from the bow", units.show(*along))
        }
        Place::Stiffness(stick) => format!("{stick}, the test of its stick"),
        Place::StickTest(stick) => format!("stick test of the {stick}"),
        Place::Panel(name) | Place::Stick(name) | Place::Item(name) | Place::Stock(name) => {
            name.clone()
        }
        Place::Station(n) => format!("station {n}"),
        Place::Frame(n) => format!("frame {n}"),
        Place::Frames(a, b) => format!("frames {a} and {b}"),
        Place::OnFrame(n, what) => format!("frame {n}, {what}"),
        Place::FramingOf(n) => format!("framing of station {n}"),
        Place::Framing => "framing".into(),
        Place::Battens => "battens".into(),
        Place::DrainSlope => "drain slope".into(),
        Place::Limbers => "limbers".into(),
        Place::Transom(at) => at.transom().into(),
        Place::OnTransom(at, piece) => format!("{}, {piece}", at.transom()),
        Place::Stem(at) => at.stem().into(),
        Place::StemAt(at, z) => format!("{}, {} above the baseline", at.stem(), units.show(*z)),
        Place::OnStem(at, stick) => format!("{}, {stick}", at.stem()),
        Place::OuterStem(at) => format!("outer {}", at.stem()),
        Place::Knee | Place::Hung | Place::Pad | Place::CutOut => {
            format!("transom, {}", on_its_transom(place).unwrap_or("motor"))
        }
        Place::Strongback => "strongback".into(),
        Place::JigEnd(at) => at.word().into(),
        Place::AsBuilt => "as built".into(),
        Place::Measurement(n) => format!("measurement {n}"),
        Place::AsBuiltAt(at) => format!("as built: {}", self::place(at, units)),
        Place::Case(case) => case.name().into(),
        Place::Speed => "speed".into(),
        Place::SafeLoading => "safe loading".into(),
        Place::Motor => "motor".into(),
        Place::Load(name) => format!("load {name}"),
        Place::Loads => "loads".into(),
        Place::Foam(name) => format!("foam {name}"),
        Place::Foams(a, b) => format!("foam {a} and {b}"),
        Place::Weighed(item) => format!("weighed {item:?}"),
    }
}
