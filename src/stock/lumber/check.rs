//! A cutting list added up: whatever found it, what it says must be possible.

use super::scarf::cut_for;
use super::{Cut, Length, LumberPlan, Rules};

/// Sums of lengths and widths are rounded by less than this, mm; a strip's width by a tenth.
const ROUNDING_MM: f64 = 1e-6;

/// What is impossible in a plan, in words; empty if it can be cut. Every board holds its
/// strips, every strip its pieces with the saw cuts between them, no more boards are used than
/// there are, and every piece of every stick that is not missing is cut once.
pub fn faults(plan: &LumberPlan, cuts: &[Cut], stock: &[Length], rules: &Rules) -> Vec<String> {
    let mut out = Vec::new();
    let mut used = vec![0u32; stock.len()];
    for (i, board) in plan.boards.iter().enumerate() {
        let Some(from) = stock.get(board.stock) else {
            out.push(format!("board {i} is of no stock"));
            continue;
        };
        used[board.stock] += 1;
        // Strips between two crosscuts lie side by side; those behind begin past a saw cut.
        let mut begins: Vec<f64> = board.strips.iter().map(|s| s.from).collect();
        begins.sort_by(f64::total_cmp);
        begins.dedup();
        for from_mm in &begins {
            let beside = board.strips.iter().filter(|s| s.from == *from_mm);
            let n = beside.clone().count() as f64;
            let wide: f64 = beside.map(|s| s.width).sum::<f64>() + (n - 1.0) * rules.kerf;
            let spare = if n == 1.0 { rules.section_room } else { 0.1 * n };
            if wide > from.width + spare + ROUNDING_MM {
                out.push(format!("board {i}: strips take {wide} mm of {}", from.width));
            }
        }
        for strip in &board.strips {
            let n = strip.pieces.len() as f64;
            let cut: f64 = strip.pieces.iter().map(|p| p.length).sum::<f64>()
                + (n - 1.0).max(0.0) * rules.kerf;
            let next = begins.iter().find(|b| **b > strip.from);
            let end = next.map_or(from.length - 2.0 * rules.end_trim, |b| b - rules.kerf);
            let room = end - strip.from;
            if cut > room + ROUNDING_MM || strip.from < 0.0 {
                out.push(format!("board {i}: pieces take {cut} mm of {room}"));
            }
            for p in &strip.pieces {
                let fits = cuts.get(p.cut).is_some_and(|c| {
                    let (a, b) = (c.section.0.min(c.section.1), c.section.0.max(c.section.1));
                    let near = |x: f64, y: f64| (x - y).abs() <= rules.section_room + ROUNDING_MM;
                    let (t, w) = (from.thickness, strip.width);
                    from.is_of(&c.species) && (near(t, a) && near(w, b) || near(t, b) && near(w, a))
                });
                if !fits {
                    out.push(format!("board {i}: a piece of stick {} is of another wood", p.cut));
                }
            }
        }
    }
    for (i, s) in stock.iter().enumerate() {
        if s.count.is_some_and(|n| used[i] > n) {
            out.push(format!("stock {i}: {} used of {:?}", used[i], s.count));
        }
    }
    let cut_from = |i: usize| {
        let all = plan.boards.iter().flat_map(|b| &b.strips).flat_map(|s| &s.pieces);
        all.filter(move |p| p.cut == i).collect::<Vec<_>>()
    };
    for (i, cut) in cuts.iter().enumerate() {
        let pieces = cut_from(i);
        let scarf = plan.scarfs.iter().find(|s| s.cut == i);
        if plan.missing.iter().any(|m| m.cut == i) {
            continue;
        }
        let wanted = match scarf {
            Some(s) => cut_for(cut.length, (s.length, s.cleat), &s.at),
            None => vec![cut.length],
        };
        let want: f64 = wanted.iter().sum();
        let have: f64 = pieces.iter().map(|p| p.length).sum();
        if pieces.len() != wanted.len() || (have - want).abs() > 1e-6 * want {
            out.push(format!("stick {i}: {have} mm in {} pieces for {want}", pieces.len()));
        }
        if scarf.is_some() {
            for (k, length) in wanted.iter().enumerate() {
                let found = pieces.iter().filter(|p| p.part == k);
                if found.clone().count() != 1
                    || found.into_iter().any(|p| (p.length - length).abs() > 1e-6 * length)
                {
                    out.push(format!("stick {i}: piece {k} is not {length} mm"));
                }
            }
        }
    }
    out
}
