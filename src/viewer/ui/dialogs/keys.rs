//! Shortcuts: one table that is acted on and shown as a cheat sheet.

use bevy_egui::egui::{self, FontId, Key, Modifiers, RichText};

use crate::viewer::session::Command;
use crate::viewer::state;
use crate::viewer::state::dialogs::FilePurpose;
use crate::viewer::state::{Look, Question};
use crate::viewer::stocktaking::Ask;
use crate::viewer::theme::{Tokens, semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::dialogs::files;
use crate::viewer::ui::widgets;

/// What a key does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Open a document.
    Open,
    /// Save.
    Save,
    /// Save under a name.
    SaveAs,
    /// Write the build pack.
    Pack,
    /// Picture of the window.
    Picture,
    /// One step back.
    Undo,
    /// One step forward.
    Redo,
    /// The cheat sheet.
    Keys,
    /// A question in hand.
    Question(Question),
    /// The next look.
    NextLook,
    /// The table.
    Table,
    /// Pin or unpin.
    Pin,
    /// Close the window.
    Close,
    /// Let go of the topmost thing.
    Let,
    /// Done elsewhere; in the table for the sheet.
    Elsewhere,
}

/// One row: the key (if egui is to watch for it), how it is written, what it does.
struct Row {
    key: Option<(Modifiers, Key)>,
    written: &'static str,
    words: &'static str,
    act: Act,
}

const CTRL: Modifiers = Modifiers::COMMAND;

const fn row(
    key: Option<(Modifiers, Key)>,
    written: &'static str,
    words: &'static str,
    act: Act,
) -> Row {
    Row { key, written, words, act }
}

/// All of them, by what they are about. A longer chord stands before a shorter one.
const ROWS: [(&str, &[Row]); 5] = [
    (
        "The boat",
        &[
            row(Some((CTRL, Key::O)), "Ctrl O", "open", Act::Open),
            row(
                Some((CTRL.plus(Modifiers::SHIFT), Key::S)),
                "Ctrl Shift S",
                "save under a name",
                Act::SaveAs,
            ),
            row(Some((CTRL, Key::S)), "Ctrl S", "save", Act::Save),
            row(Some((CTRL, Key::B)), "Ctrl B", "write the build pack", Act::Pack),
            row(Some((CTRL.plus(Modifiers::SHIFT), Key::Z)), "Ctrl Shift Z", "do again", Act::Redo),
            row(Some((CTRL, Key::Y)), "Ctrl Y", "do again", Act::Redo),
            row(Some((CTRL, Key::Z)), "Ctrl Z", "undo", Act::Undo),
            row(Some((CTRL, Key::D)), "Ctrl D", "pin this shape to compare with", Act::Pin),
            row(
                Some((Modifiers::NONE, Key::F12)),
                "F12",
                "save a picture of the window",
                Act::Picture,
            ),
            row(Some((CTRL, Key::Q)), "Ctrl Q", "close", Act::Close),
        ],
    ),
    (
        "The questions",
        &[
            row(
                Some((Modifiers::ALT, Key::Num1)),
                "Alt 1",
                "Shape",
                Act::Question(Question::Shape),
            ),
            row(Some((Modifiers::ALT, Key::Num2)), "Alt 2", "Skin", Act::Question(Question::Skin)),
            row(
                Some((Modifiers::ALT, Key::Num3)),
                "Alt 3",
                "Bones",
                Act::Question(Question::Bones),
            ),
            row(
                Some((Modifiers::ALT, Key::Num4)),
                "Alt 4",
                "Setup",
                Act::Question(Question::Setup),
            ),
            row(
                Some((Modifiers::ALT, Key::Num5)),
                "Alt 5",
                "Afloat",
                Act::Question(Question::Afloat),
            ),
            row(
                Some((Modifiers::ALT, Key::Num6)),
                "Alt 6",
                "Stock",
                Act::Question(Question::Stock),
            ),
            row(Some((CTRL, Key::L)), "Ctrl L", "planked, framed, lines", Act::NextLook),
            row(Some((CTRL, Key::T)), "Ctrl T", "the patterns on the table", Act::Table),
            row(Some((Modifiers::NONE, Key::F1)), "F1", "this sheet", Act::Keys),
            row(None, "Tab, Space", "to the next thing, and press it", Act::Elsewhere),
            row(
                Some((Modifiers::NONE, Key::Escape)),
                "Esc",
                "let go, close what is open",
                Act::Let,
            ),
        ],
    ),
    (
        "Looking",
        &[
            row(None, "drag", "turn her", Act::Elsewhere),
            row(None, "Shift or right drag", "shift her", Act::Elsewhere),
            row(None, "wheel, pinch", "nearer, where the pointer is", Act::Elsewhere),
            row(None, "two fingers", "turn; with Shift shift, with Ctrl zoom", Act::Elsewhere),
            row(None, "arrows", "turn; with Shift shift", Act::Elsewhere),
            row(None, "+ and −", "nearer and farther", Act::Elsewhere),
            row(None, "1 to 6", "quarter, bow, stern, side, above, below", Act::Elsewhere),
            row(None, "F", "all of her in sight", Act::Elsewhere),
            row(None, "P", "parallel or in perspective", Act::Elsewhere),
            row(None, "T", "slow turn", Act::Elsewhere),
        ],
    ),
    (
        "A duck in hand",
        &[
            row(None, "drag", "pull the line; Alt lets it go where you say", Act::Elsewhere),
            row(None, "Tab, arrows", "to the ducks, and from one to the next", Act::Elsewhere),
            row(None, "Space", "take it in hand; Esc lets it go", Act::Elsewhere),
            row(None, "arrows", "in hand: a step of the tape; with Shift ten", Act::Elsewhere),
            row(None, "double click", "set another on the line", Act::Elsewhere),
            row(None, "Delete", "take it away", Act::Elsewhere),
            row(None, "K", "knuckle or fair", Act::Elsewhere),
        ],
    ),
    (
        "A load in hand, afloat",
        &[
            row(None, "drag", "put it where it sits", Act::Elsewhere),
            row(None, "arrows", "a centimetre; with Shift ten", Act::Elsewhere),
        ],
    ),
];

/// Acts on the keys that were pressed; what needs what is typed to be taken first is given
/// back, to be carried out at the end of the frame.
pub fn act(ctx: &egui::Context, context: &mut Context) -> Vec<Act> {
    let mut late = Vec::new();
    if context.state.dialogs.guard.is_some() {
        return late;
    }
    let typing = ctx.text_edit_focused() && !context.state.typing.typed.is_empty();
    for (_, rows) in &ROWS {
        for row in *rows {
            let Some((modifiers, key)) = row.key else {
                continue;
            };
            // Escape is everyone's; undo is the text's while there is something typed.
            let text_s = matches!(row.act, Act::Undo | Act::Redo) && typing;
            if row.act == Act::Let || text_s || !pressed(ctx, modifiers, key) {
                continue;
            }
            match row.act {
                Act::Save | Act::SaveAs | Act::Pack | Act::Close | Act::Open => {
                    // Leaving the field takes what is in it.
                    ctx.memory_mut(|m| {
                        if let Some(id) = m.focused() {
                            m.surrender_focus(id);
                        }
                    });
                    late.push(row.act);
                }
                act => carry_out(context, act),
            }
        }
    }
    late
}

/// Whether exactly this chord was pressed; it is then used up. An AltGr, which counts as
/// Ctrl and Alt, is no Ctrl.
fn pressed(ctx: &egui::Context, modifiers: Modifiers, key: Key) -> bool {
    ctx.input_mut(|i| {
        let mut found = false;
        i.events.retain(|e| {
            let ours = matches!(e, egui::Event::Key { key: k, pressed: true, modifiers: m, .. }
                if *k == key && m.matches_exact(modifiers));
            found |= ours;
            !ours
        });
        found
    })
}

/// At the end of a frame: what was put off, and Escape if nothing else wanted it.
pub fn act_late(ctx: &egui::Context, context: &mut Context, late: Vec<Act>) {
    for act in late {
        carry_out(context, act);
    }
    let escaped = ctx.input(|i| i.key_pressed(Key::Escape));
    if escaped && !context.state.typing.typing && !egui::Popup::is_any_open(ctx) {
        let_go(context);
    }
    context.state.typing.typing = ctx.text_edit_focused();
}

fn carry_out(context: &mut Context, act: Act) {
    let state = &mut *context.state;
    match act {
        Act::Open => files::open(context),
        Act::Save => files::save(context),
        Act::SaveAs => files::choose(context, FilePurpose::SaveAs),
        Act::Pack => files::choose(context, FilePurpose::Pack),
        Act::Picture => files::choose(context, FilePurpose::Picture),
        // A part laid by hand is newer than any change of her: that would have had her laid anew.
        Act::Undo if state.question == Question::Stock && context.stocktaking.by_hand() => {
            context.asks.push(Ask::TakeBack);
        }
        Act::Undo => context.ask(Command::Undo(1)),
        Act::Redo => context.ask(Command::Redo(1)),
        Act::Keys => state.dialogs.keys = !state.dialogs.keys,
        Act::Question(q) => state.ask(q),
        Act::NextLook => {
            let at = Look::ALL.iter().position(|l| *l == state.look()).unwrap_or(0);
            state.set_look(Look::ALL[(at + 1) % Look::ALL.len()]);
        }
        Act::Table => {
            let open = state.on_table();
            if !state.lies_flat() {
                state.ask(Question::Skin);
            }
            state.table.open = !open;
        }
        Act::Pin if context.session.pinned() => context.ask(Command::Unpin),
        Act::Pin => context.ask(Command::Pin),
        Act::Close => context.leave_for(state::dialogs::Next::Close),
        Act::Let => let_go(context),
        Act::Elsewhere => {}
    }
}

/// Escape: the topmost thing that is open closes.
fn let_go(context: &mut Context) {
    let state = &mut *context.state;
    // The sheet of words closes by itself.
    if state.dialogs.words.is_some() || std::mem::take(&mut state.dialogs.stopped_pack) {
        return;
    }
    if state.dialogs.guard.take().is_some() || std::mem::take(&mut state.dialogs.keys) {
        return;
    }
    if state.dialogs.path.take().is_some() {
        state.dialogs.then = None;
        return;
    }
    if std::mem::take(&mut state.dialogs.first_page) {
        return;
    }
    let read: Vec<u64> =
        context.session.notices().iter().filter(|n| n.wrong).map(|n| n.id).collect();
    if !read.is_empty() {
        context.commands.extend(read.into_iter().map(Command::Dismiss));
        return;
    }
    if state.dialogs.tour.take().is_some() {
        context.prefs.toured = true;
        return;
    }
    if std::mem::take(&mut state.table.full_screen) || !state.table.measured.is_empty() {
        state.table.measured.clear();
        return;
    }
    if state.on_table() {
        state.table.open = false;
        return;
    }
    (state.selection.duck, state.selection.held) = (None, None);
    state.typing.typed.clear();
    state.lay(None);
}

/// The cheat sheet, over everything else.
pub fn sheet(ctx: &egui::Context, context: &mut Context) {
    if !context.state.dialogs.keys {
        return;
    }
    let tokens = context.tokens;
    let frame = widgets::sheet(tokens);
    let mut open = true;
    egui::Area::new("keys".into())
        .order(egui::Order::Foreground)
        .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
        .show(ctx, |ui| {
            frame.show(ui, |ui| {
                let window = ctx.viewport_rect().size();
                ui.set_max_width(720.0f32.min(window.x - 64.0));
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.horizontal(|ui| {
                    ui.label(RichText::new("Keys").font(FontId::new(size::TITLE, semibold())));
                    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                        if ui.button("Close").clicked() {
                            open = false;
                        }
                    });
                });
                // Large text in a small window: below one another, to be rolled through.
                let columns = if ui.available_width() < 600.0 { 1 } else { 2 };
                let tall = window.y - 130.0;
                let area = egui::ScrollArea::vertical().max_height(tall).min_scrolled_height(tall);
                area.show(ui, |ui| {
                    ui.columns(columns, |columns| {
                        let last = columns.len() - 1;
                        for (i, group) in ROWS.iter().enumerate() {
                            let at = usize::from(i >= ROWS.len() / 2).min(last);
                            keys_of(&mut columns[at], tokens, group);
                        }
                    });
                });
            });
        });
    context.state.dialogs.keys &= open;
}

/// One group of keys with its title.
fn keys_of(ui: &mut egui::Ui, tokens: &Tokens, (title, rows): &(&str, &[Row])) {
    ui.add_space(size::GAP);
    ui.label(RichText::new(*title).font(FontId::new(size::BODY, semibold())));
    for row in *rows {
        ui.horizontal(|ui| {
            let key =
                RichText::new(row.written).font(FontId::monospace(size::SMALL)).color(tokens.chalk);
            widgets::cell(ui, 150.0, key);
            ui.add(egui::Label::new(RichText::new(row.words).size(size::SMALL)).wrap());
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_question_that_is_alive_has_a_key() {
        let acts: Vec<&Act> =
            ROWS.iter().flat_map(|(_, rows)| rows.iter()).map(|r| &r.act).collect();
        for question in Question::ALL {
            let found = acts.iter().any(|a| matches!(a, Act::Question(q) if *q == question));
            assert!(found, "{question:?}");
        }
    }

    #[test]
    fn no_two_keys_are_the_same_and_none_hides_a_longer_one() {
        let all: Vec<(Modifiers, Key)> =
            ROWS.iter().flat_map(|(_, rows)| rows.iter()).filter_map(|r| r.key).collect();
        for (i, a) in all.iter().enumerate() {
            for b in &all[i + 1..] {
                assert!(a != b, "{a:?}");
                let longer = a.1 == b.1 && b.0.contains(a.0);
                assert!(!longer, "{b:?} would never be reached behind {a:?}");
            }
        }
    }
}
