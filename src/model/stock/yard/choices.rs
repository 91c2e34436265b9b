//! What may be chosen of a boat from the lists of her document: each panel's sheet, each
//! member's species, the glue, the joint of her panels.

use crate::hull::stock::{JointKind, LumberStock, StockPlan};
use crate::hull::{Hull, PanelPlanking};
use crate::material::Glue;
use crate::model::Model;
use crate::stock::glue::{NotBorne, against};
use crate::stock::lumber::Rules;

/// A sheet for a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its row in the sheet table.
    pub name: String,
    /// mm: as the builder measured it, where the document's planking says so, or the table's.
    pub thickness: f64,
}

/// The sheets that a panel may be of.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelChoice {
    /// `bottom`, `side`, `strake-1` …
    pub panel: String,
    /// As she is.
    pub now: Sheet,
    /// On the list.
    pub of: Vec<Sheet>,
}

/// The species that a member may be of.
#[derive(Debug, Clone, PartialEq)]
pub struct MemberChoice {
    /// Its place among the document's members.
    pub member: usize,
    /// Its name.
    pub name: String,
    /// As she is.
    pub now: String,
    /// Those on the list from whose lumber it can be ripped.
    pub of: Vec<String>,
}

/// Why a glue is not among those to choose from.
#[derive(Debug, Clone, PartialEq)]
pub enum GlueOut {
    /// It does not bear what the boat asks.
    Bears(Vec<NotBorne>),
    /// Nobody said what it costs, or what the present one costs: they cannot be compared.
    NoPrice,
}

/// Everything that may be chosen.
#[derive(Debug, Clone, PartialEq)]
pub struct Choices {
    /// Panels from the keel up.
    pub panels: Vec<PanelChoice>,
    /// Members that lie along a line of hers.
    pub members: Vec<MemberChoice>,
    /// Glues that bear what the boat asks, the present one first; never none.
    pub glues: Vec<String>,
    /// Other glues, and why not.
    pub glues_out: Vec<(String, GlueOut)>,
    /// Joints of her panels, the present one first.
    pub joints: Vec<JointKind>,
    /// Sheets of the list that no table has and nobody measured.
    pub unknown_sheets: Vec<String>,
}

/// One of each: places in the lists of [`Choices`].
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pick {
    /// Panel by panel.
    pub panels: Vec<usize>,
    /// Member by member.
    pub members: Vec<usize>,
    /// Among the glues.
    pub glue: usize,
    /// Among the joints.
    pub joint: usize,
}

/// Why there is nothing to choose from; what to write in the document is said in `words`.
#[derive(Debug, Clone, PartialEq)]
pub enum NotListed {
    /// The document has no sheets on hand, of any kind that a table knows; the boat's own.
    Sheets(Sheet),
    /// It has no lumber on hand; a member's species and section, mm.
    Lumber(String, (f64, f64)),
    /// Its lumber does not give a member's section, mm.
    Section(String, (f64, f64)),
}

/// A change of the boat.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// A panel's sheet.
    Sheet {
        /// Which panel.
        panel: String,
        /// As she was.
        from: Sheet,
        /// As she is then.
        to: Sheet,
    },
    /// A member's species.
    Species {
        /// Which member.
        member: String,
        /// As it was.
        from: String,
        /// As it is then.
        to: String,
        /// The test of its stick is left out: it was another wood's.
        drops_test: bool,
    },
    /// Her glue.
    Glue {
        /// As it was.
        from: String,
        /// As it is then.
        to: String,
    },
    /// The joint of her panels.
    Joint {
        /// As it was.
        from: JointKind,
        /// As it is then.
        to: JointKind,
    },
}

impl Choices {
    /// Those of a boat.
    ///
    /// # Errors
    /// What is missing on the lists.
    pub fn of(model: &Model) -> Result<Choices, NotListed> {
        let (hull, plan) = (&model.hull, &model.hull.stock);
        let (sheets, unknown_sheets) = sheets_of(model);
        let now =
            |p: &crate::model::PanelModel| Sheet { name: p.sheet.clone(), thickness: p.thickness };
        let panels: Vec<PanelChoice> = model
            .panels
            .iter()
            .map(|p| PanelChoice {
                panel: p.name.clone(),
                now: now(p),
                of: first(sheets.iter().map(|s| own_measure(s, &now(p))).collect(), &now(p)),
            })
            .collect();
        if let Some(p) = panels.iter().find(|p| p.of.is_empty()) {
            return Err(NotListed::Sheets(p.now.clone()));
        }
        let on_her = hull.members.iter().enumerate();
        let members = on_her
            .filter(|(_, m)| model.lines.get(&m.line).is_some())
            .map(|(member, m)| {
                let section = (m.moulded_mm, m.sided_mm);
                let of = species_of(plan, section);
                match (plan.lumber.is_empty(), of.is_empty()) {
                    (true, _) => Err(NotListed::Lumber(m.species.clone(), section)),
                    (_, true) => Err(NotListed::Section(m.name.clone(), section)),
                    _ => Ok(MemberChoice {
                        member,
                        name: m.name.clone(),
                        now: m.species.clone(),
                        of: first(of, &m.species),
                    }),
                }
            })
            .collect::<Result<Vec<MemberChoice>, NotListed>>()?;
        let (glues, glues_out) = glues_of(model);
        // Where every panel has a row of its own there is none left to join otherwise.
        let own = |p: &PanelChoice| plan.panel_joints.iter().any(|j| j.panel == p.panel);
        let joints = match panels.iter().all(own) {
            true => vec![plan.joint.kind],
            false => first(JointKind::ALL.to_vec(), &plan.joint.kind),
        };
        Ok(Choices { panels, members, glues, glues_out, joints, unknown_sheets })
    }

    /// How many boats that makes.
    pub fn possible(&self) -> u128 {
        let panels = self.panels.iter().map(|p| p.of.len());
        let members = self.members.iter().map(|m| m.of.len());
        let rest = [self.glues.len(), self.joints.len()];
        panels.chain(members).chain(rest).map(|n| n as u128).product()
    }

    /// The pick that a pick among some of these choices is among all of them.
    pub(super) fn pick_of(&self, some: &Choices, pick: &Pick) -> Pick {
        fn place<T: PartialEq>(all: &[T], wanted: &T) -> usize {
            all.iter().position(|x| x == wanted).unwrap_or(0)
        }
        let panels = self.panels.iter().zip(&some.panels).zip(&pick.panels);
        let members = self.members.iter().zip(&some.members).zip(&pick.members);
        Pick {
            panels: panels.map(|((all, some), i)| place(&all.of, &some.of[*i])).collect(),
            members: members.map(|((all, some), i)| place(&all.of, &some.of[*i])).collect(),
            glue: place(&self.glues, &some.glues[pick.glue]),
            joint: place(&self.joints, &some.joints[pick.joint]),
        }
    }

    /// What differs then from the boat as she is.
    pub fn changes(&self, hull: &Hull, pick: &Pick) -> Vec<Change> {
        let mut out = Vec::new();
        for (p, i) in self.panels.iter().zip(&pick.panels).filter(|(p, i)| p.of[**i] != p.now) {
            let (from, to) = (p.now.clone(), p.of[*i].clone());
            out.push(Change::Sheet { panel: p.panel.clone(), from, to });
        }
        for (m, i) in self.members.iter().zip(&pick.members).filter(|(m, i)| m.of[**i] != m.now) {
            out.push(Change::Species {
                member: m.name.clone(),
                from: m.now.clone(),
                to: m.of[*i].clone(),
                drops_test: hull.members[m.member].stick_test.is_some(),
            });
        }
        let (from, to) = (&hull.stock.glue, &self.glues[pick.glue]);
        if from != to {
            out.push(Change::Glue { from: from.clone(), to: to.clone() });
        }
        let (from, to) = (hull.stock.joint.kind, self.joints[pick.joint]);
        if from != to {
            out.push(Change::Joint { from, to });
        }
        out
    }

    /// The document with one panel of another sheet.
    pub(super) fn with_sheet(&self, hull: &Hull, panel: usize, at: usize) -> Hull {
        let mut out = hull.clone();
        let of = &self.panels[panel];
        planked(&mut out, of.panel.clone(), of.of[at].clone());
        out
    }

    /// The document with one member of another species.
    pub(super) fn with_species(&self, hull: &Hull, member: usize, at: usize) -> Hull {
        let mut out = hull.clone();
        let of = &self.members[member];
        of_species(&mut out, of.member, &of.of[at]);
        out
    }

    /// The document with these changes, everything else as it is.
    pub fn applied(&self, hull: &Hull, pick: &Pick) -> Hull {
        let mut out = hull.clone();
        for change in self.changes(hull, pick) {
            match change {
                Change::Sheet { panel, to, .. } => planked(&mut out, panel, to),
                Change::Species { member, to, .. } => {
                    let at = out.members.iter().position(|m| m.name == member);
                    at.into_iter().for_each(|at| of_species(&mut out, at, &to));
                }
                Change::Glue { to, .. } => out.stock.glue = to,
                Change::Joint { to, .. } => out.stock.joint.kind = to,
            }
        }
        out
    }
}

/// Puts a panel into another sheet, its grain as it lies.
fn planked(hull: &mut Hull, panel: String, Sheet { name: sheet, thickness: thickness_mm }: Sheet) {
    let grain_across = hull.planking.grain_across(&panel);
    hull.planking.panels.retain(|p| p.panel != panel);
    hull.planking.panels.push(PanelPlanking { panel, sheet, thickness_mm, grain_across });
}

/// Makes a member of another species, whose stick nobody tested.
fn of_species(hull: &mut Hull, member: usize, species: &str) {
    let m = &mut hull.members[member];
    m.species = species.into();
    m.stick_test = None;
}

/// The present one before the others, where it is among them.
fn first<T: PartialEq>(mut all: Vec<T>, now: &T) -> Vec<T> {
    if let Some(at) = all.iter().position(|x| x == now) {
        let own = all.remove(at);
        all.insert(0, own);
    }
    all
}

/// A panel that stays in its sheet stays as thick as it was measured.
fn own_measure(listed: &Sheet, now: &Sheet) -> Sheet {
    if listed.name == now.name { now.clone() } else { listed.clone() }
}

/// The kinds of sheets on the list, in its order, and those of unknown thickness.
fn sheets_of(model: &Model) -> (Vec<Sheet>, Vec<String>) {
    let planking = &model.hull.planking;
    let measured = |name: &str| {
        let own = planking.panels.iter().find(|p| p.sheet == name).map(|p| p.thickness_mm);
        own.or_else(|| (planking.sheet == name).then_some(planking.thickness_mm))
    };
    let table = |name: &str| model.materials.sheet(name).map(|s| s.thickness_mm);
    let (mut known, mut unknown): (Vec<Sheet>, Vec<String>) = (Vec::new(), Vec::new());
    for row in model.hull.stock.sheets.iter().filter(|s| s.count != Some(0)) {
        let name = &row.sheet;
        if known.iter().any(|s| s.name == *name) || unknown.contains(name) {
            continue;
        }
        match measured(name).or_else(|| table(name)) {
            Some(thickness) => known.push(Sheet { name: name.clone(), thickness }),
            None => unknown.push(name.clone()),
        }
    }
    (known, unknown)
}

/// Width to which lumber (its thickness and width) is ripped for a section, mm; `None` where it
/// does not give it. As the list of lumber has it: the section either way up, measured within
/// its room.
pub(super) fn ripped((a, b): (f64, f64), (moulded, sided): (f64, f64)) -> Option<f64> {
    let room = Rules::default().section_room;
    let (thin, wide) = (a.min(b), a.max(b));
    let gives = |t: f64, w: f64| ((thin - t).abs() <= room && wide >= w - room).then_some(w);
    [gives(moulded, sided), gives(sided, moulded)].into_iter().flatten().reduce(f64::min)
}

/// Species of which a section can be had, in the order of the list.
fn species_of(plan: &StockPlan, section: (f64, f64)) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let gives = |l: &LumberStock, section| ripped((l.thickness_mm, l.width_mm), section).is_some();
    let had = plan.lumber.iter().filter(|l| l.count != Some(0) && gives(l, section));
    // Wood of no species is for the jig.
    for species in had.map(LumberStock::wood).filter(|s| !s.is_empty()) {
        if !out.iter().any(|s| s == species) {
            out.push(species.into());
        }
    }
    out
}

/// Glues to choose from, and the others. Without a price for the present one nothing says that
/// another is cheaper: it stays, if it bears what the boat asks.
fn glues_of(model: &Model) -> (Vec<String>, Vec<(String, GlueOut)>) {
    let (plan, table) = (&model.hull.stock, &model.materials.stores.glues);
    let moisture = || model.hull.members.iter().map(|m| m.moisture());
    let faults = |g: &Glue| against(g, &plan.gluing, moisture());
    let rows = model.materials.stores.with_own_rows(&plan.stores);
    let priced = |g: &Glue| {
        let product = rows.store(&g.store).and_then(|row| row.bought_as.as_deref());
        product.into_iter().chain([g.store.as_str()]).any(|n| plan.price_of(n).is_some())
    };
    let bearing: Vec<&Glue> = table.iter().filter(|g| faults(g).is_empty()).collect();
    let present = bearing.iter().find(|g| g.name == plan.glue);
    let taken: Vec<&Glue> = match present {
        Some(own) if !priced(own) => vec![*own],
        _ if bearing.iter().any(|g| priced(g)) => {
            bearing.iter().copied().filter(|g| priced(g)).collect()
        }
        _ => bearing.clone(),
    };
    let mut names: Vec<String> = taken.iter().map(|g| g.name.clone()).collect();
    if names.is_empty() {
        // None bears it: the builder's own choice stands, with what it does not bear.
        names.push(plan.glue.clone());
    }
    let out = table.iter().filter_map(|g| match faults(g) {
        f if !f.is_empty() => Some((g.name.clone(), GlueOut::Bears(f))),
        _ => (!names.contains(&g.name)).then(|| (g.name.clone(), GlueOut::NoPrice)),
    });
    let out = out.collect();
    (first(names, &plan.glue), out)
}
