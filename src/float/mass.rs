//! What the hull weighs and where: every part of the register that is weighed by itself, and
//! what lies on all of them (cloth and resin, paint, glue and fastenings), each with what it
//! is worked from.
//!
//! Both sides are counted, so every centre but that of a single block of foam lies in the
//! centreplane. Items that were weighed take that mass at the computed place. Densities and
//! coverage come from the tables under `assets/`, or the document's own rows.

use super::blocks::{Blocks, Together};
use super::painted::Painted;
use crate::frames::Skin;
use crate::geom::{P3, V3};
use crate::hull::{AfloatPlan, Hull};
use crate::material::{Covering, Materials};
use crate::part::{Amount, CutFrom, Part, PartId};

/// An item of the list of masses by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ItemId {
    /// A part, with all that it is put together from.
    Part(PartId),
    /// Blocks behind the joints of panels.
    Blocks,
    /// Glue, fillets and fastenings.
    Glue,
    /// Cloth in resin, outside.
    Cloth,
    /// Paint, in and out.
    Paint,
    /// What was forgotten.
    Margin,
    /// All of it, where the whole hull was weighed.
    Whole,
}

impl ItemId {
    /// What the list and the document call what is no part.
    fn name(self) -> &'static str {
        match self {
            ItemId::Part(_) => "",
            ItemId::Blocks => "butt blocks",
            ItemId::Glue => "glue and fastenings",
            ItemId::Cloth => "cloth and resin",
            ItemId::Paint => "paint",
            ItemId::Margin => "margin",
            ItemId::Whole => WHOLE,
        }
    }
}

/// What the document calls the whole hull, where that was weighed.
pub const WHOLE: &str = "hull";

/// An item of the hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Its name among the items.
    pub id: ItemId,
    /// What it is, in words.
    pub name: String,
    /// kg, both sides together.
    pub mass: f64,
    /// Its centre, mm.
    pub centre: P3,
    /// What it displaces when all of it is under water, mm³; nothing for the margin, which is
    /// no wood that can be counted on to lift.
    pub solid: f64,
    /// What it was worked from.
    pub basis: Basis,
    /// Where its density or coverage is from, by the table; empty for what was weighed and for
    /// the margin, which no table has.
    pub source: String,
    /// What was computed (kg), where it was weighed instead.
    pub computed: Option<f64>,
}

/// What an item's mass was worked from: lengths mm, areas mm², densities kg/m³.
#[derive(Debug, Clone, PartialEq)]
pub enum Basis {
    /// A share of all wood.
    OfWood(f64),
    /// So many in a hundred of what was computed.
    Margin(f64),
    /// Cloth in resin.
    Cloth {
        /// The skin's area.
        area: f64,
        /// The cloth, g/m².
        cloth: f64,
        /// Resin over cloth.
        resin: f64,
    },
    /// Blocks behind the joints of panels.
    Blocks {
        /// How many, both sides together.
        count: usize,
        /// Their area.
        area: f64,
    },
    /// Paint.
    Paint {
        /// Both faces of the skin and of all boards inside.
        area: f64,
        /// Coats.
        coats: u32,
        /// What one leaves, kg/m².
        coat: f64,
    },
    /// Of plywood.
    Ply {
        /// Its area.
        area: f64,
        /// The sheet by its name, where it has one.
        sheet: Option<String>,
        /// Its thickness.
        thickness: f64,
        /// Its density.
        density: f64,
    },
    /// A stick.
    Lumber {
        /// How many.
        count: usize,
        /// Moulded and sided.
        section: [f64; 2],
        /// How long.
        length: f64,
        /// Its density.
        density: f64,
    },
    /// Sawn from a board.
    Board {
        /// How thick.
        sided: f64,
        /// Its density.
        density: f64,
    },
    /// Foam.
    Foam {
        /// Its volume, mm³.
        volume: f64,
        /// Its density.
        density: f64,
    },
    /// A solid of wood, mm³.
    Block {
        /// Its volume, mm³.
        volume: f64,
        /// Its density.
        density: f64,
    },
    /// A density alone.
    Density(f64),
    /// A transom of board, cleats and pad.
    Transom {
        /// The board's thickness.
        thickness: f64,
        /// Its density.
        density: f64,
    },
    /// A frame of boards and gussets.
    Frame {
        /// The boards' thickness.
        sided: f64,
        /// Their density, where there are any.
        lumber: Option<f64>,
        /// The gussets'.
        ply: f64,
    },
    /// What it is put together from, mm³.
    Solid(f64),
    /// Weighed; this (kg) was computed.
    Weighed(f64),
}

/// What the hull is made of.
#[derive(Debug)]
pub struct Built<'a> {
    /// The document.
    pub hull: &'a Hull,
    /// The tables.
    pub materials: &'a Materials,
    /// The skin.
    pub skin: &'a Skin<'a>,
    /// Every part of her.
    pub parts: &'a [Part],
    /// What lies behind the joints of her panels.
    pub blocks: &'a [Blocks],
}

/// Mass (kg) and centre of several items together; the centre of nothing is the origin.
pub fn total(items: &[Item]) -> (f64, P3) {
    let mass: f64 = items.iter().map(|i| i.mass).sum();
    let moment = items.iter().fold(V3::zeros(), |m, i| m + i.mass * i.centre.coords);
    (mass, if mass > 0.0 { P3::from(moment / mass) } else { P3::origin() })
}

/// Every item of the hull, the margin last; and for each row of what was weighed the items
/// that it names.
pub fn items(of: &Built) -> (Vec<Item>, Vec<Vec<ItemId>>) {
    let plan = &of.hull.afloat;
    let weighed = |p: &&Part| p.within.is_none() && p.solid > 0.0 && !p.id.of_jig();
    let parts = || of.parts.iter().filter(weighed);
    let mut out: Vec<Item> = parts().filter(|p| !p.id.of_foam()).map(|p| made(of, p)).collect();
    out.extend(blocks(of));
    let (wood, wood_centre) = total(&out);
    let glue = of.materials.coverage(Covering::GlueAndFastenings);
    let density = of.density(Covering::GlueDensity);
    let mass = glue.value * wood;
    out.push(
        item(ItemId::Glue, mass, density, wood_centre).of(Basis::OfWood(glue.value), &glue.source),
    );
    over_the_skin(of, &mut out);
    out.extend(parts().filter(|p| p.id.of_foam()).map(|p| made(of, p)));
    let (computed, centre) = total(&out);
    if plan.margin_pct > 0.0 {
        let margin = item(ItemId::Margin, 0.01 * plan.margin_pct * computed, 1.0, centre);
        out.push(Item { solid: 0.0, ..margin.of(Basis::Margin(plan.margin_pct), "") });
    }
    let rows = named(plan, &out);
    weigh(plan, &rows, &mut out);
    (out, rows)
}

/// Butt blocks; `None` where no panel is joined by any.
fn blocks(of: &Built) -> Option<Item> {
    let all = Together::of(of.blocks, of.parts, of.materials)?;
    let basis = Basis::Blocks { count: all.count, area: all.area };
    let item = item(ItemId::Blocks, all.mass, 1.0, all.centre).of(basis, &all.source);
    Some(Item { solid: all.solid, ..item })
}

/// Cloth and resin, paint: what lies on the panels.
fn over_the_skin(of: &Built, out: &mut Vec<Item>) {
    let plan = &of.hull.afloat;
    let panels: Vec<Item> = of
        .parts
        .iter()
        .filter_map(|p| match p.amount {
            Amount::Area(area) if matches!(p.id, PartId::Panel(_)) => {
                Some(item(ItemId::Part(p.id), area, 1.0, p.centre))
            }
            _ => None,
        })
        .collect();
    let skin_area: f64 = panels.iter().map(|i| i.mass).sum();
    let skin_centre = total(&panels).1;
    let square_metres = skin_area * 1e-6;
    if plan.cloth_g_m2 > 0.0 {
        let cloth = square_metres * plan.cloth_g_m2 / 1000.0;
        let resin = of.materials.coverage(Covering::ResinInCloth);
        let basis = Basis::Cloth { area: skin_area, cloth: plan.cloth_g_m2, resin: resin.value };
        let density = of.density(Covering::LaminateDensity);
        let mass = cloth * (1.0 + resin.value);
        out.push(item(ItemId::Cloth, mass, density, skin_centre).of(basis, &resin.source));
    }
    let coat = of.materials.coverage(Covering::CoatOfPaint);
    let coats = plan.coats;
    let painted = Painted::of(of.parts);
    let area = painted.outside + painted.inside;
    let basis = Basis::Paint { area, coats, coat: coat.value };
    let mass = 1e-6 * area * coat.value * f64::from(coats);
    let density = of.density(Covering::PaintDensity);
    out.push(item(ItemId::Paint, mass, density, skin_centre).of(basis, &coat.source));
}

/// An item of this density, kg/m³, in the centreplane.
fn item(id: ItemId, mass: f64, density: f64, centre: P3) -> Item {
    Item {
        id,
        name: id.name().into(),
        mass,
        centre: P3::new(centre.x, 0.0, centre.z),
        solid: mass / density * 1e9,
        basis: Basis::Solid(0.0),
        source: String::new(),
        computed: None,
    }
}

/// The item that a part is.
fn made(of: &Built, p: &Part) -> Item {
    Item {
        id: ItemId::Part(p.id),
        name: p.name.clone(),
        mass: p.mass,
        centre: p.middle(),
        solid: p.solid,
        basis: basis(of, p),
        source: p.source.clone(),
        computed: None,
    }
}

/// What a part's mass was worked from.
fn basis(of: &Built, p: &Part) -> Basis {
    let density = of.cut_density(&p.cut_from);
    match (&p.cut_from, p.amount) {
        (CutFrom::Sheet { sheet, thickness }, Amount::Area(area)) => {
            Basis::Ply { area, sheet: Some(sheet.clone()), thickness: *thickness, density }
        }
        (CutFrom::Ply { thickness }, Amount::Area(area)) => {
            Basis::Ply { area, sheet: None, thickness: *thickness, density }
        }
        (CutFrom::Lumber { section, .. }, Amount::Length(length)) => {
            Basis::Lumber { count: p.copies.count(), section: *section, length, density }
        }
        (CutFrom::Lumber { section: [sided, _], .. }, _)
            if matches!(p.id, PartId::Knee | PartId::Stem(_)) =>
        {
            Basis::Board { sided: *sided, density }
        }
        (CutFrom::Foam { .. }, Amount::Volume(volume)) => Basis::Foam { volume, density },
        (CutFrom::Pieces, _) => put_together(of, p),
        (_, Amount::Volume(volume)) => Basis::Block { volume, density },
        _ => Basis::Density(density),
    }
}

/// As [`basis`], of what is put together from several pieces.
fn put_together(of: &Built, p: &Part) -> Basis {
    let framing = &of.hull.framing;
    let ply = of.cut_density(&CutFrom::Ply { thickness: framing.gusset_mm });
    match p.id {
        PartId::Transom(_) => {
            Basis::Transom { thickness: of.hull.transom.thickness_mm, density: ply }
        }
        PartId::Frame(_) => {
            let within = of.parts.iter().filter(|q| q.within == Some(p.id)).map(|q| &q.cut_from);
            let mut lumber = within.filter(|stock| matches!(stock, CutFrom::Lumber { .. }));
            let lumber = lumber.next().map(|stock| of.cut_density(stock));
            Basis::Frame { sided: framing.sided_mm, lumber, ply }
        }
        _ => Basis::Solid(p.solid),
    }
}

impl Item {
    fn of(self, basis: Basis, source: &str) -> Item {
        Item { basis, source: source.into(), ..self }
    }

    fn weigh(&mut self, mass: f64) {
        self.basis = Basis::Weighed(self.mass);
        self.computed = Some(self.mass);
        (self.mass, self.source) = (mass, String::new());
    }
}

/// The items that each row of what was weighed names: the document speaks in words.
fn named(plan: &AfloatPlan, items: &[Item]) -> Vec<Vec<ItemId>> {
    let of = |name: &str| match name {
        WHOLE => vec![ItemId::Whole],
        _ => items.iter().filter(|i| i.name == name).map(|i| i.id).collect(),
    };
    plan.weighed.iter().map(|w| of(&w.item)).collect()
}

/// Masses that were weighed take the place of the computed ones, and the margin is on the
/// rest; that of the whole hull takes the place of all.
fn weigh(plan: &AfloatPlan, rows: &[Vec<ItemId>], items: &mut Vec<Item>) {
    let on_scales = |id: ItemId| {
        let row = rows.iter().position(|ids| ids.contains(&id))?;
        Some(plan.weighed[row].mass_kg)
    };
    if let Some(kg) = on_scales(ItemId::Whole) {
        let (mass, centre) = total(items);
        let mut whole = item(ItemId::Whole, mass, 1.0, centre);
        whole.centre = centre;
        whole.solid = items.iter().map(|i| i.solid).sum();
        whole.weigh(kg);
        *items = vec![whole];
        return;
    }
    for i in items.iter_mut() {
        if let Some(kg) = on_scales(i.id) {
            i.weigh(kg);
        }
    }
    let margin = |i: &Item| i.id == ItemId::Margin;
    let rest: f64 =
        items.iter().filter(|i| i.computed.is_none() && !margin(i)).map(|i| i.mass).sum();
    for m in items.iter_mut().filter(|i| margin(i) && i.computed.is_none()) {
        m.mass = 0.01 * plan.margin_pct * rest;
    }
}

impl Built<'_> {
    fn density(&self, of: Covering) -> f64 {
        self.materials.coverage(of).value
    }

    /// Density of what a part is cut from, kg/m³; nothing where no table says.
    fn cut_density(&self, stock: &CutFrom) -> f64 {
        self.materials.density_of(stock).map_or(0.0, |(density, _)| density)
    }
}
