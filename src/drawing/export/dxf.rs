//! DXF in millimetres, one layer a layer, for cutters and other drawing programs.

use dxf::entities::{Entity, EntityType, LwPolyline, Text};
use dxf::enums::{AcadVersion, HorizontalTextJustification, Units};
use dxf::tables::{Layer as DxfLayer, LineType};
use dxf::{Color, LwPolylineVertex, Point};

use super::block::with_words_below;
use super::{ExportError, somewhere};
use crate::drawing::{Anchor, Dash, Drawing, Shape};

/// Every coordinate goes through here: a ten-thousandth of a millimetre.
fn number(mm: f64) -> f64 {
    let rounded = (mm * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// Group code 440 for an opaque entity: 0x02 in the high byte, then alpha (DXF reference,
/// common group codes). The library's 0 is no valid value.
const OPAQUE: i32 = 0x0200_00FF;

fn line_type_name(dash: Dash) -> &'static str {
    match dash {
        Dash::Solid => "CONTINUOUS",
        Dash::Dashed => "DASHED",
        Dash::Dotted => "DOT",
        Dash::DashDot => "DASHDOT",
    }
}

/// The most by which the parts of a grey differ.
const GREY: u8 = 24;

/// Index colours of the standard palette that come nearest to what the drawings use.
fn palette(colour: [u8; 3]) -> u8 {
    let spread = colour.iter().max().zip(colour.iter().min()).map_or(0, |(a, b)| a - b);
    match colour {
        // A grey leans to no colour, however its parts are rounded.
        [r, ..] if spread <= GREY && r > 60 => 8,
        _ if spread <= GREY => 7,
        [r, g, b] if r > g && r > b && r > 120 => 1,
        [r, g, b] if b > r && b >= g && b > 90 => 5,
        [r, g, b] if g > r && g > b => 3,
        [r, ..] if r > 60 => 8,
        _ => 7,
    }
}

/// The drawing as a DXF file, its title and notes as texts below it.
///
/// # Errors
/// A drawing with lines that are nowhere; what the DXF library says.
pub fn write(drawing: &Drawing) -> Result<Vec<u8>, ExportError> {
    somewhere(drawing, "DXF")?;
    let drawing = &with_words_below(drawing);
    let mut out = dxf::Drawing::new();
    out.header.version = AcadVersion::R2010;
    out.header.default_drawing_units = Units::Millimeters;
    out.header.drawing_units = dxf::enums::DrawingUnits::Metric;
    // No clock and no chance: the same drawing gives the same bytes.
    out.header.creation_date = Default::default();
    out.header.creation_date_universal = Default::default();
    // Written as local time: taken back by the zone, it reads the same everywhere.
    let east = *out.header.creation_date.offset();
    out.header.creation_date = out.header.creation_date - east;
    out.header.update_date = out.header.creation_date;
    out.header.update_date_universal = Default::default();
    out.header.fingerprint_guid = Default::default();
    out.header.version_guid = Default::default();
    for dash in [Dash::Dashed, Dash::Dotted, Dash::DashDot] {
        let pattern = dash.pattern();
        let mut line_type = LineType { name: line_type_name(dash).into(), ..Default::default() };
        line_type.description = line_type_name(dash).to_lowercase();
        line_type.total_pattern_length = pattern.iter().sum();
        line_type.element_count = pattern.len() as i32;
        for (i, length) in pattern.iter().enumerate() {
            line_type.dash_dot_space_lengths.push(if i % 2 == 0 { *length } else { -length });
        }
        out.add_line_type(line_type);
    }
    for layer in &drawing.layers {
        out.add_layer(DxfLayer {
            name: layer.name.into(),
            color: Color::from_index(palette(layer.colour)),
            line_type_name: line_type_name(layer.dash).into(),
            ..Default::default()
        });
    }
    for item in &drawing.items {
        let specific = match &item.shape {
            Shape::Polyline { points, closed } => {
                let mut polyline = LwPolyline {
                    vertices: points
                        .iter()
                        .map(|p| LwPolylineVertex {
                            x: number(p.x),
                            y: number(p.y),
                            ..Default::default()
                        })
                        .collect(),
                    ..Default::default()
                };
                polyline.set_is_closed(*closed);
                EntityType::LwPolyline(polyline)
            }
            Shape::Text { at, height, angle, anchor, text } => {
                let at = Point::new(number(at.x), number(at.y), 0.0);
                let mut node = Text {
                    location: at.clone(),
                    text_height: *height,
                    rotation: angle.to_degrees(),
                    value: text.replace('°', "%%d"),
                    ..Default::default()
                };
                if *anchor == Anchor::Middle {
                    node.horizontal_text_justification = HorizontalTextJustification::Center;
                    node.second_alignment_point = at;
                }
                EntityType::Text(node)
            }
        };
        let mut entity = Entity::new(specific);
        entity.common.transparency = OPAQUE;
        entity.common.layer = drawing.layer(item.layer).name.into();
        out.add_entity(entity);
    }
    let mut bytes = Vec::new();
    out.save(&mut bytes).map_err(|e| ExportError {
        format: "DXF",
        title: drawing.title.clone(),
        cause: e.to_string(),
    })?;
    Ok(with_table_handles(&String::from_utf8_lossy(&bytes)).into_bytes())
}

/// The file with a handle on every table, which the standard wants and the library leaves
/// out: group 5 after each table's name, counted on from the header's handle seed.
fn with_table_handles(text: &str) -> String {
    let ending = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let lines: Vec<&str> = text.lines().collect();
    // Group codes stand on even lines, values on odd ones.
    let value_of = |name: &str| lines.iter().position(|l| *l == name).filter(|i| i % 2 == 1);
    let Some(seed_at) = value_of("$HANDSEED").map(|i| i + 2) else {
        return text.into();
    };
    let mut next =
        lines.get(seed_at).and_then(|l| u64::from_str_radix(l.trim(), 16).ok()).unwrap_or(0xFFFF);
    let mut out: Vec<String> = Vec::with_capacity(lines.len() + 32);
    let mut pair = 0;
    while pair + 1 < lines.len() {
        let (code, value) = (lines[pair], lines[pair + 1]);
        out.push(code.into());
        out.push(value.into());
        pair += 2;
        if code.trim() == "0" && value == "TABLE" && pair + 1 < lines.len() {
            out.push(lines[pair].into());
            out.push(lines[pair + 1].into());
            out.push("  5".into());
            out.push(format!("{next:X}"));
            next += 1;
            pair += 2;
        }
    }
    out[seed_at] = format!("{next:X}");
    let mut joined = out.join(ending);
    joined.push_str(ending);
    joined
}
