//! Changes to a hull document, each as a value with a name for undo.

use super::check::Place;
use super::checked::CheckedHull;
use super::dimension::Dimension;
use super::document::{Duck, Hull, LineEnd, PanelPlanking, PatternSurface, Planking};
use super::edit_error::EditError;
use super::edit_lines;
use super::framing::{Framing, Motor, StemPlan, TransomPlan};
use super::jig::{Lap, LapAt, Measured, StrongbackPlan};
use super::loads::AfloatPlan;
use super::lumber::{Air, Member, Soak, StickTest, Stock};
use super::stock::StockPlan;

/// A whole line more or less.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lines {
    /// A keel under a flat bottom.
    AddKeel,
    /// A flat bottom for a V.
    TakeKeel,
    /// One chine more, in the uppermost panel.
    AddChine,
    /// The uppermost chine away.
    TakeChine,
}

/// One change. Indices count from 0.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// Puts a duck somewhere else.
    MoveDuck {
        /// Line index.
        line: usize,
        /// Duck index.
        duck: usize,
        /// New place and knuckle flag.
        to: Duck,
    },
    /// Puts a new duck between two others (or beyond an end), where its x belongs.
    AddDuck {
        /// Line index.
        line: usize,
        /// The new duck.
        duck: Duck,
    },
    /// Takes a duck away.
    RemoveDuck {
        /// Line index.
        line: usize,
        /// Duck index.
        duck: usize,
    },
    /// Makes a duck a knuckle or a plain duck.
    SetKnuckle {
        /// Line index.
        line: usize,
        /// Duck index.
        duck: usize,
        /// Whether it is one.
        knuckle: bool,
    },
    /// Sets what a line does at its ends.
    SetLineEnds {
        /// Line index.
        line: usize,
        /// At the bow.
        bow: LineEnd,
        /// At the stern.
        stern: LineEnd,
    },
    /// Adds a line or takes one away.
    SetLines(Lines),
    /// Moves whole lines so that a dimension of the boat takes a value (mm or radians).
    SetDimension {
        /// Which one.
        dimension: Dimension,
        /// mm, or radians for an angle.
        value: f64,
    },
    /// Sets the sheet of every panel and its measured thickness (mm).
    SetSheet {
        /// Name in the sheet table.
        sheet: String,
        /// Measured thickness, mm.
        thickness_mm: f64,
    },
    /// Sets one panel's sheet, its measured thickness (mm) and the way of its face grain.
    SetPanelSheet {
        /// What it is made of.
        planking: PanelPlanking,
    },
    /// Sets which surface the patterns develop.
    SetPatternSurface(PatternSurface),
    /// Sets what is left round every pattern to plane off, mm.
    SetTrimAllowance(f64),
    /// Adds a member.
    AddMember(Box<Member>),
    /// Takes a member away.
    RemoveMember(usize),
    /// Sets a member's section, species and moisture.
    SetMember {
        /// Member index.
        member: usize,
        /// Depth square to the skin, mm.
        moulded_mm: f64,
        /// Width along the skin, mm.
        sided_mm: f64,
        /// Name in the wood table.
        species: String,
        /// Percent.
        moisture_pct: f64,
    },
    /// Sets what a member's stick is sawn from, the air it lay in and how it would be soaked.
    SetMemberStock {
        /// Member index.
        member: usize,
        /// From the rack.
        stock: Stock,
        /// The air that tells its moisture, if it is to.
        air: Option<Air>,
        /// Before bending.
        soak: Soak,
    },
    /// Sets or clears a member's stick test.
    SetStickTest {
        /// Member index.
        member: usize,
        /// The test.
        test: Option<StickTest>,
    },
    /// Sets how frames are made and where they stand; the words say what changed.
    SetFraming(Box<Framing>, &'static str),
    /// Sets the transom.
    SetTransom(TransomPlan),
    /// Sets the stem.
    SetStem(StemPlan),
    /// Sets the outboard.
    SetMotor(Motor),
    /// Sets the strongback.
    SetStrongback(StrongbackPlan),
    /// Sets what was measured on the jig.
    SetMeasured(Vec<Measured>),
    /// Sets water, loads, what was weighed, foam, waterline; the words say what changed.
    SetAfloat(Box<AfloatPlan>, &'static str),
    /// Sets what is bought and how it is put together; the words say what changed.
    SetStock(Box<StockPlan>, &'static str),
    /// Planks and frames her of other stock: the planking, the members, what is bought.
    OfOtherStock(Box<(Planking, Vec<Member>, StockPlan)>),
    /// Sets which panel laps the other along a line.
    SetLap {
        /// The line's name.
        line: String,
        /// Who laps whom.
        lap: Lap,
    },
    /// Renames the boat.
    Rename(String),
}

impl Edit {
    /// The hull after the change. Lines that it leaves alone are not splined again.
    ///
    /// # Errors
    /// The first fault that the changed document would have, what is not there to be changed,
    /// or why the change cannot be made, each with its place.
    pub fn apply(&self, hull: &CheckedHull) -> Result<CheckedHull, EditError> {
        let next = self.made(hull)?;
        hull.changed(next).map_err(|mut faults| match (Box::new(faults.swap_remove(0)), self) {
            (fault, Edit::SetDimension { dimension, value }) => {
                EditError::TooFar { said: dimension.furthest(hull, *value), fault: Some(fault) }
            }
            (fault, _) => EditError::Fault(fault),
        })
    }

    /// The document after the change, whatever comes of it.
    pub fn made(&self, hull: &CheckedHull) -> Result<Hull, EditError> {
        let mut next = hull.hull().clone();
        let gone = EditError::Gone;
        match self {
            Edit::MoveDuck { line, duck, to } => {
                let place = next.lines.get_mut(*line).and_then(|l| l.ducks.get_mut(*duck));
                *place.ok_or_else(|| gone(Place::Duck(*line, *duck)))? = *to;
            }
            Edit::AddDuck { line, duck } => {
                let line = next.lines.get_mut(*line).ok_or_else(|| gone(Place::Line(*line)))?;
                let ducks = &mut line.ducks;
                let at = ducks.partition_point(|d| d.x < duck.x);
                ducks.insert(at, *duck);
            }
            Edit::RemoveDuck { line, duck } => {
                let place = Place::Duck(*line, *duck);
                let ducks = &mut next.lines.get_mut(*line).ok_or_else(|| gone(place))?.ducks;
                if *duck >= ducks.len() {
                    return Err(gone(place));
                }
                ducks.remove(*duck);
            }
            Edit::SetKnuckle { line, duck, knuckle } => {
                let place = next.lines.get_mut(*line).and_then(|l| l.ducks.get_mut(*duck));
                place.ok_or_else(|| gone(Place::Duck(*line, *duck)))?.knuckle = *knuckle;
            }
            Edit::SetLineEnds { line, bow, stern } => {
                let l = next.lines.get_mut(*line).ok_or_else(|| gone(Place::Line(*line)))?;
                (l.bow, l.stern) = (*bow, *stern);
            }
            Edit::SetLines(what) => {
                next = match what {
                    Lines::AddKeel => edit_lines::with_keel(hull)?,
                    Lines::TakeKeel => edit_lines::without_keel(hull)?,
                    Lines::AddChine => edit_lines::with_chine(hull)?,
                    Lines::TakeChine => edit_lines::without_chine(hull)?,
                }
            }
            Edit::SetTrimAllowance(mm) => next.planking.trim_allowance_mm = *mm,
            Edit::AddMember(m) => next.members.push((**m).clone()),
            Edit::RemoveMember(m) => {
                if *m >= next.members.len() {
                    return Err(gone(Place::Member(*m)));
                }
                next.members.remove(*m);
            }
            Edit::SetDimension { dimension, value } => next = dimension.set(hull, *value)?,
            Edit::SetSheet { sheet, thickness_mm } => {
                next.planking.sheet = sheet.clone();
                next.planking.thickness_mm = *thickness_mm;
                for p in &mut next.planking.panels {
                    (p.sheet, p.thickness_mm) = (sheet.clone(), *thickness_mm);
                }
            }
            Edit::SetPanelSheet { planking: wanted } => {
                let rows = &mut next.planking.panels;
                match rows.iter_mut().find(|p| p.panel == wanted.panel) {
                    Some(row) => row.clone_from(wanted),
                    None => rows.push(wanted.clone()),
                }
            }
            Edit::SetPatternSurface(s) => next.planking.pattern_surface = *s,
            Edit::SetMember { member, moulded_mm, sided_mm, species, moisture_pct } => {
                let m =
                    next.members.get_mut(*member).ok_or_else(|| gone(Place::Member(*member)))?;
                m.moulded_mm = *moulded_mm;
                m.sided_mm = *sided_mm;
                m.species = species.clone();
                m.moisture_pct = *moisture_pct;
            }
            Edit::SetMemberStock { member, stock, air, soak } => {
                let m =
                    next.members.get_mut(*member).ok_or_else(|| gone(Place::Member(*member)))?;
                (m.stock, m.air, m.soak) = (*stock, *air, *soak);
            }
            Edit::SetStickTest { member, test } => {
                let m =
                    next.members.get_mut(*member).ok_or_else(|| gone(Place::Member(*member)))?;
                m.stick_test = *test;
            }
            Edit::SetFraming(framing, _) => next.framing = (**framing).clone(),
            Edit::SetTransom(plan) => next.transom = plan.clone(),
            Edit::SetStem(plan) => next.stem = plan.clone(),
            Edit::SetMotor(motor) => next.motor = motor.clone(),
            Edit::SetStrongback(plan) => next.strongback = plan.clone(),
            Edit::SetMeasured(all) => next.as_built = all.clone(),
            Edit::SetAfloat(plan, _) => next.afloat = (**plan).clone(),
            Edit::SetStock(plan, _) => next.stock = (**plan).clone(),
            Edit::OfOtherStock(all) => {
                (next.planking, next.members, next.stock) = (**all).clone();
            }
            Edit::SetLap { line, lap } => {
                next.planking.laps.retain(|l| l.line != *line);
                next.planking.laps.push(LapAt { line: line.clone(), lap: *lap });
            }
            Edit::Rename(name) => next.name = name.clone(),
        }
        Ok(next)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters;

    #[test]
    fn a_duck_may_not_pass_its_neighbour() {
        let hull = starters::STARTERS[0].checked();
        let sheer = hull.lines.len() - 1;
        let far = Duck { x: 1.0e4, ..hull.lines[sheer].ducks[1] };
        let edit = Edit::MoveDuck { line: sheer, duck: 1, to: far };
        let error = edit.apply(&hull).expect_err("past its neighbour");
        assert_eq!(error.place(), Place::Duck(sheer, 2), "the one that is passed");
        assert_eq!(error.field(), Some("x"));
        let said = error.plain(hull.units);
        assert!(said.contains("not aft of the duck before it"), "{said}");
        assert_eq!(crate::words::edits::name(&edit, &hull), "move duck 2 of the sheer");
    }

    #[test]
    fn adding_and_removing_a_duck_gives_the_hull_back() {
        let hull = starters::STARTERS[0].checked();
        let chine = &hull.lines().lines[1].spline;
        let p = chine.at(chine.parameter_at_x(1111.0).expect("amidships"));
        let with = Edit::AddDuck { line: 0, duck: Duck::at(1111.0, p.y, p.z) }
            .apply(&hull)
            .expect("a duck on the chine");
        let at = with.lines[0].ducks.iter().position(|d| d.x == 1111.0).expect("it is there");
        let back = Edit::RemoveDuck { line: 0, duck: at }.apply(&with).expect("it can go");
        assert_eq!(back, hull);
    }

    #[test]
    fn what_cannot_be_done_says_where() {
        let hull = starters::STARTERS[0].checked();
        let place = |edit: Edit| edit.apply(&hull).expect_err("it cannot be done").place();
        let count = hull.members.len();
        assert_eq!(place(Edit::RemoveMember(count)), Place::Member(count));
        assert_eq!(place(Edit::RemoveDuck { line: 1, duck: 99 }), Place::Duck(1, 99));
        assert_eq!(place(Edit::SetTrimAllowance(-1.0)), Place::Planking);
        let mut transom = hull.transom.clone();
        transom.knee.arm_mm = 9000.0;
        let error = Edit::SetTransom(transom).apply(&hull).expect_err("no such knee");
        assert_eq!((error.place(), error.field()), (Place::Transom, Some("knee: arm_mm")));
        let tall = Edit::SetDimension { dimension: Dimension::Deadrise, value: 0.1 };
        assert_eq!(place(tall), Place::Document, "a flat bottom has no deadrise");
    }
}
