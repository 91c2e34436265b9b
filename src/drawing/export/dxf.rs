//! DXF in millimetres, one layer a layer, for cutters and other drawing programs.

use dxf::entities::{Entity, EntityType, LwPolyline, Text};
use dxf::enums::{AcadVersion, HorizontalTextJustification, Units};
use dxf::tables::{Layer as DxfLayer, LineType};
use dxf::{Color, LwPolylineVertex, Point};

use super::ExportError;
use crate::drawing::{Anchor, Dash, Drawing, Shape};

/// Every coordinate goes through here: a ten-thousandth of a millimetre.
fn number(mm: f64) -> f64 {
    let rounded = (mm * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}

fn line_type_name(dash: Dash) -> &'static str {
    match dash {
        Dash::Solid => "CONTINUOUS",
        Dash::Dashed => "DASHED",
        Dash::Dotted => "DOT",
        Dash::DashDot => "DASHDOT",
    }
}

/// Index colours of the standard palette that come nearest to what the drawings use.
fn palette(colour: [u8; 3]) -> u8 {
    match colour {
        [r, g, b] if r > g && r > b && r > 120 => 1,
        [r, g, b] if b > r && b >= g && b > 90 => 5,
        [r, g, b] if g > r && g > b => 3,
        [r, ..] if r > 60 => 8,
        _ => 7,
    }
}

/// The drawing as a DXF file.
///
/// # Errors
/// What the DXF library says.
pub fn write(drawing: &Drawing) -> Result<Vec<u8>, ExportError> {
    let mut out = dxf::Drawing::new();
    out.header.version = AcadVersion::R2010;
    out.header.default_drawing_units = Units::Millimeters;
    out.header.drawing_units = dxf::enums::DrawingUnits::Metric;
    // No clock and no chance: the same drawing gives the same bytes.
    out.header.creation_date = Default::default();
    out.header.creation_date_universal = Default::default();
    out.header.update_date = Default::default();
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
        entity.common.layer = drawing.layers[item.layer].name.into();
        out.add_entity(entity);
    }
    let mut bytes = Vec::new();
    out.save(&mut bytes).map_err(|e| ExportError {
        format: "DXF",
        title: drawing.title.clone(),
        cause: e.to_string(),
    })?;
    Ok(bytes)
}
