//! The boat afloat, for people: what she weighs, how she floats, what she may carry, how
//! fast she goes, where her waterline is.

use std::fmt::Write as _;

use super::paragraph;
use crate::float::capacity::Pair;
use crate::float::working::Line;
use crate::model::Model;
use crate::model::afloat::{Afloat, Case};
use crate::units::{KG_PER_POUND, MM_PER_INCH, Units, half_degrees};
use crate::words::{attitude, mass, working};

/// Said beside stability, capacity and power.
pub const CAUTION: &str = "All of this is indicative, worked for calm water and the loads named. It does not replace local rules, a capacity plate, or a surveyor. Wear a lifejacket, use the motor's kill cord, and try her first with little power, close in, with help at hand.";

/// Who is in the swamped boat.
pub const SWAMPED_WITH: &str = "motor, battery, fuel and gear as they are; of the persons the part of their weight that the flotation rule leaves to her, on their seats, the rest of them hanging in the water; half to one side: half of that part as far out as they can sit";

/// The whole part.
pub(super) fn afloat(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    paragraph(out, "", CAUTION);
    out.push('\n');
    masses(out, model, a, units);
    let words = format!(
        "How she floats, in water of {} (GM, held upright: how far her weight lies under the point about which she rolls; below zero she capsizes)",
        units.density(a.density)
    );
    paragraph(out, "", &words);
    for c in &a.cases {
        case(out, a, c, units);
    }
    paragraph(out, "    ", &format!("swamped: {SWAMPED_WITH}"));
    out.push('\n');
    if !a.steps.is_empty() {
        let _ = writeln!(out, "What moves the trim, full crew aboard");
        for s in &a.steps {
            let _ = writeln!(
                out,
                "    {:<22} {} aft: {:+.2}°, stern {} deeper, bow {} higher",
                s.load,
                units.show(s.by),
                s.trim.to_degrees(),
                units.show(s.ends[0]),
                units.show(s.ends[1])
            );
        }
        out.push('\n');
    }
    stability(out, a, units);
    curves(out, a, units);
    rules(out, model, a, units);
    if let Some(s) = &a.speed {
        super::speed::speed(out, s, units);
    }
    waterline(out, model, a, units);
}

fn masses(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    let _ = writeln!(
        out,
        "Hull {}, its centre {} aft, {} up",
        units.mass(a.hull.mass),
        units.show(a.hull.centre.x),
        units.show(a.hull.centre.z)
    );
    let mut sources: Vec<&str> = Vec::new();
    for i in &a.items {
        let note = match mass::source(i) {
            "" => String::new(),
            source => {
                let known = sources.iter().position(|s| *s == source);
                let at = known.unwrap_or_else(|| {
                    sources.push(source);
                    sources.len() - 1
                });
                format!(" [{}]", at + 1)
            }
        };
        let _ = writeln!(
            out,
            "    {:<24} {:>8}   {}{note}",
            i.name,
            units.mass(i.mass),
            mass::basis(&i.basis, units)
        );
    }
    for (i, source) in sources.iter().enumerate() {
        paragraph(out, "        ", &format!("[{}] {source}", i + 1));
    }
    let usual = model.hull.afloat.loads.is_empty();
    let words = if usual {
        "Aboard (the document names nothing, so usual places and weights; motor and fuel by 33 CFR table 183.75)"
    } else {
        "Aboard"
    };
    let _ = writeln!(out, "{words}");
    for l in &a.loads {
        let side = if l.y == 0.0 { String::new() } else { format!(", {} out", units.show(l.y)) };
        let _ = writeln!(
            out,
            "    {:<24} {:>8}   {} aft, {} up{side}",
            l.name,
            units.mass(l.mass_kg),
            units.show(l.x),
            units.show(l.z)
        );
    }
    out.push('\n');
}

fn case(out: &mut String, a: &Afloat, c: &Case, units: Units) {
    let _ = write!(out, "    {:<26} {:>8}   ", c.name(), units.mass(c.weight.mass));
    let (Some(f), Some((least, at)), Some(draft)) = (c.floating, c.freeboard, c.draft) else {
        let _ = writeln!(out, "she does not float: she {}", attitude::fate(c.sinks));
        return;
    };
    let place = if at.cut_out { " (the motor's cut-out)" } else { "" };
    let freeboard = match c.floods() {
        true if c.swamped() => format!("awash, {} under at", units.show(-least)),
        true => format!("SHE FLOODS, {} under at", units.show(-least)),
        false => format!("freeboard {} at", units.show(least)),
    };
    let gm = c.gm.map_or(String::new(), |g| format!(", GM {}", units.show(g[0])));
    let _ = writeln!(
        out,
        "{}, {}, draft {}, {freeboard} {} aft{place}{gm}",
        attitude::trim(f.trim),
        attitude::heel(f.heel),
        units.show(draft),
        units.show(at.at.x),
    );
    if let Some([bow, middle, stern]) = c.along(&a.openings) {
        let _ = writeln!(
            out,
            "    {:<26} gunwale over the water at the bow {}, amidships {}, at the stern {}",
            "",
            units.show(bow),
            units.show(middle),
            units.show(stern)
        );
    }
}

fn stability(out: &mut String, a: &Afloat, units: Units) {
    let curve = &a.righting;
    if curve.points.is_empty() {
        let _ = writeln!(out, "No righting arm: she does not float with her full crew.\n");
        return;
    }
    paragraph(
        out,
        "",
        "Righting arm, full crew sitting still, trim free: how far apart, sideways, her weight pulls down and the water pushes up",
    );
    for p in curve.points.iter().step_by(2) {
        let _ = writeln!(
            out,
            "    {:>4.0}°  arm {:>10}   freeboard {:>10}",
            p.heel.to_degrees(),
            units.show(p.arm),
            units.show(p.freeboard)
        );
    }
    let reached = half_degrees(curve.reached);
    let floods = match curve.downflooding {
        Some(at) => format!("water comes in at {}", half_degrees(at)),
        None => format!("no water comes in up to {reached}"),
    };
    let vanishes = match curve.vanishing {
        Some(v) if v <= 0.0 => "she has no righting arm at any heel".into(),
        Some(v) => format!("kept dry, she rights herself up to {}", half_degrees(v)),
        None => format!("kept dry, she rights herself up to {reached} and further"),
    };
    let work = if curve.area > 0.0 {
        format!(
            "; area under the arm up to the first of them {} (times her weight, the work that it takes to heel her so far)",
            arm_area(curve.area, units)
        )
    } else {
        String::new()
    };
    let words = format!("{floods}; {vanishes}{work}");
    paragraph(out, "    ", &words);
    out.push('\n');
}

/// The area under the righting arm, given in mm·rad, in words.
pub fn arm_area(area: f64, units: Units) -> String {
    match units.imperial() {
        true => format!("{:.1} in·rad", area / MM_PER_INCH),
        false => format!("{area:.0} mm·rad"),
    }
}

fn curves(out: &mut String, a: &Afloat, units: Units) {
    paragraph(
        out,
        "",
        "Even keel, drafts from the lowest point of the outside. LCB, LCF: centres of what she displaces and of her waterplane, aft; KM: the points about which she rolls and pitches, over the lowest point; C_P: how full her ends are",
    );
    // What sinks her by a centimetre, or by an inch.
    let (unit, per, each) = match units.imperial() {
        true => ("lb", "lb/in", 2.54 / KG_PER_POUND),
        false => ("kg", "kg/cm", 1.0),
    };
    let displaced = |kg: f64| if units.imperial() { kg / KG_PER_POUND } else { kg };
    let _ = writeln!(
        out,
        "    {:>10} {unit:>8} {:>10} {:>10} {:>10} {:>10} {per:>6} {:>6}",
        "draft", "LCB", "LCF", "KM across", "KM along", "C_P"
    );
    for d in a.curves.iter().step_by(2) {
        let _ = writeln!(
            out,
            "    {:>10} {:>8.0} {:>10} {:>10} {:>10} {:>10} {:>6.1} {:>6.2}",
            units.show(d.draft),
            displaced(d.displacement),
            units.show(d.lcb),
            units.show(d.lcf),
            units.show(d.km[0]),
            units.show(d.km[1]),
            each * d.per_cm,
            d.coefficients[1]
        );
    }
    out.push('\n');
}

/// The result of a line of a rule's working: in the rule's own unit, or in the reader's where
/// that is a mass or a volume of the metric system.
pub fn worked(l: &Line, units: Units) -> String {
    match l.unit {
        "kg" => units.mass(l.value),
        "litres" => units.volume(l.value),
        "persons" => format!("{:.0} persons", l.value),
        unit if l.value.abs() < 100.0 => format!("{:.1} {unit}", l.value),
        unit => format!("{:.0} {unit}", l.value),
    }
}

fn working(out: &mut String, lines: &[Line], units: Units) {
    for l in lines {
        let words = format!(
            "{} = {}   [{}]",
            working::text(&l.worked, units),
            worked(l, units),
            working::source(&l.worked)
        );
        paragraph(out, "    ", &words);
    }
}

/// A motor with the persons that it leaves room for, in words.
pub fn paired(p: &Pair, units: Units) -> String {
    format!(
        "{} hp: {} persons, {} together",
        p.horsepower,
        p.persons,
        units.mass(p.persons_weight * KG_PER_POUND)
    )
}

fn rules(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    let c = &a.capacity;
    let together = units.mass(c.persons_weight * KG_PER_POUND);
    let marked = match c.horsepower {
        Some(hp) => format!("a motor of at most {hp} hp, and with that motor "),
        None => String::new(),
    };
    let words = format!(
        "The safe-loading rule of 33 CFR 183 would mark her for {marked}{} persons of {together} together; {} in all, motor and gear included. It looks at weight, not at where people sit: see everyone on one side",
        c.persons,
        units.mass(c.weight * KG_PER_POUND)
    );
    paragraph(out, "", &words);
    working(out, &c.lines, units);
    if c.pairs.len() > 1 {
        let _ = writeln!(
            out,
            "    motor, with the persons that it leaves room for   [33 CFR 183.41, table 183.75]"
        );
        for p in &c.pairs {
            let _ = writeln!(out, "        up to {}", paired(p, units));
        }
    }
    if let Some(own) = c.own.filter(|own| Some(own.horsepower) != c.horsepower) {
        let _ = writeln!(out, "    your motor, {}", paired(&own, units));
    }
    if let Some(kg) = a.list_weight {
        let words = format!(
            "{} along one side, where the people sit and at a seat's height, bring the water to the lowest opening   [33 CFR 183.41]",
            units.mass(kg)
        );
        paragraph(out, "    ", &words);
    }
    let words = format!(
        "Foam that its flotation rule asks for: {}, all of it under the water that then stands in her; built in: {}, of it so placed: {}",
        units.volume(a.foam_needed.0),
        units.volume(a.foam(&model.hull)),
        units.volume(a.foam_under)
    );
    paragraph(out, "", &words);
    working(out, &a.foam_needed.1, units);
    out.push('\n');
}

fn waterline(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    let Some(m) = &a.marked else {
        return;
    };
    let plan = model.hull.afloat.waterline;
    let how = if plan.parallel { "parallel to the baseline" } else { "as she floats" };
    let _ = writeln!(
        out,
        "The waterline to mark: {}, {how}; up from the baseline, out from the centreplane",
        plan.with.word()
    );
    for s in &m.stations {
        let top =
            s.boot_top_down.map_or(String::new(), |d| format!("; boot-top {} down", units.show(d)));
        let _ = writeln!(
            out,
            "    station {:<3} {} up, {} out, {} down the skin from the sheer{top}",
            s.station,
            units.show(s.at.z),
            units.show(s.at.y),
            units.show(s.down)
        );
    }
    if m.stations.len() < model.stations.len() {
        let _ = writeln!(out, "    stations that are not named stand clear of the water");
    }
    for e in &m.by_eye {
        let way = if e.off > 0.0 { "above" } else { "below" };
        paragraph(
            out,
            "    ",
            &format!(
                "{}: a batten pulled tight between marks at the ends would be out by {}; the true line runs {way} it, most at {} aft",
                e.panel,
                units.show(e.off.abs()),
                units.show(e.x)
            ),
        );
    }
    out.push('\n');
}
