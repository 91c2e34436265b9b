//! The drawings that lie in the strip and on the table: patterns of the panels, of a frame
//! and its parts, of the ends, and what the jig is set up by.

use super::state::{BonesPart, Piece, Question, UiState};
use crate::drawing::Drawing;
use crate::drawing::compose::{
    Extent, OnPaper, Paper, body_plan, frame_assembly, frame_parts, jig_elevation, jig_end,
    jig_plan, jig_section, knee_pattern, lines_plan, offsets_table, outer_stem_pattern,
    panel_pattern, stem_pattern, transom_parts, transom_pattern,
};
use crate::model::Model;
use crate::units::Units;
use crate::viewer::derive::Derived;
use crate::viewer::ui::table::Tool;

/// A drawing with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// What the builder calls it.
    pub name: String,
    /// The piece that it is of.
    pub piece: Option<Piece>,
    /// The drawing.
    pub drawing: Drawing,
}

impl Laid {
    fn of(name: impl Into<String>, piece: Option<Piece>, drawing: Drawing) -> Laid {
        Laid { name: name.into(), piece, drawing }
    }

    /// The panel that it is the pattern of.
    pub fn panel(&self) -> Option<usize> {
        match self.piece {
            Some(Piece::Panel(i)) => Some(i),
            _ => None,
        }
    }
}

/// What the drawings on show were made from.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Key {
    count: u64,
    units: Units,
    question: Question,
    bones: BonesPart,
    frame: usize,
    printed: Option<Paper>,
}

/// The drawings of what is in hand, made anew when that changes.
#[derive(Debug, Default)]
pub struct Sheets {
    made_from: Option<Key>,
    laid: Vec<Laid>,
}

impl Sheets {
    /// The drawings of what is in hand now.
    pub fn keep(&mut self, derived: &Derived, state: &UiState) -> &[Laid] {
        let Some(model) = derived.model.as_deref().filter(|_| state.lies_flat()) else {
            return &[];
        };
        let key = Key {
            count: derived.count,
            units: model.hull.units,
            question: state.question,
            bones: state.bones,
            frame: state.frame,
            printed: printed(state),
        };
        if self.made_from != Some(key) {
            self.laid = drawings(model, state);
            self.made_from = Some(key);
        }
        &self.laid
    }
}

/// The paper that pages are looked at for, if they are.
fn printed(state: &UiState) -> Option<Paper> {
    let table = &state.table;
    (table.open && table.tool == Tool::Print).then_some(table.paper)
}

/// The drawings that belong to a question; those of the boat as she stands, once measured.
/// While pages are looked at, they are drawn as they go on paper: halves of what is the same
/// on both sides, a frame to a scale.
pub fn drawings(model: &Model, state: &UiState) -> Vec<Laid> {
    let units = model.hull.units;
    let stands = model.as_built.as_deref().map_or(model, |b| &b.model);
    let work = &model.woodwork;
    let on_paper = printed(state).map(|paper| OnPaper { paper, units, extent: Extent::Half });
    let panel = |p| match &on_paper {
        Some(sheets) => sheets.panel(stands, p),
        None => panel_pattern(stands, p, units),
    };
    let frame = |model: &Model, f| match &on_paper {
        Some(sheets) => sheets.frame(model, f),
        None => frame_assembly(model, f, units),
    };
    match (state.question, state.bones) {
        (Question::Skin, _) => stands
            .panels
            .iter()
            .enumerate()
            .map(|(i, p)| Laid::of(&p.name, Some(Piece::Panel(i)), panel(p)))
            .collect(),
        (Question::Bones, BonesPart::Frames) => {
            let i = state.frame.min(work.frames.len().saturating_sub(1));
            work.frames.get(i).map_or(Vec::new(), |f| {
                let piece = Some(Piece::Frame(i));
                let mut out = vec![
                    Laid::of(format!("frame {}, put together", f.station), piece, frame(model, f)),
                    Laid::of(
                        "its parts",
                        piece,
                        match &on_paper {
                            Some(sheets) => sheets.frame_parts(model, f),
                            None => frame_parts(model, f, units),
                        },
                    ),
                ];
                if let Some(built) = &model.as_built
                    && let Some(f) = built.model.woodwork.frame(f.station)
                {
                    let drawing = frame(&built.model, f);
                    out.push(Laid::of("as it stands", piece, drawing));
                }
                out
            })
        }
        (Question::Bones, BonesPart::Ends) => {
            let mut out = Vec::new();
            for (name, piece, t) in [
                ("transom", Piece::Transom, &work.transom),
                ("bow transom", Piece::BowTransom, &work.bow_transom),
            ] {
                if let Some(t) = t {
                    let (outline, parts) = match &on_paper {
                        Some(sheets) => (sheets.transom(model, t), sheets.transom_parts(model, t)),
                        None => (transom_pattern(model, t, units), transom_parts(model, t, units)),
                    };
                    out.push(Laid::of(name, Some(piece), outline));
                    out.push(Laid::of(format!("{name}'s framing"), Some(piece), parts));
                }
            }
            if let Some(k) = &work.knee {
                let drawing = knee_pattern(model, k, units);
                out.push(Laid::of("transom's knee", Some(Piece::Transom), drawing));
            }
            for (name, piece, s) in [
                ("stem", Piece::Stem, &work.stem),
                ("sternpost", Piece::Sternpost, &work.sternpost),
            ] {
                if let Some(s) = s {
                    out.push(Laid::of(name, Some(piece), stem_pattern(model, s, units)));
                    if let Some(o) = &s.outer {
                        let drawing = outer_stem_pattern(model, s, o, units);
                        out.push(Laid::of(format!("outer {name}"), Some(piece), drawing));
                    }
                }
            }
            out
        }
        (Question::Setup, _) => {
            let mut out = Vec::new();
            if let Some(jig) = &model.woodwork.strongback {
                out.push(Laid::of("elevation", None, jig_elevation(model, jig, units)));
                out.push(Laid::of("plan", None, jig_plan(model, jig, units)));
                out.push(Laid::of("from ahead", None, jig_section(model, jig, units)));
                for e in &jig.ends {
                    let name = format!("{}, set up", e.end.word());
                    out.push(Laid::of(name, None, jig_end(model, jig, e, units)));
                }
            }
            out.push(Laid::of("lines plan", None, lines_plan(model, units)));
            out.push(Laid::of("body plan", None, body_plan(model, units)));
            out.push(Laid::of("table of offsets", None, offsets_table(model)));
            out
        }
        _ => Vec::new(),
    }
}
