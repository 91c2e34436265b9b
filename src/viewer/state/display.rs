//! How she is shown: what is drawn over her, cut away, opened and plotted.

use crate::part::Question;
use crate::viewer::state::look::Look;

/// Which curve is plotted along the members.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Plotted {
    /// Strain of the worst fibre.
    #[default]
    Strain,
    /// Curvature in the plane of the moulded depth.
    Moulded,
    /// Curvature in the plane of the sided width.
    Sided,
    /// Twist.
    Twist,
}

/// What lies in the strip while she is afloat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AfloatPlot {
    /// Righting arm over heel.
    #[default]
    Righting,
    /// What changes with the draft.
    Drafts,
    /// Power over speed.
    Speed,
    /// Her lines, to pull.
    Lines,
}

/// How she is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Display {
    /// How much of her is shown, for each question.
    pub looks: [Look; 6],
    /// Show the map of bending on the wood.
    pub map: bool,
    /// Show fairness stripes on the skin.
    pub stripes: bool,
    /// Show the starboard half alone.
    pub half: bool,
    /// Cut her at this x, mm.
    pub section: Option<f64>,
    /// Look at her in water up to this height, mm.
    pub water: Option<f64>,
    /// How far the sheets are opened, 0 to 1.
    pub opened: f32,
    /// Show the curvature combs in the strip.
    pub combs: bool,
    /// Ducks snap to what is near them.
    pub snap: bool,
    /// What is plotted along it.
    pub plotted: Plotted,
    /// How far she is built on her jig: steps of the build order that are done; all if
    /// `None`.
    pub built: Option<usize>,
    /// What is plotted of the boat afloat.
    pub plot: AfloatPlot,
}

impl Default for Display {
    fn default() -> Self {
        let mut looks = [Look::Planked; 6];
        looks[Question::Bones as usize] = Look::Framed;
        looks[Question::Setup as usize] = Look::Framed;
        Display {
            looks,
            map: true,
            stripes: false,
            half: false,
            section: None,
            water: None,
            opened: 0.0,
            combs: true,
            snap: true,
            plotted: Plotted::default(),
            built: None,
            plot: AfloatPlot::default(),
        }
    }
}
