//! The head of a table of offsets: which column is what, and in which unit.

use super::table_unit::TableUnit;

/// Where the columns of a table are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Header {
    /// The line's name.
    pub(super) line: usize,
    /// x, y and z, and the unit written in brackets behind each.
    pub(super) axes: [(usize, Option<TableUnit>); 3],
}

/// The order of a table without a head.
pub(super) const PLAIN: Header = Header { line: 0, axes: [(1, None), (2, None), (3, None)] };

/// What x, y and z are called.
const NAMES: [&[&str]; 3] = [
    &["x", "aft", "along", "distance aft", "station"],
    &["y", "half-breadth", "half breadth", "halfbreadth", "out"],
    &["z", "height", "up"],
];

const ACCEPTED: &str = "accepted are the columns line, x (or aft), y (or half-breadth) and z (or height), each once and in any order, with a unit in brackets: x (mm), x (cm), x (m), x (in), x (ft), x (ft-in-8)";

impl Header {
    /// A row as a head; `None` where it has no column called `line`, and so is none.
    ///
    /// # Errors
    /// What is missing, twice there or unknown, and what would be accepted.
    pub(super) fn of(cells: &[&str]) -> Option<Result<Header, String>> {
        let cells: Vec<String> = cells.iter().map(|c| c.trim().to_lowercase()).collect();
        let named = |c: &String| c == "line" || c == "name";
        let line = cells.iter().position(named)?;
        // `line` alone may be a line's name where numbers follow.
        let number = |c: &String| c.chars().any(|ch| ch.is_ascii_digit()) && axis(c).is_none();
        if cells.iter().any(number) {
            return None;
        }
        Some(Header::with(line, &cells))
    }

    fn with(line: usize, cells: &[String]) -> Result<Header, String> {
        let mut axes: [Option<(usize, Option<TableUnit>)>; 3] = [None; 3];
        for (i, cell) in cells.iter().enumerate().filter(|(i, _)| *i != line) {
            let (k, unit) =
                axis(cell).ok_or_else(|| format!("no column is called {cell:?}; {ACCEPTED}"))??;
            if axes[k].replace((i, unit)).is_some() {
                return Err(format!("{} is there twice; {ACCEPTED}", NAMES[k][0]));
            }
        }
        let found =
            |k: usize| axes[k].ok_or_else(|| format!("{} is missing; {ACCEPTED}", NAMES[k][0]));
        Ok(Header { line, axes: [found(0)?, found(1)?, found(2)?] })
    }

    /// The unit that all columns are in, if each says the same.
    pub(super) fn unit(&self) -> Option<TableUnit> {
        let [x, y, z] = self.axes.map(|a| a.1);
        x.filter(|u| y == Some(*u) && z == Some(*u))
    }

    /// The cells of a row in the order line, x, y, z.
    pub(super) fn pick<'a>(&self, cells: &[&'a str]) -> Option<[&'a str; 4]> {
        let [x, y, z] = self.axes.map(|a| cells.get(a.0).copied());
        Some([cells.get(self.line).copied()?, x?, y?, z?])
    }
}

/// Which axis a column's name means, and its unit; `None` for an unknown name.
fn axis(cell: &str) -> Option<Result<(usize, Option<TableUnit>), String>> {
    let (name, unit) = match cell.split_once(['(', '[']) {
        Some((name, rest)) => (name.trim(), Some(rest.trim_end_matches([')', ']']).trim())),
        None => (cell, None),
    };
    let k = NAMES.iter().position(|names| names.contains(&name))?;
    Some(match unit {
        None => Ok((k, None)),
        Some(word) => match TableUnit::from_word(word) {
            Some(u) => Ok((k, Some(u))),
            None => Err(format!("unit {word:?} is unknown; {ACCEPTED}")),
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Units;

    #[test]
    fn columns_are_found_in_any_order_with_their_units() {
        let h = Header::of(&["Line", "x", "z", "y"]).expect("a head").expect("a good one");
        assert_eq!(h.pick(&["keel", "1", "2", "3"]), Some(["keel", "1", "3", "2"]));
        assert_eq!(h.unit(), None);
        let h = Header::of(&["half-breadth (in)", "height [in]", "aft (in)", "line"]);
        let h = h.expect("a head").expect("a good one");
        assert_eq!(h.pick(&["9", "4", "20", "sheer"]), Some(["sheer", "20", "9", "4"]));
        assert_eq!(h.unit(), Some(TableUnit::Shown(Units::Inch)));
        let mixed = Header::of(&["line", "x (m)", "y (mm)", "z (mm)"]).expect("a head");
        let mixed = mixed.expect("a good one");
        assert_eq!((mixed.unit(), mixed.axes[0].1), (None, Some(TableUnit::Shown(Units::M))));
    }

    #[test]
    fn a_row_of_points_is_no_head_and_a_bad_head_says_why() {
        assert_eq!(Header::of(&["keel", "1", "0", "2"]), None);
        assert_eq!(Header::of(&["line", "1", "0", "2"]), None, "a line of that name");
        for (cells, said) in [
            (["line", "x", "y", "y"], "there twice"),
            (["line", "x", "y", "breadth"], "\"breadth\""),
            (["line", "x (furlong)", "y", "z"], "furlong"),
        ] {
            let error = Header::of(&cells).expect("a head").expect_err("a bad one");
            assert!(error.contains(said) && error.contains("accepted"), "{error}");
        }
        let error = Header::of(&["line", "x", "y"]).expect("a head").expect_err("a bad one");
        assert!(error.starts_with("z is missing"), "{error}");
    }
}
