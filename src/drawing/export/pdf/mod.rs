//! PDF at full size, tiled over sheets of paper.
//!
//! What takes several pages begins with a map: the sheet's title and all its notes, and the
//! whole drawing small, with the tiles numbered. Each tile carries registration crosses that
//! its neighbours carry too, its row and column, and a 100 mm check. Tiles without a line
//! that needs paper are left out and stay empty on the map. What fits one page carries its
//! notes beside the drawing, where they do not touch it; else they have a page before it.
//!
//! Words stand on a tile whole or not at all ([`super::labels`]); one that found no tile is
//! told on the first page.

mod front;
pub(crate) mod paint;

use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::surface::Surface;

use self::front::Front;
pub(crate) use self::paint::Fonts;
use self::paint::Paint;
use super::block::{Beside, Block};
use super::labels::Labels;
use super::tiling::{
    A4, FOOT, LARGEST_PAGE, MARGIN, PageSize, Pages, SLACK, Tiling, choose_tiling, tile_name,
};
use super::{ExportError, somewhere};
use crate::drawing::Drawing;
use crate::geom::P2;

/// PDF points in a millimetre.
pub(crate) const PT: f64 = 72.0 / 25.4;
/// On a roll the words stand in a column of this width at the drawing's end, mm: that length
/// of paper costs nothing, while a roll's width is given.
const ROLL_COLUMN: f64 = 170.0;
/// Between a drawing and the column of words at its end, mm.
const ROLL_APART: f64 = 12.0;

/// How a drawing goes on paper.
struct Plan {
    tiling: Tiling,
    /// The words on the only page; `None` where they have pages of their own.
    beside: Option<Beside>,
}

/// The tiles of a drawing as they are printed.
pub(super) fn tiling_of(drawing: &Drawing, pages: Pages) -> Tiling {
    plan(drawing, pages).tiling
}

/// Whether a drawing and all its words stand on one page of this size, either way up.
pub fn on_one_page(drawing: &Drawing, page: PageSize) -> bool {
    plan(drawing, Pages::Sheets(page)).beside.is_some()
}

/// Sheets in a row or column of tiles, added up, past which nothing is tiled: six times what the
/// largest boat of this program takes.
const MOST_TILES: f64 = 400.0;

/// Why a drawing is not put on paper: a line that runs off to nowhere would be tiled without
/// end.
fn too_large(drawing: &Drawing, pages: Pages) -> Option<String> {
    let (low, high) = drawing.bounds()?;
    let (w, h) = Tiling::window(match pages {
        Pages::Sheets(page) => page,
        Pages::Roll => A4,
    });
    let size = high - low;
    let tiles = size.x / w + size.y / h;
    (tiles.is_nan() || tiles > MOST_TILES).then(|| {
        format!(
            "it is {:.1} by {:.1} m, more than {MOST_TILES:.0} sheets either way: its lines run off somewhere, see the findings",
            size.x / 1000.0,
            size.y / 1000.0
        )
    })
}

fn plan(drawing: &Drawing, pages: Pages) -> Plan {
    let tiling = choose_tiling(drawing, pages);
    let (low, high) = drawing.bounds().unwrap_or((P2::origin(), P2::new(1.0, 1.0)));
    if tiling.filled.len() > 1 {
        return Plan { tiling, beside: None };
    }
    let size = high - low;
    let papers: Vec<PageSize> = match pages {
        Pages::Sheets(_) => vec![tiling.page, tiling.page.turned()],
        Pages::Roll => {
            let block = Block::of(drawing, &[], ROLL_COLUMN);
            let long = size.x + ROLL_APART + ROLL_COLUMN + 2.0 * MARGIN + SLACK;
            let high = size.y.max(block.height) + 2.0 * MARGIN + FOOT + SLACK;
            let page = PageSize { width: long, height: high };
            if long <= LARGEST_PAGE && high <= LARGEST_PAGE { vec![page] } else { Vec::new() }
        }
    };
    for page in papers {
        let window = Tiling::window(page);
        if let Some(beside) = Beside::find(drawing, &[], window, size) {
            let tiling = Tiling {
                page,
                origin: low - beside.drawing,
                columns: 1,
                rows: 1,
                filled: vec![(0, 0)],
            };
            return Plan { tiling, beside: Some(beside) };
        }
    }
    Plan { tiling, beside: None }
}

/// A drawing laid on its pages, to be painted one after the other.
pub(crate) struct Laid<'a> {
    drawing: &'a Drawing,
    tiling: Tiling,
    beside: Option<Beside>,
    labels: Labels,
    fronts: Vec<Front>,
}

impl<'a> Laid<'a> {
    /// On such pages.
    ///
    /// # Errors
    /// A drawing with lines that are nowhere or run on over too many sheets.
    pub(crate) fn of(drawing: &'a Drawing, pages: Pages) -> Result<Laid<'a>, ExportError> {
        somewhere(drawing, "PDF")?;
        if let Some(cause) = too_large(drawing, pages) {
            return Err(failed(drawing, cause));
        }
        let Plan { tiling, beside } = plan(drawing, pages);
        let labels = Labels::of(drawing, &tiling);
        let fronts = match &beside {
            Some(_) => Vec::new(),
            None => front::pages(drawing, &tiling, pages == Pages::Roll, &labels.off),
        };
        Ok(Laid { drawing, tiling, beside, labels, fronts })
    }

    /// The size of each of its pages, in order.
    pub(crate) fn sizes(&self) -> Vec<PageSize> {
        let tiles = self.tiling.filled.iter().map(|_| self.tiling.page);
        self.fronts.iter().map(|f| f.page).chain(tiles).collect()
    }

    /// Paints the page of that number (from 0) and gives the surface back; `which` says at its
    /// foot which page it is.
    pub(crate) fn paint<'s>(
        &self,
        k: usize,
        surface: Surface<'s>,
        fonts: &Fonts,
        which: &str,
    ) -> Surface<'s> {
        let drawing = self.drawing;
        if let Some(front) = self.fronts.get(k) {
            let mut paint = Paint { surface, fonts, page: front.page };
            front.draw(&mut paint, drawing, &self.tiling);
            let what = if front.map.is_some() { "page map" } else { "notes" };
            paint.foot(drawing, &format!("{what} · {which}"), false);
            return paint.surface;
        }
        let k = k - self.fronts.len();
        let Some(&(column, row)) = self.tiling.filled.get(k) else {
            return surface;
        };
        let name = match self.fronts.len() + self.tiling.filled.len() {
            1 => String::new(),
            _ => format!("tile {} · ", tile_name(&self.tiling, column, row)),
        };
        let mut paint = Paint { surface, fonts, page: self.tiling.page };
        paint.tile(drawing, &self.tiling, (column, row), &self.labels.on[k]);
        if let Some(beside) = &self.beside {
            paint.block(&beside.block, (MARGIN + beside.at.0, MARGIN + beside.at.1));
        }
        let scale = scale_words(drawing).map_or(String::new(), |s| format!("{s} · "));
        paint.foot(drawing, &format!("{name}{scale}{which}"), true);
        paint.surface
    }
}

fn failed(drawing: &Drawing, cause: String) -> ExportError {
    ExportError { format: "PDF", title: drawing.title.clone(), cause }
}

/// The drawing as a PDF file.
///
/// # Errors
/// A drawing with lines that are nowhere or run on over too many sheets; what the PDF library
/// says.
pub fn write(drawing: &Drawing, pages: Pages) -> Result<Vec<u8>, ExportError> {
    let fail = |cause: &str| failed(drawing, cause.into());
    let fonts = Fonts::shipped().ok_or_else(|| fail("the shipped font is damaged"))?;
    let laid = Laid::of(drawing, pages)?;
    let sizes = laid.sizes();
    let mut document = krilla::Document::new();
    document.set_metadata(
        Metadata::new()
            .title(drawing.title.clone())
            .description(drawing.subtitle.clone())
            .creator("chinewright".into()),
    );
    let total = sizes.len();
    for (k, size) in sizes.into_iter().enumerate() {
        let settings = settings(size).ok_or_else(|| fail("a page without size"))?;
        let mut page = document.start_page_with(settings);
        laid.paint(k, page.surface(), &fonts, &format!("page {} of {total}", k + 1));
        page.finish();
    }
    document.finish().map_err(|e| failed(drawing, format!("{e:?}")))
}

/// The scale as it is said at a page's foot; a table has none.
fn scale_words(drawing: &Drawing) -> Option<String> {
    if drawing.table {
        None
    } else if drawing.reduced == 1.0 {
        Some("full size 1:1".into())
    } else {
        Some(format!("scale 1:{:.0}", drawing.reduced))
    }
}

/// A page of that size.
pub(crate) fn settings(page: PageSize) -> Option<PageSettings> {
    PageSettings::from_wh((page.width * PT) as f32, (page.height * PT) as f32)
}
