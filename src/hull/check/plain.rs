//! A fault as it is said to someone who never saw the file: no names of its fields, lengths
//! in the reader's units.

use super::Fault;
use crate::units::Units;

/// Lengths (mm) under this are said as finely as a thickness.
const FINE_BELOW_MM: f64 = 25.0;

/// Endings of the file's fields that name their unit.
const UNIT_ENDINGS: [&str; 12] =
    ["_kg_m3", "_n_mm2", "_g_m2", "_mpsi", "_psi", "_pct", "_mm", "_kg", "_hp", "_c", "_x", "_y"];

impl Fault {
    /// The fault in a sentence for the window: `transom: crown 1-4-0; accepted: 0 to 0-11-6+`.
    pub fn plain(&self, units: Units) -> String {
        let figure = self.field.as_deref().zip(self.message.split_once(" = "));
        let message = match figure {
            Some((field, (_, rest))) => {
                let length = field.ends_with("_mm") || ["x", "y", "z"].contains(&field);
                let (number, tail) = rest.split_once(' ').unwrap_or((rest, ""));
                let number = match number.parse::<f64>() {
                    Ok(v) if length => said(v, units),
                    _ => number.to_string(),
                };
                format!("{field} {number} {tail}").trim_end().to_string()
            }
            _ => lengths(&self.message, units),
        };
        let accepted = lengths(&self.accepted, units);
        format!(
            "{}: {}; accepted: {}",
            self.what,
            without_fields(&message),
            without_fields(&accepted)
        )
    }
}

fn said(mm: f64, units: Units) -> String {
    match units.imperial() {
        true if mm.abs() < FINE_BELOW_MM => units.fine(mm),
        true => units.show(mm),
        false => format!("{mm} mm"),
    }
}

/// `text` with its lengths (`0.5 to 20 mm`, `1 mm`) in the reader's units.
fn lengths(text: &str, units: Units) -> String {
    if !units.imperial() {
        return text.into();
    }
    let words: Vec<&str> = text.split(' ').collect();
    let number = |i: usize| words.get(i).and_then(|w| w.parse::<f64>().ok());
    let is_mm =
        |i: usize| words.get(i).is_some_and(|w| w.trim_end_matches([',', ';', ':']) == "mm");
    let mut out = Vec::new();
    let mut i = 0;
    while i < words.len() {
        let range = words.get(i + 1) == Some(&"to") && is_mm(i + 3);
        match (number(i), number(i + 2)) {
            (Some(least), Some(most)) if range => {
                let end = words[i + 3].trim_start_matches("mm");
                out.push(format!("{} to {}{end}", said(least, units), said(most, units)));
                i += 4;
            }
            (Some(mm), _) if is_mm(i + 1) => {
                let end = words[i + 1].trim_start_matches("mm");
                out.push(format!("{}{end}", said(mm, units)));
                i += 2;
            }
            _ => {
                out.push(words[i].to_string());
                i += 1;
            }
        }
    }
    out.join(" ")
}

/// The name of a field of the file as words, without its unit: `outer_sided_mm` is outer sided.
pub fn words_of_field(field: &str) -> String {
    let bare = UNIT_ENDINGS.iter().find_map(|e| field.strip_suffix(e)).unwrap_or(field);
    bare.replace(['_', '.'], " ")
}

/// `text` with the names of fields as words: `outer_sided_mm` is outer sided.
fn without_fields(text: &str) -> String {
    let words = text.split(' ').map(|word| {
        let name = word.trim_matches(['`', ',', ';', ':']);
        let field = name.contains('_')
            && name.chars().all(|c| c.is_ascii_lowercase() || "_.0123456789".contains(c));
        match field {
            true => word.replace(name, &words_of_field(name)).replace('`', ""),
            false => word.replace('`', ""),
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::faults;
    use crate::hull::framing::GlueGroove;
    use crate::hull::starters;
    use crate::units::Units;

    #[test]
    fn no_field_of_the_file_is_named_and_lengths_are_the_readers() {
        let mut hull = starters::demonstration();
        hull.transom.crown_mm = 406.4;
        hull.stem.outer_front_mm = 90.0;
        hull.framing.glue_groove = Some(GlueGroove { width_mm: 4.0, depth_mm: 19.0 });
        hull.framing.drain_slope = 0.5;
        hull.framing.spacing_mm = 9000.0;
        hull.strongback.rail_top_mm = 60.0;
        hull.members[0].moisture_pct = 500.0;
        hull.members[0].soak.water_c = 500.0;
        hull.motor.power_hp = 900.0;
        hull.planking.thickness_mm = 0.5;
        hull.afloat.cloth_g_m2 = 9000.0;
        hull.lines[0].ducks[1].z = 9000.0;
        hull.lines[1].ducks[1].x = -5.0;
        let all = faults(&hull);
        assert!(all.len() >= 12, "{all:?}");
        for units in Units::ALL {
            for f in &all {
                let said = f.plain(units);
                let marks = ['_', '`', '='];
                assert!(!said.contains(marks), "{said}");
                let metric = said.split(' ').any(|w| w.trim_end_matches([',', ';']) == "mm");
                assert!(!(units.imperial() && metric), "{said}");
            }
        }
        let crown = all.iter().find(|f| f.message.starts_with("crown_mm")).expect("refused");
        assert_eq!(
            crown.plain(Units::FeetInchesEighths),
            "transom: crown 1-4-0; accepted: 0\" to 0-11-6+"
        );
    }
}
