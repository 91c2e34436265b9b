//! Who and what is aboard, when the document does not say.

use super::super::ashore::Ashore;
use crate::float::motors::motor_row;
use crate::geom::P2;
use crate::hull::{Load, LoadKind};
use crate::units::KG_PER_POUND;

/// A person, kg, as ISO 12217-3 counts the crew (read in a public worksheet for it).
pub const PERSON_KG: f64 = 75.0;
/// Height (mm) of a seated person's centre above the bottom: a thwart of 250 and about 250
/// above it. Common practice, no source.
const SEATED_MM: f64 = 500.0;
/// What is carried, kg. Common practice, no source.
const GEAR_KG: f64 = 15.0;
/// A motor's centre aft of the transom and above its clamps, mm. Common practice, no source.
const MOTOR_AT_MM: [f64; 2] = [120.0, 100.0];

/// What is aboard: what the document says, or the usual loads.
pub(super) fn loads_of(boat: Ashore) -> Vec<Load> {
    let given = &boat.hull.afloat.loads;
    if given.is_empty() { usual_loads(boat) } else { given.clone() }
}

/// What is aboard unless the document says: someone at the tiller, someone forward, motor
/// and fuel of the safe-loading table's weights, gear.
pub(super) fn usual_loads(boat: Ashore) -> Vec<Load> {
    let (fore, aft) = boat.lines.extent(|p| p.x);
    let length = aft - fore;
    let keel = &boat.lines.lines[0].spline;
    let bottom = |x: f64| keel.parameter_at_x(x).map_or(0.0, |t| keel.at(t).z);
    let load = |name: &str, kind, mass_kg: f64, share: f64, up: f64| {
        let x = (fore + share * length).round();
        let mass_kg = (10.0 * mass_kg).round() / 10.0;
        Load { name: name.into(), kind, mass_kg, x, y: 0.0, z: (bottom(x) + up).round() }
    };
    let motor = &boat.hull.motor;
    let hung = motor.fitted && boat.woodwork.transom.is_some();
    // At the tiller with someone forward, or at the oars with someone aft.
    let [builder, passenger] = if hung { [0.68, 0.42] } else { [0.48, 0.8] };
    let mut out = vec![
        load("builder", LoadKind::Person, PERSON_KG, builder, SEATED_MM),
        load("passenger", LoadKind::Person, PERSON_KG, passenger, SEATED_MM),
        load("gear", LoadKind::Gear, GEAR_KG, 0.3, 150.0),
    ];
    if hung {
        let row = motor_row(motor.power_hp);
        let mass = (row.running + row.controls) * KG_PER_POUND;
        let mut hung = load("motor", LoadKind::Motor, mass, 1.0, 400.0);
        if let Some(t) = &boat.woodwork.transom {
            let seat = t.cut_out.map_or(t.top, |c| c.seat);
            let at = t.across.space(P2::new(0.0, seat));
            hung.x = (at.x + MOTOR_AT_MM[0]).round();
            hung.z = (at.z + MOTOR_AT_MM[1]).round();
        }
        out.push(hung);
        for (name, kind, pounds, share) in [
            ("fuel", LoadKind::Fuel, row.fuel, 0.85),
            ("battery", LoadKind::Battery, row.battery, 0.8),
        ] {
            if pounds > 0.0 {
                out.push(load(name, kind, pounds * KG_PER_POUND, share, 150.0));
            }
        }
    }
    out
}

/// Persons nearer to one another than this (mm) sit in one another. Common practice, no source.
const SEAT_MM: f64 = 450.0;

/// Where one more person sits, mm aft and to starboard, in a boat between `from` and `to`:
/// amidships, or the nearest place that nobody has.
pub fn free_seat(aboard: &[Load], (from, to): (f64, f64)) -> (f64, f64) {
    let middle = (0.5 * (from + to)).round();
    let steps = (0.35 * (to - from) / SEAT_MM).floor() as i32;
    let taken = |x: f64, y: f64| {
        let persons = aboard.iter().filter(|l| l.kind == LoadKind::Person);
        persons.map(|l| (l.x - x).hypot(l.y - y)).any(|off| off < SEAT_MM)
    };
    // On the centreplane first, then out to one side and the other.
    for y in [0.0, -SEAT_MM, SEAT_MM] {
        for k in (0..=steps).flat_map(|k| [k, -k]) {
            let x = middle + f64::from(k) * SEAT_MM;
            if !taken(x, y) {
                return (x, y);
            }
        }
    }
    (middle, 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_is_put_down_in_somebody_elses_seat() {
        let mut aboard: Vec<Load> = Vec::new();
        for k in 0..12 {
            let (x, y) = free_seat(&aboard, (0.0, 4000.0));
            let near = aboard.iter().any(|l| (l.x - x).hypot(l.y - y) < SEAT_MM);
            assert!(!near, "{k}: {x}, {y} of {aboard:?}");
            assert!((600.0..=3400.0).contains(&x));
            let name = format!("person {k}");
            aboard.push(Load { name, kind: LoadKind::Person, mass_kg: 90.0, x, y, z: 500.0 });
        }
        assert_eq!((aboard[0].x, aboard[0].y), (2000.0, 0.0), "the first sits amidships");
    }
}
