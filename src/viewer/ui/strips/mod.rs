//! The strip under the stage: lines to pull, sheets laid flat, drawings, plots.

pub mod afloat;
pub mod bones;
pub mod flat;
pub mod layout;
pub mod lines;
pub mod paint;
pub mod sheet;
pub mod sheets;

use bevy_egui::egui::Ui;

use crate::viewer::state::{AfloatPlot, BonesPart, Question};
use crate::viewer::ui::context::Context;

/// Shows the strip of the question in hand.
pub fn show(ui: &mut Ui, context: &mut Context) {
    match context.state.question {
        Question::Skin => flat::show(ui, context),
        Question::Bones if context.state.selection.bones == BonesPart::Lumber => {
            bones::show(ui, context);
        }
        Question::Bones | Question::Setup => sheet::show(ui, context),
        Question::Stock => sheets::show(ui, context),
        Question::Afloat if context.state.display.plot != AfloatPlot::Lines => {
            afloat::show(ui, context);
        }
        Question::Afloat => {
            afloat::choose(ui, context);
            lines::show(ui, context);
        }
        _ => lines::show(ui, context),
    }
}
