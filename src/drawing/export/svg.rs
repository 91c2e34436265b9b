//! SVG at full size: one user unit is one millimetre.

use svg::Document;
use svg::node::element::path::Data;
use svg::node::element::{Group, Path, Text};

use super::block::with_words_below;
use super::{ExportError, somewhere};
use crate::drawing::face::CAPITALS;
use crate::drawing::{Anchor, Drawing, LayerId, Shape};
use crate::geom::P2;

/// White border around the drawing, mm.
const BORDER: f64 = 10.0;

/// Every number of the file goes through here: a thousandth of a millimetre.
fn number(mm: f64) -> f64 {
    let rounded = (mm * 1000.0).round() / 1000.0;
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// The drawing as an SVG file, its title and notes as texts below it.
///
/// # Errors
/// A drawing with lines that are nowhere.
pub fn write(drawing: &Drawing) -> Result<String, ExportError> {
    somewhere(drawing, "SVG")?;
    let drawing = &with_words_below(drawing);
    let (low, high) = drawing.bounds().unwrap_or((P2::origin(), P2::new(1.0, 1.0)));
    let (left, top) = (low.x - BORDER, high.y + BORDER);
    let (width, height) =
        (number(high.x - low.x + 2.0 * BORDER), number(high.y - low.y + 2.0 * BORDER));
    let place = |p: P2| (number(p.x - left), number(top - p.y));
    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", (0, 0, width, height))
        .add(svg::node::element::Title::new(drawing.title.clone()));
    for (index, layer) in drawing.layers.iter().enumerate() {
        let [r, g, b] = layer.colour;
        let colour = format!("#{r:02x}{g:02x}{b:02x}");
        let mut group = Group::new()
            .set("id", layer.name)
            .set("fill", "none")
            .set("stroke", colour.clone())
            .set("stroke-width", layer.width)
            .set("stroke-linejoin", "round");
        let dash = layer.dash.pattern();
        if !dash.is_empty() {
            let dash: Vec<String> = dash.iter().map(f64::to_string).collect();
            group = group.set("stroke-dasharray", dash.join(" "));
        }
        for item in drawing.items.iter().filter(|i| i.layer == LayerId::from(index)) {
            group = match &item.shape {
                Shape::Polyline { points, closed } => {
                    let mut data = Data::new().move_to(place(points[0]));
                    for p in &points[1..] {
                        data = data.line_to(place(*p));
                    }
                    if *closed {
                        data = data.close();
                    }
                    group.add(Path::new().set("d", data))
                }
                Shape::Text { at, height, angle, anchor, text } => {
                    let (x, y) = place(*at);
                    let turn = number(-angle.to_degrees());
                    let mut node = Text::new(text.clone())
                        .set("x", x)
                        .set("y", y)
                        .set("font-family", "Atkinson Hyperlegible Next, sans-serif")
                        .set("font-size", number(height / CAPITALS))
                        .set("fill", colour.clone())
                        .set("stroke", "none");
                    if *anchor == Anchor::Middle {
                        node = node.set("text-anchor", "middle");
                    }
                    if turn != 0.0 {
                        node = node.set("transform", format!("rotate({turn} {x} {y})"));
                    }
                    group.add(node)
                }
            };
        }
        document = document.add(group);
    }
    Ok(format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n"))
}
