//! Sheets for the boxes round the foam, which are cut to what they lie against and so lie on no
//! layout: counted by area.

use super::SheetKind;
use super::sheets::{SAME_THICKNESS_MM, USUAL_SHEET_MM, ply, to_be_had};
use crate::geom::P2;
use crate::geom::polyline::area;
use crate::hull::stock::SheetStock;
use crate::model::Model;
use crate::part::{Amount, CutFrom, PartId};
use crate::stock::nest::SheetLayout;

/// What is cut to fit takes so much more than it measures. Our judgement, no source.
const WITH_WASTE: f64 = 1.25;
/// Less than this (mm²) is rounding, not wood.
const CRUMB_MM2: f64 = 1.0;

/// Sheets that are taken whole for the boxes.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxSheets {
    /// Their kind.
    pub sheet: String,
    /// mm.
    pub thickness: f64,
    /// Length and width, mm.
    pub size: (f64, f64),
    /// How many.
    pub count: usize,
    /// Price of one; `None` where it is not known.
    pub price: Option<f64>,
    /// They are of those that the document's list counts.
    pub on_hand: bool,
}

/// What boxes of one thickness take.
#[derive(Debug, Clone, PartialEq)]
pub struct Boxes {
    /// mm.
    pub thickness: f64,
    /// What they measure, mm².
    pub area: f64,
    /// What is left for them of sheets that other parts are cut from, mm².
    pub left: f64,
    /// Sheets for the rest of it and of the waste.
    pub sheets: Vec<BoxSheets>,
    /// Their kind.
    sheet: String,
    /// The sheets of that kind that can be had, as many as there are, those to buy besides last.
    rows: Vec<SheetStock>,
    /// Of a sheet's edge so much is not used, mm.
    margin: f64,
}

impl Boxes {
    /// How many sheets are taken whole for them.
    pub fn count(&self) -> usize {
        self.sheets.iter().map(|s| s.count).sum()
    }
}

/// What the boat's boxes take, thickness by thickness, beside what is laid on `kinds`.
pub(super) fn boxes(model: &Model, kinds: &[SheetKind]) -> Vec<Boxes> {
    let mut by_thickness: Vec<(f64, f64)> = Vec::new();
    for part in model.parts.all() {
        let (PartId::FoamBox(_), CutFrom::Ply { thickness }, Amount::Area(area)) =
            (part.id, &part.cut_from, part.amount)
        else {
            continue;
        };
        match by_thickness.iter_mut().find(|(t, _)| t == thickness) {
            Some((_, sum)) => *sum += area,
            None => by_thickness.push((*thickness, area)),
        }
    }
    let of = |(thickness, area)| of_thickness(model, thickness, area).beside(kinds);
    by_thickness.into_iter().map(of).collect()
}

/// Boxes of one thickness, before anything is counted for them.
fn of_thickness(model: &Model, thickness: f64, area: f64) -> Boxes {
    let sheet = ply(model, thickness);
    let mut rows = to_be_had(model, &sheet);
    let (length_mm, width_mm) =
        model.materials.sheet(&sheet).map_or(USUAL_SHEET_MM, |s| (s.length_mm, s.width_mm));
    // Where the list has too few the rest is bought besides, for what nobody has said.
    rows.push(SheetStock {
        sheet: sheet.clone(),
        length_mm,
        width_mm,
        count: None,
        price: None,
        one_good_face: false,
        outline_mm: Vec::new(),
    });
    let margin = model.hull.stock.sheet_margin_mm;
    Boxes { thickness, area, left: 0.0, sheets: Vec::new(), sheet, rows, margin }
}

impl Boxes {
    /// The same beside what is laid on `kinds` now.
    pub(super) fn beside(&self, kinds: &[SheetKind]) -> Boxes {
        let own = |k: &&SheetKind| {
            k.sheet == self.sheet && (k.thickness - self.thickness).abs() < SAME_THICKNESS_MM
        };
        let laid: Vec<(&SheetKind, &SheetLayout)> = kinds
            .iter()
            .filter(own)
            .flat_map(|k| k.layout.sheets.iter().map(move |laid| (k, laid)))
            .collect();
        let left = laid.iter().flat_map(|(k, l)| k.left_over(l)).map(|o| o.area).sum();
        let mut rows = self.rows.clone();
        // Rows of a kind stand in its problem in their order.
        for (i, row) in rows.iter_mut().enumerate() {
            let used = laid.iter().filter(|l| l.1.sheet == i).count();
            row.count = row.count.map(|n| n.saturating_sub(used as u32));
        }
        let wanted = WITH_WASTE * self.area - left;
        let sheets = taken(&rows, wanted, self.margin, self.thickness);
        Boxes { left, sheets, ..self.clone() }
    }
}

/// So many of each row that `wanted` (mm²) is covered, rows in their order.
fn taken(rows: &[SheetStock], mut wanted: f64, margin: f64, thickness: f64) -> Vec<BoxSheets> {
    let mut out = Vec::new();
    for row in rows {
        let each = usable(row, margin);
        if wanted <= CRUMB_MM2 || each <= CRUMB_MM2 {
            continue;
        }
        let most = row.count.map_or(usize::MAX, |n| n as usize);
        let count = ((wanted / each).ceil() as usize).min(most);
        if count > 0 {
            wanted -= count as f64 * each;
            out.push(BoxSheets {
                sheet: row.sheet.clone(),
                thickness,
                size: (row.length_mm, row.width_mm),
                count,
                price: row.price,
                on_hand: row.count.is_some(),
            });
        }
    }
    out
}

/// What of a sheet can be used, mm².
fn usable(s: &SheetStock, margin: f64) -> f64 {
    if s.outline_mm.is_empty() {
        return (s.length_mm - 2.0 * margin).max(0.0) * (s.width_mm - 2.0 * margin).max(0.0);
    }
    let ring: Vec<P2> = s.outline_mm.iter().map(|(x, y)| P2::new(*x, *y)).collect();
    area(&ring).abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(count: Option<u32>, price: Option<f64>) -> SheetStock {
        SheetStock {
            sheet: "ply".into(),
            length_mm: 2020.0,
            width_mm: 1020.0,
            count,
            price,
            one_good_face: false,
            outline_mm: Vec::new(),
        }
    }

    /// Sheets of 2 m² inside their margins, by hand: 3.01 m² and a quarter are 3.76 m², which is
    /// two sheets; one lies in the shop, the other is bought; with 2 m² left of others one does.
    #[test]
    fn boxes_are_bought_by_area() {
        let rows = [row(Some(1), Some(0.0)), row(None, Some(40.0))];
        let of = |m2: f64| {
            let all = taken(&rows, m2 * 1e6, 10.0, 6.0);
            all.iter().map(|s| (s.count, s.price, s.on_hand)).collect::<Vec<_>>()
        };
        let whole = WITH_WASTE * 3.01;
        assert_eq!(of(whole), [(1, Some(0.0), true), (1, Some(40.0), false)]);
        assert_eq!(of(whole - 2.0), [(1, Some(0.0), true)]);
        assert_eq!(of(whole - 4.0), []);
        assert_eq!(of(6.1), [(1, Some(0.0), true), (3, Some(40.0), false)]);
    }
}
