//! What is left of her sheets, as rows that the next boat's document takes.

use crate::geom::polyline::bounds;
use crate::hull::stock::SheetStock;
use crate::model::stock::StockList;

/// Corners are told to this, mm, and towards the wood.
const TENTH: f64 = 10.0;

/// The pieces worth keeping, the largest of each sheet first, their corners from the piece's own
/// corner along and across its face grain.
pub fn rows(s: &StockList) -> Vec<SheetStock> {
    let mut out = Vec::new();
    for kind in &s.sheets {
        for piece in kind.layout.sheets.iter().flat_map(|laid| kind.left_over(laid)) {
            let Some((low, high)) = bounds(piece.outline.iter().copied()) else {
                continue;
            };
            let size = (high - low).map(|mm| (mm * TENTH).floor() / TENTH);
            let within = |mm: f64, most: f64| ((mm * TENTH).round() / TENTH).clamp(0.0, most);
            let corner = |x: f64, y: f64| (within(x - low.x, size.x), within(y - low.y, size.y));
            out.push(SheetStock {
                sheet: kind.sheet.clone(),
                length_mm: size.x,
                width_mm: size.y,
                count: Some(1),
                price: Some(0.0),
                one_good_face: false,
                outline_mm: piece.outline.iter().map(|q| corner(q.x, q.y)).collect(),
            });
        }
    }
    out
}

/// The rows as a document has them, between the brackets of `stock: (sheets: [ … ])`; `boat` is
/// what was cut from these sheets.
pub fn document_rows(s: &StockList, boat: &str) -> String {
    let mut out = format!(
        "// Left of the sheets of {boat:?}. For the next boat: put what you kept between the\n\
         // brackets of stock: (sheets: [ ]) in her document, and measure it first.\n"
    );
    for row in rows(s) {
        // Numbers and names: nothing that could not be written.
        out.push_str(&ron::to_string(&row).unwrap_or_default());
        out.push_str(",\n");
    }
    out
}
