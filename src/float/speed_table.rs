//! The rows of speed and power, and what is read off them: the hump, what no method tells,
//! how fast the motor takes her.

use super::{hump, planing};

/// How a row was worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Floating: power by weight and waterline ([`super::rules`]).
    Displacement,
    /// Between floating and planing: tank tests of hulls with transoms ([`super::hump`]).
    Between,
    /// From that to the next, by how far she is on her way.
    Blend,
    /// Planing: a prismatic hull ([`super::planing`]).
    Planing,
    /// None fits.
    None,
}

/// Why there is no number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoFigure {
    /// She is rowed, and planing is not for oars.
    Rowed,
    /// Her weight lies aft of her bottom.
    WeightAft,
    /// Her bottom narrows aft to this share of its breadth amidships, and is no prism.
    Narrows(f64),
    /// Her deadrise changes by so many degrees aft of amidships.
    DeadriseTurns(f64),
    /// Her bottom is rockered by so many degrees aft of amidships.
    Rockered(f64),
    /// At this speed coefficient she still floats more than she planes.
    StillFloats(f64),
    /// Planing she would wet this share of her waterline's length.
    WetsTooMuch(f64),
    /// The planing method has no answer.
    NotPlaning(planing::OutOfRange),
    /// The tank tests are of other hulls, or of other speeds.
    Untested(hump::OutOfRange),
}

impl Row {
    /// A speed of which nothing is told.
    pub(super) fn none(speed: f64, why: NoFigure) -> Row {
        Row { why: Some(why), ..Row::told(speed, Method::None) }
    }

    /// A speed of which nothing is filled in yet.
    pub(super) fn told(speed: f64, method: Method) -> Row {
        Row {
            speed,
            method,
            resistance: None,
            beside: None,
            power: None,
            band: None,
            trim: None,
            porpoising: None,
            past_chart: false,
            why: None,
        }
    }
}

/// One speed.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Knots.
    pub speed: f64,
    /// How it was worked.
    pub method: Method,
    /// Resistance, N, that of air and leg in it.
    pub resistance: Option<f64>,
    /// Resistance of air and of the motor's leg, N; the rule while she floats has it in
    /// its power.
    pub beside: Option<[f64; 2]>,
    /// Power at the shaft, kW.
    pub power: Option<f64>,
    /// What resistance and power may be off by, as a share, where the method says so little
    /// of small boats that it must be said.
    pub band: Option<f64>,
    /// Running trim of the keel, degrees.
    pub trim: Option<f64>,
    /// Trim (degrees) above which she may porpoise; `None` where the chart does not reach.
    pub porpoising: Option<f64>,
    /// She is so fast for her weight that the chart has ended: its limit is lower still.
    pub past_chart: bool,
    /// Why there is no number.
    pub why: Option<NoFigure>,
}

/// All that is said of speed and power.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedPower {
    /// The table.
    pub rows: Vec<Row>,
    /// Knots of a wave as long as her waterline.
    pub hull_speed: f64,
    /// Knots with the motor's whole power, once she is over what no method tells; `None` where
    /// none tells how far it takes her.
    pub with_motor: Option<f64>,
    /// The hump: speed (kn) and resistance (N) of the hill that she climbs to plane; `None`
    /// where the method's range holds none.
    pub hump: Option<(f64, f64)>,
    /// Speeds (kn) between the last that is told and the first that is told again: the hump
    /// lies there, where no method fits.
    pub gap: Option<(f64, f64)>,
    /// What runabouts reach with her weight and the motor's whole power, knots; `None` for a
    /// boat that does not plane.
    pub runabout: Option<f64>,
    /// Why the method between floating and planing says nothing of her, if so.
    pub no_hump: Option<NoFigure>,
    /// Why she is no prism, if so.
    pub no_prism: Option<NoFigure>,
    /// No motor hangs on her.
    pub rowed: bool,
}

/// From the last speed that is told to the first that is told again.
pub(super) fn gap(rows: &[Row]) -> Option<(f64, f64)> {
    let told = |r: &Row| r.power.is_some();
    let last = rows.windows(2).position(|w| told(&w[0]) && !told(&w[1]))?;
    let next = rows[last + 1..].iter().find(|r| told(r))?;
    Some((rows[last].speed, next.speed))
}

/// The greatest resistance that both neighbours stay under, all three told by methods of
/// resistance.
pub(super) fn hill(rows: &[Row]) -> Option<(f64, f64)> {
    rows.windows(3)
        .filter(|w| w.iter().all(|r| r.method != Method::Displacement))
        .filter_map(|w| Some((w[1].speed, [w[0].resistance?, w[1].resistance?, w[2].resistance?])))
        .filter(|(_, r)| r[1] > r[0] && r[1] > r[2])
        .map(|(speed, r)| (speed, r[1]))
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

/// The slowest speed at which a motor's power (kW) is just used up, between two neighbouring
/// rows that are told: what lies beyond it asks more power than there is before it asks less.
pub(super) fn with_motor(rows: &[Row], motor: f64) -> Option<f64> {
    let at = rows.windows(2).position(|w| {
        w[0].power.is_some_and(|p| p <= motor) && w[1].power.is_some_and(|p| p > motor)
    })?;
    // Slower and asking more, she would have to be over that already.
    if rows[..at].iter().any(|r| r.power.is_some_and(|p| p > motor)) {
        return None;
    }
    let (a, b) = (rows[at].power?, rows[at + 1].power?);
    let step = rows[at + 1].speed - rows[at].speed;
    Some(rows[at].speed + (motor - a) / (b - a) * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(powers: &[Option<f64>]) -> Vec<Row> {
        let row = |(i, p): (usize, &Option<f64>)| Row {
            power: *p,
            resistance: *p,
            ..Row::told(i as f64, Method::Between)
        };
        powers.iter().enumerate().map(row).collect()
    }

    #[test]
    fn what_is_read_off_the_rows() {
        let some = |p: f64| Some(p);
        let open = rows(&[some(1.0), some(2.0), None, None, some(6.0), some(8.0)]);
        assert_eq!(gap(&open), Some((1.0, 4.0)));
        assert_eq!(gap(&rows(&[None, some(1.0), some(2.0), None])), None);
        // Past the gap only if nothing before asked more.
        assert_eq!(with_motor(&open, 7.0), Some(4.5));
        assert_eq!(with_motor(&open, 3.0), None);
        let hill = rows(&[some(1.0), some(5.0), some(3.0), some(6.0)]);
        assert_eq!(self::hill(&hill), Some((1.0, 5.0)));
        assert_eq!(with_motor(&hill, 4.0), Some(0.75));
        assert_eq!(with_motor(&hill, 5.5), Some(2.0 + 2.5 / 3.0));
        // Nothing tells what is before the first row: she is over it, or she is not.
        let fast = rows(&[None, some(5.0), some(3.0), some(6.0)]);
        assert_eq!(with_motor(&fast, 4.0), None);
    }
}
