//! The order in which she is built: which pieces are put up after which.

use super::strongback::Strongback;
use crate::bend::BentMember;
use crate::frames::Frame;
use crate::hull::{Lap, MemberSide};
use crate::part::{FrameId, PartId};

/// What there is to build.
#[derive(Debug, Clone)]
pub struct ToBuild<'a> {
    /// The jig.
    pub jig: &'a Strongback,
    /// Frames, bow to stern.
    pub frames: &'a [Frame],
    /// Members.
    pub members: &'a [BentMember],
    /// Names of the panels from the keel up.
    pub panels: Vec<&'a str>,
    /// Who laps whom between panel k and panel k + 1.
    pub laps: Vec<Lap>,
}

/// Panels in the order in which they go on: one that is lapped before the one that covers
/// its edge, and of those that may the uppermost first.
pub fn planking_order(laps: &[Lap]) -> Vec<usize> {
    let count = laps.len() + 1;
    let mut left: Vec<usize> = (0..count).rev().collect();
    let mut out = Vec::with_capacity(count);
    // Panel k waits for k + 1 where it laps over it, and for k - 1 where that is lapped.
    let waits_for = |k: usize| {
        let above = (k + 1 < count && laps[k] == Lap::LowerOver).then_some(k + 1);
        let below = (k > 0 && laps[k - 1] == Lap::UpperOver).then(|| k - 1);
        [above, below]
    };
    while let Some(i) =
        left.iter().position(|k| waits_for(*k).into_iter().flatten().all(|w| !left.contains(&w)))
    {
        out.push(left.remove(i));
    }
    out
}

/// What is put up in each step, in order; the first piece of each names its step.
pub fn steps(of: &ToBuild) -> Vec<Vec<PartId>> {
    let mut out = vec![vec![PartId::Ladder], vec![PartId::Legs]];
    for (i, f) in of.frames.iter().enumerate() {
        let spall = f.spall.map(|_| PartId::Spall(FrameId(i)));
        out.push([PartId::frame(i)].into_iter().chain(spall).collect());
    }
    out.extend(of.jig.ends.iter().map(|e| vec![e.end.part()]));
    let on = |side: MemberSide| {
        let members = of.members.iter().enumerate().filter(move |(_, m)| m.member.side == side);
        members.map(|(i, _)| vec![PartId::member(i)])
    };
    out.extend(on(MemberSide::Inside));
    out.extend(planking_order(&of.laps).into_iter().map(|k| vec![PartId::panel(k)]));
    out.extend(on(MemberSide::Outside));
    out
}

impl ToBuild<'_> {
    /// The panels that panel `k` laps over.
    pub fn lapped_by(&self, k: usize) -> Vec<&str> {
        let above = k + 1 < self.panels.len() && self.laps[k] == Lap::LowerOver;
        let below = k > 0 && self.laps[k - 1] == Lap::UpperOver;
        let all = [above.then(|| self.panels[k + 1]), below.then(|| self.panels[k - 1])];
        all.into_iter().flatten().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_lapped_goes_on_first() {
        assert_eq!(planking_order(&[Lap::LowerOver]), [1, 0], "sides, then the bottom");
        assert_eq!(planking_order(&[Lap::UpperOver]), [0, 1]);
        let laps = [Lap::LowerOver, Lap::UpperOver, Lap::LowerOver];
        // The topmost is lapped by the third, which laps the second, which the bottom laps.
        assert_eq!(planking_order(&laps), [3, 1, 2, 0]);
        assert_eq!(planking_order(&[]), [0]);
    }
}
