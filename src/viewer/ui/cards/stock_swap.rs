//! Another sheet for a panel, another wood for a member: beside what they do to cost, weight and
//! freeboard, which stand above.

use bevy_egui::egui::{RichText, Ui};

use crate::hull::PanelPlanking;
use crate::hull::edit::Edit;
use crate::viewer::session::Command;
use crate::viewer::theme::size;
use crate::viewer::ui::cards::skin::sheet_choice;
use crate::viewer::ui::cards::stick::species_choice;
use crate::viewer::ui::context::Context;
use crate::words::capital;

/// Shows the choices.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        return;
    };
    let hull = context.session.hull().clone();
    let name = |ui: &mut Ui, words: &str, colour| {
        ui.label(RichText::new(capital(words)).size(size::SMALL).color(colour));
    };
    for p in &model.panels {
        name(ui, &p.name, context.tokens.soft);
        let (sheet, _) = hull.planking.of_panel(&p.name);
        let key = format!("sheet of the {}", p.name);
        let chosen = sheet_choice(ui, &key, &model.materials.sheets, sheet);
        if let Some((sheet, thickness_mm)) = chosen.filter(|c| c.0 != sheet) {
            let grain_across = hull.planking.grain_across(&p.name);
            let panel = p.name.clone();
            let planking = PanelPlanking { panel, sheet, thickness_mm, grain_across };
            context.ask(Command::Edit(Edit::SetPanelSheet { planking }));
        }
    }
    for (member, m) in hull.members.iter().enumerate() {
        name(ui, &m.name, context.tokens.soft);
        let key = format!("wood of the {}", m.name);
        let chosen = species_choice(ui, &key, &model.materials.woods, &m.species);
        if let Some(species) = chosen.filter(|s| *s != m.species) {
            context.ask(Command::Edit(Edit::SetMember {
                member,
                moulded_mm: m.moulded_mm,
                sided_mm: m.sided_mm,
                species,
                moisture_pct: m.moisture_pct,
            }));
        }
    }
}
