//! What is bought, shop by shop, and before which work.

use super::Of;
use crate::model::stock::{Asked, StockList};
use crate::stock::stores::fastenings::JIG_SCREW;
use crate::stock::stores::{Bought, CountedFrom};
use crate::typeset::{Block, Table, Text};
use crate::words::cautions;
use crate::words::stock::{asked, cost_words, kind_words};
use crate::words::stores::{how_much, quantity, with_loss};

/// The work before which something is wanted, in the order of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Wanted {
    Jig,
    Frames,
    Planking,
    Cloth,
    Paint,
}

impl Wanted {
    const ALL: [Wanted; 5] =
        [Wanted::Jig, Wanted::Frames, Wanted::Planking, Wanted::Cloth, Wanted::Paint];

    fn word(self) -> &'static str {
        match self {
            Wanted::Jig => "Before the jig is built",
            Wanted::Frames => "Before frames, stem and transom are put together",
            Wanted::Planking => "Before she is planked",
            Wanted::Cloth => "Before she is clothed",
            Wanted::Paint => "Before she is painted",
        }
    }

    /// Of one of the stores, by what it was counted for first.
    fn of_store(list: &StockList, b: &Bought) -> Wanted {
        let lines = || b.lines.iter().map(|i| &list.stores.lines[*i]);
        let of = |from: &CountedFrom| match from {
            CountedFrom::Paint { .. }
            | CountedFrom::UsedUp { coat: true, .. }
            | CountedFrom::Foam { .. } => Wanted::Paint,
            CountedFrom::Runs { .. }
            | CountedFrom::Tape { .. }
            | CountedFrom::Cloth { .. }
            | CountedFrom::Weave { .. }
            | CountedFrom::Fairing { .. } => Wanted::Cloth,
            _ => Wanted::Frames,
        };
        match lines().any(|l| l.name.starts_with(JIG_SCREW)) {
            true => Wanted::Jig,
            false => lines().map(|l| of(&l.from)).min().unwrap_or(Wanted::Frames),
        }
    }

    /// Of a sheet: what is no panel's is wanted for frames and transom.
    fn of_sheet(of: &Of, sheet: &str) -> Wanted {
        match of.model.panels.iter().any(|p| p.sheet == sheet) {
            true => Wanted::Planking,
            false => Wanted::Frames,
        }
    }
}

/// The chapter.
pub(super) fn shopping(of: &Of) -> Vec<Block> {
    let Some(list) = of.list else {
        return Vec::new();
    };
    let currency = &of.model.hull.stock.currency;
    let mut out = vec![Block::heading(1, "What to buy")];
    out.push(Block::words(
        Text::bold("Cost: ").and(format!("{}.", cost_words(&list.cost, currency))),
    ));
    out.push(Block::heading(2, "At the yard"));
    out.push(Block::Table(yard(of, list)));
    out.push(Block::heading(2, "At the chandler's and the hardware shop"));
    out.push(Block::Table(stores(of, list)));
    out.push(Block::heading(2, "What is wanted when"));
    out.push(Block::words("Glue, resin and paint keep badly once they are open, and sheets warp where they lie about: buy for the work in hand."));
    out.extend(by_work(of, list));
    out.push(Block::heading(2, "How each store was counted"));
    out.push(Block::Table(counted(of, list)));
    out.push(Block::caution(cautions::beside_glue(&of.model.hull.stock.glue)));
    let names = list.stores.lines.iter().map(|l| l.name.as_str());
    out.extend(cautions::beside_stores(names).into_iter().map(Block::caution));
    out
}

fn price(of: Option<f64>) -> String {
    of.map_or(String::new(), |p| format!("{p:.2}"))
}

fn yard(of: &Of, list: &StockList) -> Table {
    let units = of.units();
    let mut t = Table::of(&[">how many", "what", ">price"]);
    for a in list.asked_for() {
        t.row([a.count.to_string(), asked(&a.what, units), price(a.price)]);
    }
    t
}

fn stores(of: &Of, list: &StockList) -> Table {
    let mut t = Table::of(&["what", "how much", ">price"]);
    for b in &list.stores.bought {
        t.row([b.product.clone(), how_much(b, of.units()), price(b.price)]);
    }
    t
}

fn by_work(of: &Of, list: &StockList) -> Vec<Block> {
    let units = of.units();
    let jig = |a: &Asked| matches!(a, Asked::Board { species, .. } if species.is_empty());
    let mut out = Vec::new();
    for wanted in Wanted::ALL {
        let mut items: Vec<Text> = Vec::new();
        for a in list.asked_for() {
            let when = match &a.what {
                Asked::Sheet { sheet, .. } => Wanted::of_sheet(of, sheet),
                what if jig(what) => Wanted::Jig,
                Asked::Board { .. } => Wanted::Frames,
            };
            if when == wanted {
                items.push(format!("{} of {}", a.count, asked(&a.what, units)).into());
            }
        }
        let own = |b: &&Bought| Wanted::of_store(list, b) == wanted;
        items.extend(
            list.stores
                .bought
                .iter()
                .filter(own)
                .map(|b| format!("{}: {}", b.product, how_much(b, units)).into()),
        );
        if !items.is_empty() {
            out.push(Block::Together(vec![Block::heading(3, wanted.word()), Block::List(items)]));
        }
    }
    out
}

fn counted(of: &Of, list: &StockList) -> Table {
    let units = of.units();
    let mut t = Table::of(&["what", ">quantity", "worked from", "source"]);
    for l in &list.stores.lines {
        t.row([
            l.name.clone(),
            quantity(l.quantity, l.unit, units),
            with_loss(l, units),
            l.source.clone(),
        ]);
    }
    for kind in &list.sheets {
        t.row([
            kind_words(&kind.sheet, kind.thickness, units),
            format!("{} to buy", kind.layout.bought(&kind.problem)),
            format!("the layouts of this book; fewer than {} cannot do", kind.layout.bound.sheets),
            "our own search, checked part by part on the true outlines".into(),
        ]);
    }
    t
}
