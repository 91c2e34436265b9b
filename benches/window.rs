//! What one dragged frame costs the window's own code, on one core, the graphics driver
//! aside: the edit, the model, all meshes (the window itself builds those that changed), the panels laid out and cut into
//! triangles. `matching` beside it, as in the other bench, says how quick the machine is.

use std::cell::RefCell;

use bevy_egui::egui;
use chinewright::hull::edit::Edit;
use chinewright::hull::starters::{STARTERS, demonstration};
use chinewright::hull::{Duck, HullLines};
use chinewright::material::Materials;
use chinewright::model::{Model, derive_after, derive_checked};
use chinewright::panel::{EndEdge, Pair, match_lines};
use chinewright::viewer::camera::{Orbit, View, hull_box};
use chinewright::viewer::prefs::Preferences;
use chinewright::viewer::scene::{floor, mesh};
use chinewright::viewer::session::{Command, Session};
use chinewright::viewer::state::{Question, UiState};
use chinewright::viewer::stocktaking::Stocktaking;
use chinewright::viewer::theme;
use chinewright::viewer::theme::{LIGHT, Theme};
use chinewright::viewer::ui::context::Context;
use chinewright::viewer::ui::panels;
use chinewright::viewer::yard::Yard;
use criterion::{Criterion, criterion_group, criterion_main};

const WINDOW: egui::Rect =
    egui::Rect { min: egui::Pos2::ZERO, max: egui::Pos2::new(1280.0, 800.0) };

struct Loft {
    ctx: egui::Context,
    session: Session,
    model: Model,
    state: UiState,
    prefs: Preferences,
    view: View,
    taking: Stocktaking,
    yard: Yard,
    materials: Materials,
}

impl Loft {
    fn new() -> Loft {
        let materials = Materials::shipped();
        let model = derive_checked(&STARTERS[0].checked(), &materials);
        let ctx = egui::Context::default();
        ctx.set_fonts(theme::fonts());
        let (low, high) = hull_box(&model);
        let orbit = Orbit::fit(chinewright::screen::ViewFrom::Quarter, low, high, 1.6);
        let mut view = View::default();
        (view.now, view.goal) = (orbit, orbit);
        let mut loft = Loft {
            ctx,
            session: Session::new(STARTERS[0].checked(), None),
            model,
            state: UiState::default(),
            prefs: Preferences { toured: true, ..Preferences::default() },
            view,
            taking: Stocktaking::default(),
            yard: Yard::default(),
            materials,
        };
        loft.panels();
        theme::apply(&loft.ctx, Theme::Light);
        for _ in 0..3 {
            loft.panels();
        }
        loft
    }

    /// Lays the panels out and cuts them into triangles.
    fn panels(&mut self) -> usize {
        let input = egui::RawInput { screen_rect: Some(WINDOW), ..Default::default() };
        let parts = RefCell::new((&mut self.state, &mut self.prefs, &mut self.view));
        let (session, model) = (&self.session, &self.model);
        let ctx = self.ctx.clone();
        ctx.begin_pass(input);
        if ctx.cumulative_pass_nr() > 0 {
            let mut parts = parts.borrow_mut();
            let (state, prefs, view) = &mut *parts;
            let mut context = Context {
                session,
                model: Some(model),
                lines: Context::lines_of(session.hull(), Some(model)),
                ghost: Some(model),
                patterns: &[],
                old: false,
                stocktaking: &self.taking,
                old_stock: false,
                yard: &self.yard,
                old_yard: false,
                busy: None,
                state,
                prefs,
                view,
                commands: Vec::new(),
                asks: Vec::new(),
                asks_yard: Vec::new(),
                tokens: &LIGHT,
            };
            panels(&ctx, &mut context);
        }
        let out = ctx.end_pass();
        ctx.tessellate(out.shapes, out.pixels_per_point).len()
    }

    /// One frame of a drag: a duck of the sheer is a millimetre further out or in.
    fn frame(&mut self, step: usize) -> usize {
        let line = self.session.hull().lines.len() - 1;
        let duck = demonstration().lines[line].ducks[2];
        let y = duck.y + (step % 12) as f64;
        let to = Duck { y, ..duck };
        self.session.apply(&Command::Drag(Edit::MoveDuck { line, duck: 2, to }));
        self.model = derive_after(Some(&self.model), self.session.hull(), &self.materials).0;
        let meshes = mesh::parts(&self.model);
        let ground = floor::floor(&self.model, Theme::Light, floor::Stands::default());
        meshes.len() + ground.count_vertices() + self.panels()
    }
}

fn window(c: &mut Criterion) {
    let mut group = c.benchmark_group("window");
    group.sample_size(30);
    for question in [Question::Shape, Question::Bones] {
        let mut loft = Loft::new();
        loft.state.ask(question);
        let mut step = 0;
        group.bench_function(format!("dragged frame, {}", question.name()), |b| {
            b.iter(|| {
                step += 1;
                loft.frame(step)
            });
        });
        group.bench_function(format!("panels alone, {}", question.name()), |b| {
            b.iter(|| loft.panels());
        });
    }
    let lines = HullLines::of(&demonstration()).expect("lines");
    let (lower, upper) = (&lines.lines[1].spline, &lines.lines[2].spline);
    let pair = Pair { lower, upper, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
    group.bench_function("matching", |b| b.iter(|| match_lines(&pair)));
    group.finish();
}

criterion_group!(benches, window);
criterion_main!(benches);
