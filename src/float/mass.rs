//! What the hull weighs and where: panels, lumber, frames, ends, cloth and resin, paint,
//! glue and fastenings, each with what it is worked from.
//!
//! Both sides are counted, so every centre but that of a single block of foam lies in the
//! centreplane. Items that were weighed
//! take that mass at the computed place.

use crate::bend::BentMember;
use crate::frames::{Frame, Skin, Stem, Transom};
use crate::geom::polyline::area;
use crate::geom::{P2, P3, V3};
use crate::hull::{AfloatPlan, Hull};
use crate::material::Materials;

/// Density of plywood that is not in the table, kg/m³: fir (from memory).
const OTHER_PLY: f64 = 550.0;
/// Relative density of lumber that is not in the table.
const OTHER_WOOD: f64 = 0.5;
/// Resin for each weight of cloth in wetting out, and for filling its weave. Source: shared
/// check values, file 08, section 2 (50:50 in careful hand lay-up; 2 to 3 with three coats).
const RESIN_PER_CLOTH: f64 = 2.5;
/// A coat of paint, dry, kg/m²: 40 µm at 1500 kg/m³ (common practice, no source).
const COAT: f64 = 0.06;
/// Glue, fillets and fastenings, as a share of all wood. Our judgement; no source.
const GLUE_AND_FASTENINGS: f64 = 0.04;
/// Densities, kg/m³, of what is under water when she is swamped: glue, fillets and
/// fastenings together (our judgement); cloth and resin by their shares, from 2550 for glass
/// and 1150 for cured epoxy (from memory); dry paint (common practice, no source).
const GLUE_DENSITY: f64 = 1500.0;
const LAMINATE_DENSITY: f64 = 1360.0;
const PAINT_DENSITY: f64 = 1500.0;

/// An item of the hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it is.
    pub name: String,
    /// kg, both sides together.
    pub mass: f64,
    /// Its centre, mm.
    pub centre: P3,
    /// What it displaces when all of it is under water, mm³.
    pub solid: f64,
    /// What it was worked from.
    pub basis: String,
    /// Whether it was weighed.
    pub weighed: bool,
}

/// What the hull is made of.
#[derive(Debug)]
pub struct Built<'a> {
    /// The document.
    pub hull: &'a Hull,
    /// The tables.
    pub materials: &'a Materials,
    /// The skin, and each panel's sheet by name.
    pub skin: &'a Skin<'a>,
    /// Names of the sheets, panel by panel.
    pub sheets: Vec<&'a str>,
    /// Members.
    pub members: &'a [BentMember],
    /// Frames.
    pub frames: &'a [Frame],
    /// Transoms.
    pub transoms: Vec<(&'a str, &'a Transom)>,
    /// Stem and sternpost.
    pub stems: Vec<(&'a str, &'a Stem)>,
}

/// Mass (kg) and centre of several items together; the centre of nothing is the origin.
pub fn total(items: &[Item]) -> (f64, P3) {
    let mass: f64 = items.iter().map(|i| i.mass).sum();
    let moment = items.iter().fold(V3::zeros(), |m, i| m + i.mass * i.centre.coords);
    (mass, if mass > 0.0 { P3::from(moment / mass) } else { P3::origin() })
}

/// Every item of the hull, the margin last.
pub fn items(of: &Built) -> Vec<Item> {
    let plan = &of.hull.afloat;
    let mut out = panels(of);
    let skin_area: f64 = (0..of.skin.panels.len()).map(|k| surface(of, k).0).sum();
    let skin_centre = {
        let parts: Vec<Item> = (0..of.skin.panels.len())
            .map(|k| {
                let (area, centre) = surface(of, k);
                item("", area, 1.0, centre, String::new())
            })
            .collect();
        total(&parts).1
    };
    members(of, &mut out);
    frames(of, &mut out);
    ends(of, &mut out);
    let (wood, wood_centre) = total(&out);
    out.push(item(
        "glue and fastenings",
        GLUE_AND_FASTENINGS * wood,
        GLUE_DENSITY,
        wood_centre,
        format!("{:.0} % of all wood (our judgement, no source)", 100.0 * GLUE_AND_FASTENINGS),
    ));
    let square_metres = skin_area * 1e-6;
    if plan.cloth_g_m2 > 0.0 {
        let cloth = square_metres * plan.cloth_g_m2 / 1000.0;
        out.push(item(
            "cloth and resin",
            cloth * (1.0 + RESIN_PER_CLOTH),
            LAMINATE_DENSITY,
            skin_centre,
            format!(
                "{square_metres:.1} m² outside, cloth {:.0} g/m², resin {RESIN_PER_CLOTH} times its weight",
                plan.cloth_g_m2
            ),
        ));
    }
    out.push(item(
        "paint",
        2.0 * square_metres * COAT * f64::from(plan.coats),
        PAINT_DENSITY,
        skin_centre,
        format!("{:.1} m² in and out, {} coats of {COAT} kg/m²", 2.0 * square_metres, plan.coats),
    ));
    for f in &plan.foam {
        let middle = |i: usize| 0.5 * (f.from[i] + f.to[i]);
        let y = if f.both_sides { 0.0 } else { middle(1) };
        out.push(Item {
            name: format!("foam {}", f.name),
            mass: f.volume() * f.density_kg_m3 * 1e-9,
            centre: P3::new(middle(0), y, middle(2)),
            solid: f.volume(),
            basis: format!("{:.0} litres of {:.0} kg/m³", f.volume() * 1e-6, f.density_kg_m3),
            weighed: false,
        });
    }
    weigh(plan, &mut out);
    let centre = total(&out).1;
    if plan.margin_pct > 0.0 && !out.iter().all(|i| i.weighed) {
        let computed: f64 = out.iter().filter(|i| !i.weighed).map(|i| i.mass).sum();
        out.push(item(
            "margin",
            0.01 * plan.margin_pct * computed,
            GLUE_DENSITY,
            centre,
            format!("{:.0} % of what was computed", plan.margin_pct),
        ));
    }
    out
}

/// An item of this density, kg/m³.
fn item(name: &str, mass: f64, density: f64, centre: P3, basis: String) -> Item {
    let centre = P3::new(centre.x, 0.0, centre.z);
    Item { name: name.into(), mass, centre, solid: mass / density * 1e9, basis, weighed: false }
}

/// Masses that were weighed take the place of the computed ones; `hull` scales all.
fn weigh(plan: &AfloatPlan, items: &mut Vec<Item>) {
    for w in &plan.weighed {
        if w.item == "hull" {
            let (mass, centre) = total(items);
            let solid = items.iter().map(|i| i.solid).sum();
            *items = vec![Item {
                name: "hull".into(),
                mass: w.mass_kg,
                centre,
                solid,
                basis: format!("weighed; {mass:.0} kg was computed"),
                weighed: true,
            }];
            return;
        }
        for i in items.iter_mut().filter(|i| i.name == w.item) {
            i.basis = format!("weighed; {:.1} kg was computed", i.mass);
            (i.mass, i.weighed) = (w.mass_kg, true);
        }
    }
}

/// Area (mm², both sides) and centre of a panel, on its moulded surface.
fn surface(of: &Built, k: usize) -> (f64, P3) {
    let (mut area, mut moment) = (0.0, V3::zeros());
    let mut add = |a: P3, b: P3, c: P3| {
        let s = 0.5 * (b - a).cross(&(c - a)).norm();
        area += s;
        moment += s / 3.0 * (a.coords + b.coords + c.coords);
    };
    for w in of.skin.panels[k].surface.rulings.windows(2) {
        add(w[0].lower, w[0].upper, w[1].lower);
        add(w[0].upper, w[1].upper, w[1].lower);
    }
    (2.0 * area, if area > 0.0 { P3::from(moment / area) } else { P3::origin() })
}

fn panels(of: &Built) -> Vec<Item> {
    of.skin
        .panels
        .iter()
        .enumerate()
        .map(|(k, p)| {
            let (area, centre) = surface(of, k);
            let density = of.materials.sheet(of.sheets[k]).map_or(OTHER_PLY, |s| s.density_kg_m3);
            item(
                p.name,
                area * p.thickness * density * 1e-9,
                density,
                centre,
                format!(
                    "{:.2} m² of {}, {:.1} mm, {density:.0} kg/m³",
                    area * 1e-6,
                    of.sheets[k],
                    p.thickness
                ),
            )
        })
        .collect()
}

/// Density of lumber at about 12 % moisture, kg/m³: its dry mass with the water in it.
fn lumber(of: &Built, species: &str, moisture_pct: f64) -> f64 {
    let gravity = of.materials.wood(species).map_or(OTHER_WOOD, |w| w.specific_gravity);
    1000.0 * gravity * (1.0 + moisture_pct / 100.0)
}

fn members(of: &Built, out: &mut Vec<Item>) {
    for b in of.members {
        let m = &b.member;
        let sides = if m.line == "keel" { 1.0 } else { 2.0 };
        let density = lumber(of, &m.species, m.moisture_pct);
        let middle = b.along.iter().fold(V3::zeros(), |v, a| v + a.point.coords)
            / b.along.len().max(1) as f64;
        out.push(item(
            &m.name,
            sides * b.length * m.moulded_mm * m.sided_mm * density * 1e-9,
            density,
            P3::from(middle),
            format!(
                "{sides:.0} of {:.0} x {:.0} mm, {:.2} m, {density:.0} kg/m³",
                m.moulded_mm,
                m.sided_mm,
                b.length / 1000.0
            ),
        ));
    }
}

/// Centroid of a polygon.
fn centroid(ring: &[P2]) -> P2 {
    let n = ring.len();
    let (mut sum, mut twice) = (crate::geom::V2::zeros(), 0.0);
    for i in 0..n {
        let (p, q) = (ring[i], ring[(i + 1) % n]);
        let c = p.x * q.y - q.x * p.y;
        twice += c;
        sum += c * (p.coords + q.coords);
    }
    if twice.abs() < 1e-9 {
        ring.first().copied().unwrap_or_default()
    } else {
        P2::from(sum / (3.0 * twice))
    }
}

fn frames(of: &Built, out: &mut Vec<Item>) {
    let framing = &of.hull.framing;
    let density = lumber(of, &framing.species, 12.0);
    for f in of.frames {
        let mut parts: Vec<Item> = Vec::new();
        for p in &f.pieces {
            let c = centroid(&p.outline);
            let mass =
                p.count() as f64 * area(&p.outline).abs() * framing.sided_mm * density * 1e-9;
            parts.push(item("", mass, density, P3::new(f.x, 0.0, c.y), String::new()));
        }
        for g in &f.gussets {
            let c = centroid(&g.outline);
            let count = if g.whole { 1.0 } else { 2.0 };
            let mass = count * area(&g.outline).abs() * framing.gusset_mm * OTHER_PLY * 1e-9;
            parts.push(item("", mass, OTHER_PLY, P3::new(f.x, 0.0, c.y), String::new()));
        }
        let (mass, centre) = total(&parts);
        let solid: f64 = parts.iter().map(|p| p.solid).sum();
        if parts.is_empty() || solid <= 0.0 {
            continue;
        }
        out.push(item(
            &format!("frame {}", f.station),
            mass,
            mass / solid * 1e9,
            centre,
            format!("boards {:.0} mm of {density:.0} kg/m³ and gussets", framing.sided_mm),
        ));
    }
}

fn ends(of: &Built, out: &mut Vec<Item>) {
    let plan = &of.hull.transom;
    let density = lumber(of, &of.hull.framing.species, 12.0);
    for (name, t) in &of.transoms {
        let board = area(&t.outline).abs() * plan.thickness_mm * OTHER_PLY * 1e-9;
        let cleats: f64 = t
            .framing
            .iter()
            .map(|p| p.count() as f64 * area(&p.outline).abs() * plan.framing_thickness_mm)
            .sum::<f64>()
            * density
            * 1e-9;
        let pad = t.cut_out.map_or(0.0, |c| {
            c.pad_thickness * of.hull.motor.pad_width_mm * of.hull.motor.pad_depth_mm
        }) * OTHER_PLY
            * 1e-9;
        let middle = t.across.space(centroid(&t.outline));
        out.push(item(
            name,
            board + cleats + pad,
            OTHER_PLY,
            middle,
            format!("board {:.0} mm of {OTHER_PLY:.0} kg/m³, cleats and pad", plan.thickness_mm),
        ));
    }
    for (name, s) in &of.stems {
        let c = centroid(&s.outline);
        // Planed on both sides to its bevel: about a fifth goes (our judgement).
        let mass = 0.8 * area(&s.outline).abs() * of.hull.stem.sided_mm * density * 1e-9;
        out.push(item(
            name,
            mass,
            density,
            P3::new(c.x, 0.0, c.y),
            format!("{:.0} mm sided, {density:.0} kg/m³", of.hull.stem.sided_mm),
        ));
    }
}
