//! The block of words of a sheet: its title and whose it is, then its notes, broken to the
//! room there is.

use super::tiling::{PageSize, Tiling};
use crate::drawing::face::{broken, width};
use crate::drawing::{Anchor, Drawing, Purpose};
use crate::geom::{P2, V2};

/// Heights of capitals, mm: the title, what stands under it, a note. A note is about as large
/// as type of ten points, which is read at arm's length.
pub(super) const TITLE: f64 = 4.0;
const UNDER: f64 = 2.6;
const NOTE: f64 = 2.4;
/// From baseline to baseline of a broken note, over its height of capitals, and between notes.
const LEAD: f64 = 1.75;
const BETWEEN: f64 = 2.3;
/// Past this width (mm) notes stand in two columns: longer lines are lost by the eye.
const ONE_COLUMN: f64 = 215.0;
/// Between two columns, mm.
const GUTTER: f64 = 9.0;

/// A line of the block.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    pub(super) text: String,
    /// Height of capitals, mm.
    pub(super) height: f64,
    pub(super) bold: bool,
    /// Its baseline's left end from the block's upper left corner, mm right and down.
    pub(super) at: (f64, f64),
    /// The baseline of the last line of the same note, mm down.
    pub(super) note_ends: f64,
}

/// Lines set to a width.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Block {
    pub(super) lines: Vec<Line>,
    /// mm.
    pub(super) height: f64,
}

impl Block {
    /// The words of a sheet, `room` mm wide. `said` are what the pages themselves need to say
    /// (how they are put together) and stand before the notes.
    pub(super) fn of(drawing: &Drawing, said: &[String], room: f64) -> Block {
        let mut head = Block::default();
        head.set(&drawing.title, TITLE, true, 0.0, room, TITLE);
        head.set(&drawing.subtitle, UNDER, false, 0.0, room, BETWEEN * UNDER);
        for text in said {
            head.set(text, NOTE, false, 0.0, room, BETWEEN * NOTE);
        }
        if room <= ONE_COLUMN || drawing.notes.len() < 2 {
            for text in &drawing.notes {
                head.set(text, NOTE, false, 0.0, room, BETWEEN * NOTE);
            }
            return head.closed();
        }
        let column = 0.5 * (room - GUTTER);
        let alone = |notes: &[String]| {
            let mut b = Block::default();
            for text in notes {
                b.set(text, NOTE, false, 0.0, column, BETWEEN * NOTE);
            }
            b
        };
        // The split that leaves the lower block least deep.
        let (left, right) = (1..drawing.notes.len())
            .map(|k| (alone(&drawing.notes[..k]), alone(&drawing.notes[k..])))
            .min_by(|a, b| {
                let deep = |p: &(Block, Block)| p.0.height.max(p.1.height);
                deep(a).total_cmp(&deep(b))
            })
            .unwrap_or_default();
        let top = head.height;
        head.height += left.height.max(right.height);
        for (part, x) in [(left, 0.0), (right, column + GUTTER)] {
            head.lines.extend(part.lines.into_iter().map(|l| Line {
                at: (l.at.0 + x, l.at.1 + top),
                note_ends: l.note_ends + top,
                ..l
            }));
        }
        head.closed()
    }

    /// Adds a text under what is there, its first baseline `down` mm further down.
    fn set(&mut self, text: &str, height: f64, bold: bool, x: f64, room: f64, down: f64) {
        let begun = self.lines.len();
        for (i, line) in broken(text, height, bold, room).into_iter().enumerate() {
            self.height += if i == 0 { down } else { LEAD * height };
            // A single word wider than the room is set smaller.
            let wide = width(&line, height, bold);
            let height = if wide > room { height * room / wide } else { height };
            let at = (x, self.height);
            self.lines.push(Line { text: line, height, bold, at, note_ends: at.1 });
        }
        self.lines[begun..].iter_mut().for_each(|l| l.note_ends = self.height);
    }

    /// With room for the tails of the last line.
    fn closed(mut self) -> Block {
        self.height += 0.5 * NOTE;
        self
    }

    /// Cuts off what reaches deeper than `depth` mm, whole notes where any end before that; the
    /// rest begins a block of its own.
    pub(super) fn cut_at(self, depth: f64) -> (Block, Block) {
        let within = |down: f64| down + 0.5 * NOTE <= depth;
        let whole = self.lines.iter().any(|l| within(l.note_ends));
        let (first, mut rest): (Vec<Line>, Vec<Line>) =
            self.lines.into_iter().partition(|l| within(if whole { l.note_ends } else { l.at.1 }));
        let top = rest.iter().map(|l| l.at.1).fold(f64::INFINITY, f64::min) - BETWEEN * NOTE;
        rest.iter_mut().for_each(|l| {
            l.at.1 -= top;
            l.note_ends -= top;
        });
        let deep = |lines: &[Line]| lines.iter().map(|l| l.at.1 + 0.5 * NOTE).fold(0.0, f64::max);
        let (a, b) = (deep(&first), deep(&rest));
        (Block { lines: first, height: a }, Block { lines: rest, height: b })
    }
}

/// Height of the words that are written below a drawing in other files than PDF: over the
/// drawing's longer side, and its least and greatest value, mm.
const BELOW_SHARE: f64 = 1.0 / 250.0;
const BELOW_LEAST: f64 = 5.0;
const BELOW_MOST: f64 = 16.0;

/// The drawing with its title and notes as texts under it, on its layer of words.
pub(super) fn with_words_below(drawing: &Drawing) -> Drawing {
    let mut out = drawing.clone();
    let (low, high) = drawing.bounds().unwrap_or((P2::origin(), P2::new(1.0, 1.0)));
    let of_words = drawing.layers.iter().position(|l| l.purpose == Purpose::Words);
    let Some(layer) = of_words.or(drawing.layers.len().checked_sub(1)) else {
        return out;
    };
    let span = (high.x - low.x).max(high.y - low.y);
    let height = (BELOW_SHARE * span).clamp(BELOW_LEAST, BELOW_MOST);
    let room = (high.x - low.x).max(90.0 * height);
    let mut y = low.y - 3.0 * height;
    let head = [&drawing.title, &drawing.subtitle, &drawing.mark];
    for text in head.into_iter().filter(|t| !t.is_empty()).chain(&drawing.notes) {
        for line in broken(text, height, false, room) {
            y -= LEAD * height;
            out.text(layer, P2::new(low.x, y), height, 0.0, Anchor::Left, line);
        }
        y -= (BETWEEN - LEAD) * height;
    }
    out
}

/// Where a block may stand beside or above a drawing of a given size on one page, and the
/// shift of the drawing's lower left corner from the window's.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Beside {
    pub(super) block: Block,
    /// Upper left corner of the block in the window, mm right and down.
    pub(super) at: (f64, f64),
    /// Lower left corner of the drawing from the window's, mm right and up.
    pub(super) drawing: V2,
}

/// Room between the block and the drawing, mm.
const APART: f64 = 6.0;
/// A column beside a drawing is no narrower than this, mm.
const NARROWEST: f64 = 70.0;

impl Beside {
    /// In a window of `w` by `h` mm, above a drawing of `size` or at its right; `None` where
    /// it would touch it.
    pub(super) fn find(
        drawing: &Drawing,
        said: &[String],
        (w, h): (f64, f64),
        size: V2,
    ) -> Option<Beside> {
        if size.x > w || size.y > h {
            return None;
        }
        let above = Block::of(drawing, said, w);
        if above.height + APART + size.y <= h {
            let left = 0.5 * (w - size.x);
            let spare = h - above.height - APART - size.y;
            return Some(Beside {
                block: above,
                at: (0.0, 0.0),
                drawing: V2::new(left, 0.5 * spare),
            });
        }
        let column = w - size.x - APART;
        if column >= NARROWEST {
            let block = Block::of(drawing, said, column);
            if block.height <= h {
                let up = 0.5 * (h - size.y);
                return Some(Beside {
                    block,
                    at: (size.x + APART, 0.0),
                    drawing: V2::new(0.0, up),
                });
            }
        }
        None
    }
}

/// Width and height (mm) that one upright page of this size leaves a drawing under its words:
/// no more, and both stand on one page.
pub fn room_below(drawing: &Drawing, page: PageSize) -> (f64, f64) {
    let (w, h) = Tiling::window(page);
    (w, h - Block::of(drawing, &[], w).height - APART)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(notes: usize) -> Drawing {
        let mut d = Drawing::new("a boat: a part", "9 mm", Vec::new());
        for k in 0..notes {
            d.note(format!(
                "sentence {k} of what a builder has to know before the saw is set to it"
            ));
        }
        d
    }

    fn words(b: &Block) -> String {
        let mut all: Vec<&str> = b.lines.iter().flat_map(|l| l.text.split(' ')).collect();
        all.sort_unstable();
        all.join(" ")
    }

    /// However it is set, every word is there, none past the room, no line on another.
    #[test]
    fn a_block_keeps_every_word_inside_its_room() {
        let d = sheet(9);
        let want = {
            let text = format!("{} {} tape {}", d.title, d.subtitle, d.notes.join(" "));
            let mut all: Vec<&str> = text.split(' ').collect();
            all.sort_unstable();
            all.join(" ")
        };
        for room in [40.0, 190.0, 277.0] {
            let b = Block::of(&d, &["tape".into()], room);
            assert_eq!(words(&b), want);
            for (i, l) in b.lines.iter().enumerate() {
                let end = l.at.0 + width(&l.text, l.height, l.bold);
                assert!(end <= room + 1e-9, "{l:?} past {room}");
                assert!(l.at.1 <= b.height);
                for m in &b.lines[..i] {
                    let apart = (l.at.1 - m.at.1).abs() >= 1.4 * l.height.min(m.height)
                        || end <= m.at.0
                        || m.at.0 + width(&m.text, m.height, m.bold) <= l.at.0;
                    assert!(apart, "{l:?} on {m:?}");
                }
            }
        }
    }

    #[test]
    fn a_block_that_is_cut_goes_on_without_loss() {
        let b = Block::of(&sheet(30), &[], 120.0);
        let (first, rest) = b.clone().cut_at(50.0);
        // No note is broken over the two.
        let ends = |l: &Line| (l.note_ends - l.at.1).abs() < 1e-9;
        assert!(first.lines.last().is_some_and(ends));
        assert!(rest.lines.last().is_some_and(ends));
        assert!(first.height <= 50.0 && !rest.lines.is_empty());
        assert_eq!(first.lines.len() + rest.lines.len(), b.lines.len());
        assert!(rest.lines[0].at.1 < 10.0);
    }

    /// What lies on a page lying has no room for its words there, and none upright either.
    #[test]
    fn a_wide_drawing_is_not_put_on_a_page_too_narrow_for_it() {
        let d = sheet(3);
        let wide = V2::new(265.0, 172.0);
        assert_eq!(Beside::find(&d, &[], (277.0, 176.0), wide), None);
        assert_eq!(Beside::find(&d, &[], (190.0, 263.0), wide), None);
        assert!(Beside::find(&d, &[], (277.0, 176.0), V2::new(265.0, 90.0)).is_some());
    }

    #[test]
    fn words_below_a_drawing_do_not_touch_it() {
        let mut d = sheet(4);
        d.layers.push(crate::drawing::Layer {
            name: "CUT",
            width: 0.5,
            dash: crate::drawing::Dash::Solid,
            colour: [0; 3],
            purpose: crate::drawing::Purpose::Cut,
        });
        d.line(0, P2::new(0.0, -20.0), P2::new(900.0, 30.0));
        let told = with_words_below(&d);
        let texts: Vec<_> = told.items.iter().filter_map(|i| i.shape.text_box()).collect();
        assert!(texts.len() >= 5);
        assert!(texts.iter().all(|b| b.corners().iter().all(|p| p.y < -20.0)));
    }
}
