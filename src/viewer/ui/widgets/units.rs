//! The list of units that lengths are shown in.

use bevy_egui::egui::Ui;

use crate::units::Units;
use crate::viewer::session::Command;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::choice;

/// What each kind of units is shown by: 3 ft 7 1/16 in.
const EXAMPLE_MM: f64 = 1093.8;

/// The units that lengths are shown in.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let units = context.session.hull().units;
    let shown = choice(ui, "units", 64.0, units.word(), |ui| {
        for u in Units::ALL {
            let as_shown = format!("{}   as {}", u.word(), u.show(EXAMPLE_MM));
            if ui.selectable_label(u == units, as_shown).clicked() {
                context.prefs.units = Some(u);
                context.ask(Command::ShowIn(u));
            }
        }
    });
    shown.on_hover_text("Units that lengths are shown in; any can be typed. ft-in-8 is feet-inches-eighths, as 3-6-6+: the plus is a sixteenth more. in-16 is inches with fractions");
}
