//! The build book of the starters: every page laid out without a word off its room or over another,
//! everything that was found, listed and computed told in it, the same bytes twice.

use chinewright::book::{book, pdf};
use chinewright::drawing::compose::{Extent, OnPaper, Paper};
use chinewright::hull::Hull;
use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::stock::{Counted, SEED, StockList, stock};
use chinewright::model::{Model, derive};
use chinewright::stock::nest::Effort;
use chinewright::typeset::{Page, faults};
use chinewright::units::Units;
use chinewright::words::finding::said;

fn counted(hull: &Hull) -> (Model, StockList) {
    let model = derive(hull, &Materials::shipped()).expect("a model");
    let list = stock(&model, Effort::NONE, SEED, &mut |_, _| true);
    (model, list)
}

fn on(paper: Paper, units: Units) -> OnPaper {
    OnPaper { paper, units, extent: Extent::Half }
}

fn pages(hull: &Hull, model: &Model, list: &StockList, sheets: OnPaper) -> Vec<Page> {
    book(Counted { model, list: Some(list) }, hull, sheets).pages().expect("it can be laid out")
}

/// All words of a book, line after line, single spaces between them.
fn told(pages: &[Page]) -> String {
    let all: Vec<&str> = pages.iter().flat_map(Page::words).collect();
    all.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn no_word_lies_off_its_room_or_over_another() {
    for starter in STARTERS {
        let hull = starter.hull();
        let (model, list) = counted(&hull);
        for (paper, units) in [(Paper::A4, Units::Mm), (Paper::Letter, Units::FeetInchesEighths)] {
            let pages = pages(&hull, &model, &list, on(paper, units));
            let wrong = faults(&pages);
            assert!(
                wrong.is_empty(),
                "{}, {units:?}: {:#?}",
                starter.name,
                &wrong[..wrong.len().min(12)]
            );
            assert!(pages.len() > 30, "{}: {} pages", starter.name, pages.len());
        }
    }
}

/// A page that is left early is followed by one that begins a chapter or is a drawing's own.
#[test]
fn no_page_runs_short() {
    for starter in STARTERS {
        let hull = starter.hull();
        let (model, list) = counted(&hull);
        let pages = pages(&hull, &model, &list, on(Paper::A4, Units::Mm));
        for (k, w) in pages.windows(2).enumerate() {
            let ends = w[1].is_sheet() || w[1].begins_chapter();
            assert!(w[0].filled() > 0.55 || ends, "{}: page {}", starter.name, k + 1);
        }
    }
}

#[test]
fn everything_that_was_found_listed_and_bought_is_told() {
    for starter in STARTERS {
        let hull = starter.hull();
        let (model, list) = counted(&hull);
        let book = told(&pages(&hull, &model, &list, on(Paper::A4, Units::Mm)));
        let tells = |what: &str| {
            let what = what.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(book.contains(&what), "{}: {what:?} is not told", starter.name);
        };
        for f in model.findings.iter().chain(&list.findings) {
            tells(said(f, Units::Mm).message.trim_end_matches('.'));
        }
        for b in &list.stores.bought {
            tells(&b.product);
        }
        for (cut, _) in &list.lumber.cuts {
            tells(&cut.name);
        }
        for f in &model.woodwork.frames {
            tells(&format!("Frame {}", f.station));
        }
        for word in ["Launch day", "Index of pieces", "sheer clamp", "rocker"] {
            tells(word);
        }
    }
}

#[test]
fn the_same_book_is_the_same_bytes_and_small() {
    let hull = STARTERS[3].hull();
    let (model, list) = counted(&hull);
    let boat = || Counted { model: &model, list: Some(&list) };
    let first = pdf(boat(), &hull, on(Paper::A4, Units::Mm)).expect("a book");
    let again = pdf(boat(), &hull, on(Paper::A4, Units::Mm)).expect("a book");
    assert!(first == again && first.starts_with(b"%PDF-1.7"));
    assert!(first.len() < 3_000_000, "{}", first.len());
}

/// A boat without a stock list, and one whose name no face can draw, have a book too.
#[test]
fn a_boat_of_any_name_has_a_book() {
    let mut hull = STARTERS[3].hull();
    hull.name = "舟 of the mere".into();
    let model = derive(&hull, &Materials::shipped()).expect("a model");
    let bytes = pdf(&model, &hull, on(Paper::A4, Units::Mm)).expect("a book");
    assert!(bytes.len() > 10_000);
}
