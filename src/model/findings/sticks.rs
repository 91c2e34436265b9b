//! Bones, first half: will the lumber bend?

use super::Model;
use crate::bend::{Along, BentMember, Method, stick};
use crate::finding::{Finding, Place, Severity, StickFact};
use crate::part::{MemberId, PartId};

/// Stiffness (N/mm²) outside of which no wood of the handbook's tables lies, green or dry, by
/// a factor of two either way (Wood Handbook, table 5-3b: 3 900 to 15 200 for softwoods and
/// hardwoods of the trade).
const NO_WOOD: std::ops::RangeInclusive<f64> = 2_000.0..=30_000.0;

pub(super) fn sticks(model: &Model, out: &mut Vec<Finding>) {
    for (i, bent) in model.members.iter().enumerate() {
        stick_of(bent, PartId::Member(MemberId(i)), out);
    }
    for (i, m) in model.hull.members.iter().enumerate() {
        let place = Place::Stick(m.name.clone());
        if model.lines.get(&m.line).is_none() {
            out.push(Finding::note(place, StickFact::NoSuchLine(m.line.to_string())));
        } else if model.materials.wood(&m.species).is_none() {
            let unknown = StickFact::UnknownWood(m.species.clone());
            out.push(Finding::watch(place, unknown).about(PartId::Unbent(i)));
        }
    }
}

fn stick_of(bent: &BentMember, id: PartId, out: &mut Vec<Finding>) {
    let name = || bent.member.name.clone();
    if let Some(test) = &bent.member.stick_test {
        let e = stick::stiffness(test);
        if !NO_WOOD.contains(&e) {
            let stiff = StickFact::NoWoodSoStiff(e);
            out.push(Finding::stop(Place::Stiffness(name()), stiff).about(id));
        }
    }
    out.extend(not_dry(bent).map(|f| f.about(id)));
    if let Some(test) = &bent.member.stick_test {
        for doubt in stick::doubts(test) {
            let place = Place::StickTest(name());
            out.push(Finding::note(place, StickFact::Test(doubt)).about(id));
        }
    }
}

/// That it does not go in dry, and what holds instead.
fn not_dry(bent: &BentMember) -> Option<Finding> {
    let best = bent.advice.best();
    if best.is_some_and(|best| best.method == Method::Dry) {
        return None;
    }
    let dry = bent.advice.rungs.iter().find(|r| r.method == Method::Dry);
    let not_dry = StickFact::NotDry {
        strain: bent.peak_strain,
        governs: bent.governs(),
        stock: bent.member.stock,
        breaking: bent.limit.breaking,
        // It would not break, but nobody can pull it there.
        too_stiff: dry.filter(|dry| dry.strain <= dry.allowed).cloned().map(Box::new),
        way: best.cloned().map(Box::new),
    };
    let severity = if best.is_some() { Severity::Watch } else { Severity::Stop };
    let place = Place::StickAt(bent.member.name.clone(), bent.peak_at);
    let off = |a: &&Along| (a.at - bent.peak_at).abs();
    let peak = bent.along.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    Some(Finding::new(severity, place, not_dry).at(peak.map(|a| a.point)))
}
