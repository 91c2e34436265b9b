//! A card set on one page: as large as it can be, nothing over anything else.

use super::picture::Picture;
use super::{Card, CardPart, List};
use crate::drawing::compose::Line;
use crate::drawing::compose::bevel_section::{self, Bevelled};
use crate::drawing::compose::{Paper, layers};
use crate::drawing::export::room_below;
use crate::drawing::{Anchor, Drawing, face};
use crate::geom::{P2, V2};
use crate::units::Units;

/// Heights of capitals that are tried, mm, the most readable first.
const TEXTS: [f64; 6] = [2.3, 2.1, 1.9, 1.7, 1.5, 1.3];
/// Scales that are tried, the largest first: those of a rule in mm or in inches.
const SCALES: [f64; 13] = [2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 32.0, 48.0];
/// A picture is not made narrower than this, mm, while smaller words would make room.
const LEAST_PICTURE: f64 = 42.0;
/// A picture wider than this share of the page has its figures under it.
const BESIDE: f64 = 0.52;
/// A line of words over the height of its capitals.
const LINE: f64 = 1.75;
/// Sizes of the small section of a bevelled edge that are tried, its words over the page's.
const SECTIONS: [f64; 3] = [1.0, 0.85, 0.7];
/// Room between two things, mm.
const GAP: f64 = 3.0;

/// The card on a page of `paper` (a roll's cards are on A4), lengths in `units`.
pub fn drawing(card: &Card, paper: Paper, units: Units) -> Drawing {
    let mut blank = Drawing::new(&card.title, under_title(card, units), layers());
    blank.notes.clone_from(&card.notes);
    let (width, height) = room_below(&blank, paper.sheet());
    // The largest that fits with all its sections of bevels; failing that, that fits.
    let mut best: Option<(bool, Drawing)> = None;
    let last = TEXTS[TEXTS.len() - 1];
    'found: for text in TEXTS {
        for scale in SCALES {
            let page = Page { card, units, width, height, text, scale, measuring: true };
            let used = page.set(blank.clone()).used;
            let fits = used <= height && page.pictures_fit();
            let wide = page.widest(|p| p.part_width()) >= LEAST_PICTURE;
            if fits && (wide || text <= last) {
                let set = Page { measuring: false, ..page }.set(blank.clone());
                if best.as_ref().is_none_or(|(all, _)| !all && set.all_sections) {
                    best = Some((set.all_sections, set.drawing));
                }
                if best.as_ref().is_some_and(|(all, _)| *all) {
                    break 'found;
                }
            }
            if !wide && text > last {
                break;
            }
        }
    }
    best.map_or_else(
        || {
            // The last, smallest one stands, for the test to find.
            let scale = SCALES[SCALES.len() - 1];
            let page = Page { card, units, width, height, text: last, scale, measuring: false };
            page.set(blank).drawing
        },
        |b| b.1,
    )
}

/// A card that was set.
struct Set {
    drawing: Drawing,
    /// The height that it takes, mm.
    used: f64,
    /// Every bevel's section found room.
    all_sections: bool,
}

struct Page<'a> {
    card: &'a Card,
    units: Units,
    width: f64,
    height: f64,
    text: f64,
    scale: f64,
    /// Only its height is wanted: pictures are left out.
    measuring: bool,
}

impl Page<'_> {
    fn widest(&self, width: impl Fn(&Picture) -> f64) -> f64 {
        let of = |p: &CardPart| width(&Picture::of(p, self.scale));
        self.card.parts.iter().map(of).fold(0.0, f64::max)
    }

    fn pictures_fit(&self) -> bool {
        self.widest(|p| p.size().x) <= self.width
    }

    /// The card on `blank`.
    fn set(&self, blank: Drawing) -> Set {
        let mut d = blank;
        d.reduced = self.scale;
        let mut y = 0.0;
        let mut tops = Vec::new();
        for (i, part) in self.card.parts.iter().enumerate() {
            if i > 0 {
                d.line(
                    Line::Check,
                    P2::new(0.0, y - 0.5 * GAP),
                    P2::new(self.width, y - 0.5 * GAP),
                );
                y -= GAP;
            }
            let top = y;
            y = self.part(&mut d, part, y);
            tops.push((top, y));
        }
        let mut all_sections = true;
        if !self.measuring {
            for (part, span) in self.card.parts.iter().zip(tops) {
                all_sections &= self.sections(&mut d, part, span);
            }
        }
        Set { drawing: d, used: -y, all_sections }
    }

    /// The small sections of a part's bevelled edges, beside the part (from `top` down to `foot`)
    /// where there is room for them, otherwise where the page has it; whether all had.
    fn sections(&self, d: &mut Drawing, part: &CardPart, (top, foot): (f64, f64)) -> bool {
        let mut all = true;
        for (edge, bevels) in &part.bevels {
            let named = match self.card.parts.len() {
                1 => edge.clone(),
                _ => format!("{}, {edge}", part.name),
            };
            let of = Bevelled { edge: &named, bevels: bevels.clone() };
            let near = P2::new(0.7 * self.width, 0.5 * (top + foot));
            // Rather small beside its own part than large beside another.
            all &= [(foot, top), (-self.height, 0.0)].into_iter().any(|(low, high)| {
                let room = (P2::new(0.0, low), P2::new(self.width, high));
                SECTIONS.iter().any(|share| {
                    let s = share * self.text / bevel_section::WORDS;
                    bevel_section::where_room_is(d, room, near, &of, self.units, s)
                })
            });
        }
        all
    }

    /// One part under `top`; returns where it ends.
    fn part(&self, d: &mut Drawing, part: &CardPart, top: f64) -> f64 {
        let mut y = top - 1.25 * self.text;
        let several = self.card.parts.len() > 1;
        if several {
            d.text(Line::Text, P2::new(0.0, y), 1.25 * self.text, 0.0, Anchor::Left, &part.name);
            y -= LINE * self.text;
        }
        let mut words = part.words.clone();
        words.push(part.base_words().to_string());
        words.extend(straight_words(part));
        words.extend(part.batten_words(self.units));
        if !part.checks.is_empty() {
            let each: Vec<String> = part
                .checks
                .iter()
                .map(|c| format!("{} {}", c.name, self.units.show(c.length)))
                .collect();
            words.push(format!("check before you cut: {}", each.join(" · ")));
        }
        let y = self.words(d, 0.0, y, self.width, &[words.join(" · ")]) + self.text - 0.5 * GAP;
        let picture = Picture::of(part, self.scale);
        let size = picture.size();
        if !self.measuring {
            picture.draw(d, P2::new(0.0, y), self.text);
        }
        let lists = lists(part, self.units);
        if size.x <= BESIDE * self.width {
            let left = size.x + GAP;
            let end = self.lists(d, &lists, P2::new(left, y), self.width - left);
            end.min(y - size.y)
        } else {
            self.lists(d, &lists, P2::new(0.0, y - size.y), self.width)
        }
    }

    /// Sentences wrapped to `width`, the first baseline at `y`; returns the next one.
    fn words(&self, d: &mut Drawing, x: f64, y: f64, width: f64, all: &[String]) -> f64 {
        let mut y = y;
        for sentence in all {
            for line in face::broken(sentence, self.text, false, width) {
                d.text(Line::Text, P2::new(x, y), self.text, 0.0, Anchor::Left, line);
                y -= LINE * self.text;
            }
        }
        y
    }

    /// Lists of figures side by side in as many columns as fit, of even height; returns where
    /// they end.
    fn lists(&self, d: &mut Drawing, lists: &[Rows], corner: P2, width: f64) -> f64 {
        if lists.is_empty() {
            return corner.y;
        }
        let gap = self.text;
        let widest = |i: usize| {
            let cells = lists.iter().flat_map(|l| l.rows.iter().map(|r| r[i].as_str()));
            cells.map(|c| face::width(c, self.text, false)).fold(0.0, f64::max)
        };
        let tabs = [widest(0) + gap, widest(1) + gap, widest(2) + 2.0 * gap];
        let column = tabs.iter().sum::<f64>();
        let columns = ((width + gap) / column).floor().max(1.0) as usize;
        let cells = |limit: usize| flow(lists, limit, column - 2.0 * gap, self.text);
        let rows: usize = lists.iter().map(|l| l.rows.len() + 3).sum();
        let limit = (3..=rows + 3).find(|n| cells(*n).len() <= columns).unwrap_or(rows + 3);
        let filled = cells(limit);
        let pitch = LINE * self.text;
        let mut deepest = 0usize;
        for (c, cells) in filled.iter().enumerate() {
            let x = corner.x + column * c as f64;
            for (r, cell) in cells.iter().enumerate() {
                let y = corner.y - self.text - pitch * r as f64;
                match cell {
                    Cell::Head(words) => {
                        d.text(Line::Text, P2::new(x, y), self.text, 0.0, Anchor::Left, words);
                        if !matches!(cells.get(r + 1), Some(Cell::Head(_))) {
                            let under = y - 0.35 * self.text;
                            let end = P2::new(x + column - 2.0 * gap, under);
                            d.line(Line::Check, P2::new(x, under), end);
                        }
                    }
                    Cell::Row(row) => {
                        let mut left = x;
                        for (text, tab) in row.iter().zip(tabs) {
                            if !text.is_empty() {
                                d.text(
                                    Line::Text,
                                    P2::new(left, y),
                                    self.text,
                                    0.0,
                                    Anchor::Left,
                                    text,
                                );
                            }
                            left += tab;
                        }
                    }
                    Cell::Room => {}
                }
            }
            deepest = deepest.max(cells.len());
        }
        corner.y - pitch * deepest as f64 - 0.5 * GAP
    }
}

/// A list as it is printed.
struct Rows {
    head: String,
    rows: Vec<[String; 3]>,
}

#[derive(Debug, Clone)]
enum Cell {
    Head(String),
    Row([String; 3]),
    Room,
}

/// What is printed in columns of at most `limit` lines: a head is never left alone at a foot.
fn flow(lists: &[Rows], limit: usize, width: f64, text: f64) -> Vec<Vec<Cell>> {
    let mut out: Vec<Vec<Cell>> = vec![Vec::new()];
    for list in lists {
        let head = face::broken(&list.head, text, false, width);
        let last = out.len() - 1;
        let used = out[last].len() + usize::from(!out[last].is_empty());
        if !out[last].is_empty() && used + head.len() + list.rows.len().min(3) > limit {
            out.push(Vec::new());
        }
        let last = out.len() - 1;
        if !out[last].is_empty() {
            out[last].push(Cell::Room);
        }
        out[last].extend(head.into_iter().map(Cell::Head));
        for row in &list.rows {
            let last = out.len() - 1;
            if out[last].len() >= limit.max(2) {
                out.push(vec![Cell::Row(row.clone())]);
            } else {
                out[last].push(Cell::Row(row.clone()));
            }
        }
    }
    out
}

/// Corners, then every curved edge, then what else is plotted.
fn lists(part: &CardPart, units: Units) -> Vec<Rows> {
    let p = &part.plotted;
    let row = |name: &str, at: P2| [name.to_string(), units.figure(at.x), units.figure(at.y)];
    let heads = ["".to_string(), "along".to_string(), "off".to_string()];
    let mut corners = vec![heads.clone()];
    for (c, letter) in p.corners.iter().zip(&part.letters) {
        corners.push(row(letter, c.printed));
    }
    let mut out = vec![Rows { head: "corners".into(), rows: corners }];
    let mut number = 0;
    for (i, e) in p.edges.iter().enumerate() {
        if let Some(r) = e.round {
            let words = format!("{}: compass, radius {}", part.edge_words(i), units.show(r.radius));
            let centre = part.centre(r, units).printed;
            out.push(Rows { head: words, rows: vec![row("about", centre)] });
        }
        if e.marks.is_empty() {
            continue;
        }
        let over = if e.across { ", fair across the middle" } else { "" };
        let mut rows = vec![heads.clone()];
        for m in &e.marks {
            number += 1;
            rows.push(row(&number.to_string(), m.printed));
        }
        out.push(Rows { head: format!("{}{over}", part.edge_words(i)), rows });
    }
    for List { head, rows } in &part.lists {
        let rows = rows.iter().map(|(name, m)| row(name, m.printed)).collect();
        out.push(Rows { head: head.clone(), rows });
    }
    out
}

/// Which edges are drawn with a straightedge.
fn straight_words(part: &CardPart) -> Option<String> {
    let (straight, other): (Vec<usize>, Vec<usize>) =
        (0..part.plotted.edges.len()).partition(|i| {
            let e = &part.plotted.edges[*i];
            e.round.is_none() && e.marks.is_empty()
        });
    let named = |of: &[usize]| -> String {
        of.iter().map(|i| part.edge_words(*i)).collect::<Vec<_>>().join("; ")
    };
    if straight.is_empty() {
        None
    } else if other.is_empty() {
        Some("all edges straight".into())
    } else if straight.len() > other.len() {
        Some(format!("straight but for {}", named(&other)))
    } else {
        Some(format!("straight: {}", named(&straight)))
    }
}

/// What stands under the card's title, with what its figures are in.
fn under_title(card: &Card, units: Units) -> String {
    match units.explained() {
        Some(words) => format!("layout card · {} · {words}", card.subtitle),
        None => format!("layout card · {} · figures in {}", card.subtitle, unit_words(units)),
    }
}

fn unit_words(units: Units) -> &'static str {
    match units {
        Units::Mm => "millimetres",
        Units::M => "metres",
        Units::Inch => "inches",
        Units::InchFraction => "inches to sixteenths",
        Units::FeetInchesEighths => "feet, inches and eighths",
    }
}

impl CardPart {
    /// Where the compass stands for a round edge.
    pub(super) fn centre(
        &self,
        r: crate::flat::corners::Round,
        units: Units,
    ) -> crate::flat::ordinates::Mark {
        let up = V2::new(-self.plotted.along.y, self.plotted.along.x);
        let on_pattern = self.plotted.origin + r.centre.x * self.plotted.along + r.centre.y * up;
        self.plotted.mark(on_pattern, units)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_row_is_lost_and_no_column_is_longer_than_asked() {
        let row = |i: usize| [i.to_string(), "1".into(), "2".into()];
        let list = |n: usize| Rows { head: "chine".into(), rows: (0..n).map(row).collect() };
        let lists = [list(5), list(12), list(1), list(7)];
        for limit in 4..30 {
            let cells = flow(&lists, limit, 30.0, 2.0);
            let rows = cells.iter().flatten().filter(|c| matches!(c, Cell::Row(_))).count();
            assert_eq!(rows, 25);
            assert!(cells.iter().all(|c| c.len() <= limit), "{limit}");
            assert!(cells.iter().all(|c| !matches!(c.last(), Some(Cell::Head(_)))));
        }
    }
}
