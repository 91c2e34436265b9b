//! A document in which no fault was found, and its lines as the check splined them.

use std::ops::Deref;
use std::sync::Arc;

use super::check::{Fault, checked};
use super::document::Hull;
use super::lines::HullLines;
use super::stock::SoldBy;
use crate::units::Units;

/// A document that [`super::check`] found no fault in. Nothing else makes one, so that what
/// takes one need not ask again; it reads as the [`Hull`] that it holds.
#[derive(Debug, Clone)]
pub struct CheckedHull {
    hull: Hull,
    lines: Arc<HullLines>,
}

impl CheckedHull {
    /// Checks a document.
    ///
    /// # Errors
    /// All its faults, at least one, in the order of the file.
    pub fn of(hull: Hull) -> Result<CheckedHull, Vec<Fault>> {
        let lines = checked(None, &hull)?;
        Ok(CheckedHull { hull, lines })
    }

    /// Checks what was made of this document by a change; lines that are drawn as they were
    /// are not splined again.
    ///
    /// # Errors
    /// All faults of `next`, at least one, in the order of the file.
    pub fn changed(&self, next: Hull) -> Result<CheckedHull, Vec<Fault>> {
        let lines = checked(Some(self), &next)?;
        Ok(CheckedHull { hull: next, lines })
    }

    /// The document.
    pub fn hull(&self) -> &Hull {
        &self.hull
    }

    /// The document by itself, to be changed and checked again.
    pub fn into_hull(self) -> Hull {
        self.hull
    }

    /// Its lines as splines.
    pub fn lines(&self) -> &Arc<HullLines> {
        &self.lines
    }

    /// The same with lengths written in other units, which are no fault of any document.
    pub fn in_units(self, units: Units) -> CheckedHull {
        CheckedHull { hull: Hull { units, ..self.hull }, lines: self.lines }
    }

    /// The same, bought where sizes are of this kind, which is no fault of any document either.
    pub fn sold_by(mut self, sizes: SoldBy) -> CheckedHull {
        self.hull.stock.sold_by = sizes;
        self
    }

    /// The same under another name, which may be any.
    pub fn called(self, name: String) -> CheckedHull {
        CheckedHull { hull: Hull { name, ..self.hull }, lines: self.lines }
    }
}

impl Deref for CheckedHull {
    type Target = Hull;

    fn deref(&self) -> &Hull {
        &self.hull
    }
}

/// Lines follow from the document.
impl PartialEq for CheckedHull {
    fn eq(&self, other: &CheckedHull) -> bool {
        self.hull == other.hull
    }
}

impl PartialEq<Hull> for CheckedHull {
    fn eq(&self, other: &Hull) -> bool {
        self.hull == *other
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;

    #[test]
    fn lines_are_splined_once_and_only_those_that_changed_again() {
        for starter in STARTERS {
            let hull = starter.checked();
            let mut heavier = hull.hull().clone();
            heavier.planking.thickness_mm += 1.0;
            let heavier = hull.changed(heavier).expect("a thicker sheet");
            assert!(Arc::ptr_eq(heavier.lines(), hull.lines()), "{}", starter.name);
            let mut pulled = heavier.hull().clone();
            let sheer = pulled.lines.last_mut().expect("a sheer");
            sheer.ducks[1].y += 1.0;
            let pulled = heavier.changed(pulled).expect("a fuller sheer");
            let anew = HullLines::of(&pulled).expect("lines");
            assert_eq!(**pulled.lines(), anew, "{}", starter.name);
            let mut faulty = pulled.hull().clone();
            faulty.planking.thickness_mm = 0.0;
            assert!(pulled.changed(faulty).is_err());
        }
    }
}
