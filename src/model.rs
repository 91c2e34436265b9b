//! The one pass from a document to everything that can be computed, stage by stage.

use std::sync::Arc;

use crate::bend::BentMember;
use crate::curve::Fairness;
use crate::finding::{Finding, Place};
use crate::frames::{Run, Skin};
use crate::geom::mesh::Mesh;
use crate::hull::check::Fault;
use crate::hull::{CheckedHull, Hull, HullLines};
use crate::material::Materials;
use crate::panel::hull_mesh::{HullSurfaces, closed_mesh};
use crate::part::LineId;

pub mod afloat;
pub mod as_built;
mod ashore;
pub mod battens;
pub mod compare;
mod findings;
mod members;
pub mod motor;
mod panels;
pub mod parts;
mod pattern;
pub mod rain;
mod recomputed;
pub mod stock;
pub mod woodwork;

pub use afloat::Afloat;
pub use as_built::AsBuilt;
pub use battens::BottomBattens;
pub use findings::off_transom;
pub use motor::MotorCheck;
pub use panels::{EdgeLengths, PanelModel};
pub use parts::Parts;
pub use rain::Rain;
pub use recomputed::Recomputed;
pub use woodwork::Woodwork;

use ashore::Ashore;
use panels::{PanelStock, Panels};

/// Everything that can be computed of a hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// The document it was computed from.
    pub hull: Hull,
    /// The tables it was computed with, the document's own rows included.
    pub materials: Arc<Materials>,
    /// The lines as splines.
    pub lines: Arc<HullLines>,
    /// Fairness of each line, in the order of `lines`.
    pub fairness: Vec<Fairness>,
    /// Panels from the keel up.
    pub panels: Vec<PanelModel>,
    /// Members that follow a line which the hull has, and the bottom's battens after them.
    pub members: Vec<BentMember>,
    /// How the bottom's battens are laid; `None` where there are none.
    pub battens: Option<BottomBattens>,
    /// Stations, mm aft.
    pub stations: Vec<f64>,
    /// Frames, transom, stem and strongback.
    pub woodwork: Arc<Woodwork>,
    /// Every piece of her and of her jig.
    pub parts: Arc<Parts>,
    /// The boat as it stands on the jig; `None` while nothing was measured there.
    pub as_built: Option<Box<AsBuilt>>,
    /// The boat afloat; `None` for a hull that holds no room.
    pub afloat: Option<Arc<Afloat>>,
    /// What was noticed, the gravest first, whatever part it is of.
    pub findings: Vec<Finding>,
}

/// Checks a document and computes everything.
///
/// # Errors
/// What keeps the document from being computed at all, as findings.
pub fn derive(hull: &Hull, materials: &Materials) -> Result<Model, Vec<Finding>> {
    let told = |f: Fault| Finding::stop(Place::Document(f.what.clone()), f);
    match CheckedHull::of(hull.clone()) {
        Ok(hull) => Ok(derive_checked(&hull, materials)),
        Err(faults) => Err(faults.into_iter().map(told).collect()),
    }
}

/// Computes everything of a document without fault.
pub fn derive_checked(hull: &CheckedHull, materials: &Materials) -> Model {
    derive_after(None, hull, materials).0
}

/// As [`derive_checked`]; stages whose inputs are those of the model `before` are taken over
/// from it. The model is the same as from nothing, and what was computed is counted.
pub fn derive_after(
    before: Option<&Model>,
    hull: &CheckedHull,
    materials: &Materials,
) -> (Model, Recomputed) {
    let mut count = Recomputed::default();
    let Planked { materials, lines, panels: all, members: mut bent } =
        planked(before, hull, materials, true, &mut count);
    let before_lines = |b: &&Model| Arc::ptr_eq(&b.lines, &lines);
    let fairness = match before.filter(before_lines) {
        Some(b) => b.fairness.clone(),
        None => lines.lines.iter().map(|l| Fairness::of(&l.spline)).collect(),
    };
    let stations = hull.framing.stations(lines.extent(|p| p.x));
    // Her skin is the same one: so is what is made from it alone.
    let on_skin = before
        .filter(before_lines)
        .filter(|b| all.same.iter().all(|s| *s) && b.panels.len() == all.panels.len());
    let panels = all.panels;
    let skin = Skin { lines: &lines, panels: panels.iter().map(PanelModel::of_skin).collect() };
    let battens = battens::battens(hull, &skin, &stations, &materials, on_skin, &mut count).map(
        |(laid, battens)| {
            bent.extend(battens);
            laid
        },
    );
    let stock = woodwork::Stock {
        hull,
        skin: &skin,
        members: &bent,
        stations: &stations,
        battens: battens.as_ref(),
        before: on_skin.filter(|b| b.stations == stations && members::lie_alike(&b.members, &bent)),
    };
    // What is sawn and what she floats on do not wait for each other.
    let (woodwork, float_mesh) = match on_skin {
        Some(b) => (woodwork::woodwork(stock, &mut count), afloat::float_mesh_of(b)),
        None => std::thread::scope(|scope| {
            count.float_meshes += 1;
            let meshes =
                scope.spawn(|| afloat::float_mesh::float_mesh(&lines, &panels).map(Arc::new));
            let woodwork = woodwork::woodwork(stock, &mut count);
            let float_mesh = meshes.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
            (woodwork, float_mesh)
        }),
    };
    let ashore = Ashore {
        hull,
        materials: &materials,
        lines: &lines,
        panels: &panels,
        members: &bent,
        stations: &stations,
        woodwork: &woodwork,
    };
    let parts = Arc::new(Parts::of(ashore));
    let afloat =
        afloat::afloat(ashore, &parts, &skin, float_mesh, on_skin, &mut count).map(Arc::new);
    let mut refused = Vec::new();
    let as_built = as_built::as_built(ashore, before, &mut refused);
    drop(skin);
    let mut model = Model {
        hull: hull.hull().clone(),
        materials,
        lines,
        fairness,
        panels,
        members: bent,
        battens,
        stations,
        woodwork,
        parts,
        as_built,
        afloat,
        findings: Vec::new(),
    };
    model.findings = findings::findings(&model, refused);
    (model, count)
}

/// The first stages of a pass: all that a sweep over many hulls asks for that looks at panels
/// and members only.
#[derive(Debug, Clone)]
pub struct Planked {
    /// The tables, the document's own rows included.
    pub materials: Arc<Materials>,
    /// The lines.
    pub lines: Arc<HullLines>,
    /// Panels from the keel up.
    panels: Panels,
    /// Members along the lines.
    pub members: Vec<BentMember>,
}

impl Planked {
    /// Panels and members of a document, on one thread.
    pub fn of(hull: &CheckedHull, materials: &Materials) -> Planked {
        planked(None, hull, materials, false, &mut Recomputed::default())
    }

    /// As [`Planked::of`] on two threads, taking over what a change of the model `before`
    /// does not touch: what a dragged duck asks for first.
    pub fn after(before: &Model, hull: &CheckedHull, materials: &Materials) -> Planked {
        planked(Some(before), hull, materials, true, &mut Recomputed::default())
    }

    /// Panels from the keel up.
    pub fn panels(&self) -> &[PanelModel] {
        &self.panels.panels
    }
}

fn planked(
    before: Option<&Model>,
    hull: &CheckedHull,
    materials: &Materials,
    two_hands: bool,
    count: &mut Recomputed,
) -> Planked {
    let lines = match before.filter(|b| HullLines::same(&b.hull, hull)) {
        Some(b) => b.lines.clone(),
        None => {
            count.lines += 1;
            hull.lines().clone()
        }
    };
    let materials = materials.with_own_rows(&hull.woods, &hull.sheets, &hull.coverage);
    let materials = match before.filter(|b| *b.materials == materials) {
        Some(b) => b.materials.clone(),
        None => Arc::new(materials),
    };
    let same_lines = before.map(|b| (b, Arc::ptr_eq(&b.lines, &lines)));
    let stock =
        PanelStock { hull, lines: &lines, materials: &materials, before: same_lines, two_hands };
    let panels = panels::panels(stock, count);
    let members = members::members(hull, &lines, &panels, &materials, before, count);
    Planked { materials, lines, panels, members }
}

impl Model {
    /// The whole hull as one closed mesh on its moulded or its outside surface.
    pub fn mesh(&self, outside: bool) -> Mesh {
        let lines: Vec<_> = self.lines.lines.iter().map(|l| &l.spline).collect();
        let surfaces: Vec<_> = self.panels.iter().map(|p| &*p.surface).collect();
        let offsets: Vec<f64> =
            self.panels.iter().map(|p| if outside { p.thickness } else { 0.0 }).collect();
        closed_mesh(HullSurfaces {
            lines: &lines,
            surfaces: &surfaces,
            offsets: &offsets,
            flat_bottom: self.lines.flat_bottom,
            bow: self.lines.bow_transom,
            stern: self.lines.transom,
        })
    }

    /// The boat as she stands on her jig, once measured there: whose panels are cut.
    pub fn stands(&self) -> &Model {
        self.as_built.as_deref().map_or(self, |b| &b.model)
    }

    /// How far the `index`th member runs; `None` where there is none.
    pub fn run_of(&self, index: usize) -> Option<Run> {
        self.woodwork.run(ashore::Ashore::of(self), index)
    }

    /// The line above panel `p`.
    pub fn line_above(&self, p: &PanelModel) -> LineId {
        self.lines.lines[p.lower_line + 1].id
    }

    /// The line below panel `p`.
    pub fn line_below(&self, p: &PanelModel) -> LineId {
        self.lines.lines[p.lower_line].id
    }
}
