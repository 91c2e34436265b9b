//! The boat afloat, for people: what she weighs, how she floats, what she may carry, how
//! fast she goes, where her waterline is.

use std::fmt::Write as _;

use super::paragraph;
use crate::float::capacity::{KG_PER_POUND, Line};
use crate::float::power::{EFFICIENCY, HORSEPOWER, Method, SpeedPower};
use crate::model::Model;
use crate::model::afloat::{Afloat, Case, SWAMPED};
use crate::units::{Units, half_degrees};

/// Said beside stability, capacity and power.
pub const CAUTION: &str = "All of this is indicative, worked for calm water and the loads named. It does not replace local rules, a capacity plate, or a surveyor. Wear a lifejacket, use the motor's kill cord, and try her first with little power, close in, with help at hand.";

/// Who is in the swamped boat.
pub const SWAMPED_WITH: &str = "motor, battery, fuel and gear as they are; of the persons the part of their weight that the flotation rule leaves to her, the rest of them hanging in the water";

/// The whole part.
pub(super) fn afloat(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    paragraph(out, "", CAUTION);
    out.push('\n');
    masses(out, model, a, units);
    let words = format!(
        "How she floats, in water of {:.0} kg/m³ (GM, held upright: how far her weight lies under the point about which she rolls; at less than nothing she falls over)",
        a.density
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
    rules(out, model, a);
    if let Some(s) = &a.speed {
        speed(out, s);
    }
    waterline(out, model, a, units);
}

fn masses(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    let _ = writeln!(
        out,
        "Hull {:.1} kg, its centre {} aft, {} up",
        a.hull.mass,
        units.show(a.hull.centre.x),
        units.show(a.hull.centre.z)
    );
    let mut sources: Vec<&str> = Vec::new();
    for i in &a.items {
        let note = match i.source.as_str() {
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
        let _ = writeln!(out, "    {:<22} {:>7.1} kg   {}{note}", i.name, i.mass, i.basis);
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
            "    {:<22} {:>7.1} kg   {} aft, {} up{side}",
            l.name,
            l.mass_kg,
            units.show(l.x),
            units.show(l.z)
        );
    }
    out.push('\n');
}

fn case(out: &mut String, a: &Afloat, c: &Case, units: Units) {
    let _ = write!(out, "    {:<24} {:>6.0} kg   ", c.name, c.weight.mass);
    let (Some(f), Some((least, at)), Some(draft)) = (c.floating, c.freeboard, c.draft) else {
        let _ = writeln!(out, "she does not float so: she {}", c.fate());
        return;
    };
    let place = if at.cut_out { " (the motor's cut-out)" } else { "" };
    let freeboard = match c.floods() {
        true if c.name == SWAMPED => format!("awash, {} under at", units.show(-least)),
        true => format!("SHE FLOODS, {} under at", units.show(-least)),
        false => format!("freeboard {} at", units.show(least)),
    };
    let gm = c.gm.map_or(String::new(), |g| format!(", GM {}", units.show(g[0])));
    let _ = writeln!(
        out,
        "{}, {}, draft {}, {freeboard} {} aft{place}{gm}",
        f.trim_told(),
        f.heel_told(),
        units.show(draft),
        units.show(at.at.x),
    );
    if let Some([bow, middle, stern]) = c.along(&a.openings).filter(|_| c.name != SWAMPED) {
        let _ = writeln!(
            out,
            "    {:<24} freeboard at the bow {}, amidships {}, at the stern {}",
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
        let _ = writeln!(out, "No righting arm is told: she does not float with her full crew.\n");
        return;
    }
    paragraph(
        out,
        "",
        "Righting arm, full crew sitting still, trim free: how far her weight and her buoyancy lie apart across",
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
    let none = format!("no heel up to {}", half_degrees(curve.reached));
    let angle = |x: Option<f64>| x.map_or(none.clone(), half_degrees);
    let floods = format!("water comes in at {}", angle(curve.downflooding));
    let vanishes = match curve.vanishing {
        Some(v) if v <= 0.0 => "she has no righting arm at any heel".into(),
        v => format!("the arm vanishes at {} if none did", angle(v)),
    };
    let words = format!(
        "{floods}; {vanishes}; area under the arm to the lesser {:.0} mm·rad (times her weight, the work that it takes to heel her so far)",
        curve.area
    );
    paragraph(out, "    ", &words);
    out.push('\n');
}

fn curves(out: &mut String, a: &Afloat, units: Units) {
    paragraph(
        out,
        "",
        "Even keel, drafts from the lowest point of the outside. LCB, LCF: centres of what she displaces and of her waterplane, aft; KM: the points about which she rolls and pitches, over the lowest point; C_P: how full her ends are",
    );
    let _ = writeln!(
        out,
        "    {:>10} {:>8} {:>10} {:>10} {:>10} {:>10} {:>6} {:>6}",
        "draft", "kg", "LCB", "LCF", "KM across", "KM along", "kg/cm", "C_P"
    );
    for d in a.curves.iter().step_by(2) {
        let _ = writeln!(
            out,
            "    {:>10} {:>8.0} {:>10} {:>10} {:>10} {:>10} {:>6.1} {:>6.2}",
            units.show(d.draft),
            d.displacement,
            units.show(d.lcb),
            units.show(d.lcf),
            units.show(d.km[0]),
            units.show(d.km[1]),
            d.per_cm,
            d.coefficients[1]
        );
    }
    out.push('\n');
}

fn working(out: &mut String, lines: &[Line]) {
    for l in lines {
        let value = if l.value.abs() < 100.0 {
            format!("{:.1}", l.value)
        } else {
            format!("{:.0}", l.value)
        };
        let _ = writeln!(out, "    {} = {value} {}   [{}]", l.text, l.unit, l.source);
    }
}

fn rules(out: &mut String, model: &Model, a: &Afloat) {
    let c = &a.capacity;
    let motor = &model.hull.motor;
    let (with, power) = match c.horsepower {
        Some(hp) => {
            (format!(" with her {} hp", motor.power_hp), format!("; a motor of at most {hp} hp"))
        }
        None => (String::new(), String::new()),
    };
    let words = format!(
        "The safe-loading rule of 33 CFR 183 would suggest {} persons of {:.0} kg together{with}, {:.0} kg in all{power}. It looks at weight, not at where people sit: see everyone on one side",
        c.persons,
        c.persons_weight * KG_PER_POUND,
        c.weight * KG_PER_POUND
    );
    paragraph(out, "", &words);
    working(out, &c.lines);
    if let Some(kg) = a.list_weight {
        let _ = writeln!(
            out,
            "    {kg:.0} kg along one side, where the people sit and at a seat's height, bring the water to the lowest opening   [33 CFR 183.41]"
        );
    }
    let _ = writeln!(
        out,
        "Foam that its flotation rule asks for: {:.0} litres; built in: {:.0}",
        a.foam_needed.0,
        a.foam(&model.hull)
    );
    working(out, &a.foam_needed.1);
    out.push('\n');
}

fn speed(out: &mut String, s: &SpeedPower) {
    let _ = writeln!(
        out,
        "Speed and power, full crew, {:.0} % of the shaft's power reaching the water",
        100.0 * EFFICIENCY
    );
    for r in &s.rows {
        let _ = match (r.resistance, r.power) {
            (Some(n), Some(kw)) => {
                let trim = r.trim.map_or(String::new(), |t| format!(", runs at {t:.1}°"));
                let hp = kw * 1000.0 / HORSEPOWER;
                let limit = match r.porpoising {
                    Some(l) => format!(", may porpoise above {l:.1}°"),
                    None if r.past_chart => ", past the porpoising chart: expect it".into(),
                    None => String::new(),
                };
                writeln!(
                    out,
                    "    {:>4.0} kn   {n:>5.0} N   {kw:>5.2} kW ({hp:.1} hp)   {}{trim}{limit}",
                    r.speed,
                    r.method.word()
                )
            }
            _ => writeln!(out, "    {:>4.0} kn   {}", r.speed, r.why.as_deref().unwrap_or("")),
        };
    }
    let crouch = s.crouch.map_or(String::new(), |kn| {
        format!("; the simple rule (Crouch, C = 150) says {kn:.1} kn, if she planes")
    });
    let _ = writeln!(
        out,
        "    a wave as long as her waterline runs at {:.1} kn; what she reaches: {}{crouch}",
        s.hull_speed,
        s.reached()
    );
    if let Some((n, kn)) = s.hump.map(|h| (h.1, h.0)) {
        let _ = writeln!(out, "    the hump: {n:.0} N at {kn:.0} kn");
    } else if let Some((from, to)) = s.gap {
        let _ = writeln!(
            out,
            "    the hump lies between {from:.0} and {to:.0} kn, where no published method fits her: whether the motor lifts her over it is not told"
        );
    } else if s.rows.iter().any(|r| r.method == Method::Planing) {
        let _ = writeln!(out, "    no hump stands out of the rows above");
    }
    if s.rows.iter().any(|r| r.porpoising.is_some() || r.past_chart) {
        let _ = writeln!(
            out,
            "    porpoising: read off the chart of Savitsky 1964, figure 17, from memory and to a degree"
        );
    }
    out.push('\n');
}

fn waterline(out: &mut String, model: &Model, a: &Afloat, units: Units) {
    let Some(m) = &a.marked else {
        return;
    };
    let plan = model.hull.afloat.waterline;
    let how = if plan.parallel { "parallel to the baseline" } else { "as she floats" };
    let _ = writeln!(out, "The waterline to mark: {}, {how}", plan.with.word());
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
