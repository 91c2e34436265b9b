//! Which boat: the page that the window begins with. Unsaved work of an earlier run first,
//! then the boats of last time and the starters, each with her picture.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use bevy_egui::egui::{self, FontId, Label, Rect, RichText, Sense, Stroke, Ui, vec2};

use crate::files::load_hull;
use crate::hull::starters::{STARTERS, Starter};
use crate::hull::{Hull, HullLines};
use crate::units::Units;
use crate::viewer::session::Command;
use crate::viewer::session::autosave::{ago, waiting};
use crate::viewer::state::dialogs::Next;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::dialogs::{files, tour};
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::portrait::Portrait;
use crate::viewer::ui::widgets::units;

/// Breadth and height of a boat's place on the page, points.
const PLACE: (f32, f32) = (212.0, 172.0);
/// Height of the words in it.
const WORDS: f32 = 62.0;

/// Which boat a place on the page stands for.
#[derive(Debug, Clone)]
enum Which {
    File(PathBuf),
    Starter(&'static Starter),
}

/// A boat to choose.
#[derive(Debug, Clone)]
struct Boat {
    which: Which,
    name: String,
    /// Length and beam, mm.
    size: Option<(f64, f64)>,
    portrait: Option<Portrait>,
    /// When unsaved work beside her file was last kept.
    unsaved: Option<SystemTime>,
}

impl Boat {
    fn of(which: Which, hull: Option<&Hull>, name: String) -> Boat {
        let lines = hull.and_then(|h| HullLines::of(h).ok());
        let size = lines.map(|l| {
            let (from, to) = l.extent(|p| p.x);
            (to - from, l.beam_overall())
        });
        Boat { which, name, size, portrait: hull.and_then(Portrait::of), unsaved: None }
    }

    fn of_file(path: &Path) -> Option<Boat> {
        if !path.is_file() {
            return None;
        }
        let hull = load_hull(path).ok();
        let name = hull.as_ref().map_or_else(|| file_name(path), |h| h.name.clone());
        let boat = Boat::of(Which::File(path.to_path_buf()), hull.as_deref(), name);
        Some(Boat { unsaved: waiting(path), ..boat })
    }

    /// What stands under her name.
    fn words(&self, units: Units) -> [String; 2] {
        let size = match self.size {
            Some((long, wide)) => format!("{} by {}", units.show(long), units.show(wide)),
            None => "cannot be read: open her to learn why".into(),
        };
        match &self.which {
            Which::File(path) => [size, file_name(path)],
            Which::Starter(starter) => [size, starter.kind().into()],
        }
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().map_or(String::new(), |n| n.to_string_lossy().into_owned())
}

/// The boats on the page, gathered once each time that it is opened.
#[derive(Debug, Clone)]
struct Boats {
    recent: Vec<Boat>,
    starters: Vec<Boat>,
}

fn gathered(ui: &Ui, recent: &[PathBuf]) -> Arc<Boats> {
    let id = egui::Id::new("boats on the first page");
    if let Some(boats) = ui.data(|d| d.get_temp::<Arc<Boats>>(id)) {
        return boats;
    }
    let starter = |s: &'static Starter| {
        let hull = s.hull();
        Boat::of(Which::Starter(s), Some(&hull), hull.name.clone())
    };
    let boats = Arc::new(Boats {
        recent: recent.iter().filter_map(|p| Boat::of_file(p)).collect(),
        starters: STARTERS.iter().map(starter).collect(),
    });
    ui.data_mut(|d| d.insert_temp(id, boats.clone()));
    boats
}

/// Opens the page, with the boats as they are now.
pub fn open(ctx: &egui::Context, context: &mut Context) {
    ctx.data_mut(|d| d.remove::<Arc<Boats>>(egui::Id::new("boats on the first page")));
    context.state.dialogs.first_page = true;
}

/// Shows the page over the whole window.
pub fn show(root: &mut Ui, context: &mut Context) {
    let frame = egui::Frame::new().fill(context.tokens.floor).inner_margin(size::PAD);
    egui::CentralPanel::default().frame(frame).show(root, |ui| {
        if context.state.dialogs.path.is_some() {
            ui.horizontal_wrapped(|ui| files::typed_path(ui, context));
            ui.separator();
        }
        let boats = gathered(ui, &context.prefs.recent);
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            head(ui, context);
            left_over(ui, context, &boats.recent);
            let units = context.session.hull().units;
            if !boats.recent.is_empty() {
                title(ui, "Go on with");
                places(ui, context, &boats.recent, units);
            }
            title(ui, "Start from");
            places(ui, context, &boats.starters, units);
        });
    });
}

fn title(ui: &mut Ui, words: &str) {
    ui.add_space(size::PAD);
    ui.label(RichText::new(words).font(FontId::new(size::BODY, semibold())));
    ui.add_space(4.0);
}

/// The question, and what else there is to do than to choose a boat.
fn head(ui: &mut Ui, context: &mut Context) {
    ui.label(RichText::new("Which boat?").font(FontId::new(size::VERDICT, semibold())));
    ui.add_space(size::GAP);
    ui.horizontal(|ui| {
        ui.spacing_mut().interact_size.y = 30.0;
        ui.set_height(32.0);
        let open = ui.button("Open a file …");
        if open.on_hover_text("A hull document, or a table of offsets (CSV)   Ctrl O").clicked() {
            files::open(context);
        }
        let new = !context.prefs.toured;
        let words = RichText::new("Take the tour");
        let tour = match new {
            true => egui::Button::new(words.color(context.tokens.paper)).fill(context.tokens.chalk),
            false => egui::Button::new(words),
        };
        if ui.add(tour).on_hover_text("Five steps round the demonstration skiff").clicked() {
            if context.session.hull() != context.session.saved() || context.session.path().is_some()
            {
                context.leave_for(Next::Start(&STARTERS[0]));
            }
            context.state.dialogs.first_page = false;
            tour::go_to(context, Some(0));
        }
        ui.add_space(size::PAD);
        ui.label(RichText::new("lengths in").color(context.tokens.soft));
        units::show(ui, context);
    });
}

/// Unsaved work of earlier runs: boats without a file, and states of recent ones.
fn left_over(ui: &mut Ui, context: &mut Context, recent: &[Boat]) {
    let orphan = context.session.left_over().map(|w| {
        let of = w.of.as_deref().map_or("no file yet".into(), file_name);
        (w.hull.name.clone(), of, w.when)
    });
    let mut asked = Vec::new();
    if let Some((name, of, when)) = orphan {
        offer(ui, context, &name, &of, when, |ui| {
            if ui.button("Recover").clicked() {
                asked.push(Command::TakeUp);
            }
            if ui.button("Delete").clicked() {
                asked.push(Command::LetGo);
            }
        });
    }
    for boat in recent {
        let (Which::File(path), Some(when)) = (&boat.which, boat.unsaved) else {
            continue;
        };
        offer(ui, context, &boat.name, &file_name(path), Some(when), |ui| {
            if ui.button("Recover").on_hover_text("Opens her with what was not saved").clicked() {
                asked.extend([Command::Open(path.clone()), Command::TakeUp]);
            }
            ui.label(RichText::new("or open her below: it is asked there").size(size::SMALL));
        });
    }
    for command in asked {
        context.ask(command);
    }
}

fn offer(
    ui: &mut Ui,
    context: &Context,
    name: &str,
    file: &str,
    when: Option<SystemTime>,
    answers: impl FnOnce(&mut Ui),
) {
    ui.add_space(size::GAP);
    widgets::sheet(context.tokens).show(ui, |ui| {
        let when = when.map(ago).unwrap_or_default();
        let words = format!("Unsaved work on {name} ({file}) was kept {when}");
        ui.label(RichText::new(words).font(FontId::new(size::BODY, semibold())));
        ui.horizontal_wrapped(answers);
    });
}

/// The boats of a list side by side, as many as there is room for.
fn places(ui: &mut Ui, context: &mut Context, boats: &[Boat], units: Units) {
    let gap = size::GAP;
    let across = (((ui.available_width() + gap) / (PLACE.0 + gap)).floor() as usize).max(1);
    let breadth = PLACE.0.min(ui.available_width());
    for row in boats.chunks(across) {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for boat in row {
                if place(ui, context, boat, units, breadth).clicked() {
                    let next = match &boat.which {
                        Which::File(path) => Next::Open(path.clone()),
                        Which::Starter(starter) => Next::Start(starter),
                    };
                    context.leave_for(next);
                }
            }
        });
        ui.add_space(gap);
    }
}

fn place(
    ui: &mut Ui,
    context: &Context,
    boat: &Boat,
    units: Units,
    breadth: f32,
) -> egui::Response {
    let tokens = context.tokens;
    let (rect, response) = ui.allocate_exact_size(vec2(breadth, PLACE.1), Sense::click());
    let words = boat.words(units);
    widgets::row(ui, tokens, &response, &format!("{}, {}", boat.name, words[1]), false);
    if !ui.is_rect_visible(rect) {
        return response;
    }
    let colour = if response.hovered() { tokens.chalk } else { tokens.rule };
    let painter = ui.painter();
    painter.rect(rect, 8.0, tokens.paper, Stroke::new(1.0, colour), egui::StrokeKind::Inside);
    let inner = rect.shrink(10.0);
    if let Some(portrait) = &boat.portrait {
        let foot = egui::pos2(inner.max.x, inner.max.y - WORDS);
        portrait.paint(painter, Rect::from_min_max(inner.min, foot), tokens);
    }
    let name = RichText::new(&boat.name).font(FontId::new(size::BODY, semibold()));
    let small = |text: &str| RichText::new(text).size(size::SMALL).color(tokens.soft);
    let lines =
        [(name.color(tokens.ink), 22.0), (small(&words[0]), 18.0), (small(&words[1]), 18.0)];
    let mut top = inner.max.y - WORDS + 4.0;
    for (text, height) in lines {
        let line = Rect::from_min_size(egui::pos2(inner.min.x, top), vec2(inner.width(), height));
        // The place is taken already: what stands in it moves nothing on.
        let mut within = ui.new_child(egui::UiBuilder::new().max_rect(line));
        within.add(Label::new(text).truncate().selectable(false));
        top += height;
    }
    match &boat.which {
        Which::File(path) => response.on_hover_text(path.display().to_string()),
        Which::Starter(starter) => response.on_hover_text(starter.kind()),
    }
}
