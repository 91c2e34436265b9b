//! How fast she is, by which method, and why there is no number.

use crate::float::power::{Method, NoFigure, SpeedPower};
use crate::float::{hump, planing};

/// How a row was worked, in files and tables.
pub fn method(method: Method) -> &'static str {
    match method {
        Method::Displacement => "floating, by weight and waterline",
        Method::Between => "tank tests of hulls with transoms",
        Method::Blend => "tank tests, going over into planing",
        Method::Planing => "planing, as a prism",
        Method::None => "none",
    }
}

/// What she reaches.
pub fn reached(s: &SpeedPower) -> String {
    match s.with_motor {
        _ if s.rowed => format!("rowed: under {:.1} kn", s.hull_speed),
        // What the motor would keep up it may never reach: no method tells the hump.
        Some(kn) if kn > s.hull_speed && s.gap.is_some() => format!("{kn:.1} kn, if past the hump"),
        Some(kn) => format!("{kn:.1} kn"),
        None => "no published method covers it".into(),
    }
}

/// Why there is no number.
pub fn no_figure(why: &NoFigure) -> String {
    match why {
        NoFigure::Rowed => "she is rowed, and planing is not for oars".into(),
        NoFigure::WeightAft => "her weight lies aft of her bottom".into(),
        NoFigure::Narrows(share) => format!(
            "her bottom narrows aft to {:.0} % of its breadth amidships; the planing method is for prisms",
            100.0 * share
        ),
        NoFigure::DeadriseTurns(turn) => format!(
            "her deadrise changes by {turn:.0}° aft of amidships; the planing method is for prisms"
        ),
        NoFigure::Rockered(turn) => format!(
            "her bottom is rockered by {turn:.0}° aft of amidships, which will not plane level; the planing method is for straight runs"
        ),
        NoFigure::StillFloats(coefficient) => format!(
            "at a speed coefficient of {coefficient:.2} she still floats more than she planes; planing figures begin at 1"
        ),
        NoFigure::WetsTooMuch(share) => format!(
            "planing she would wet {:.0} % of her waterline's length: the method does not fit her there",
            100.0 * share
        ),
        NoFigure::NotPlaning(why) => not_planing(why),
        NoFigure::Untested(why) => untested(why),
    }
}

fn not_planing(why: &planing::OutOfRange) -> String {
    use planing::OutOfRange;
    match why {
        OutOfRange::Speed(coefficient) => {
            format!("the speed coefficient is {coefficient:.2}; the method holds from 0.60 to 13")
        }
        OutOfRange::NotYet => {
            "she is not yet planing: at this speed no trim from 2 to 15 degrees balances her".into()
        }
        OutOfRange::Flat => {
            "she would run flatter than 2 degrees, where the method ends: move weight aft".into()
        }
        OutOfRange::Steep => {
            "she would run steeper than 15 degrees, where the method ends: move weight forward"
                .into()
        }
        OutOfRange::DryChine => "her chines would run dry, and the method is for wet ones".into(),
        OutOfRange::Length(beams) => {
            format!("her wetted length is {beams:.1} beams; the method holds up to 4")
        }
    }
}

fn untested(why: &hump::OutOfRange) -> String {
    use hump::{OutOfRange, Ratio};
    match why {
        OutOfRange::Speed { from, upto } => format!(
            "the tank tests of hulls with transoms begin at {from:.1} knots for her weight and end at {upto:.1}"
        ),
        OutOfRange::Form { ratio, value, from, upto } => {
            let what = match ratio {
                Ratio::Slenderness => "her length over the cube root of her volume",
                Ratio::LengthOverBeam => "her waterline over its breadth",
                Ratio::BeamOverDraft => "her breadth over her draft",
                Ratio::Entrance => "half the angle of her waterline at the bow, in degrees,",
                Ratio::Transom => "her immersed transom over her greatest section",
            };
            format!("{what} is {value:.1}; the tank tests are of hulls from {from:.1} to {upto:.1}")
        }
    }
}
