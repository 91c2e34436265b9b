//! What goes on paper: few pages, halves that fit a roll, no word on another.

use chinewright::drawing::compose::{
    Extent, OnPaper, Paper, jig_elevation, jig_plan, knee_pattern, lines_plan, outer_stem_pattern,
    stem_pattern,
};
use chinewright::drawing::export::tiling::page_plan;
use chinewright::drawing::face::{BELOW, TextBox};
use chinewright::drawing::{Drawing, Shape};
use chinewright::geom::P2;
use chinewright::hull::starters::find;
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::units::Units;

fn model(name: &str) -> Model {
    let hull = find(name).expect("a starter").hull();
    derive(&hull, &Materials::shipped()).expect("a starter derives")
}

fn on(paper: Paper, units: Units) -> OnPaper {
    OnPaper { paper, units, extent: Extent::Half }
}

/// Everything printed at full size, and what is drawn to a scale.
fn printed(m: &Model, sheets: OnPaper) -> (Vec<Drawing>, Vec<Drawing>) {
    let work = &m.woodwork;
    let mut full: Vec<Drawing> = m.panels.iter().map(|p| sheets.panel(m, p, &[])).collect();
    full.extend(work.frames.iter().map(|f| sheets.frame_parts(m, f)));
    for t in work.transom.iter().chain(&work.bow_transom) {
        full.push(sheets.transom(m, t));
        full.push(sheets.transom_parts(m, t));
    }
    if let Some(s) = &work.stem {
        full.push(stem_pattern(m, s, sheets.units));
        full.extend(s.outer.iter().map(|o| outer_stem_pattern(m, s, o, sheets.units)));
    }
    full.extend(work.knee.iter().map(|k| knee_pattern(m, k, sheets.units)));
    let mut scaled: Vec<Drawing> = work.frames.iter().map(|f| sheets.frame(m, f)).collect();
    scaled.push(lines_plan(m, sheets.units));
    if let Some(jig) = &work.strongback {
        scaled.push(jig_plan(m, jig, sheets.units));
        scaled.push(jig_elevation(m, jig, sheets.units));
    }
    (full, scaled)
}

/// Tiles and the map before them.
fn pages(d: &Drawing, paper: Paper) -> usize {
    let tiles = page_plan(d, paper.pages()).len();
    tiles + usize::from(tiles > 1)
}

/// Whole sheets took 408 pages of A4, printed wherever any line ran.
#[test]
fn a_skiffs_pack_is_a_third_of_what_whole_sheets_took() {
    let m = model("reed-skiff");
    let (full, scaled) = printed(&m, on(Paper::A4, Units::Mm));
    let count = |all: &[Drawing]| all.iter().map(|d| pages(d, Paper::A4)).sum::<usize>();
    // With the table of offsets.
    let total = count(&full) + count(&scaled) + 1;
    assert!((60..=124).contains(&total), "{total} pages");
    assert_eq!(count(&scaled), scaled.len(), "drawn to a scale, each is one page");
}

/// The whole bottom is 1.1 m wide; a common roll is 36 inches.
#[test]
fn half_a_bottom_fits_a_roll_of_914_mm() {
    let m = model("reed-skiff");
    let bottom = m.panels.iter().find(|p| p.full_width).expect("a flat bottom");
    let height = |extent| {
        let d = OnPaper { paper: Paper::Roll, units: Units::Mm, extent }.panel(&m, bottom, &[]);
        let plan = page_plan(&d, Paper::Roll.pages());
        assert_eq!(plan.len(), 1);
        plan[0].paper.1.y - plan[0].paper.0.y
    };
    assert!(height(Extent::Half) <= 914.0, "{}", height(Extent::Half));
    assert!(height(Extent::Whole) > 914.0);
}

/// In millimetres and in the longer notation of the loft.
#[test]
fn no_word_stands_on_another() {
    for name in ["reed-skiff", "warden", "sluice-pram"] {
        let m = model(name);
        for units in [Units::Mm, Units::FeetInchesEighths] {
            let (full, scaled) = printed(&m, on(Paper::Letter, units));
            for mut d in full.into_iter().chain(scaled) {
                d.settle_words();
                let texts: Vec<_> = d.items.iter().filter_map(|i| i.shape.text_box()).collect();
                assert!(!texts.is_empty(), "{} says nothing", d.title);
                for (i, a) in texts.iter().enumerate() {
                    for b in &texts[..i] {
                        assert!(!a.meets(b, 0.0), "{name}, {}: {a:?} on {b:?}", d.title);
                    }
                }
            }
        }
    }
}

/// A builder who reads feet-inches-eighths is told what they are on every pattern, and reads
/// no millimetres there.
#[test]
fn patterns_speak_the_readers_units() {
    let m = model("warden");
    let sheets = on(Paper::Letter, Units::FeetInchesEighths);
    let work = &m.woodwork;
    let mut all: Vec<Drawing> = m.panels.iter().map(|p| sheets.panel(&m, p, &[])).collect();
    all.extend(work.frames.iter().flat_map(|f| [sheets.frame(&m, f), sheets.frame_parts(&m, f)]));
    all.extend(work.transom.iter().map(|t| sheets.transom_parts(&m, t)));
    let explained = Units::FeetInchesEighths.explained().expect("the notation is explained");
    for d in &all {
        assert!(d.notes.iter().any(|n| n.contains(explained)), "{}", d.title);
        let texts = d.items.iter().filter_map(|i| match &i.shape {
            chinewright::drawing::Shape::Text { text, .. } => Some(text),
            chinewright::drawing::Shape::Polyline { .. } => None,
        });
        for text in texts.chain(&d.notes).chain([&d.subtitle]) {
            assert!(!text.contains(" mm"), "{}: {text}", d.title);
        }
    }
}

/// Length of line through the letters of a text, in heights of its capitals.
fn struck(d: &Drawing) -> Vec<(f64, String)> {
    let mut lines: Vec<[P2; 2]> = Vec::new();
    for i in &d.items {
        if let Shape::Polyline { points, closed } = &i.shape {
            lines.extend(points.windows(2).map(|w| [w[0], w[1]]));
            if *closed && let (Some(a), Some(b)) = (points.last(), points.first()) {
                lines.push([*a, *b]);
            }
        }
    }
    let mut out = Vec::new();
    for i in &d.items {
        let (Some(b), Shape::Text { height, text, .. }) = (i.shape.text_box(), &i.shape) else {
            continue;
        };
        // Between the baseline and the capitals' height.
        let up = b.up.normalize();
        let letters = TextBox { low: b.low + BELOW * *height * up, up: *height * up, ..b };
        let through: f64 = lines.iter().map(|l| letters.length_within(l)).sum();
        out.push((through / height, text.clone()));
    }
    out
}

/// Figures of the frames' sheets stood in dimension lines, sections in arrows and both in the
/// level line: worst the dory's frame 8 with eleven words of 35.
#[test]
fn words_on_a_frames_sheet_are_not_struck_through() {
    for name in ["reed-skiff", "warden", "sluice-pram", "mere-dory"] {
        let m = model(name);
        for sheets in [on(Paper::A4, Units::Mm), on(Paper::Letter, Units::FeetInchesEighths)] {
            for f in &m.woodwork.frames {
                let d = sheets.frame(&m, f);
                let words = struck(&d);
                let bad: Vec<_> = words.iter().filter(|w| w.0 > 0.5).collect();
                let sheet = format!("{name}, frame {}: {bad:?}", f.station);
                assert!(words.len() > 15, "{sheet}");
                // In the narrowest frames a line crosses one or two: none lies in its word.
                assert!(bad.len() <= 3 && bad.iter().all(|w| w.0 < 4.0), "{sheet}");
            }
        }
    }
}
