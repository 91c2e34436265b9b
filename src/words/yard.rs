//! Only what the yard has: what is missing on the lists, what changes, and why boats fell.

use super::finding::{Said, said};
use super::stock::{kind_words, so_many};
use super::stores::not_borne;
use crate::model::stock::yard::{
    Because, Besides, Change, Doing, End, Family, Found, GlueOut, NotListed, Progress, Sheet, Why,
};
use crate::units::Units;

/// What the lists of a document lack, and a row that mends it.
pub fn not_listed(what: &NotListed, units: Units) -> String {
    match what {
        NotListed::Sheets(Sheet { name, .. }) => format!(
            "the document lists no sheets that the yard has: write each kind into stock.sheets, with how many there are (leave count out for as many as are wanted) and the price of one, for instance stock: (sheets: [(sheet: {name:?}, length_mm: 2440, width_mm: 1220, count: Some(4), price: Some(60))])"
        ),
        NotListed::Lumber(species, (moulded, sided)) => format!(
            "the document lists no lumber that the yard has: write each species and section into stock.lumber, with its lengths, how many there are of each and what they cost, for instance stock: (lumber: [{}]); the jig is cut from whatever of it gives its sticks, and from rows of species \"any\"",
            lumber_row(species, (*moulded, *sided))
        ),
        NotListed::Section(member, (moulded, sided)) => format!(
            "no lumber of the list gives {} for the {member}: a row of stock.lumber measures {moulded} or {sided} mm one way and no less than the other the other way, for instance {}",
            units.section(*moulded, *sided),
            lumber_row("Douglas-fir", (*moulded, *sided))
        ),
    }
}

fn lumber_row(species: &str, (moulded, sided): (f64, f64)) -> String {
    let (thin, wide) = (moulded.min(sided), moulded.max(sided).max(140.0));
    format!(
        "(species: {species:?}, thickness_mm: {thin}, width_mm: {wide}, lengths_mm: [2400, 3600], count: Some(6), price: Some(PerMetre(4.2)))"
    )
}

/// A change of the boat.
pub fn change(what: &Change, units: Units) -> String {
    let sheet = |s: &Sheet| kind_words(&s.name, s.thickness, units);
    match what {
        Change::Sheet { panel, from, to } => {
            format!("{panel}: {} instead of {}", sheet(to), sheet(from))
        }
        Change::Species { member, from, to, drops_test } => {
            let test = match drops_test {
                true => "; the test of its stick was of the other wood and is left out",
                false => "",
            };
            format!("{member}: {to} instead of {from}{test}")
        }
        Change::Glue { from, to } => format!("glue: {to} instead of {from}"),
        Change::Joint { from, to } => {
            format!("joint of her panels: {} instead of {}", to.word(), from.word())
        }
    }
}

/// Why boats fell.
pub fn why(what: &Why, units: Units) -> String {
    match what {
        Why::Finding(f) => {
            let Said { place, message, .. } = said(f, units);
            format!("{place}: {message}")
        }
        Why::Short { sheet, asks, has } => format!(
            "{sheet}: its parts take {}, and the sheets on the list have {}",
            units.area(*asks),
            units.area(*has)
        ),
        Why::OffList(stick) => {
            format!("{stick}: the lumber on the list is not what it is cut from")
        }
    }
}

/// Which boats fell.
pub fn family(what: &Family, units: Units) -> Option<String> {
    match what {
        Family::Sheet { panel, sheet } => {
            Some(format!("{panel} of {}", kind_words(&sheet.name, sheet.thickness, units)))
        }
        Family::Species { member, species } => Some(format!("{member} of {species}")),
        Family::Boats => None,
    }
}

/// Why a glue is not among those to choose from.
pub fn glue_out(what: &GlueOut, units: Units) -> String {
    match what {
        GlueOut::Bears(faults) => {
            faults.iter().map(|f| not_borne(f, units)).collect::<Vec<_>>().join("; ")
        }
        GlueOut::NoPrice => {
            "not compared, since its price or that of the present glue is not in the document"
                .into()
        }
    }
}

/// What is bought though it is not on the list.
pub fn besides(what: &Besides, units: Units) -> String {
    match what {
        Besides::Sheets { sheet, thickness, count } => format!(
            "{} of {}",
            so_many(*count, "sheet", "sheets"),
            kind_words(sheet, *thickness, units)
        ),
        Besides::Lumber { species, section: (thin, wide), count } => {
            let wood = if species.is_empty() { "any wood" } else { species };
            format!(
                "{} of {wood}, {}",
                so_many(*count, "length", "lengths"),
                units.section(*thin, *wide)
            )
        }
    }
}

/// How many boats were looked at, and whether there may be a cheaper one.
pub fn ended(found: &Found) -> String {
    let looked = format!("Looked at {} of {} boats", found.looked_at, found.possible);
    match (found.end, &found.answer) {
        (End::Proved, Some(_)) => format!(
            "{looked}: none of the rest can hold and cost less, its sheets laid at once as these are; both costs below are of sheets laid at once: laid for longer, as on the card, either may come down"
        ),
        (End::Proved, None) => format!("{looked}: none of them holds"),
        (End::Stopped, Some(_)) => {
            format!("{looked} until it was stopped: a cheaper one that holds there may be")
        }
        (End::Stopped, None) => {
            format!("{looked} until it was stopped, and none of those was laid out whole by then")
        }
    }
}

/// Whether the boat as she is would be an answer: she has no warning that another choice takes
/// away, and takes nothing that is not on the lists but what the answer takes too.
pub fn as_she_is(found: &Found, units: Units) -> String {
    if let Some(f) = &found.as_she_is {
        // What stops her whatever is chosen is no fault of a choice.
        return match found.stop {
            Some(_) => format!("As she is she is no answer: {}", why(f, units)),
            None => format!(
                "As she is she is no answer; another choice takes this away: {}",
                why(f, units)
            ),
        };
    }
    let off = off_the_lists(found, units);
    match off.is_empty() {
        true => "As she is she would be an answer, if the lists have enough for her".into(),
        false => format!(
            "As she is she holds, but takes what is on no list, so that her cost cannot be compared: {}",
            off.join("; ")
        ),
    }
}

/// What the boat as she is takes that is on no list, and the answer does not take.
pub fn off_the_lists(found: &Found, units: Units) -> Vec<String> {
    // Lumber that is on no list is the jig's or the frames', which any boat buys besides.
    let others = |b: &&Besides| match &found.answer {
        Some(a) => !a.besides.contains(b),
        None => matches!(b, Besides::Sheets { .. }),
    };
    let off = found.as_she_is_besides.iter().filter(others);
    off.map(|b| format!("{}: not on the list", besides(b, units))).collect()
}

/// Why a change is there: what would be without it.
pub fn because(what: &Because, currency: &str, units: Units) -> String {
    match what {
        Because::NotListed => "what she has now is on no list".into(),
        Because::Falls(f) => format!("without it she does not hold: {}", why(f, units)),
        Because::Dearer { more, unpriced, besides: off } => {
            let mut said = Vec::new();
            let money = |sum: f64| format!("{sum:.2} {currency}").trim_end().to_string();
            if *more >= LEAST_SUM {
                said.push(format!("cost {} more", money(*more)));
            }
            if *more <= -LEAST_SUM {
                said.push(format!("cost {} less as far as prices are known", money(-more)));
            }
            if *unpriced > 0 {
                said.push(format!(
                    "take {} more of no known price",
                    so_many(*unpriced, "thing", "things")
                ));
            }
            said.extend(off.iter().map(|b| format!("take {}, not on the list", besides(b, units))));
            match said.is_empty() {
                true => "without it she would cost the same".into(),
                false => format!("without it she would {}", said.join(" and ")),
            }
        }
    }
}

/// Sums that differ by less are the same: half of the last place that is told.
const LEAST_SUM: f64 = 0.005;

/// How far a search is.
pub fn progress(p: &Progress) -> String {
    let doing = match &p.doing {
        Doing::AsSheIs => "laying her sheets as she is".to_string(),
        Doing::Judging => "judging boats".into(),
        Doing::Laying { sheet, .. } => format!("laying {sheet}"),
    };
    format!("{doing}; looked at {} of {}", p.looked_at, p.possible)
}
