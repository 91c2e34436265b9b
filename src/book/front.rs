//! The cover, how the book is used, and what is in it.

use super::Of;
use super::pictures::{self, Seen};
use crate::finding::Severity;
use crate::report::mark_words;
use crate::typeset::{Block, Text};
use crate::units::Units;

/// The first pages.
pub(super) fn front(of: &Of) -> Vec<Block> {
    let (model, units) = (of.model, of.units());
    let size = format!(
        "{} long, {} beam, {} deep, to the inside of the planking",
        units.show(model.lines.length_overall()),
        units.show(model.lines.beam_overall()),
        units.show(model.lines.depth())
    );
    let picture = pictures::hull(of, Seen::Planked, "She, planked");
    let foot = format!("Made from the document of {}.", mark_words(of.document));
    let legal = "Figures are worked from her lines and from the tables named beside them. They do not replace local rules, a surveyor, or a test piece of your own stock: local codes and licensed practice decide.";
    let mut out = vec![Block::Cover {
        title: model.hull.name.clone(),
        under: vec!["The build book".into(), size.into()],
        picture,
        foot: vec![foot.into(), legal.into()],
    }];
    out.push(Block::heading(1, "How to use this book"));
    if model.findings.iter().any(|f| f.severity == Severity::Stop) {
        out.push(Block::Caution(
            Text::bold("Not to be built as she is. ")
                .page_of("What stands against her is on page ", "What was found"),
        ));
    }
    out.push(Block::List(uses(of)));
    out.push(Block::heading(1, "What is in it"));
    out.push(Block::Contents);
    out
}

fn uses(of: &Of) -> Vec<Text> {
    let tape = match of.units() {
        Units::Mm => "All lengths are millimetres, as a steel tape shows them; areas and volumes are in metres and litres.".to_string(),
        u => match u.explained() {
            Some(how) => format!("Lengths are in the tape's own way: {how}."),
            None => "All lengths are inches.".into(),
        },
    };
    vec![
        Text::bold("In the order of the work. ").and(
            "Read it through once before anything is bought. Then go by the order of work, tick each box, and write down what a step took.",
        ),
        Text::bold("Lengths. ").and(tape),
        Text::bold("Patterns at full size ").and(
            "are files of their own beside this book, in the folders patterns and frames, since they are printed on tiles or a roll: print them at 100 %, measure the check on each tile, and tape them together. Nothing is cut from a drawing of this book that is to a scale.",
        ),
        Text::bold("Layout cards ").and(
            "say the same by figures: base line, points along it and out from it, a batten through them. With tape, square and batten they take the place of the tiles.",
        ),
        Text::bold("Cautions ").and(
            "are ruled at the left, beside the work where they hold. The maker's own sheet for a glue, a paint or a tool goes before them.",
        ),
        Text::bold("Her mark ").and(format!(
            "is {}. It stands at the foot of every page, pattern and card; sheets of another mark are of another state of her.",
            mark_words(of.document)
        )),
    ]
}
