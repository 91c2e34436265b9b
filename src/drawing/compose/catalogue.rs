//! Every drawing that there is of a boat, in the order in which she is built: what it is of,
//! what it is called, where its files lie in a pack, and how it is made.

use super::{
    OnPaper, Paper, body_plan, frame_assembly, frame_parts, jig_elevation, jig_end, jig_plan,
    jig_section, knee_pattern, lines_plan, offsets_table, outer_stem_pattern, pad_pattern,
    panel_pattern, sheet_layout, stem_pattern, transom_parts, transom_pattern,
};
use crate::drawing::Drawing;
use crate::frames::{Frame, Stem, Transom};
use crate::model::as_built::NotchChange;
use crate::model::stock::Counted;
use crate::model::{Model, PanelModel};
use crate::part::{AtEnd, FrameId, PanelId, PartId};
use crate::units::Units;
use crate::words::stock::layers_of;

/// A notch that moves by less than this (mm) is sawn as drawn.
const NOTCH_MOVES_MM: f64 = 0.5;

/// What a drawing is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// A part by itself, or put together. A panel is that of the boat as she stands on her
    /// jig, once she was measured there.
    Part(PartId),
    /// A sheet with the parts that are sawn from it, where stock was counted.
    Sheet {
        /// Its kind's place in the list.
        kind: usize,
        /// Its place among those of its kind.
        sheet: usize,
        /// Its number among all sheets, from 1.
        number: usize,
    },
    /// The pieces that a frame or a transom's framing is put together from.
    Pieces(PartId),
    /// A frame of the boat as she stands on her jig, put together.
    AsBuilt(FrameId),
    /// How an end is held on the jig.
    SetUp(PartId),
    /// The jig from above.
    JigPlan,
    /// The jig from the side.
    JigElevation,
    /// The jig from ahead.
    JigSection,
    /// Profile, plan and sections.
    LinesPlan,
    /// The table of offsets.
    Offsets,
    /// All stations over each other.
    BodyPlan,
}

/// Every drawing of a boat: of her sheets too, where stock was counted.
pub fn catalogue<'a>(boat: impl Into<Counted<'a>>) -> Vec<Subject> {
    let Counted { model, list } = boat.into();
    let panels = 0..model.stands().panels.len();
    let mut out: Vec<Subject> = panels.map(|i| Subject::Part(PartId::panel(i))).collect();
    if let Some(list) = list {
        for (kind, of) in list.sheets.iter().enumerate() {
            out.extend((0..of.layout.sheets.len()).map(|sheet| Subject::Sheet {
                kind,
                sheet,
                number: list.sheet_number(kind, sheet),
            }));
        }
    }
    if let Some(built) = &model.as_built {
        let frames = 0..built.model.woodwork.frames.len();
        out.extend(frames.map(|i| Subject::AsBuilt(FrameId(i))));
    }
    for id in model.parts.all().iter().map(|p| p.id) {
        match id {
            PartId::Frame(_) | PartId::Transom(_) => {
                out.extend([Subject::Part(id), Subject::Pieces(id)]);
            }
            PartId::Pad | PartId::Knee | PartId::Stem(_) | PartId::OuterStem(_) => {
                out.push(Subject::Part(id));
            }
            // Sticks, foam, and what is drawn with the piece that it belongs to.
            _ => {}
        }
    }
    if let Some(jig) = &model.woodwork.strongback {
        out.extend([Subject::JigPlan, Subject::JigElevation, Subject::JigSection]);
        out.extend(jig.ends.iter().map(|e| Subject::SetUp(e.end.part())));
    }
    out.extend([Subject::LinesPlan, Subject::Offsets, Subject::BodyPlan]);
    out
}

fn transom(model: &Model, end: AtEnd) -> Option<&Transom> {
    let work = &model.woodwork;
    match end {
        AtEnd::Bow => work.bow_transom.as_ref(),
        AtEnd::Stern => work.transom.as_ref(),
    }
}

fn stem(model: &Model, end: AtEnd) -> Option<&Stem> {
    let work = &model.woodwork;
    match end {
        AtEnd::Bow => work.stem.as_ref(),
        AtEnd::Stern => work.sternpost.as_ref(),
    }
}

impl Subject {
    /// The part that it is of, of the boat as she is drawn; `None` for the jig and the lines.
    pub fn part(self) -> Option<PartId> {
        match self {
            Subject::Part(id) | Subject::Pieces(id) | Subject::SetUp(id) => Some(id),
            Subject::AsBuilt(id) => Some(PartId::Frame(id)),
            _ => None,
        }
    }

    /// What the builder calls it, beside the others of the same part.
    pub fn name(self, model: &Model) -> String {
        let of = |id| model.parts.get(id).map_or(String::new(), |p| p.name.clone());
        match self {
            Subject::Part(PartId::Panel(_)) => {
                self.panel(model).map_or(String::new(), |p| p.name.clone())
            }
            Subject::Part(id @ PartId::Frame(_)) => format!("{}, put together", of(id)),
            Subject::Part(PartId::Pad) => "motor's pad".into(),
            Subject::Part(PartId::Knee) => "transom's knee".into(),
            Subject::Part(id) => of(id),
            Subject::Sheet { number, .. } => format!("sheet {number}"),
            Subject::Pieces(PartId::Frame(_)) => "its parts".into(),
            Subject::Pieces(id) => format!("{}'s framing", of(id)),
            Subject::AsBuilt(_) => "as it stands".into(),
            Subject::SetUp(id) => format!("{}, set up", of(id)),
            Subject::JigPlan => "plan".into(),
            Subject::JigElevation => "elevation".into(),
            Subject::JigSection => "from ahead".into(),
            Subject::LinesPlan => "lines plan".into(),
            Subject::Offsets => "table of offsets".into(),
            Subject::BodyPlan => "body plan".into(),
        }
    }

    /// Folder and name of its files in a pack, without an ending.
    pub fn place(self, model: &Model) -> String {
        let of = |id| model.parts.get(id).map_or(String::new(), |p| dashed(&p.name));
        match self {
            Subject::Part(PartId::Panel(_)) => format!("patterns/{}", self.name(model)),
            Subject::Part(PartId::Pad) => "frames/motor-pad".into(),
            Subject::Part(PartId::Knee) => "frames/transom-knee".into(),
            Subject::Part(id) => format!("frames/{}", of(id)),
            Subject::Sheet { number, .. } => format!("sheets/sheet-{number}"),
            Subject::Pieces(id @ PartId::Frame(_)) => format!("frames/{}-parts", of(id)),
            Subject::Pieces(id) => format!("frames/{}-framing", of(id)),
            // Frames of the boat as she stands are counted by themselves.
            Subject::AsBuilt(_) => self
                .frame(model)
                .map_or(String::new(), |(_, f)| format!("frames/frame-{}-as-built", f.station)),
            Subject::SetUp(id) => format!("setup/{}-set-up", of(id)),
            Subject::JigPlan => "setup/strongback-plan".into(),
            Subject::JigElevation => "setup/strongback-elevation".into(),
            Subject::JigSection => "setup/strongback-from-ahead".into(),
            Subject::LinesPlan => "setup/lines-plan".into(),
            Subject::Offsets => "setup/table-of-offsets".into(),
            Subject::BodyPlan => "setup/body-plan".into(),
        }
    }

    /// Whether it is for the shop: nothing is cut by the pattern of an unsound panel, of which
    /// the findings tell, and a frame is drawn as it stands only where its notches move.
    pub fn for_the_shop(self, model: &Model) -> bool {
        match self {
            Subject::Part(PartId::Panel(_)) => {
                self.panel(model).is_some_and(|p| p.unsound().is_none())
            }
            Subject::AsBuilt(_) => self.frame(model).is_some_and(|(_, f)| {
                let moved = |n: &NotchChange| {
                    n.station == f.station && n.shift[0].hypot(n.shift[1]) > NOTCH_MOVES_MM
                };
                model.as_built.as_ref().is_some_and(|b| b.notches.iter().any(moved))
            }),
            _ => true,
        }
    }

    /// The drawing, lengths in `units`: a pattern at full size, others to their scale; `None`
    /// where the boat has no such part. Joints are drawn where stock was counted.
    pub fn drawn<'a>(self, boat: impl Into<Counted<'a>>, units: Units) -> Option<Drawing> {
        let boat = boat.into();
        let model = boat.model;
        let jig = model.woodwork.strongback.as_ref();
        Some(match self {
            Subject::Part(id) => return self.pattern(boat, id, units),
            Subject::Sheet { kind, sheet, .. } => return sheet_layout(boat, kind, sheet, units),
            Subject::Pieces(PartId::Transom(end)) => {
                transom_parts(model, transom(model, end)?, units)
            }
            Subject::Pieces(_) => {
                let (of, f) = self.frame(model)?;
                frame_parts(of, f, units)
            }
            Subject::AsBuilt(_) => {
                let (of, f) = self.frame(model)?;
                frame_assembly(of, f, units)
            }
            Subject::SetUp(id) => {
                let end = jig?.ends.iter().find(|e| e.end.part() == id)?;
                jig_end(model, jig?, end, units)
            }
            Subject::JigPlan => jig_plan(model, jig?, units),
            Subject::JigElevation => jig_elevation(model, jig?, units),
            Subject::JigSection => jig_section(model, jig?, units),
            Subject::LinesPlan => lines_plan(model, units),
            Subject::Offsets => offsets_table(model),
            Subject::BodyPlan => body_plan(model, units),
        })
    }

    /// The drawing of a part.
    fn pattern(self, boat: Counted, id: PartId, units: Units) -> Option<Drawing> {
        let model = boat.model;
        Some(match id {
            PartId::Panel(panel) => {
                let p = self.panel(model)?;
                panel_pattern(model.stands(), p, boat.joints(panel), units)
            }
            PartId::Frame(_) => {
                let (of, f) = self.frame(model)?;
                frame_assembly(of, f, units)
            }
            PartId::Transom(end) => transom_pattern(model, transom(model, end)?, units),
            PartId::Pad => {
                let c = model.woodwork.transom.as_ref()?.cut_out.as_ref()?;
                pad_pattern(model, c, laminated_of(boat, id), units)
            }
            PartId::Knee => knee_pattern(model, model.woodwork.knee.as_ref()?, units),
            PartId::Stem(end) => stem_pattern(model, stem(model, end)?, units),
            PartId::OuterStem(end) => {
                let s = stem(model, end)?;
                outer_stem_pattern(model, s, s.outer.as_ref()?, units)
            }
            _ => return None,
        })
    }

    /// The drawing as it goes on paper: half of what is the same on both sides, or to a scale.
    pub fn printed<'a>(self, boat: impl Into<Counted<'a>>, sheets: OnPaper) -> Option<Drawing> {
        let boat = boat.into();
        self.laid_on(boat, sheets).or_else(|| self.drawn(boat, sheets.units))
    }

    /// The drawing whole and at full size, for cutters and other programs, and as it goes on
    /// paper.
    pub fn whole_and_printed<'a>(
        self,
        boat: impl Into<Counted<'a>>,
        sheets: OnPaper,
    ) -> Option<[Drawing; 2]> {
        let boat = boat.into();
        let drawn = self.drawn(boat, sheets.units)?;
        let printed = self.laid_on(boat, sheets).unwrap_or_else(|| drawn.clone());
        Some([at_full_size(drawn), printed])
    }

    /// As [`Subject::printed`]; `None` for what is printed as it is drawn.
    fn laid_on(self, boat: Counted, sheets: OnPaper) -> Option<Drawing> {
        let model = boat.model;
        Some(match self {
            Subject::Part(PartId::Panel(panel)) => {
                sheets.panel(model.stands(), self.panel(model)?, boat.joints(panel))
            }
            Subject::Part(PartId::Frame(_)) | Subject::AsBuilt(_) => {
                let (of, f) = self.frame(model)?;
                sheets.frame(of, f)
            }
            Subject::Part(id @ PartId::Pad) => {
                let c = model.woodwork.transom.as_ref()?.cut_out.as_ref()?;
                sheets.pad(model, c, laminated_of(boat, id))
            }
            Subject::Pieces(PartId::Frame(_)) => {
                let (of, f) = self.frame(model)?;
                sheets.frame_parts(of, f)
            }
            Subject::Part(PartId::Transom(end)) => sheets.transom(model, transom(model, end)?),
            Subject::Pieces(PartId::Transom(end)) => {
                sheets.transom_parts(model, transom(model, end)?)
            }
            // A roll is long and wide enough to scribe frames from.
            Subject::BodyPlan if sheets.paper == Paper::Roll => {
                at_full_size(self.drawn(model, sheets.units)?)
            }
            _ => return None,
        })
    }

    fn panel(self, model: &Model) -> Option<&PanelModel> {
        let Subject::Part(PartId::Panel(PanelId(i))) = self else {
            return None;
        };
        model.stands().panels.get(i)
    }

    /// The frame, and the model that it stands in.
    fn frame(self, model: &Model) -> Option<(&Model, &Frame)> {
        let (of, FrameId(i)) = match self {
            Subject::AsBuilt(id) => (&model.as_built.as_deref()?.model, id),
            Subject::Part(PartId::Frame(id)) | Subject::Pieces(PartId::Frame(id)) => (model, id),
            _ => return None,
        };
        Some((of, of.woodwork.frames.get(i)?))
    }
}

/// What a part is laminated of, where stock was counted and it is.
fn laminated_of(boat: Counted, id: PartId) -> Option<String> {
    let of = &boat.list?.laminated.iter().find(|l| l.part == id)?.of;
    Some(layers_of(of))
}

fn at_full_size(drawn: Drawing) -> Drawing {
    if drawn.reduced == 1.0 { drawn } else { drawn.at_full_size() }
}

fn dashed(name: &str) -> String {
    name.replace(' ', "-")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;
    use std::collections::HashSet;

    /// Of every starter each drawing can be made, and lies at a place of its own.
    #[test]
    fn everything_can_be_drawn_and_has_its_own_place() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            let all = catalogue(&model);
            let places: HashSet<String> = all.iter().map(|s| s.place(&model)).collect();
            assert_eq!(places.len(), all.len(), "{}", starter.name);
            for subject in &all {
                assert!(!subject.name(&model).is_empty(), "{subject:?}");
                let drawn = subject.drawn(&model, model.hull.units);
                assert!(drawn.is_some_and(|d| !d.items.is_empty()), "{subject:?}");
            }
        }
    }
}
