//! Everything sawn from lumber, cut from the lengths that can be had.

mod blanks;

use std::collections::BTreeSet;

use blanks::{board, post_at, stem_parts};

use crate::hull::stock::{SoldBy, StockPlan};
use crate::model::Model;
use crate::part::{Copies, CutFrom, MemberId, Part, PartId, Use};
use crate::stock::lumber::{
    Board, Cut, CutPiece, Effort, Length, LumberPlan, Rules, Scarfs, plan_within,
};
use crate::units::MM_PER_FOOT;

/// What is sawn, from what, and how.
#[derive(Debug, Clone, PartialEq)]
pub struct LumberList {
    /// The sticks, and which part each is.
    pub cuts: Vec<(Cut, PartId)>,
    /// Lengths that can be had.
    pub lengths: Vec<Length>,
    /// How they are cut.
    pub rules: Rules,
    /// Which of them are bought, and how they are cut.
    pub plan: LumberPlan,
}

impl LumberList {
    /// Nothing cut from nothing.
    pub(super) fn none() -> LumberList {
        LumberList {
            cuts: Vec::new(),
            lengths: Vec::new(),
            rules: Rules::default(),
            plan: LumberPlan::default(),
        }
    }

    /// Length of a piece when what was left long at the stick's own ends is trimmed, mm.
    pub fn finished(&self, piece: &CutPiece) -> f64 {
        let joints = self.joints(piece.cut);
        let ends = usize::from(piece.part == 0) + usize::from(piece.part == joints);
        piece.length - ends as f64 * self.cuts[piece.cut].0.trim
    }

    /// In how many places a stick is joined of pieces.
    pub fn joints(&self, cut: usize) -> usize {
        self.plan.scarfs.iter().find(|s| s.cut == cut).map_or(0, |s| s.at.len())
    }

    /// Where a board is crosscut over its whole width before it is ripped, mm from its trimmed
    /// end; nothing for one that is ripped full length.
    pub fn crosscuts(&self, board: &Board) -> Vec<f64> {
        let mut begins: Vec<f64> = board.strips.iter().map(|s| s.from).collect();
        begins.sort_by(f64::total_cmp);
        begins.dedup();
        begins.iter().skip(1).map(|from| from - self.rules.kerf).collect()
    }

    /// What is left of a board's length behind its last piece, mm, its ends trimmed.
    pub fn spare(&self, board: &Board) -> f64 {
        let usable = self.lengths[board.stock].length - 2.0 * self.rules.end_trim;
        let taken = board.strips.iter().map(|s| {
            let cuts = s.pieces.len().saturating_sub(1) as f64 * self.rules.kerf;
            s.from + s.pieces.iter().map(|p| p.length).sum::<f64>() + cuts
        });
        usable - taken.fold(0.0, f64::max)
    }
}

/// A board whose pieces leave less than this (mm) is measured first: a yard's lengths are out by
/// as much. Our judgement, no source.
pub(super) const LITTLE_TO_SPARE_MM: f64 = 10.0;
/// A cleat over a butted joint of a jig's rail is so many times as long as the rail is wide: a
/// hand's breadth more than twice on either side. Common practice, no source.
const CLEAT_WIDTHS: f64 = 4.0;

/// A scarf stays this far from where its stick is bent tightest, mm. Our judgement, no source.
const CLEAR_OF_BEND_MM: f64 = 300.0;
/// Lengths of a yard, mm, and of one that sells by feet. Common practice, no source.
const METRIC_MM: [f64; 6] = [1800.0, 2400.0, 3000.0, 3600.0, 4200.0, 4800.0];
const FEET: [f64; 6] = [6.0, 8.0, 10.0, 12.0, 14.0, 16.0];

/// The list.
pub(super) fn lumber(model: &Model, effort: Effort) -> LumberList {
    Wanted::of(model).planned(effort)
}

/// What is to be cut, from what, by which rules.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wanted {
    /// The sticks, and which part each is.
    pub(super) cuts: Vec<(Cut, PartId)>,
    /// Lengths that can be had: those of the document first.
    pub(super) lengths: Vec<Length>,
    /// How many of them are the document's.
    pub(super) listed: usize,
    rules: Rules,
    /// What each member lies along.
    along: Vec<String>,
    yard: Yard,
}

/// What a yard has of wood that the document does not list.
#[derive(Debug, Clone, PartialEq)]
struct Yard {
    /// Widths of its boards, mm.
    widths: Vec<f64>,
    /// Their lengths, mm.
    lengths: Vec<f64>,
}

/// So many widths of a yard are looked at for a stick, from the narrowest that holds it: a wider
/// one is ripped where that saves wood. Our judgement, no source.
const WIDTHS_FOR_A_STICK: usize = 4;

impl Yard {
    /// What it has for a stick.
    fn lengths_for(&self, cut: &Cut) -> Vec<Length> {
        let (thin, wide) = (cut.section.0.min(cut.section.1), cut.section.0.max(cut.section.1));
        let room = Rules::default().section_room;
        let mut widths: Vec<f64> =
            self.widths.iter().copied().filter(|w| *w > wide - room).collect();
        widths.sort_by(f64::total_cmp);
        widths.truncate(WIDTHS_FOR_A_STICK);
        if widths.is_empty() {
            widths.push(wide);
        }
        let of = |width: f64| {
            self.lengths.iter().map(move |length| Length {
                species: cut.species.clone(),
                thickness: thin,
                width: width.max(thin),
                length: *length,
                price: None,
                count: None,
                for_any: false,
            })
        };
        widths.into_iter().flat_map(of).collect()
    }
}

impl Wanted {
    /// Of a boat.
    pub(super) fn of(model: &Model) -> Wanted {
        let cuts: Vec<(Cut, PartId)> =
            model.parts.all().iter().flat_map(|p| cuts_of(model, p)).collect();
        let along: Vec<String> = model.members.iter().map(|b| b.member.line.clone()).collect();
        let cuts = placed_with(cuts, &along);
        let own = &model.hull.stock;
        let widths = model.hull.framing.widths_mm.clone();
        let yard = Yard { widths, lengths: yard_lengths(own) };
        let lengths = lengths(own, &yard, &cuts);
        let listed = own.lumber.iter().map(|row| row.lengths_mm.len()).sum();
        let rules = Rules {
            kerf: own.kerf_mm,
            end_trim: own.end_trim_mm,
            slope: own.lumber_slope,
            joint_spare: LITTLE_TO_SPARE_MM,
            crosscut_first: true,
            ..Rules::default()
        };
        Wanted { cuts, lengths, listed, rules, along, yard }
    }

    /// Species that may share boards, set by set: what may be of any wood shares those of every
    /// species that the document lists for it.
    pub(super) fn sharing(&self) -> Vec<BTreeSet<String>> {
        let species: BTreeSet<&String> = self.cuts.iter().map(|c| &c.0.species).collect();
        let any = || self.cuts.iter().map(|c| &c.0).filter(|c| c.species.is_empty());
        let shares = |name: &String| {
            let own = |l: &&Length| l.for_any && l.species == *name;
            let listed = self.lengths.iter().filter(own);
            name.is_empty() || listed.into_iter().any(|l| any().any(|c| gives(l, c)))
        };
        let (together, alone): (Vec<&String>, Vec<&String>) =
            species.into_iter().partition(|n| shares(n));
        let sets = alone.into_iter().map(|n| BTreeSet::from([n.clone()]));
        let joined: BTreeSet<String> = together.into_iter().cloned().collect();
        sets.chain((!joined.is_empty()).then_some(joined)).collect()
    }

    /// Only what is cut of these species, which share no board with others ([`Wanted::sharing`]),
    /// so that the plans of all sets together are the plan.
    pub(super) fn of_species(&self, species: &BTreeSet<String>) -> Wanted {
        let own = self.cuts.iter().filter(|c| species.contains(&c.0.species)).cloned().collect();
        Wanted { cuts: placed_with(own, &self.along), ..self.clone() }
    }

    /// Which boards are bought, and how they are cut. What may be of any wood is bought besides
    /// where the listed boards are used up.
    pub(super) fn planned(mut self, effort: Effort) -> LumberList {
        let sticks: Vec<Cut> = self.cuts.iter().map(|c| c.0.clone()).collect();
        let mut plan = plan_within(&sticks, &self.lengths, &self.rules, effort);
        let short = |c: &Cut| c.species.is_empty();
        let missing = plan.missing.iter().map(|m| &sticks[m.cut]).filter(|c| short(c));
        let more: Vec<Length> = missing.flat_map(|c| self.yard.lengths_for(c)).collect();
        let before = self.lengths.len();
        put(&mut self.lengths, more);
        if self.lengths.len() > before {
            plan = plan_within(&sticks, &self.lengths, &self.rules, effort);
        }
        LumberList { cuts: self.cuts, lengths: self.lengths, rules: self.rules, plan }
    }
}

/// Adds what is not there yet.
fn put(all: &mut Vec<Length>, more: Vec<Length>) {
    for l in more {
        if !all.contains(&l) {
            all.push(l);
        }
    }
}

/// Whether boards can be ripped to a stick's section.
fn gives(l: &Length, cut: &Cut) -> bool {
    let room = Rules::default().section_room;
    let (a, b) = cut.section;
    let fits = |t: f64, w: f64| (l.thickness - t).abs() < room && l.width > w - room;
    fits(a, b) || fits(b, a)
}

/// The sticks of a part: one, or a pair.
fn cuts_of(model: &Model, part: &Part) -> Vec<(Cut, PartId)> {
    let CutFrom::Lumber { species, section, .. } = &part.cut_from else {
        return Vec::new();
    };
    let of_two = match part.id {
        PartId::Stem(end) => post_at(model, end).filter(|s| s.parts > 1),
        _ => None,
    };
    if let Some(s) = of_two {
        return stem_parts(s, &model.hull.framing.widths_mm)
            .into_iter()
            .enumerate()
            .map(|(k, (length, width))| {
                let cut = Cut {
                    name: format!("{}, part {} of {}", part.name, k + 1, s.parts),
                    species: species.clone(),
                    section: (section[0].min(width), section[0].max(width)),
                    length,
                    trim: 0.0,
                    scarfs: None,
                };
                (cut, part.id)
            })
            .collect();
    }
    let Some((length, section)) = board(model, part, *section) else {
        return Vec::new();
    };
    // What is bent in place is left long and trimmed there.
    let trim = match part.id {
        PartId::Member(_) | PartId::Unbent(_) => model.hull.stock.stick_trim_mm,
        _ => 0.0,
    };
    let scarfs = match part.id {
        PartId::Member(MemberId(i)) => Some(scarfs(model, i, trim)),
        PartId::Unbent(_) => Some(Scarfs { depth: section.0, ..Scarfs::default() }),
        // A jig's rail is straight and not seen: it is butted.
        PartId::Stick(Use::Rail, _) => {
            let cleat = CLEAT_WIDTHS * section.0.max(section.1);
            let keep_out = off_posts(model, length);
            Some(Scarfs { depth: section.0, cleat, keep_out, ..Scarfs::default() })
        }
        _ => None,
    };
    let length = length + 2.0 * trim;
    let names = match part.copies {
        Copies::One => vec![part.name.clone()],
        Copies::Mirrored => {
            ["starboard", "port"].map(|side| format!("{}, {side}", part.name)).to_vec()
        }
    };
    let cut = |name| {
        let (species, scarfs) = (species.clone(), scarfs.clone());
        Cut { name, species, section, length, trim, scarfs }
    };
    names.into_iter().map(|name| (cut(name), part.id)).collect()
}

/// How a member may be scarfed: through its depth, clear of its tightest bend. Places are from
/// the forward end of the stick as it is cut, `trim` mm long there.
fn scarfs(model: &Model, i: usize, trim: f64) -> Scarfs {
    let before = trim + model.run_of(i).map_or(0.0, |run| run.past_bow);
    let b = &model.members[i];
    let bend = |a: &crate::bend::Along| a.moulded.hypot(a.sided);
    let tightest = b.along.iter().max_by(|p, q| bend(p).total_cmp(&bend(q)));
    Scarfs {
        depth: b.member.moulded_mm,
        cleat: 0.0,
        keep_out: Vec::new(),
        tightest: tightest.filter(|a| bend(a) > 1e-7).map(|a| (a.at + before, CLEAR_OF_BEND_MM)),
        ..Scarfs::default()
    }
}

/// Which sticks' joints have to do with each other's: those of a pair lie on either side of the
/// boat and are joined alike, so that they bend alike; sticks along one line, through the skin
/// too, and the rails of a jig lie against each other, and their joints are staggered. `along`
/// says where each member lies.
fn placed_with(mut cuts: Vec<(Cut, PartId)>, along: &[String]) -> Vec<(Cut, PartId)> {
    let ids: Vec<PartId> = cuts.iter().map(|c| c.1).collect();
    let rail = |id: PartId| matches!(id, PartId::Stick(Use::Rail, _));
    let line = |id: PartId| match id {
        PartId::Member(MemberId(i)) => along.get(i),
        _ => None,
    };
    let other = |i: usize| (0..ids.len()).find(|k| *k != i && ids[*k] == ids[i] && !rail(ids[i]));
    // Of a pair the first is the one, the second the other hand.
    let one_hand = |i: usize, k: usize| match (other(i), other(k)) {
        (Some(a), Some(b)) => (a > i) == (b > k),
        _ => true,
    };
    for (i, (cut, id)) in cuts.iter_mut().enumerate() {
        let Some(scarfs) = &mut cut.scarfs else {
            continue;
        };
        let beside = |k: &usize| {
            let along = line(*id).is_some() && line(*id) == line(ids[*k]) && one_hand(i, *k);
            *k != i && (rail(*id) && rail(ids[*k]) || along && ids[*k] != *id)
        };
        scarfs.beside = (0..ids.len()).filter(beside).collect();
        scarfs.like = other(i);
    }
    cuts
}

/// The document's lumber; for what none of it gives, a yard's. What may be of any wood is cut
/// from whatever is listed and gives it.
fn lengths(own: &StockPlan, yard: &Yard, cuts: &[(Cut, PartId)]) -> Vec<Length> {
    let mut out: Vec<Length> = Vec::new();
    for row in &own.lumber {
        out.extend(row.lengths_mm.iter().map(|length| Length {
            species: row.wood().into(),
            thickness: row.thickness_mm.min(row.width_mm),
            width: row.thickness_mm.max(row.width_mm),
            length: *length,
            price: row.price_of(*length),
            count: row.count,
            for_any: true,
        }));
    }
    let listed = out.clone();
    for (cut, _) in cuts {
        if !listed.iter().any(|l| l.is_of(&cut.species) && gives(l, cut)) {
            put(&mut out, yard.lengths_for(cut));
        }
    }
    out
}

/// Lengths of a yard, mm.
fn yard_lengths(own: &StockPlan) -> Vec<f64> {
    match own.sold_by {
        SoldBy::Feet => FEET.iter().map(|f| f * MM_PER_FOOT).collect(),
        SoldBy::Metres => METRIC_MM.to_vec(),
    }
}

/// Stretches of a jig's rail `length` mm long, from its forward end, over which no joint of it
/// lies: all but the middle halves of the posts under it, so that both pieces bear on one.
fn off_posts(model: &Model, length: f64) -> Vec<(f64, f64)> {
    let Some(jig) = &model.woodwork.strongback else {
        return Vec::new();
    };
    let quarter = 0.25 * model.hull.strongback.leg_width_mm;
    let posts: Vec<f64> = jig.posts.iter().map(|x| x - jig.rails[0]).collect();
    let from = std::iter::once(0.0).chain(posts.iter().map(|x| x + quarter));
    let to = posts.iter().map(|x| x - quarter).chain([length]);
    from.zip(to).filter(|(from, to)| to > from).collect()
}
