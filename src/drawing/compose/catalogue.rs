//! Every drawing that there is of a boat, in the order in which she is built: what it is of,
//! what it is called, where its files lie in a pack, and how it is made.

use super::{
    OnPaper, Paper, body_plan, frame_assembly, frame_parts, jig_elevation, jig_end, jig_plan,
    jig_section, knee_pattern, lines_plan, offsets_table, outer_stem_pattern, panel_pattern,
    stem_pattern, transom_parts, transom_pattern,
};
use crate::drawing::Drawing;
use crate::frames::{Frame, Stem, Transom};
use crate::model::as_built::NotchChange;
use crate::model::{Model, PanelModel};
use crate::units::Units;

/// A notch that moves by less than this (mm) is sawn as drawn.
const NOTCH_MOVES_MM: f64 = 0.5;

/// What a drawing is of. Indices are those of the model's own lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// The pattern of a panel; once she stands on her jig, of the boat as she stands.
    Panel(usize),
    /// A frame of the boat as she stands on her jig, put together.
    AsBuilt(usize),
    /// A frame put together.
    Frame(usize),
    /// The parts of a frame.
    FrameParts(usize),
    /// A transom's outline.
    Transom {
        /// That of a pram's bow.
        bow: bool,
    },
    /// The cleats of a transom.
    TransomFraming {
        /// That of a pram's bow.
        bow: bool,
    },
    /// The knee behind the motor.
    Knee,
    /// The stem, or the post of a sharp stern.
    Stem {
        /// The sternpost.
        stern: bool,
    },
    /// What is bent or laminated round it.
    OuterStem {
        /// The sternpost's.
        stern: bool,
    },
    /// The jig from above.
    JigPlan,
    /// The jig from the side.
    JigElevation,
    /// The jig from ahead.
    JigSection,
    /// How an end is held on the jig: its index among the jig's ends.
    JigEnd(usize),
    /// Profile, plan and sections.
    LinesPlan,
    /// The table of offsets.
    Offsets,
    /// All stations over each other.
    BodyPlan,
}

/// Every drawing of a boat.
pub fn catalogue(model: &Model) -> Vec<Subject> {
    let work = &model.woodwork;
    let mut out: Vec<Subject> = (0..stands(model).panels.len()).map(Subject::Panel).collect();
    if let Some(built) = &model.as_built {
        out.extend((0..built.model.woodwork.frames.len()).map(Subject::AsBuilt));
    }
    out.extend((0..work.frames.len()).flat_map(|i| [Subject::Frame(i), Subject::FrameParts(i)]));
    for bow in [false, true] {
        if transom(model, bow).is_some() {
            out.extend([Subject::Transom { bow }, Subject::TransomFraming { bow }]);
        }
    }
    out.extend(work.knee.as_ref().map(|_| Subject::Knee));
    for stern in [false, true] {
        if let Some(s) = stem(model, stern) {
            out.push(Subject::Stem { stern });
            out.extend(s.outer.as_ref().map(|_| Subject::OuterStem { stern }));
        }
    }
    if let Some(jig) = &work.strongback {
        out.extend([Subject::JigPlan, Subject::JigElevation, Subject::JigSection]);
        out.extend((0..jig.ends.len()).map(Subject::JigEnd));
    }
    out.extend([Subject::LinesPlan, Subject::Offsets, Subject::BodyPlan]);
    out
}

/// The boat as she stands on her jig, once measured there.
fn stands(model: &Model) -> &Model {
    model.as_built.as_deref().map_or(model, |b| &b.model)
}

fn transom(model: &Model, bow: bool) -> Option<&Transom> {
    let work = &model.woodwork;
    if bow { work.bow_transom.as_ref() } else { work.transom.as_ref() }
}

fn stem(model: &Model, stern: bool) -> Option<&Stem> {
    let work = &model.woodwork;
    if stern { work.sternpost.as_ref() } else { work.stem.as_ref() }
}

fn transom_name(bow: bool) -> &'static str {
    if bow { "bow transom" } else { "transom" }
}

fn stem_name(stern: bool) -> &'static str {
    if stern { "sternpost" } else { "stem" }
}

impl Subject {
    /// What the builder calls it, beside the others of the same part.
    pub fn name(self, model: &Model) -> String {
        match self {
            Subject::Panel(_) => self.panel(model).map_or(String::new(), |p| p.name.clone()),
            Subject::AsBuilt(_) => "as it stands".into(),
            Subject::Frame(_) => self
                .frame(model)
                .map_or(String::new(), |(_, f)| format!("frame {}, put together", f.station)),
            Subject::FrameParts(_) => "its parts".into(),
            Subject::Transom { bow } => transom_name(bow).into(),
            Subject::TransomFraming { bow } => format!("{}'s framing", transom_name(bow)),
            Subject::Knee => "transom's knee".into(),
            Subject::Stem { stern } => stem_name(stern).into(),
            Subject::OuterStem { stern } => format!("outer {}", stem_name(stern)),
            Subject::JigPlan => "plan".into(),
            Subject::JigElevation => "elevation".into(),
            Subject::JigSection => "from ahead".into(),
            Subject::JigEnd(_) => format!("{}, set up", self.end_word(model)),
            Subject::LinesPlan => "lines plan".into(),
            Subject::Offsets => "table of offsets".into(),
            Subject::BodyPlan => "body plan".into(),
        }
    }

    /// Folder and name of its files in a pack, without an ending.
    pub fn place(self, model: &Model) -> String {
        let station = |of| {
            self.frame(model)
                .map_or(String::new(), |(_, f)| format!("frames/frame-{}{of}", f.station))
        };
        match self {
            Subject::Panel(_) => format!("patterns/{}", self.name(model)),
            Subject::AsBuilt(_) => station("-as-built"),
            Subject::Frame(_) => station(""),
            Subject::FrameParts(_) => station("-parts"),
            Subject::Transom { bow } => format!("frames/{}", dashed(transom_name(bow))),
            Subject::TransomFraming { bow } => {
                format!("frames/{}-framing", dashed(transom_name(bow)))
            }
            Subject::Knee => "frames/transom-knee".into(),
            Subject::Stem { stern } => format!("frames/{}", stem_name(stern)),
            Subject::OuterStem { stern } => format!("frames/outer-{}", stem_name(stern)),
            Subject::JigPlan => "setup/strongback-plan".into(),
            Subject::JigElevation => "setup/strongback-elevation".into(),
            Subject::JigSection => "setup/strongback-from-ahead".into(),
            Subject::JigEnd(_) => format!("setup/{}-set-up", dashed(self.end_word(model))),
            Subject::LinesPlan => "setup/lines-plan".into(),
            Subject::Offsets => "setup/table-of-offsets".into(),
            Subject::BodyPlan => "setup/body-plan".into(),
        }
    }

    /// Whether it is for the shop: nothing is cut by the pattern of an unsound panel, of which
    /// the findings tell, and a frame is drawn as it stands only where its notches move.
    pub fn for_the_shop(self, model: &Model) -> bool {
        match self {
            Subject::Panel(_) => self.panel(model).is_some_and(|p| p.unsound().is_none()),
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
    /// where the model has no such part.
    pub fn drawn(self, model: &Model, units: Units) -> Option<Drawing> {
        let work = &model.woodwork;
        let jig = work.strongback.as_ref();
        Some(match self {
            Subject::Panel(_) => panel_pattern(stands(model), self.panel(model)?, units),
            Subject::AsBuilt(_) | Subject::Frame(_) => {
                let (of, f) = self.frame(model)?;
                frame_assembly(of, f, units)
            }
            Subject::FrameParts(_) => {
                let (of, f) = self.frame(model)?;
                frame_parts(of, f, units)
            }
            Subject::Transom { bow } => transom_pattern(model, transom(model, bow)?, units),
            Subject::TransomFraming { bow } => transom_parts(model, transom(model, bow)?, units),
            Subject::Knee => knee_pattern(model, work.knee.as_ref()?, units),
            Subject::Stem { stern } => stem_pattern(model, stem(model, stern)?, units),
            Subject::OuterStem { stern } => {
                let s = stem(model, stern)?;
                outer_stem_pattern(model, s, s.outer.as_ref()?, units)
            }
            Subject::JigPlan => jig_plan(model, jig?, units),
            Subject::JigElevation => jig_elevation(model, jig?, units),
            Subject::JigSection => jig_section(model, jig?, units),
            Subject::JigEnd(i) => jig_end(model, jig?, jig?.ends.get(i)?, units),
            Subject::LinesPlan => lines_plan(model, units),
            Subject::Offsets => offsets_table(model),
            Subject::BodyPlan => body_plan(model, units),
        })
    }

    /// The drawing as it goes on paper: half of what is the same on both sides, or to a scale.
    pub fn printed(self, model: &Model, sheets: OnPaper) -> Option<Drawing> {
        self.laid_on(model, sheets).or_else(|| self.drawn(model, sheets.units))
    }

    /// The drawing whole and at full size, for cutters and other programs, and as it goes on
    /// paper.
    pub fn whole_and_printed(self, model: &Model, sheets: OnPaper) -> Option<[Drawing; 2]> {
        let drawn = self.drawn(model, sheets.units)?;
        let printed = self.laid_on(model, sheets).unwrap_or_else(|| drawn.clone());
        Some([at_full_size(drawn), printed])
    }

    /// As [`Subject::printed`]; `None` for what is printed as it is drawn.
    fn laid_on(self, model: &Model, sheets: OnPaper) -> Option<Drawing> {
        Some(match self {
            Subject::Panel(_) => sheets.panel(stands(model), self.panel(model)?),
            Subject::AsBuilt(_) | Subject::Frame(_) => {
                let (of, f) = self.frame(model)?;
                sheets.frame(of, f)
            }
            Subject::FrameParts(_) => {
                let (of, f) = self.frame(model)?;
                sheets.frame_parts(of, f)
            }
            Subject::Transom { bow } => sheets.transom(model, transom(model, bow)?),
            Subject::TransomFraming { bow } => sheets.transom_parts(model, transom(model, bow)?),
            // A roll is long and wide enough to scribe frames from.
            Subject::BodyPlan if sheets.paper == Paper::Roll => {
                at_full_size(self.drawn(model, sheets.units)?)
            }
            _ => return None,
        })
    }

    fn panel(self, model: &Model) -> Option<&PanelModel> {
        let Subject::Panel(i) = self else {
            return None;
        };
        stands(model).panels.get(i)
    }

    /// The frame, and the model that it stands in.
    fn frame(self, model: &Model) -> Option<(&Model, &Frame)> {
        let (of, i) = match self {
            Subject::AsBuilt(i) => (&model.as_built.as_deref()?.model, i),
            Subject::Frame(i) | Subject::FrameParts(i) => (model, i),
            _ => return None,
        };
        Some((of, of.woodwork.frames.get(i)?))
    }

    fn end_word(self, model: &Model) -> &'static str {
        let jig = model.woodwork.strongback.as_ref();
        match (self, jig) {
            (Subject::JigEnd(i), Some(jig)) => jig.ends.get(i).map_or("", |e| e.end.word()),
            _ => "",
        }
    }
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
