//! Bones, the frames: where they stand, what each is sawn from, how they are made.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::frames::Frame;
use crate::hull::edit::Edit;
use crate::hull::{Edges, Face, FrameChoice, Framing};
use crate::model::Model;
use crate::report::text::bevel_run;
use crate::units::half_degrees;
use crate::viewer::session::Command;
use crate::viewer::state::PartId;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::cards::framing;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::{typed, typed_length};
use crate::viewer::ui::widgets::{figure, link};
use crate::words::capital;

/// Width of a choice's words, points.
const LABEL: f32 = 126.0;
/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let frames = &model.woodwork.frames;
    let steepest = frames.iter().flat_map(|f| &f.bevels).map(|b| b.angle.abs()).fold(0.0, f64::max);
    let board: f64 = frames.iter().map(Frame::board_area).sum();
    let crown = frames.iter().flat_map(|f| &f.crowns).map(|c| c.1.abs()).fold(0.0, f64::max);
    figure(ui, tokens, "steepest bevel", half_degrees(steepest));
    figure(ui, tokens, "most bow of an edge", units.fine(crown));
    figure(ui, tokens, "area of boards", units.area(board));
    ui.add_space(size::GAP);
    widgets::head(ui, tokens, "steepest bevel");
    for (i, f) in frames.iter().enumerate() {
        row(ui, context, i, f);
    }
    if let Some(f) = frames.get(context.state.selection.frame.min(frames.len().saturating_sub(1))) {
        ui.add_space(size::GAP);
        ui.separator();
        details(ui, context, model, f);
    }
    ui.separator();
    stations(ui, context, model);
    ui.separator();
    framing::show(ui, context);
    advice(ui, context, model);
    widgets::sources(
        ui,
        tokens,
        &[
            "Sections: the moulded surface cut at the station; bevels: the skin's normal against the frame's face.",
            "Depths, laps, gussets, fastenings and limbers: common practice, no source. No rule of strength for boats is applied.",
            "Spacing: a built-in strip under water to the sheer (Roark's formulas); how much sag is too much is our judgement.",
        ],
    );
}

fn row(ui: &mut Ui, context: &mut Context, i: usize, f: &Frame) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let chosen = context.state.selection.frame == i;
    let lit = chosen || context.state.lit() == Some(PartId::frame(i));
    let worst = f.bevels.iter().map(|b| b.angle.abs()).fold(0.0, f64::max);
    let frame = egui::Frame::new()
        .fill(if lit { tokens.lit } else { egui::Color32::TRANSPARENT })
        .corner_radius(8)
        .inner_margin(egui::Margin::symmetric(8, 3));
    let response = frame
        .show(ui, |ui| {
            let name = format!("Frame {}", f.station);
            let text = format!("{} aft · {} face", units.show(f.x), f.face.word());
            let bevel = (half_degrees(worst), "its steepest bevel");
            widgets::list_row(ui, tokens, &name, &text, (&bevel.0, bevel.1));
        })
        .response
        .interact(Sense::click());
    let name = format!("frame {}", f.station);
    widgets::row(ui, tokens, &response, &name, chosen);
    if response.hovered() || response.has_focus() {
        context.state.point_at(PartId::frame(i));
    }
    if response.clicked() {
        context.state.take_frame(i);
    }
}

/// The frame in hand: boards, bevels, notches, and what the builder may choose.
fn details(ui: &mut Ui, context: &mut Context, model: &Model, f: &Frame) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    ui.horizontal(|ui| {
        let name = format!("Frame {}", f.station);
        ui.label(RichText::new(name).font(FontId::new(size::BODY, semibold())));
        if link(ui, tokens, "look at it").clicked() {
            let at = crate::geom::P3::new(f.x, 0.0, 0.5 * model.lines.depth());
            context.look_at(at, -f.into_frame());
        }
    });
    for p in &f.pieces {
        let text = format!(
            "{} of {} x {}{}",
            p.count(),
            units.show(p.board_width),
            units.show(p.board_length),
            if p.wide_enough { "" } else { " (none so wide)" }
        );
        figure(ui, tokens, &p.name, text);
    }
    for (panel, crown) in &f.crowns {
        let name = &model.panels[*panel].name;
        if let Some(run) = bevel_run(&f.bevels, *panel, units) {
            figure(ui, tokens, &format!("bevel, {name}"), run);
        }
        if crown.abs() >= 0.05 {
            figure(ui, tokens, &format!("crown, {name}"), units.fine(*crown));
        }
    }
    for n in &f.notches {
        let let_down = if n.let_down >= 0.5 {
            format!(", down {}", units.fine(n.let_down))
        } else {
            String::new()
        };
        figure(
            ui,
            tokens,
            &format!("notch, {}", n.name),
            format!("leans {}{let_down}", half_degrees(n.lean)),
        );
    }
    let fastenings = f
        .gussets
        .iter()
        .filter(|g| g.on_face)
        .fold(0, |n, g| n + g.fastenings.len() * if g.whole { 1 } else { 2 });
    figure(
        ui,
        tokens,
        "fastenings, gussets + planking",
        format!("{fastenings} + {}", 2 * f.planking_at.len()),
    );
    choose(ui, context, model, f);
}

/// Edges and face of the frame in hand.
fn choose(ui: &mut Ui, context: &mut Context, model: &Model, f: &Frame) {
    let framing = context.session.hull().framing.clone();
    let now = framing.choice(f.station).cloned();
    let fresh = FrameChoice { station: f.station, ..FrameChoice::default() };
    let mut next = now.clone().unwrap_or(fresh);
    let soft = context.tokens.soft;
    for (panel, _) in &f.crowns {
        let name = model.panels[*panel].name.as_str();
        ui.horizontal_wrapped(|ui| {
            let words = RichText::new(format!("edge at the {name}")).size(size::SMALL);
            widgets::cell(ui, LABEL, words.color(soft));
            for (edges, word) in [(Edges::Shaped, "shaped"), (Edges::Straight, "straight")] {
                let chosen = framing.edge_of(f.station, name) == edges;
                let shown = widgets::chip(ui, chosen, word);
                shown.widget_info(|| {
                    egui::WidgetInfo::selected(
                        egui::WidgetType::SelectableLabel,
                        true,
                        chosen,
                        format!("edge at the {name} {word}"),
                    )
                });
                let shown = shown.on_hover_text("straight leaves the crown as a gap");
                if shown.clicked() && !chosen {
                    // From now on this frame says of every edge what it is.
                    let is_straight = |p: &str| framing.edge_of(f.station, p) == Edges::Straight;
                    let all = f.crowns.iter().map(|c| model.panels[c.0].name.as_str());
                    let wanted = |p: &&str| {
                        if *p == name { edges == Edges::Straight } else { is_straight(p) }
                    };
                    next.straight = all.filter(wanted).map(str::to_string).collect();
                    next.edges = Some(Edges::Shaped);
                }
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        let words = RichText::new("face on the line").size(size::SMALL);
        widgets::cell(ui, LABEL, words.color(soft));
        for (face, word) in
            [(None, "the larger"), (Some(Face::Fore), "fore"), (Some(Face::Aft), "aft")]
        {
            if widgets::chip(ui, next.face == face, word).clicked() {
                next.face = face;
            }
        }
    });
    let plain = next == FrameChoice { station: f.station, ..FrameChoice::default() };
    if Some(&next) != now.as_ref() && !(plain && now.is_none()) {
        let mut framing = framing;
        framing.frames.retain(|c| c.station != f.station);
        if !plain {
            framing.frames.push(next);
        }
        context.ask(Command::Edit(Edit::SetFraming(Box::new(framing), "one frame")));
    }
}

/// Where stations stand: evenly by spacing or number, or by hand.
fn stations(ui: &mut Ui, context: &mut Context, model: &Model) {
    let units = context.session.hull().units;
    let framing = context.session.hull().framing.clone();
    ui.label(RichText::new("Stations").font(FontId::new(size::BODY, semibold())));
    let by_hand = !framing.stations_mm.is_empty();
    let mut next: Option<(Framing, &'static str)> = None;
    ui.horizontal_wrapped(|ui| {
        let pick = |ui: &mut Ui, chosen: bool, word: &str| {
            widgets::chip(ui, chosen, word).clicked() && !chosen
        };
        if pick(ui, !by_hand && framing.count == 0, "by spacing") {
            let f = Framing { stations_mm: Vec::new(), count: 0, ..framing.clone() };
            next = Some((f, "by spacing"));
        }
        if pick(ui, !by_hand && framing.count > 0, "by number") {
            let count = model.stations.len().max(1);
            next =
                Some((Framing { stations_mm: Vec::new(), count, ..framing.clone() }, "by number"));
        }
        if pick(ui, by_hand, "by hand") {
            let whole = model.stations.iter().map(|x| x.round()).collect();
            next = Some((Framing { stations_mm: whole, ..framing.clone() }, "by hand"));
        }
    });
    if by_hand {
        let i = context.state.selection.frame;
        if let Some(x) = framing.stations_mm.get(i).copied() {
            let label = format!("station {}", i + 1);
            if let Some(v) = typed_length(ui, context, &format!("station {i}"), &label, x, units) {
                let mut f = framing.clone();
                f.stations_mm[i] = v;
                f.stations_mm.sort_by(f64::total_cmp);
                next = Some((f, "move a station"));
            }
        }
        ui.horizontal_wrapped(|ui| {
            if ui.small_button("add one aft of it").clicked() {
                let mut f = framing.clone();
                let after =
                    f.stations_mm.get(i + 1).copied().unwrap_or(model.lines.extent(|p| p.x).1);
                let here = f.stations_mm.get(i).copied().unwrap_or(0.0);
                f.stations_mm
                    .insert((i + 1).min(f.stations_mm.len()), (0.5 * (here + after)).round());
                next = Some((f, "add a station"));
            }
            let can = framing.stations_mm.len() > 1 && i < framing.stations_mm.len();
            if ui.add_enabled(can, egui::Button::new("take it away").small()).clicked() {
                let mut f = framing.clone();
                f.stations_mm.remove(i);
                next = Some((f, "take a station away"));
            }
        });
    } else if framing.count > 0 {
        let shown = framing.count.to_string();
        let count = typed(ui, context, "stations", "how many", &shown, |t| {
            let wrong = || format!("{t:?} is no number of stations; accepted: 1 to 60");
            t.trim().parse::<f64>().ok().filter(|n| (1.0..=60.0).contains(n)).ok_or_else(wrong)
        });
        if let Some(n) = count {
            next = Some((Framing { count: n.round() as usize, ..framing.clone() }, "how many"));
        }
    } else if let Some(v) =
        typed_length(ui, context, "spacing", "apart at most", framing.spacing_mm, units)
    {
        next = Some((Framing { spacing_mm: v, ..framing.clone() }, "spacing"));
    }
    if let Some((framing, what)) = next {
        context.ask(Command::Edit(Edit::SetFraming(Box::new(framing), what)));
    }
}

/// Bays where frames could stand closer.
fn advice(ui: &mut Ui, context: &Context, model: &Model) {
    let units = context.session.hull().units;
    let tokens = context.tokens;
    let wide: Vec<_> = model.woodwork.bays.iter().filter(|b| !b.holds()).collect();
    if wide.is_empty() {
        return;
    }
    ui.separator();
    let title = RichText::new("Where they could stand closer").size(size::SMALL);
    egui::CollapsingHeader::new(title).id_salt("bays").show(ui, |ui| {
        for b in wide {
            let place = format!(
                "{}, {} to {}",
                capital(&model.panels[b.panel].name),
                units.show(b.from),
                units.show(b.to)
            );
            let closer = b.longest.map_or(String::new(), |l| format!(": {} apart", units.show(l)));
            ui.label(RichText::new(format!("{place}{closer}")).size(size::SMALL));
        }
        let words =
            "Closer where a panel is flattest or its load highest. Advice, not a rule of strength.";
        ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft));
    });
}
