//! The card at the right: the verdict of the question in hand, its figures, and what can be
//! set about it.

pub mod afloat;
pub mod bones;
pub mod compare;
pub mod dimensions;
pub mod ends;
pub mod frames;
pub mod framing;
pub mod limits;
pub mod sections;
pub mod setup;
pub mod shape;
pub mod skin;
pub mod stick;
pub mod stock;
pub mod stock_plan;
pub mod stock_rows;
pub mod stock_swap;
pub mod stock_yard;

use bevy_egui::egui::{self, Ui};

use crate::viewer::state::{BonesPart, Question};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::{self, fields};

/// Shows the card of the question in hand, from its verdict on when that is another.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let id = ui.id().with("card of");
    let of = (context.state.question, context.state.selection.bones);
    let same = ui.data(|d| d.get_temp(id)) == Some(of);
    ui.data_mut(|d| d.insert_temp(id, of));
    let mut area = egui::ScrollArea::vertical().auto_shrink([false, false]);
    if !same {
        area = area.vertical_scroll_offset(0.0);
    }
    area.show(ui, |ui| {
        fields::begin_rows(ui);
        card(ui, context);
        fields::stay_under_the_hand(ui, same);
        // Where less follows than before, what was pressed stays where it is.
        let short = ui.clip_rect().bottom() - ui.cursor().top();
        if same && short > 0.0 {
            ui.add_space(short);
        }
    });
}

/// Bones: lumber, frames, or the ends.
fn which_bones(ui: &mut Ui, context: &mut Context) {
    ui.horizontal_wrapped(|ui| {
        for part in BonesPart::ALL {
            let chosen = context.state.selection.bones == part;
            if widgets::chip(ui, chosen, part.word()).clicked() && !chosen {
                context.state.selection.bones = part;
                context.state.lay_sheet(0);
            }
        }
    });
    ui.add_space(size::GAP);
    match context.state.selection.bones {
        BonesPart::Lumber => bones::show(ui, context),
        BonesPart::Frames => frames::show(ui, context),
        BonesPart::Ends => ends::show(ui, context),
    }
}

fn card(ui: &mut Ui, context: &mut Context) {
    let question = context.state.question;
    widgets::heading(ui, context, question);
    match question {
        Question::Shape => shape::show(ui, context),
        Question::Skin => skin::show(ui, context),
        Question::Bones => which_bones(ui, context),
        Question::Setup => setup::show(ui, context),
        Question::Afloat => afloat::show(ui, context),
        Question::Stock => stock::show(ui, context),
    }
    widgets::findings(ui, context, question);
}
