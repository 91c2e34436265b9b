//! Putting lines and words on a page of a PDF.

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};

use super::PT;
use crate::drawing::export::block::Block;
use crate::drawing::export::tiling::{
    CROSS, MARGIN, OVERLAP, PageSize, Tiling, check_bar, tile_name,
};
use crate::drawing::face::{self, CAPITALS, TextBox};
use crate::drawing::{Anchor, Dash, Drawing, Layer, LayerId, Shape};
use crate::geom::P2;

pub(crate) const INK: [u8; 3] = [35, 39, 44];
pub(crate) const SOFT: [u8; 3] = [150, 150, 150];
/// Words at a page's foot are made smaller to fit down to this height of capitals, mm; what
/// still does not fit is left to the block of words.
const FOOT_SMALLEST: f64 = 1.3;
/// Between the foot's last line and the mark of the document, mm.
const MARK_APART: f64 = 4.0;
/// Height of the large name in a tile's corner, mm.
const NAME: f64 = 4.0;

/// The faces that pages are set in.
pub(crate) struct Fonts {
    pub(crate) regular: Font,
    pub(crate) bold: Font,
}

impl Fonts {
    /// Those that the program brings; `None` were they damaged.
    pub(crate) fn shipped() -> Option<Fonts> {
        let font = |bytes: &'static [u8]| Font::new(bytes.to_vec().into(), 0);
        Some(Fonts { regular: font(face::REGULAR)?, bold: font(face::BOLD)? })
    }
}

/// A page that is painted on, all in mm from its upper left corner.
pub(crate) struct Paint<'a, 'b> {
    pub(crate) surface: Surface<'b>,
    pub(crate) fonts: &'a Fonts,
    pub(crate) page: PageSize,
}

fn path(points: &[(f64, f64)], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let (x, y) = points.first()?;
    builder.move_to((x * PT) as f32, (y * PT) as f32);
    for (x, y) in &points[1..] {
        builder.line_to((x * PT) as f32, (y * PT) as f32);
    }
    if closed {
        builder.close();
    }
    builder.finish()
}

impl Paint<'_, '_> {
    /// Lines from now on: colour, width (mm), dashes and how much larger they are than on paper.
    pub(crate) fn stroke(&mut self, colour: [u8; 3], width: f64, dash: Dash, scale: f64) {
        let pattern = dash.pattern();
        self.surface.set_fill(None);
        self.surface.set_stroke(Some(Stroke {
            paint: rgb::Color::new(colour[0], colour[1], colour[2]).into(),
            width: (width * PT) as f32,
            dash: (!pattern.is_empty()).then(|| StrokeDash {
                array: pattern.iter().map(|l| (l * scale * PT) as f32).collect(),
                offset: 0.0,
            }),
            ..Default::default()
        }));
    }

    /// Words from now on.
    pub(crate) fn fill(&mut self, colour: [u8; 3]) {
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(Fill {
            paint: rgb::Color::new(colour[0], colour[1], colour[2]).into(),
            opacity: NormalizedF32::ONE,
            rule: FillRule::NonZero,
        }));
    }

    /// A line on the page, mm from the upper left corner.
    pub(crate) fn line(&mut self, points: &[(f64, f64)], closed: bool) {
        if let Some(path) = path(points, closed) {
            self.surface.draw_path(&path);
        }
    }

    /// A text on the page; `height` is that of capitals, mm.
    #[expect(clippy::too_many_arguments, reason = "a text has as many properties")]
    pub(crate) fn text(
        &mut self,
        x: f64,
        y: f64,
        height: f64,
        angle: f64,
        anchor: Anchor,
        bold: bool,
        text: &str,
    ) {
        let shift = match anchor {
            Anchor::Left => 0.0,
            Anchor::Middle => -0.5 * face::width(text, height, bold),
        };
        let font = if bold { self.fonts.bold.clone() } else { self.fonts.regular.clone() };
        let at = Transform::from_translate((x * PT) as f32, (y * PT) as f32);
        self.surface.push_transform(&at);
        self.surface.push_transform(&Transform::from_rotate(-angle.to_degrees() as f32));
        self.surface.draw_text(
            Point::from_xy((shift * PT) as f32, 0.0),
            font,
            (height / CAPITALS * PT) as f32,
            &face::drawable(text, bold),
            false,
            TextDirection::Auto,
        );
        self.surface.pop();
        self.surface.pop();
    }

    /// The lines of a block from its upper left corner.
    pub(super) fn block(&mut self, block: &Block, (x, y): (f64, f64)) {
        self.fill(INK);
        for l in &block.lines {
            let (right, down) = l.at;
            self.text(x + right, y + down, l.height, 0.0, Anchor::Left, l.bold, &l.text);
        }
    }

    /// The foot: whose page it is, which of how many, and the check at its right.
    pub(super) fn foot(&mut self, drawing: &Drawing, which: &str, check: bool) {
        let y = self.page.height - MARGIN - 2.0;
        let bar = check_bar(self.page).filter(|_| check);
        // Short lines: beside the check there is little room on an upright page.
        let room = bar.map_or(self.page.width - MARGIN, |(x, _)| x - 4.0) - MARGIN;
        self.fill(INK);
        for (up, height, bold, words) in [
            (5.4, 2.4, true, drawing.title.as_str()),
            (2.4, 1.8, false, drawing.subtitle.as_str()),
            (-0.6, 1.8, false, which),
        ] {
            let fits = height * room / face::width(words, height, bold).max(1e-9);
            let which = words == which;
            // The mark of the document stands beside where one is.
            let beside = if which && !drawing.mark.is_empty() { MARK_APART } else { 0.0 };
            let both = face::width(words, height, bold)
                + if which { beside + face::width(&drawing.mark, height, bold) } else { 0.0 };
            let fits = if which { height * room / both.max(1e-9) } else { fits };
            if fits >= FOOT_SMALLEST || which {
                let height = height.min(fits);
                self.text(MARGIN, y - up, height, 0.0, Anchor::Left, bold, words);
                if beside > 0.0 {
                    let x = MARGIN + face::width(words, height, bold) + 0.8 * beside;
                    self.text(x, y - up, height, 0.0, Anchor::Left, bold, &drawing.mark);
                }
            }
        }
        if let Some((x, bar)) = bar {
            self.stroke(INK, 0.25, Dash::Solid, 1.0);
            let (long, said) = self.page.check();
            self.line(&[(x, bar), (x + long, bar)], false);
            for at in [0.0, 0.5 * long, long] {
                self.line(&[(x + at, bar - 1.5), (x + at, bar + 1.5)], false);
            }
            self.fill(INK);
            self.text(
                x + 4.0,
                y + 0.6,
                1.8,
                0.0,
                Anchor::Left,
                false,
                &format!("check: {said}. Print at 100 %, no fitting to the page"),
            );
        }
    }

    /// The drawing's lines.
    pub(crate) fn shapes(
        &mut self,
        drawing: &Drawing,
        place: &dyn Fn(P2) -> (f64, f64),
        scale: f64,
    ) {
        for item in &drawing.items {
            let layer: &Layer = drawing.layer(item.layer);
            if let Shape::Polyline { points, closed } = &item.shape {
                let width = layer.width.max(0.1) * scale.max(0.4);
                self.stroke(layer.colour, width, layer.dash, scale);
                let on_page: Vec<(f64, f64)> = points.iter().map(|p| place(*p)).collect();
                self.line(&on_page, *closed);
            }
        }
    }

    /// A tile: its part of the drawing, the words that stand on it, its crosses and its name.
    pub(super) fn tile(
        &mut self,
        drawing: &Drawing,
        tiling: &Tiling,
        (column, row): (usize, usize),
        words: &[(LayerId, Shape)],
    ) {
        let (w, h) = Tiling::window(tiling.page);
        let corner = tiling.corner(column, row);
        let window = Rect::from_xywh(
            (MARGIN * PT) as f32,
            (MARGIN * PT) as f32,
            (w * PT) as f32,
            (h * PT) as f32,
        );
        let place = move |p: P2| (MARGIN + p.x - corner.x, MARGIN + h - (p.y - corner.y));
        if let Some(window) = window {
            let mut clip = PathBuilder::new();
            clip.push_rect(window);
            if let Some(clip) = clip.finish() {
                self.surface.push_clip_path(&clip, &FillRule::NonZero);
                self.shapes(drawing, &place, 1.0);
                self.surface.pop();
            }
        }
        for (layer, shape) in words {
            if let Shape::Text { at, height, angle, anchor, text } = shape {
                self.fill(drawing.layer(*layer).colour);
                let (x, y) = place(*at);
                self.text(x, y, *height, *angle, *anchor, false, text);
            }
        }
        // Crosses in the middle of the overlaps: neighbours carry the same ones.
        self.stroke(INK, 0.2, Dash::Solid, 1.0);
        for cross in tiling.crosses(column, row) {
            let (x, y) = place(cross);
            self.line(&[(x - CROSS, y), (x + CROSS, y)], false);
            self.line(&[(x, y - CROSS), (x, y + CROSS)], false);
        }
        if tiling.filled.len() > 1 {
            self.stroke(SOFT, 0.1, Dash::Dotted, 1.0);
            let (right, low) = (MARGIN + w, MARGIN + h);
            self.line(&[(MARGIN, MARGIN), (right, MARGIN), (right, low), (MARGIN, low)], true);
            let name = tile_name(tiling, column, row);
            if let Some(at) =
                free_corner((corner, P2::new(corner.x + w, corner.y + h)), &name, words)
            {
                self.fill(SOFT);
                let (x, y) = place(at);
                self.text(x, y, NAME, 0.0, Anchor::Left, true, &name);
            }
        }
    }
}

/// A corner of a window where a tile's name overprints no word; the foot says it in any case.
fn free_corner((low, high): (P2, P2), name: &str, words: &[(LayerId, Shape)]) -> Option<P2> {
    let clear = 0.5 * OVERLAP + 6.0;
    let width = face::width(name, NAME, true);
    let (left, right) = (low.x + clear, high.x - clear - width);
    let (foot, head) = (low.y + clear - 4.0, high.y - clear);
    [(left, foot), (left, head), (right, foot), (right, head)]
        .map(|(x, y)| P2::new(x, y))
        .into_iter()
        .find(|at| {
            let own = TextBox::of(*at, NAME, 0.0, width);
            words.iter().filter_map(|w| w.1.text_box()).all(|b| !b.meets(&own, -1.0))
        })
}
