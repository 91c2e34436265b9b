//! The legend of the map on the hull: what its colours and lines mean, as radii of the sheet
//! or strains of the stick in hand.

use bevy_egui::egui::{
    Align2, Color32, FontId, Mesh, Painter, Pos2, Rect, Shape, Stroke, Ui, pos2, vec2,
};

use crate::units::Units;
use crate::viewer::state::Question;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;

/// The band of colours, points.
const BAND: (f32, f32) = (180.0, 12.0);
/// From the stage's right edge and foot to the band's corner, points.
const PLACE: (f32, f32) = (24.0, 92.0);
/// What it takes of the stage from its foot up, points.
pub(super) const TALL: f32 = PLACE.1 + 38.0;
/// The shares of the limit that are drawn as lines.
const SHARES: [(f32, &str); 4] = [(0.25, "¼"), (0.5, "½"), (1.0, "1"), (1.5, "1½")];

/// What the shares mean for what is in hand: a name, and a figure for each share.
struct Meaning {
    name: String,
    figure: Box<dyn Fn(f64) -> String>,
}

/// The radius that goes with a share of the limit, for the sheet in hand.
fn sheet(context: &Context) -> Option<Meaning> {
    let model = context.model?;
    let units = context.session.hull().units;
    let p =
        model.panels.get(context.state.selection.panel.unwrap_or(0)).or(model.panels.first())?;
    let least = p.bend.least_radius;
    let unit = if units.imperial() { "ft" } else { "m" };
    Some(Meaning {
        name: format!("radius, {unit}, {}", p.name),
        figure: Box::new(move |share| round_radius(units, least / share)),
    })
}

/// The strain that goes with a share of breaking, for the stick in hand.
fn stick(context: &Context) -> Option<Meaning> {
    let model = context.model?;
    let m = model.members.get(context.state.member_of(model))?;
    let breaking = m.limit.breaking;
    Some(Meaning {
        name: format!("strain, %, {}", m.member.name),
        figure: Box::new(move |share| format!("{:.2}", 100.0 * breaking * share)),
    })
}

/// Shows all of it, at the right of the stage's foot.
pub(crate) fn show(ui: &Ui, context: &Context, stage: Rect) {
    let painter = ui.painter();
    let tokens = context.tokens;
    let ground = painter.add(Shape::Noop);
    let band = Rect::from_min_size(
        pos2(stage.max.x - BAND.0 - PLACE.0, stage.max.y - PLACE.1),
        vec2(BAND.0, BAND.1),
    );
    colours(painter, band);
    let small = FontId::proportional(size::SMALL);
    let skin = context.state.question == Question::Skin;
    let (what, meaning) = if skin {
        ("bend of the sheet, of its limit; lines at ¼, ½ and 1", sheet(context))
    } else {
        ("strain, of breaking; lines at ¼, ½ and 1", stick(context))
    };
    let mut all = band;
    let mut write = |at: Pos2, align: Align2, text: &str, font: FontId, colour: Color32| {
        all = all.union(painter.text(at, align, text, font, colour));
    };
    let head = band.right_top() - vec2(0.0, 4.0);
    write(head, Align2::RIGHT_BOTTOM, what, small.clone(), tokens.soft);
    let under = band.max.y + 20.0;
    if let Some(m) = &meaning {
        let font = FontId::proportional(size::SMALL - 2.0);
        let at = pos2(band.min.x - 8.0, under);
        write(at, Align2::RIGHT_TOP, &m.name, font, tokens.soft);
    }
    for (share, text) in SHARES {
        let x = band.min.x + BAND.0 * share / 1.5;
        painter.line_segment(
            [pos2(x, band.min.y), pos2(x, band.max.y + 3.0)],
            Stroke::new(if share == 1.0 { 2.0 } else { 1.0 }, tokens.ink),
        );
        let at = pos2(x, band.max.y + 4.0);
        write(at, Align2::CENTER_TOP, text, small.clone(), tokens.ink);
        // The first two stand too close for two figures.
        if let Some(m) = meaning.as_ref().filter(|_| share > 0.3) {
            let figure = (m.figure)(f64::from(share));
            let font = FontId::monospace(size::SMALL - 2.0);
            write(pos2(x, under), Align2::CENTER_TOP, &figure, font, tokens.soft);
        }
    }
    painter.set(ground, Shape::rect_filled(all.expand(6.0), 4.0, tokens.paper));
}

fn colours(painter: &Painter, band: Rect) {
    let stops = widgets::MAP;
    let mut mesh = Mesh::default();
    for (i, colour) in stops.iter().enumerate() {
        let x = band.min.x + band.width() * i as f32 / (stops.len() - 1) as f32;
        mesh.colored_vertex(pos2(x, band.min.y), *colour);
        mesh.colored_vertex(pos2(x, band.max.y), *colour);
        if i > 0 {
            let k = 2 * i as u32;
            mesh.add_triangle(k - 2, k - 1, k);
            mesh.add_triangle(k - 1, k + 1, k);
        }
    }
    painter.add(mesh);
}

fn round_radius(units: Units, mm: f64) -> String {
    format!("{:.1}", if units.imperial() { mm / 304.8 } else { mm / 1000.0 })
}
