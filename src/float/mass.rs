//! What the hull weighs and where: panels, lumber, frames, ends, cloth and resin, paint,
//! glue and fastenings, each with what it is worked from.
//!
//! Both sides are counted, so every centre but that of a single block of foam lies in the
//! centreplane. Items that were weighed take that mass at the computed place. Densities and
//! coverage come from the tables under `assets/`, or the document's own rows.

use crate::bend::BentMember;
use crate::frames::{Frame, Knee, Skin, Stem, Transom};
use crate::geom::polyline::area;
use crate::geom::ring::centroid;
use crate::geom::{P2, P3, V3};
use crate::hull::{AfloatPlan, Foam, Hull, Member};
use crate::material::{Covering, Materials};
use crate::units::Units;

/// Share of a stem's squared blank that is left when both its sides are planed to the bevel.
/// Our judgement; no source.
pub(super) const STEM_LEFT: f64 = 0.8;
/// Names of the margin, and of the whole hull where it was weighed.
pub const MARGIN: &str = "margin";
/// See [`MARGIN`].
pub const WHOLE: &str = "hull";

/// An item of the hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it is.
    pub name: String,
    /// kg, both sides together.
    pub mass: f64,
    /// Its centre, mm.
    pub centre: P3,
    /// What it displaces when all of it is under water, mm³; nothing for the margin, which is
    /// no wood that can be counted on to lift.
    pub solid: f64,
    /// What it was worked from.
    pub basis: String,
    /// Where its density or coverage is from; empty for what was weighed.
    pub source: String,
    /// What was computed (kg), where it was weighed instead.
    pub computed: Option<f64>,
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
    /// The knee behind the motor.
    pub knee: Option<&'a Knee>,
}

/// Mass (kg) and centre of several items together; the centre of nothing is the origin.
pub fn total(items: &[Item]) -> (f64, P3) {
    let mass: f64 = items.iter().map(|i| i.mass).sum();
    let moment = items.iter().fold(V3::zeros(), |m, i| m + i.mass * i.centre.coords);
    (mass, if mass > 0.0 { P3::from(moment / mass) } else { P3::origin() })
}

/// Every item of the hull, the margin last.
pub fn items(of: &Built) -> Vec<Item> {
    let (plan, units) = (&of.hull.afloat, of.hull.units);
    let mut out = panels(of);
    let skin_area: f64 = (0..of.skin.panels.len()).map(|k| surface(of, k).0).sum();
    let skin_centre = {
        let parts: Vec<Item> = (0..of.skin.panels.len())
            .map(|k| {
                let (area, centre) = surface(of, k);
                item("", area, 1.0, centre)
            })
            .collect();
        total(&parts).1
    };
    members(of, &mut out);
    frames(of, &mut out);
    ends(of, &mut out);
    let (wood, wood_centre) = total(&out);
    let glue = of.materials.coverage(Covering::GlueAndFastenings);
    let basis = format!("{:.0} % of all wood", 100.0 * glue.value);
    out.push(
        item(
            "glue and fastenings",
            glue.value * wood,
            of.density(Covering::GlueDensity),
            wood_centre,
        )
        .of(basis, &glue.source),
    );
    let square_metres = skin_area * 1e-6;
    if plan.cloth_g_m2 > 0.0 {
        let cloth = square_metres * plan.cloth_g_m2 / 1000.0;
        let resin = of.materials.coverage(Covering::ResinInCloth);
        let basis = format!(
            "{} outside, cloth {}, resin {} times its weight",
            units.area(skin_area),
            units.cloth(plan.cloth_g_m2),
            resin.value
        );
        let density = of.density(Covering::LaminateDensity);
        let mass = cloth * (1.0 + resin.value);
        out.push(item("cloth and resin", mass, density, skin_centre).of(basis, &resin.source));
    }
    let coat = of.materials.coverage(Covering::CoatOfPaint);
    let coats = plan.coats;
    let both = units.area(2.0 * skin_area);
    let basis = format!("{both} in and out, {coats} coats of {}", units.coat(coat.value));
    let mass = 2.0 * square_metres * coat.value * f64::from(coats);
    let density = of.density(Covering::PaintDensity);
    out.push(item("paint", mass, density, skin_centre).of(basis, &coat.source));
    for f in &plan.foam {
        let middle = |i: usize| 0.5 * (f.from[i] + f.to[i]);
        let y = if f.both_sides { 0.0 } else { middle(1) };
        out.push(Item {
            name: format!("foam {}", f.name),
            mass: f.volume() * f.density_kg_m3 * 1e-9,
            centre: P3::new(middle(0), y, middle(2)),
            solid: f.volume(),
            basis: {
                let of = units.density(f.density_kg_m3);
                format!("{} of {of}", units.volume(f.volume() * 1e-6))
            },
            source: "the foam's own density in the document".into(),
            computed: None,
        });
        boxed(of, f, &mut out);
    }
    let (computed, centre) = total(&out);
    if plan.margin_pct > 0.0 {
        let basis = format!("{:.0} % of what was computed", plan.margin_pct);
        let margin = item(MARGIN, 0.01 * plan.margin_pct * computed, 1.0, centre);
        out.push(Item { solid: 0.0, ..margin.of(basis, "our judgement, no source") });
    }
    weigh(plan, units, &mut out);
    out
}

/// An item of this density, kg/m³, in the centreplane.
fn item(name: &str, mass: f64, density: f64, centre: P3) -> Item {
    Item {
        name: name.into(),
        mass,
        centre: P3::new(centre.x, 0.0, centre.z),
        solid: mass / density * 1e9,
        basis: String::new(),
        source: String::new(),
        computed: None,
    }
}

/// The boxes of a block of foam, of the ply of gussets and transoms.
fn boxed(of: &Built, foam: &Foam, out: &mut Vec<Item>) {
    let solid = foam.box_volume();
    if solid <= 0.0 {
        return;
    }
    let ply = of.materials.coverage(Covering::OtherPlywood);
    let middle = |i: usize| 0.5 * (foam.from[i] + foam.to[i]);
    let y = if foam.both_sides { 0.0 } else { middle(1) };
    let units = of.hull.units;
    let basis = format!(
        "{} of ply, {}, {}",
        units.area(solid / foam.box_ply_mm),
        units.fine(foam.box_ply_mm),
        units.density(ply.value)
    );
    let name = format!("box of {}", foam.name);
    let made = item(&name, solid * ply.value * 1e-9, ply.value, P3::origin());
    out.push(Item { centre: P3::new(middle(0), y, middle(2)), ..made.of(basis, &ply.source) });
}

impl Item {
    fn of(self, basis: String, source: &str) -> Item {
        Item { basis, source: source.into(), ..self }
    }

    fn weigh(&mut self, mass: f64, units: Units) {
        self.basis = format!("weighed; {} was computed", units.mass(self.mass));
        self.computed = Some(self.mass);
        (self.mass, self.source) = (mass, String::new());
    }
}

/// Masses that were weighed take the place of the computed ones, and the margin is on the
/// rest; `hull` takes the place of all.
fn weigh(plan: &AfloatPlan, units: Units, items: &mut Vec<Item>) {
    if let Some(w) = plan.weighed.iter().find(|w| w.item == WHOLE) {
        let (mass, centre) = total(items);
        let mut whole = item(WHOLE, mass, 1.0, centre);
        whole.centre = centre;
        whole.solid = items.iter().map(|i| i.solid).sum();
        whole.weigh(w.mass_kg, units);
        *items = vec![whole];
        return;
    }
    for i in items.iter_mut() {
        if let Some(w) = plan.weighed.iter().find(|w| w.item == i.name) {
            i.weigh(w.mass_kg, units);
        }
    }
    let rest: f64 =
        items.iter().filter(|i| i.computed.is_none() && i.name != MARGIN).map(|i| i.mass).sum();
    for m in items.iter_mut().filter(|i| i.name == MARGIN && i.computed.is_none()) {
        m.mass = 0.01 * plan.margin_pct * rest;
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

impl Built<'_> {
    fn density(&self, of: Covering) -> f64 {
        self.materials.coverage(of).value
    }

    /// Density of a sheet (kg/m³), and its source.
    fn sheet(&self, name: &str) -> (f64, &str) {
        let other = self.materials.coverage(Covering::OtherPlywood);
        self.materials
            .sheet(name)
            .map_or((other.value, &other.source), |s| (s.density_kg_m3, &s.source))
    }

    /// Density of lumber (kg/m³): its dry mass with the water in it; and its source.
    fn lumber(&self, species: &str, moisture_pct: f64) -> (f64, &str) {
        let other = self.materials.coverage(Covering::OtherLumber);
        let (dry, source) = self
            .materials
            .wood(species)
            .map_or((other.value, &other.source), |w| (1000.0 * w.specific_gravity, &w.source));
        (dry * (1.0 + moisture_pct / 100.0), source)
    }
}

fn panels(of: &Built) -> Vec<Item> {
    let panels = of.skin.panels.iter().enumerate();
    panels
        .map(|(k, p)| {
            let (area, centre) = surface(of, k);
            let (density, source) = of.sheet(of.sheets[k]);
            let units = of.hull.units;
            let basis = format!(
                "{} of {}, {}, {}",
                units.area(area),
                of.sheets[k],
                units.fine(p.thickness),
                units.density(density)
            );
            item(p.name, area * p.thickness * density * 1e-9, density, centre).of(basis, source)
        })
        .collect()
}

fn members(of: &Built, out: &mut Vec<Item>) {
    for b in of.members {
        let middle = b.along.iter().fold(V3::zeros(), |v, a| v + b.middle(a).coords)
            / b.along.len().max(1) as f64;
        out.push(member(of, &b.member, b.length, P3::from(middle)));
    }
    // A species that the table lacks cannot be judged in bending, but it weighs something.
    let unbent = |m: &&Member| of.materials.wood(&m.species).is_none();
    for m in of.hull.members.iter().filter(unbent) {
        if let Some(line) = of.skin.lines.get(&m.line) {
            let end = line.spline.end();
            let along = (0..=LINE_PLACES)
                .map(|i| line.spline.at(end * i as f64 / LINE_PLACES as f64).coords)
                .fold(V3::zeros(), |sum, p| sum + p);
            let middle = P3::from(along / (LINE_PLACES + 1) as f64);
            out.push(member(of, m, line.arc.length(), middle));
        }
    }
}

/// Places along a line at which its middle is meant.
const LINE_PLACES: usize = 40;

/// What a member of this length weighs, both sides together.
fn member(of: &Built, m: &Member, length: f64, middle: P3) -> Item {
    let sides = f64::from(m.sticks());
    let (density, source) = of.lumber(&m.species, m.moisture());
    let mass = sides * length * m.moulded_mm * m.sided_mm * density * 1e-9;
    let units = of.hull.units;
    let basis = format!(
        "{sides:.0} of {}, {}, {}",
        units.section(m.moulded_mm, m.sided_mm),
        units.show(length),
        units.density(density)
    );
    item(&m.name, mass, density, middle).of(basis, source)
}

/// Moisture of sawn lumber, percent: air-dried. Common practice, no source.
const SAWN_MOISTURE_PCT: f64 = 12.0;

fn frames(of: &Built, out: &mut Vec<Item>) {
    let framing = &of.hull.framing;
    let (density, source) = of.lumber(&framing.species, SAWN_MOISTURE_PCT);
    let ply = of.density(Covering::OtherPlywood);
    for f in of.frames {
        let board = |outline: &[P2], count: f64, thick: f64, density: f64| {
            let c = centroid(outline);
            let mass = count * area(outline).abs() * thick * density * 1e-9;
            item("", mass, density, P3::new(f.x, 0.0, c.y))
        };
        let pieces =
            f.pieces.iter().map(|p| board(&p.outline, p.count() as f64, framing.sided_mm, density));
        let gussets = f
            .gussets
            .iter()
            .map(|g| board(&g.outline, if g.whole { 1.0 } else { 2.0 }, framing.gusset_mm, ply));
        let parts: Vec<Item> = pieces.chain(gussets).collect();
        let (mass, centre) = total(&parts);
        let solid: f64 = parts.iter().map(|p| p.solid).sum();
        if parts.is_empty() || solid <= 0.0 {
            continue;
        }
        let units = of.hull.units;
        let basis = format!(
            "boards {} of {}, gussets of ply of {}",
            units.fine(framing.sided_mm),
            units.density(density),
            units.density(ply)
        );
        let name = format!("frame {}", f.station);
        out.push(item(&name, mass, mass / solid * 1e9, centre).of(basis, source));
    }
}

/// A part of the joint at a stem.
pub(super) struct Beside {
    /// What it is.
    pub name: String,
    /// Its wood, mm³.
    pub volume: f64,
    /// Its middle: (aft, up), mm.
    pub middle: P2,
    /// Its width across the boat, mm.
    pub width: f64,
}

/// Outer stem, knee and bow floor of a stem.
pub(super) fn beside_stem(name: &str, s: &Stem) -> Vec<Beside> {
    let mut out = Vec::new();
    if let Some(o) = &s.outer {
        let width = o.volume / area(&o.outline).abs().max(1e-9);
        let middle = centroid(&o.outline);
        out.push(Beside { name: format!("outer {name}"), volume: o.volume, middle, width });
    }
    if let Some(j) = &s.joint {
        let knee = j.knee.as_ref().map(|k| (k, k.area() * k.thickness));
        if let Some((k, volume)) = knee {
            out.push(Beside {
                name: format!("{name} knee"),
                volume,
                middle: k.middle(),
                width: k.thickness,
            });
        }
        if let (true, Some((k, _))) = (j.floor, knee) {
            // Its middle lies under the corner of heel and knee, near enough.
            let middle = k.outline[0];
            let volume = j.floor_volume();
            let name = if s.at_stern { "stern floor" } else { "bow floor" }.to_string();
            out.push(Beside { name, volume, middle, width: j.width });
        }
    }
    out
}

fn ends(of: &Built, out: &mut Vec<Item>) {
    let plan = &of.hull.transom;
    let (density, source) = of.lumber(&of.hull.framing.species, SAWN_MOISTURE_PCT);
    let ply = of.materials.coverage(Covering::OtherPlywood);
    for (name, t) in &of.transoms {
        let board = area(&t.outline).abs() * plan.thickness_mm;
        let framing: f64 =
            t.framing.iter().map(|p| p.count() as f64 * area(&p.outline).abs()).sum();
        let cleats = framing * plan.framing_thickness_mm;
        let pad = t
            .cut_out
            .map_or(0.0, |c| c.pad_thickness * area(&c.pad(of.hull.motor.pad_width_mm)).abs());
        let mass = ((board + pad) * ply.value + cleats * density) * 1e-9;
        let mean = mass / (board + pad + cleats).max(1e-9) * 1e9;
        let units = of.hull.units;
        let basis = format!(
            "board {} of {}, cleats and pad",
            units.fine(plan.thickness_mm),
            units.density(ply.value)
        );
        let middle = t.across.space(centroid(&t.outline));
        out.push(item(name, mass, mean.max(1.0), middle).of(basis, &ply.source));
    }
    if let Some(k) = of.knee {
        let c = centroid(&k.outline);
        let units = of.hull.units;
        let basis = format!("{} sided, {}", units.fine(k.sided), units.density(density));
        let mass = k.volume() * density * 1e-9;
        out.push(item("knee", mass, density, P3::new(c.x, 0.0, c.y)).of(basis, source));
    }
    for (name, s) in &of.stems {
        let c = centroid(&s.outline);
        let sided = of.hull.stem.sided_mm;
        let mass = STEM_LEFT * area(&s.outline).abs() * sided * density * 1e-9;
        let units = of.hull.units;
        let basis = format!("{} sided, {}", units.fine(sided), units.density(density));
        out.push(item(name, mass, density, P3::new(c.x, 0.0, c.y)).of(basis, source));
        for part in beside_stem(name, s) {
            let basis =
                format!("{} of {}", units.small_volume(part.volume), units.density(density));
            let mass = part.volume * density * 1e-9;
            let middle = P3::new(part.middle.x, 0.0, part.middle.y);
            out.push(item(&part.name, mass, density, middle).of(basis, source));
        }
    }
}
