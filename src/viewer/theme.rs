//! Every colour and size of the window, in one place. Nothing else names one.

use std::sync::Arc;

use bevy::prelude::Color;
use bevy_egui::egui::{
    self, Color32, FontData, FontDefinitions, FontFamily, FontId, Stroke, TextStyle, Visuals,
};
use serde::{Deserialize, Serialize};

use crate::finding::Severity;
use crate::part::PartId;

/// How the outside of the hull looks on the stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Finish {
    /// Bare wood.
    #[default]
    Wood,
    /// Grey-green, as reeds are.
    Reed,
    /// Oxide red.
    Barn,
    /// Blue-black.
    Slate,
    /// Off-white.
    Chalk,
}

impl Finish {
    /// All of them.
    pub const ALL: [Finish; 5] =
        [Finish::Wood, Finish::Reed, Finish::Barn, Finish::Slate, Finish::Chalk];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Finish::Wood => "bare wood",
            Finish::Reed => "reed paint",
            Finish::Barn => "barn-red paint",
            Finish::Slate => "slate paint",
            Finish::Chalk => "chalk paint",
        }
    }
}

/// Light or dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Theme {
    /// A loft in the morning.
    #[default]
    Light,
    /// The same by lamplight.
    Dark,
}

/// The colours of a theme. Contrast of every text colour on paper and floor is at least
/// 4.5 : 1 (see the test).
#[derive(Debug, Clone, Copy)]
pub struct Tokens {
    /// Window and stage ground.
    pub floor: Color32,
    /// Cards, strip, sheets.
    pub paper: Color32,
    /// Text and main lines.
    pub ink: Color32,
    /// Secondary text, axes.
    pub soft: Color32,
    /// Grids and separators.
    pub rule: Color32,
    /// Ground of what is chosen, or pointed at, on paper.
    pub lit: Color32,
    /// Selection and what is dragged.
    pub chalk: Color32,
    /// A verdict that holds.
    pub holds: Color32,
    /// A verdict to watch.
    pub watch: Color32,
    /// A verdict to stop at.
    pub stop: Color32,
    /// Ground of a button that is on, and of text that is marked.
    pub chosen: Color32,
    /// Plywood in the flat.
    pub ply: Color32,
    /// Plywood of small pictures, in full light.
    pub wood: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// The light theme.
pub const LIGHT: Tokens = Tokens {
    floor: rgb(0xEFEAE0),
    paper: rgb(0xFAF7F0),
    ink: rgb(0x23272C),
    soft: rgb(0x5A6068),
    rule: rgb(0xCFC6B5),
    lit: rgb(0xEFEAE0),
    chalk: rgb(0x1D5F9A),
    holds: rgb(0x17706A),
    watch: rgb(0x8F5B0E),
    stop: rgb(0xB3321F),
    chosen: rgb(0xC3D1DA),
    ply: rgb(0xEAD9B8),
    wood: rgb(0xE6C795),
};

/// The dark theme.
pub const DARK: Tokens = Tokens {
    floor: rgb(0x191C20),
    paper: rgb(0x22262B),
    ink: rgb(0xECE7DB),
    soft: rgb(0xA9AEB4),
    rule: rgb(0x4A525A),
    lit: rgb(0x31383F),
    chalk: rgb(0x7DB7E8),
    holds: rgb(0x5CC2B6),
    watch: rgb(0xE3B04B),
    stop: rgb(0xF08A72),
    chosen: rgb(0x42596D),
    ply: rgb(0x4A4032),
    wood: rgb(0xC6AB80),
};

impl Theme {
    /// Its colours.
    pub fn tokens(self) -> &'static Tokens {
        match self {
            Theme::Light => &LIGHT,
            Theme::Dark => &DARK,
        }
    }
}

impl Tokens {
    /// Lines on wood, which is light in either theme.
    pub fn line_on_wood(&self) -> Color32 {
        LIGHT.ink
    }

    /// Colour of a verdict; none or a note holds.
    pub fn verdict(&self, severity: Option<Severity>) -> Color32 {
        match severity {
            None | Some(Severity::Note) => self.holds,
            Some(Severity::Watch) => self.watch,
            Some(Severity::Stop) => self.stop,
        }
    }
}

/// Sizes, in points on an 8-point grid.
pub mod size {
    /// Width of the rail.
    pub const RAIL: f32 = 112.0;
    /// Width of the card.
    pub const CARD: f32 = 360.0;
    /// Height of the top bar.
    pub const TOP: f32 = 48.0;
    /// Height of the strip at first.
    pub const STRIP: f32 = 256.0;
    /// Padding in a card.
    pub const PAD: f32 = 16.0;
    /// Half a step of the grid.
    pub const GAP: f32 = 8.0;
    /// Small text.
    pub const SMALL: f32 = 13.0;
    /// Body text.
    pub const BODY: f32 = 15.0;
    /// Card title.
    pub const TITLE: f32 = 18.0;
    /// Verdict.
    pub const VERDICT: f32 = 22.0;
    /// Radius in which a duck is hit.
    pub const DUCK_HIT: f32 = 14.0;
    /// Half the width of a duck.
    pub const DUCK: f32 = 5.0;
}

/// How a window of some size is shared out, points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Width of the rail.
    pub rail: f32,
    /// Width of the card.
    pub card: f32,
    /// Too narrow for words that can be said shorter or found in a list.
    pub narrow: bool,
}

/// Shares a window out: a small one, or one with large text, leaves most of its breadth to the
/// boat.
pub fn room(window: egui::Vec2) -> Room {
    let narrow = window.x < 1000.0;
    if narrow {
        Room { rail: 84.0, card: (0.36 * window.x).clamp(236.0, size::CARD), narrow }
    } else {
        Room { rail: size::RAIL, card: size::CARD, narrow }
    }
}

/// The family of semibold text.
pub fn semibold() -> FontFamily {
    FontFamily::Name("semibold".into())
}

/// Sets fonts, text sizes and colours.
pub fn apply(ctx: &egui::Context, theme: Theme) {
    let tokens = theme.tokens();
    let mut visuals = if theme == Theme::Light { Visuals::light() } else { Visuals::dark() };
    visuals.panel_fill = tokens.paper;
    visuals.window_fill = tokens.paper;
    visuals.extreme_bg_color = tokens.floor;
    visuals.override_text_color = Some(tokens.ink);
    visuals.hyperlink_color = tokens.chalk;
    visuals.selection.bg_fill = tokens.chosen;
    visuals.selection.stroke = Stroke::new(1.0, tokens.chalk);
    // A blinking cursor would have the window drawn for ever.
    visuals.text_cursor.blink = false;
    visuals.window_stroke = Stroke::new(1.0, tokens.rule);
    for widget in [
        &mut visuals.widgets.noninteractive,
        &mut visuals.widgets.inactive,
        &mut visuals.widgets.hovered,
        &mut visuals.widgets.active,
        &mut visuals.widgets.open,
    ] {
        widget.corner_radius = 6.into();
        widget.fg_stroke = Stroke::new(1.2, tokens.ink);
        widget.bg_stroke = Stroke::new(1.0, tokens.rule);
    }
    visuals.widgets.inactive.weak_bg_fill = tokens.paper;
    // Boxes to tick and rails of sliders, which have no edge of their own in a menu.
    visuals.widgets.inactive.bg_fill = tokens.rule;
    visuals.widgets.hovered.weak_bg_fill = tokens.lit;
    visuals.widgets.hovered.bg_stroke = Stroke::new(1.0, tokens.chalk);
    visuals.widgets.active.weak_bg_fill = tokens.rule;
    ctx.all_styles_mut(|style| {
        style.visuals = visuals.clone();
        style.spacing.item_spacing = egui::vec2(size::GAP, 6.0);
        style.spacing.button_padding = egui::vec2(10.0, 5.0);
        // The bar lies beside figures, not over their units.
        style.spacing.scroll.floating_allocated_width = 14.0;
        style.text_styles = [
            (TextStyle::Small, FontId::proportional(size::SMALL)),
            (TextStyle::Body, FontId::proportional(size::BODY)),
            (TextStyle::Button, FontId::proportional(size::BODY)),
            (TextStyle::Monospace, FontId::monospace(size::BODY)),
            (TextStyle::Heading, FontId::new(size::TITLE, semibold())),
        ]
        .into();
    });
}

/// The shipped faces, with the library's own behind them for rare signs.
pub fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let mut add = |name: &str, bytes: &'static [u8], family: FontFamily| {
        fonts.font_data.insert(name.into(), Arc::new(FontData::from_static(bytes)));
        fonts.families.entry(family).or_default().insert(0, name.into());
    };
    add(
        "next",
        include_bytes!("../../assets/fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
        FontFamily::Proportional,
    );
    add(
        "next-semibold",
        include_bytes!("../../assets/fonts/AtkinsonHyperlegibleNext-SemiBold.ttf"),
        semibold(),
    );
    add(
        "mono",
        include_bytes!("../../assets/fonts/AtkinsonHyperlegibleMono-Regular.ttf"),
        FontFamily::Monospace,
    );
    let behind = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    fonts.families.entry(semibold()).or_default().extend(behind);
    fonts
}

/// Lays out every sign that the window writes, at every size, so that the panels' texture
/// is as large as it will be before anything is dragged.
pub fn lay_out_every_sign(ctx: &egui::Context) {
    let mut signs: Vec<char> = (' '..='~').chain("°×·–—…½¼¾²³".chars()).collect();
    let sizes = [size::SMALL - 2.0, size::SMALL, size::BODY, size::TITLE, size::VERDICT];
    // A sign is drawn anew for each part of a pixel that it starts at: turning the row
    // round brings most of them about.
    for _ in 0..6 {
        signs.rotate_left(17);
        let row: String = signs.iter().collect();
        ctx.fonts_mut(|fonts| {
            for points in sizes {
                for family in [FontFamily::Proportional, FontFamily::Monospace, semibold()] {
                    fonts.layout_no_wrap(row.clone(), FontId::new(points, family), Color32::BLACK);
                }
            }
        });
    }
}

/// The stage's ground.
pub fn stage_ground(theme: Theme) -> Color {
    engine(theme.tokens().floor)
}

fn engine(c: Color32) -> Color {
    Color::srgb_u8(c.r(), c.g(), c.b())
}

/// Shadow and ground of the floor under the hull, as linear RGBA.
pub fn floor_colours(theme: Theme) -> ([f32; 4], [f32; 4]) {
    let ground = engine(theme.tokens().floor).to_linear();
    let shade = if theme == Theme::Light { 0.62 } else { 0.45 };
    let shadow = [ground.red * shade, ground.green * shade, ground.blue * shade, 0.9];
    (shadow, [ground.red, ground.green, ground.blue, 0.0])
}

/// Paint on the outside, linear; none where she is bare.
pub fn paint_colour(finish: Finish, theme: Theme) -> Option<[f32; 3]> {
    let hex = match finish {
        Finish::Wood => return None,
        Finish::Reed => 0x6F8270,
        Finish::Barn => 0x8E4A3A,
        Finish::Slate => 0x3F4C5A,
        Finish::Chalk => 0xDDD8CB,
    };
    let dim = if theme == Theme::Light { 1.0 } else { 0.86 };
    let c = engine(rgb(hex)).to_linear();
    Some([c.red * dim, c.green * dim, c.blue * dim])
}

/// Tint of the water, linear, with its strength.
pub fn water_tint(theme: Theme) -> bevy::prelude::Vec4 {
    let (hex, strength) = if theme == Theme::Light { (0x7FB3B8, 0.34) } else { (0x3E7480, 0.38) };
    let c = engine(rgb(hex)).to_linear();
    bevy::prelude::Vec4::new(c.red, c.green, c.blue, strength)
}

/// Ground and lines of full-size work: light lines on black show up on plywood.
pub mod thrown {
    use bevy_egui::egui::Color32;

    /// Nothing is thrown there.
    pub const GROUND: Color32 = Color32::BLACK;
    /// Lines to trace.
    pub const LINE: Color32 = Color32::WHITE;
    /// Marks, and what is set up with.
    pub const MARK: Color32 = Color32::from_rgb(0x8F, 0xD0, 0xFF);
    /// Inside the pattern.
    pub const SHEET: Color32 = Color32::from_rgb(0x16, 0x1A, 0x1E);
}

/// Colour of a piece of wood on the stage: pale ply, darker lumber.
pub fn wood_colour(piece: PartId, theme: Theme) -> Color {
    let dim = if theme == Theme::Light { 1.0 } else { 0.86 };
    let [r, g, b] = match piece {
        PartId::Panel(_) => [0.885, 0.765, 0.565],
        PartId::Member(_) => [0.66, 0.45, 0.255],
        PartId::Transom(_) => [0.80, 0.645, 0.43],
        // The jig is grey old timber, so that the boat stands out from it.
        id if id.of_jig() => [0.60, 0.585, 0.55],
        // Frames and stems: sawn lumber.
        _ => [0.775, 0.585, 0.375],
    };
    Color::srgb(r * dim, g * dim, b * dim)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.1 relative luminance and contrast ratio.
    fn contrast(a: Color32, b: Color32) -> f32 {
        let luminance = |c: Color32| {
            let l = engine(c).to_linear();
            0.2126 * l.red + 0.7152 * l.green + 0.0722 * l.blue
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn every_text_colour_can_be_read_on_every_ground() {
        for t in [&LIGHT, &DARK] {
            for ground in [t.paper, t.floor, t.lit] {
                let marked = contrast(t.ink, t.chosen);
                assert!(marked >= 4.5, "{:?}: {marked}", t.chosen);
                assert!(contrast(t.chosen, t.paper) >= 1.4, "it stands out from what is off");
                for text in [t.ink, t.soft, t.chalk, t.holds, t.watch, t.stop] {
                    let ratio = contrast(text, ground);
                    assert!(ratio >= 4.5, "{text:?} on {ground:?}: {ratio}");
                }
            }
        }
    }
}
