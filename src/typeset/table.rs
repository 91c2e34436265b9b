//! Rows and columns: how wide each column is, and how high each row.

use super::line::{PageOf, Run, broken, natural};
use super::text::Text;

/// On which side the words of a column stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// Words.
    #[default]
    Left,
    /// Figures.
    Right,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// What stands over it.
    pub head: String,
    /// Where its words stand.
    pub align: Align,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// One for each column; fewer leave the last ones empty.
    pub cells: Vec<Text>,
    /// A row that stands for what follows it: stressed, never the last of a page.
    pub over: bool,
}

/// Rows under their heads, which are said again on every page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
}

impl Table {
    /// A table without rows; a head that begins with `>` stands over figures.
    pub fn of(heads: &[&str]) -> Table {
        let columns = heads.iter().map(|h| match h.strip_prefix('>') {
            Some(head) => Column { head: head.into(), align: Align::Right },
            None => Column { head: (*h).into(), align: Align::Left },
        });
        Table { columns: columns.collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row<T: Into<Text>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let cells = cells.into_iter().map(Into::into).collect();
        self.rows.push(Row { cells, over: false });
    }

    /// Adds a row that stands over those that follow.
    pub fn over(&mut self, words: impl Into<String>) {
        self.rows.push(Row { cells: vec![Text::bold(words)], over: true });
    }
}

/// Height of capitals in a table, mm, from baseline to baseline, and above and below a row.
pub(super) const CELL: f64 = 2.0;
pub(super) const CELL_LEAD: f64 = 1.7 * CELL;
pub(super) const CELL_ROOM: f64 = 0.9;
/// Between columns, mm.
pub(super) const APART: f64 = 3.5;

/// What stands to the right and is no wider than this is a figure, mm.
const FIGURE: f64 = 28.0;

/// A table broken to a width.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Laid {
    /// Left end and width of each column, mm.
    pub(super) columns: Vec<(f64, f64)>,
    /// The heads' lines.
    pub(super) head: Vec<Vec<Vec<Run>>>,
    /// Each row's cells' lines.
    pub(super) rows: Vec<Vec<Vec<Vec<Run>>>>,
}

/// Lines of the deepest cell of a row.
pub(super) fn depth(cells: &[Vec<Vec<Run>>]) -> usize {
    cells.iter().map(Vec::len).max().unwrap_or(0).max(1)
}

impl Laid {
    /// A table over `room` mm: each column as wide as its words need, or as narrow as its widest
    /// word where that is too much, what is left shared by how much each would still use.
    pub(super) fn of(table: &Table, room: f64, pages: &PageOf) -> Laid {
        let count = table.columns.len();
        let bold = |head: &str| Text::bold(head);
        let mut wanted = vec![0.0_f64; count];
        let mut least = vec![0.0_f64; count];
        for (k, column) in table.columns.iter().enumerate() {
            let cells = table.rows.iter().filter(|r| !r.over).filter_map(|r| r.cells.get(k));
            for text in cells.cloned().chain([bold(&column.head)]) {
                let (whole, word) = natural(&text, CELL, pages);
                wanted[k] = wanted[k].max(whole);
                // A figure is not parted from its unit.
                let whole = column.align == Align::Right && whole <= FIGURE;
                least[k] = least[k].max(if whole { wanted[k] } else { word });
            }
        }
        let free = room - APART * count.saturating_sub(1) as f64;
        let widths = shared(&wanted, &least, free);
        let mut columns = Vec::with_capacity(count);
        let mut x = 0.0;
        for w in &widths {
            columns.push((x, *w));
            x += w + APART;
        }
        let set = |text: &Text, w: f64| broken(text, CELL, w, pages);
        let head = table.columns.iter().zip(&widths).map(|(c, w)| set(&bold(&c.head), *w));
        let rows = table.rows.iter().map(|row| match row.over {
            true => vec![set(row.cells.first().unwrap_or(&Text::default()), room)],
            false => row.cells.iter().zip(&widths).map(|(c, w)| set(c, *w)).collect(),
        });
        Laid { head: head.collect(), rows: rows.collect(), columns }
    }
}

/// Widths of columns that want so much, need at least so much, and have `free` mm together.
fn shared(wanted: &[f64], least: &[f64], free: f64) -> Vec<f64> {
    let all: f64 = wanted.iter().sum();
    if all <= free {
        return wanted.to_vec();
    }
    let floor: f64 = least.iter().sum();
    if floor >= free {
        // Words are cut then; nobody has more than a share of what is there.
        return least.iter().map(|l| l * free / floor).collect();
    }
    let over: f64 = wanted.iter().zip(least).map(|(w, l)| w - l).sum();
    let share = (free - floor) / over;
    wanted.iter().zip(least).map(|(w, l)| l + share * (w - l)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_take_what_they_need_and_share_what_is_short() {
        assert_eq!(shared(&[30.0, 40.0], &[10.0, 10.0], 100.0), [30.0, 40.0]);
        // 60 are there: 20 are needed, 40 are shared as 20 to 60.
        assert_eq!(shared(&[30.0, 70.0], &[10.0, 10.0], 60.0), [20.0, 40.0]);
        assert_eq!(shared(&[50.0, 70.0], &[40.0, 60.0], 50.0), [20.0, 30.0]);
    }

    #[test]
    fn a_row_is_as_deep_as_its_deepest_cell() {
        let mut t = Table::of(&["piece", ">length"]);
        t.row(["a sheer clamp with a long name that has to be broken", "4017 mm"]);
        let laid = Laid::of(&t, 60.0, &PageOf::new());
        assert_eq!(t.columns[1].align, Align::Right);
        assert!(laid.rows[0][0].len() > 1);
        assert_eq!(laid.rows[0][1].len(), 1);
        assert_eq!(depth(&laid.rows[0]), laid.rows[0][0].len());
        let (x, w) = laid.columns[1];
        assert!(x + w <= 60.0 + 1e-9);
    }
}
