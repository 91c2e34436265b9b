//! Two hulls side by side: what differs, in figures.

use super::Model;
use crate::hull::Dimension;
use crate::part::PartId;

/// What a figure is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// mm.
    Length,
    /// mm², best shown as m².
    Area,
    /// Radians.
    Angle,
    /// A plain ratio, best shown in percent.
    Share,
}

/// One figure of both hulls.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// What it is: "beam", "side: tightest radius".
    pub what: String,
    /// How to show it.
    pub kind: Kind,
    /// On the hull compared with; `None` where it has no such thing.
    pub then: Option<f64>,
    /// On the hull as it is.
    pub now: Option<f64>,
}

/// A change below this share of the figure is rounding.
const SAME: f64 = 1e-6;

impl Difference {
    /// Now less then, where both have it.
    pub fn change(&self) -> Option<f64> {
        Some(self.now? - self.then?)
    }

    fn differs(&self) -> bool {
        match (self.then, self.now) {
            (Some(a), Some(b)) => {
                (a - b).abs() > SAME * (1.0 + a.abs()) && (a.is_finite() || b.is_finite())
            }
            (None, None) => false,
            _ => true,
        }
    }
}

/// Every figure in which `now` differs from `then`: dimensions, panels, members.
pub fn differences(then: &Model, now: &Model) -> Vec<Difference> {
    let mut out = Vec::new();
    let mut add = |what: String, kind: Kind, then: Option<f64>, now: Option<f64>| {
        let row = Difference { what, kind, then, now };
        if row.differs() {
            out.push(row);
        }
    };
    for d in Dimension::ALL {
        let kind = if d.is_angle() { Kind::Angle } else { Kind::Length };
        add(d.name().into(), kind, d.measure(&then.lines), d.measure(&now.lines));
    }
    for name in named(then, now, |id| matches!(id, PartId::Panel(_))) {
        let [a, b] = [then, now].map(|m| m.panels.iter().find(|p| p.name == name));
        let mut row = |what: &str, kind, f: fn(&super::PanelModel) -> f64| {
            add(format!("{name}: {what}"), kind, a.map(f), b.map(f));
        };
        row("area of one", Kind::Area, |p| p.flat.area_in_flat());
        row("lower edge", Kind::Length, |p| p.edges.lower);
        row("upper edge", Kind::Length, |p| p.edges.upper);
        row("twist", Kind::Angle, |p| p.quality.greatest_warp);
        row("tightest radius", Kind::Length, |p| p.bend.radius);
    }
    for name in named(then, now, |id| matches!(id, PartId::Member(_))) {
        let [a, b] = [then, now].map(|m| m.members.iter().find(|m| m.member.name == name));
        let mut row = |what: &str, kind, f: fn(&crate::bend::BentMember) -> f64| {
            add(format!("{name}: {what}"), kind, a.map(f), b.map(f));
        };
        row("length", Kind::Length, |m| m.length);
        row("strain of breaking", Kind::Share, |m| m.peak_strain / m.limit.breaking);
    }
    out
}

/// Names of the parts of a kind, those of the hull as it is first: of two hulls parts are the
/// same that are called the same.
fn named<'a>(then: &'a Model, now: &'a Model, kind: fn(PartId) -> bool) -> Vec<&'a str> {
    let mut out: Vec<&str> = Vec::new();
    for part in now.parts.all().iter().chain(then.parts.all()).filter(|p| kind(p.id)) {
        if !out.contains(&part.name.as_str()) {
            out.push(&part.name);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::edit::Edit;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive_checked;

    #[test]
    fn a_hull_does_not_differ_from_itself_and_a_wider_one_does_in_beam() {
        let materials = Materials::shipped();
        let hull = STARTERS[0].checked();
        let model = derive_checked(&hull, &materials);
        assert_eq!(differences(&model, &model), Vec::new());
        let edit = Edit::SetDimension { dimension: Dimension::Beam, value: 1500.0 };
        let wide = edit.apply(&hull).expect("wider");
        let wide = derive_checked(&wide, &materials);
        let rows = differences(&model, &wide);
        let beam = rows.iter().find(|r| r.what == "beam").expect("her beam differs");
        assert!(
            (beam.change().expect("both have it") - (1500.0 - model.lines.beam_overall())).abs()
                < 1e-4
        );
        assert!(rows.iter().all(|r| r.what != "length"), "{rows:?}");
    }
}
