//! A layout at once: the large parts first, each as near to the sheet's near end as it goes.

use std::collections::HashSet;

use super::bench::Bench;
use super::chance::Chance;
use super::separate::{Separator, clamp};
use super::state::{Place, State};
use crate::geom::{P2, V2};

/// Places tried by chance for each part and form, so that hollows are found.
const TRIED: usize = 60;
/// Forms tried, those with the least boxes: what may lie any way has dozens.
const MOST_FORMS: usize = 8;
/// A place is the better the less it reaches along the sheet, and a little for lying low.
const LOW_COUNTS: f64 = 0.2;
/// A part is pushed until the step is this small, mm.
const LAST_STEP_MM: f64 = 0.05;

/// Places all items that it can; what no sheet had room for stays without a place.
pub(super) fn first(bench: &Bench, chance: &mut Chance) -> State {
    let mut order: Vec<usize> = (0..bench.items.len()).collect();
    order.sort_by(|a, b| bench.items[*b].size.total_cmp(&bench.items[*a].size));
    let kinds = bench.order_of_sheets();
    let mut work = Separator::new(bench, State::empty(bench, &[]));
    // Where one of some forms found no place, none like it will: tables only get fuller.
    let mut full: HashSet<(usize, &Vec<usize>)> = HashSet::new();
    for item in order {
        let tables = work.state.tables.len();
        let found = (0..tables).find_map(|table| {
            let forms = &bench.items[item].forms[work.state.tables[table].sheet];
            if full.contains(&(table, forms)) || !work.state.has_room(bench, table, item) {
                return None;
            }
            let place = lowest(bench, &mut work, item, table, chance);
            if place.is_none() {
                full.insert((table, forms));
            }
            place
        });
        let place = found.or_else(|| open(bench, &mut work, item, &kinds, chance));
        if let Some(place) = place {
            work.state.put(item, place);
        }
    }
    work.state
}

/// Opens the first kind of sheet of which there is one left and on which the item fits.
fn open(
    bench: &Bench,
    work: &mut Separator,
    item: usize,
    kinds: &[usize],
    chance: &mut Chance,
) -> Option<Place> {
    for sheet in kinds {
        let used = work.state.tables.iter().filter(|t| t.sheet == *sheet).count();
        if used >= bench.supply(*sheet) || bench.items[item].forms[*sheet].is_empty() {
            continue;
        }
        let fresh = State::empty(bench, &[*sheet]);
        work.state.tables.extend(fresh.tables);
        work.state.on.push(Vec::new());
        let table = work.state.tables.len() - 1;
        if let Some(place) = lowest(bench, work, item, table, chance) {
            return Some(place);
        }
        work.state.tables.pop();
        work.state.on.pop();
    }
    None
}

fn value(bench: &Bench, place: &Place) -> f64 {
    let half = bench.forms[place.form].half;
    place.at.x + half.x + LOW_COUNTS * (place.at.y + half.y)
}

/// The best free place for an item on a table: of those beside the boxes of the parts that lie
/// there, and of some by chance, the best; then pushed into its corner.
fn lowest(
    bench: &Bench,
    work: &mut Separator,
    item: usize,
    table: usize,
    chance: &mut Chance,
) -> Option<Place> {
    let mut forms: Vec<usize> = work.state.forms(bench, item, table).collect();
    forms.sort_by(|a, b| {
        let boxed = |f: &usize| bench.forms[*f].half.product();
        boxed(a).total_cmp(&boxed(b))
    });
    forms.truncate(MOST_FORMS);
    let mut tried: Vec<(f64, Place)> = Vec::new();
    for form in forms {
        let (low, high) = work.state.span(bench, table, form);
        let (xs, ys) = beside(bench, &work.state, table, form, low, high);
        for x in &xs {
            tried.extend(ys.iter().map(|y| (0.0, Place { table, form, at: P2::new(*x, *y) })));
        }
        for _ in 0..TRIED {
            let at = P2::new(chance.between(low.x, high.x), chance.between(low.y, high.y));
            tried.push((0.0, Place { table, form, at }));
        }
    }
    for t in &mut tried {
        t.0 = value(bench, &t.1);
    }
    let found = best_first(tried, |place| work.is_free(item, *place))?;
    Some(push(bench, work, item, found))
}

/// Places that are put in order at a time: mostly one of the first few hundred is free.
const IN_ORDER: usize = 200;

/// The first place in the order of value, of two alike the one that was thought of first, that is
/// as wanted.
fn best_first(tried: Vec<(f64, Place)>, mut wanted: impl FnMut(&Place) -> bool) -> Option<Place> {
    let mut order: Vec<(f64, usize)> = tried.iter().map(|t| t.0).zip(0..).collect();
    let mut order = order.as_mut_slice();
    let sooner = |a: &(f64, usize), b: &(f64, usize)| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1));
    while !order.is_empty() {
        let count = order.len().min(IN_ORDER);
        if count < order.len() {
            order.select_nth_unstable_by(count - 1, sooner);
        }
        let (now, later) = std::mem::take(&mut order).split_at_mut(count);
        now.sort_unstable_by(sooner);
        let places = now.iter().map(|(_, k)| tried[*k].1);
        if let Some(place) = places.into_iter().find(&mut wanted) {
            return Some(place);
        }
        order = later;
    }
    None
}

/// Where the box of a form would lie beside those that lie there: centres along x and y.
fn beside(
    bench: &Bench,
    state: &State,
    table: usize,
    form: usize,
    low: P2,
    high: P2,
) -> (Vec<f64>, Vec<f64>) {
    let half = bench.forms[form].half;
    // Boxes that touch would count as overlapping.
    let apart = V2::new(1e-6, 1e-6);
    let (mut xs, mut ys) = (vec![low.x], vec![low.y, high.y]);
    for place in state.on[table].iter().filter_map(|i| state.places[*i]) {
        let reach = half + bench.forms[place.form].half + apart;
        xs.push(place.at.x + reach.x);
        ys.extend([place.at.y + reach.y, place.at.y - reach.y]);
    }
    let within = |v: Vec<f64>, a: f64, b: f64| {
        let mut v: Vec<f64> = v.into_iter().filter(|c| (a..=b).contains(c)).collect();
        v.sort_by(f64::total_cmp);
        v.dedup();
        v
    };
    (within(xs, low.x, high.x), within(ys, low.y, high.y))
}

/// Pushes an item from a free place towards the near corner as long as the way is free.
fn push(bench: &Bench, work: &mut Separator, item: usize, from: Place) -> Place {
    let (low, high) = work.state.span(bench, from.table, from.form);
    let mut best = from;
    let mut step = 0.5 * bench.forms[from.form].half.min();
    while step > LAST_STEP_MM {
        let ways = [V2::new(-1.0, 0.0), V2::new(0.0, -1.0), V2::new(-1.0, 1.0), V2::new(1.0, -5.1)];
        let moved = ways.iter().find_map(|way| {
            let next = Place { at: clamp(best.at + way * step, low, high), ..best };
            (value(bench, &next) < value(bench, &best) - 1e-9 && work.is_free(item, next))
                .then_some(next)
        });
        match moved {
            Some(next) => best = next,
            None => step *= 0.5,
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::nest::blanks::Blanks;
    use crate::stock::nest::poles::Discs;
    use crate::stock::nest::problem::{Hand, Part, Problem, Sheet, Supply, Turning};

    /// In order over several batches, whatever order they come in.
    #[test]
    fn places_are_asked_for_in_order() {
        let at = |k: usize| Place { table: k, form: 0, at: P2::origin() };
        let tried: Vec<(f64, Place)> =
            (0..1000).map(|k| (((k * 617) % 1000) as f64, at((k * 617) % 1000))).collect();
        let mut asked = Vec::new();
        let found = best_first(tried.clone(), |p| {
            asked.push(p.table);
            p.table == 777
        });
        assert_eq!(found, Some(at(777)));
        assert_eq!(asked, (0..=777).collect::<Vec<_>>());
        assert_eq!(best_first(tried, |_| false), None);
    }

    /// A square goes into the hollow of a C that was laid before it.
    #[test]
    fn hollows_are_used() {
        let ring = |c: &[(f64, f64)]| c.iter().map(|(x, y)| P2::new(*x, *y)).collect::<Vec<_>>();
        let part = |name: &str, outline| Part {
            name: name.into(),
            outline,
            count: 1,
            hand: Hand::AsDrawn,
            turning: Turning::Fixed,
            grain: None,
        };
        let c = [
            (0.0, 0.0),
            (500.0, 0.0),
            (500.0, 500.0),
            (0.0, 500.0),
            (0.0, 400.0),
            (400.0, 400.0),
            (400.0, 100.0),
            (0.0, 100.0),
        ];
        let problem = Problem {
            parts: vec![
                part("square", ring(&[(0.0, 0.0), (250.0, 0.0), (250.0, 250.0), (0.0, 250.0)])),
                part("C", ring(&c)),
            ],
            sheets: vec![Sheet::rectangle("board", 1000.0, 510.0, Supply::Bought)],
            kerf: 3.0,
        };
        let bench = Bench::new(&problem, &mut Blanks::default(), Discs::Few);
        let state = first(&bench, &mut Chance::new(1));
        assert_eq!(state.tables.len(), 1);
        assert!(state.reach(&bench, 0) < 510.0, "{}", state.reach(&bench, 0));
    }
}
