//! The order of the work: a box for each step, with a picture of what stands by then.

use super::{Of, pictures};
use crate::part::PartId;
use crate::typeset::{Block, Check, Text};
use crate::words::cautions;
use crate::words::order::{Step, build_order};

/// A pair of hands more is wanted from this weight on that is lifted at once, kg. Common practice,
/// no source.
const ALONE_KG: f64 = 25.0;

/// The chapter.
pub(super) fn order(of: &Of) -> Vec<Block> {
    let units = of.units();
    let steps = build_order(of.model, units);
    let mut out = vec![
        Block::heading(1, "The order of the work"),
        Block::words(
            "Tick each box when it is done, and write down the hours: the next step will take as long as the last one did, not as long as was hoped. What is glued stays clamped until its glue has set; nothing is planed before that.",
        ),
        Block::heading(2, "Before the jig"),
    ];
    out.extend(before(of).into_iter().map(Block::Check));
    out.push(Block::heading(2, "On the jig"));
    let mut done: Vec<PartId> = Vec::new();
    for (n, step) in steps.iter().enumerate() {
        done.extend(&step.parts);
        let caption = format!("Step {}: {}", n + 1, step.title);
        let mut block = vec![Block::Check(check(of, n, step))];
        if told_by_picture(&steps, n) {
            block.extend(pictures::on_jig(of, &done, &step.parts, &caption).map(Block::Figure));
        }
        out.push(Block::Together(block));
    }
    out.push(Block::heading(2, "Off the jig"));
    out.extend(after(of).into_iter().map(Block::Check));
    for words in [cautions::SAW, cautions::DUST, cautions::beside_glue(&of.model.hull.stock.glue)] {
        out.push(Block::caution(words));
    }
    out
}

/// A picture for the first and the last of a run of like steps: six frames look alike.
fn told_by_picture(steps: &[Step], n: usize) -> bool {
    let kind = |s: &Step| s.parts.first().map(std::mem::discriminant);
    let same = |k: Option<usize>| k.and_then(|k| steps.get(k)).map(kind) == Some(kind(&steps[n]));
    !(same(n.checked_sub(1)) && same(Some(n + 1)))
}

fn check(of: &Of, n: usize, step: &Step) -> Check {
    let mass: f64 =
        step.parts.iter().filter_map(|id| of.model.parts.get(*id)).map(|p| p.mass).sum();
    let mut body: Vec<Text> = vec![step.how.clone().into()];
    let panel = matches!(step.parts.first(), Some(PartId::Panel(_)));
    let each = match step.parts.first().and_then(|id| of.model.parts.get(*id)) {
        Some(p) => p.mass / p.copies.count().max(1) as f64,
        None => mass,
    };
    if panel && each > 0.0 {
        let hands = if each > ALONE_KG {
            "ask somebody to help hang it"
        } else {
            "one can lift it; a prop or a second pair of hands holds the far end while it is fastened"
        };
        body.push(format!("It weighs {}: {hands}.", of.units().mass(each)).into());
    }
    Check {
        title: Text::bold(format!("{}. {}", n + 1, step.title)),
        body,
        beside: "hours ________".into(),
    }
}

fn simple(title: &str, body: &str) -> Check {
    Check { title: Text::bold(title), body: vec![body.into()], beside: "hours ________".into() }
}

fn before(of: &Of) -> Vec<Check> {
    let mut out = vec![
        simple(
            "Measure what was bought",
            "Thickness of each sheet and each board with a caliper, in three places. Where they differ from the figures in this book, put the measured ones into the document and print anew: patterns, notches and bevels follow.",
        ),
        simple(
            "Frames, stem and transom",
            "Saw and put together as the chapters tell; level line and centre marked on each, both faces. They are stacked flat until the jig stands.",
        ),
    ];
    let joined = of.list.is_some_and(|l| l.panels.iter().any(|p| !p.split.joints.is_empty()));
    if joined {
        out.push(simple(
            "Join the panels",
            "Mark and saw the pieces, join them flat on the floor over a sheet of film, weighted; leave until the glue has set through. What does not bend to its joint is joined on the boat, as the chapter of sheets says.",
        ));
    }
    out
}

fn after(of: &Of) -> Vec<Check> {
    let hull = of.model.afloat.as_deref().map(|a| of.units().mass(a.hull.mass));
    let weight =
        hull.map_or(String::new(), |m| format!(" She weighs about {m} by then with paint."));
    let afloat = &of.model.hull.afloat;
    let mut out = vec![simple(
        "Round, fill, fair",
        "Round every outside edge that is taped to the radius that cloth takes (6 mm, a quarter inch, or more); fill screw heads and seams; long-board it fair.",
    )];
    if afloat.cloth_g_m2 > 0.0 {
        out.push(simple(
            "Tape and cloth",
            "Tape the seams, then cloth by the cut list; wet it through, squeegee, and fill the weave with coats while each is still green. Wash the blush off before anything else goes on.",
        ));
    }
    out.push(simple(
        "Prime and paint outside",
        "As the schedule of finishing says, while she lies keel up: it is the last time that it is easy.",
    ));
    out.push(Check {
        title: Text::bold("Turn her over"),
        body: vec![
            format!("Cut her free of the legs. Slings or mattresses under the low side, somebody at each end; nobody under her.{weight}").into(),
        ],
        beside: "hours ________".into(),
    });
    out.push(simple(
        "Inside",
        "Spalls out once seats or a gunwale hold her breadth. Fillets and tape inside, limbers clear, flotation in, seats, then paint.",
    ));
    out.push(simple(
        "Mark the waterline",
        "By the table of the chapter that tells how she floats, before the last coat.",
    ));
    out
}
