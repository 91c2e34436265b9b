//! PDF at full size, tiled over sheets of paper.
//!
//! The first page is a map: the whole drawing small, with the tiles numbered. Each tile
//! carries registration crosses that its neighbours carry too, its row and column, and a
//! 100 mm check. Tiles without anything on them are left out and greyed on the map.

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};

use super::ExportError;
use super::tiling::Pages;
use super::tiling::{
    A4, CHECK, CROSS, FOOT, MARGIN, OVERLAP, PageSize, Tiling, anything_on, check_bar,
    choose_tiling, tile_name,
};
use crate::drawing::{Anchor, Dash, Drawing, Layer, Shape, TEXT_WIDTH};
use crate::geom::P2;

/// PDF points in a millimetre.
pub(super) const PT: f64 = 72.0 / 25.4;
/// Height of capitals over font size of the shipped face (its OS/2 table).
const CAPITALS: f64 = 0.668;

const INK: [u8; 3] = [35, 39, 44];
const SOFT: [u8; 3] = [150, 150, 150];

struct Fonts {
    regular: Font,
    bold: Font,
}

/// The drawing as a PDF file.
///
/// # Errors
/// What the PDF library says.
pub fn write(drawing: &Drawing, pages: Pages) -> Result<Vec<u8>, ExportError> {
    let fail = |cause: String| ExportError { format: "PDF", title: drawing.title.clone(), cause };
    let font = |bytes: &'static [u8]| {
        Font::new(bytes.to_vec().into(), 0)
            .ok_or_else(|| fail("the shipped font is damaged".into()))
    };
    let fonts = Fonts {
        regular: font(include_bytes!(
            "../../../assets/fonts/AtkinsonHyperlegibleNext-Regular.ttf"
        ))?,
        bold: font(include_bytes!("../../../assets/fonts/AtkinsonHyperlegibleNext-SemiBold.ttf"))?,
    };
    let (low, high) = drawing.bounds().unwrap_or((P2::origin(), P2::new(1.0, 1.0)));
    let roll = pages == Pages::Roll;
    let tiling = choose_tiling(low, high, pages);
    let filled: Vec<(usize, usize)> = (0..tiling.rows)
        .rev()
        .flat_map(|row| (0..tiling.columns).map(move |column| (column, row)))
        .filter(|&(column, row)| anything_on(drawing, &tiling, column, row))
        .collect();
    let mut document = krilla::Document::new();
    document.set_metadata(
        Metadata::new()
            .title(drawing.title.clone())
            .description(drawing.subtitle.clone())
            .creator("chinewright".into()),
    );
    let several = filled.len() > 1;
    let pages = filled.len() + usize::from(several);
    let mut number = 0;
    if several {
        number += 1;
        let lying = PageSize { width: A4.height, height: A4.width };
        let map_page = if roll { lying } else { tiling.page };
        let settings = settings(map_page).ok_or_else(|| fail("a page without size".into()))?;
        let mut page = document.start_page_with(settings);
        {
            let mut paint = Paint { surface: page.surface(), fonts: &fonts, page: map_page };
            paint.map(drawing, &tiling, &filled, low, high);
            paint.foot(drawing, &format!("page map · page {number} of {pages}"), false);
        }
        page.finish();
    }
    for &(column, row) in &filled {
        number += 1;
        let settings = settings(tiling.page).ok_or_else(|| fail("a page without size".into()))?;
        let mut page = document.start_page_with(settings);
        let name = if several {
            format!("tile {} · ", tile_name(&tiling, column, row))
        } else {
            String::new()
        };
        {
            let mut paint = Paint { surface: page.surface(), fonts: &fonts, page: tiling.page };
            paint.tile(drawing, &tiling, column, row);
            paint.foot(
                drawing,
                &format!("{name}{} · mm · page {number} of {pages}", scale_words(drawing.reduced)),
                true,
            );
        }
        page.finish();
    }
    document.finish().map_err(|e| fail(format!("{e:?}")))
}

/// The scale as it is said at a page's foot.
fn scale_words(reduced: f64) -> String {
    if reduced == 1.0 { "full size 1:1".into() } else { format!("scale 1:{reduced:.0}") }
}

fn settings(page: PageSize) -> Option<PageSettings> {
    PageSettings::from_wh((page.width * PT) as f32, (page.height * PT) as f32)
}

struct Paint<'a, 'b> {
    surface: Surface<'b>,
    fonts: &'a Fonts,
    page: PageSize,
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
    fn stroke(&mut self, colour: [u8; 3], width: f64, dash: Dash, scale: f64) {
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

    fn fill(&mut self, colour: [u8; 3]) {
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(Fill {
            paint: rgb::Color::new(colour[0], colour[1], colour[2]).into(),
            opacity: NormalizedF32::ONE,
            rule: FillRule::NonZero,
        }));
    }

    /// A line on the page, mm from the upper left corner.
    fn line(&mut self, points: &[(f64, f64)], closed: bool) {
        if let Some(path) = path(points, closed) {
            self.surface.draw_path(&path);
        }
    }

    /// A text on the page; `height` is that of capitals, mm.
    #[expect(clippy::too_many_arguments, reason = "a text has as many properties")]
    fn text(
        &mut self,
        x: f64,
        y: f64,
        height: f64,
        angle: f64,
        anchor: Anchor,
        bold: bool,
        text: &str,
    ) {
        let width = TEXT_WIDTH * 0.9 * height * text.chars().count() as f64;
        let shift = if anchor == Anchor::Middle { -0.5 * width } else { 0.0 };
        let font = if bold { self.fonts.bold.clone() } else { self.fonts.regular.clone() };
        let at = Transform::from_translate((x * PT) as f32, (y * PT) as f32);
        self.surface.push_transform(&at);
        self.surface.push_transform(&Transform::from_rotate(-angle.to_degrees() as f32));
        self.surface.draw_text(
            Point::from_xy((shift * PT) as f32, 0.0),
            font,
            (height / CAPITALS * PT) as f32,
            text,
            false,
            TextDirection::Auto,
        );
        self.surface.pop();
        self.surface.pop();
    }

    fn foot(&mut self, drawing: &Drawing, right: &str, check: bool) {
        let y = self.page.height - MARGIN - 2.0;
        self.fill(INK);
        // Three short lines: beside the check there is little room on an upright page.
        for (up, high, bold, words) in [
            (5.4, 2.4, true, drawing.title.as_str()),
            (2.4, 1.8, false, drawing.subtitle.as_str()),
            (-0.2, 1.8, false, right),
        ] {
            self.text(MARGIN, y - up, high, 0.0, Anchor::Left, bold, words);
        }
        if let Some((x, bar)) = check_bar(self.page).filter(|_| check) {
            self.stroke(INK, 0.25, Dash::Solid, 1.0);
            self.line(&[(x, bar), (x + CHECK, bar)], false);
            for at in [0.0, 0.5 * CHECK, CHECK] {
                self.line(&[(x + at, bar - 1.5), (x + at, bar + 1.5)], false);
            }
            self.fill(INK);
            self.text(
                x + 4.0,
                y + 0.5,
                1.8,
                0.0,
                Anchor::Left,
                false,
                "check: 100 mm. Print at 100 %, no fitting to the page",
            );
        }
    }

    fn shapes(
        &mut self,
        drawing: &Drawing,
        place: &dyn Fn(P2) -> (f64, f64),
        scale: f64,
        texts: bool,
    ) {
        for item in &drawing.items {
            let layer: &Layer = &drawing.layers[item.layer];
            match &item.shape {
                Shape::Polyline { points, closed } => {
                    self.stroke(
                        layer.colour,
                        layer.width.max(0.1) * scale.max(0.4),
                        layer.dash,
                        scale,
                    );
                    let on_page: Vec<(f64, f64)> = points.iter().map(|p| place(*p)).collect();
                    self.line(&on_page, *closed);
                }
                Shape::Text { at, height, angle, anchor, text } if texts => {
                    self.fill(layer.colour);
                    let (x, y) = place(*at);
                    self.text(x, y, *height, *angle, *anchor, false, text);
                }
                Shape::Text { .. } => {}
            }
        }
    }

    fn tile(&mut self, drawing: &Drawing, tiling: &Tiling, column: usize, row: usize) {
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
                self.shapes(drawing, &place, 1.0, true);
                self.surface.pop();
            }
        }
        // Crosses in the middle of the overlaps: neighbours carry the same ones.
        self.stroke(INK, 0.2, Dash::Solid, 1.0);
        let half = 0.5 * OVERLAP;
        let alone = tiling.columns * tiling.rows == 1;
        for cross in tiling.crosses(column, row) {
            let (x, y) = place(cross);
            self.line(&[(x - CROSS, y), (x + CROSS, y)], false);
            self.line(&[(x, y - CROSS), (x, y + CROSS)], false);
        }
        if !alone {
            self.stroke(SOFT, 0.1, Dash::Dotted, 1.0);
            self.line(
                &[
                    (MARGIN, MARGIN),
                    (MARGIN + w, MARGIN),
                    (MARGIN + w, MARGIN + h),
                    (MARGIN, MARGIN + h),
                ],
                true,
            );
            self.fill(SOFT);
            self.text(
                MARGIN + half + 6.0,
                MARGIN + half + 2.0,
                4.0,
                0.0,
                Anchor::Left,
                true,
                &tile_name(tiling, column, row),
            );
        }
    }

    fn map(
        &mut self,
        drawing: &Drawing,
        tiling: &Tiling,
        filled: &[(usize, usize)],
        low: P2,
        high: P2,
    ) {
        let (w, h) = Tiling::window(tiling.page);
        let (pitch_x, pitch_y) = (w - OVERLAP, h - OVERLAP);
        let far = tiling.corner(tiling.columns - 1, tiling.rows - 1);
        let (span_x, span_y) = (far.x + w - tiling.origin.x, far.y + h - tiling.origin.y);
        let room = (self.page.width - 2.0 * MARGIN, self.page.height - 2.0 * MARGIN - FOOT - 24.0);
        let scale = (room.0 / span_x).min(room.1 / span_y);
        let top = MARGIN + 22.0;
        let origin = tiling.origin;
        let place = move |p: P2| {
            (MARGIN + (p.x - origin.x) * scale, top + (span_y - (p.y - origin.y)) * scale)
        };
        self.fill(INK);
        self.text(MARGIN, MARGIN + 5.0, 4.0, 0.0, Anchor::Left, true, &drawing.title);
        let size = format!(
            "{:.0} x {:.0} mm in {} tiles of {:.0} x {:.0} mm",
            high.x - low.x,
            high.y - low.y,
            filled.len(),
            tiling.page.width,
            tiling.page.height
        );
        self.text(MARGIN, MARGIN + 11.0, 2.4, 0.0, Anchor::Left, false, &size);
        self.text(MARGIN, MARGIN + 16.0, 2.4, 0.0, Anchor::Left, false, "Lay each tile over its neighbour until their crosses meet, then tape. Measure the 100 mm check first.");
        let scale_text = format!("map drawn at 1:{:.0}", 1.0 / scale);
        self.shapes(drawing, &place, scale, false);
        let name_height = (0.18 * pitch_x.min(pitch_y) * scale).clamp(1.4, 5.0);
        for row in 0..tiling.rows {
            for column in 0..tiling.columns {
                let c = tiling.corner(column, row);
                let half = 0.5 * OVERLAP;
                let a = place(P2::new(c.x + half, c.y + half));
                let b = place(P2::new(c.x + half + pitch_x, c.y + half + pitch_y));
                self.stroke(SOFT, 0.13, Dash::Solid, 1.0);
                self.line(&[a, (b.0, a.1), b, (a.0, b.1)], true);
                if filled.contains(&(column, row)) {
                    self.fill([29, 95, 154]);
                    let name = tile_name(tiling, column, row);
                    self.text(
                        0.5 * (a.0 + b.0),
                        0.5 * (a.1 + b.1) + 0.5 * name_height,
                        name_height,
                        0.0,
                        Anchor::Middle,
                        false,
                        &name,
                    );
                }
            }
        }
        self.fill(INK);
        self.text(MARGIN, top + span_y * scale + 6.0, 2.0, 0.0, Anchor::Left, false, &scale_text);
    }
}
