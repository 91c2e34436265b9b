//! Parts on sheets from the command line, for trials and for scripts that check layouts.
//!
//! `packing jigsaw [MOVES]`: rectangles sawn into irregular pieces, laid anew on a strip as wide;
//! the least length is known, so the gap to it is the search's. Pieces may lie end for end.
//!
//! `packing lay PROBLEM.json [MOVES] [SEED]`: lays a problem and prints the layout as JSON, which
//! `tests/reference/nest_check.py` recomputes.
//!
//! A problem: `{"kerf": 3, "sheets": [{"name", "length", "width" or "outline", "on_hand", "price",
//! "margin"}], "parts": [{"name", "outline": [[x, y], …], "count", "hand": "as_drawn" | "mirrored" |
//! "either" | "pairs", "turning": "fixed" | "end_for_end" | "quarters" | "free", "grain_deg"}]}`;
//! sheets without `on_hand` are bought, their grain runs along x.

#![expect(clippy::print_stdout, reason = "an example is a program that prints")]

use std::time::Instant;

use chinewright::geom::P2;
use chinewright::stock::nest::{
    Effort, Hand, Keep, Part, Problem, Sheet, Supply, Turning, cuts, nest, offcuts,
};
use chinewright::words::stock::{above_bound, on_no_sheet};
use serde_json::{Value, json};

type Failure = Box<dyn std::error::Error>;

fn main() -> Result<(), Failure> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = |k: usize, default: u64| args.get(k).map_or(Ok(default), |t| t.parse());
    match args.first().map(String::as_str) {
        Some("jigsaw") => jigsaws(number(1, 20_000)? as usize),
        Some("lay") if args.len() > 1 => {
            let text = std::fs::read_to_string(&args[1])?;
            lay(&serde_json::from_str(&text)?, number(2, 2_000)? as usize, number(3, 1)?)
        }
        _ => Err("packing jigsaw [MOVES] | packing lay PROBLEM.json [MOVES] [SEED]".into()),
    }
}

/// Sizes of the jigsaws: pieces along and across.
const JIGSAWS: [(usize, usize); 5] = [(3, 2), (4, 3), (5, 4), (7, 5), (9, 6)];
const LENGTH: f64 = 1500.0;
const WIDTH: f64 = 1000.0;

fn jigsaws(moves: usize) -> Result<(), Failure> {
    println!("pieces  at once  after {moves} moves  seconds   (density, 100 % is possible)");
    for (along, across) in JIGSAWS {
        let parts = jigsaw(along, across);
        let count = parts.len();
        let sheet = Sheet::rectangle("strip", 3.0 * LENGTH, WIDTH + 0.1, Supply::Bought);
        let problem = Problem { parts, sheets: vec![sheet], kerf: 0.0 };
        let begun = Instant::now();
        let density = |layout: &chinewright::stock::nest::Layout| {
            100.0 * LENGTH / layout.sheets[0].reach(&problem)
        };
        let mut first = None;
        let last = nest(&problem, Effort { moves }, 1, &mut |p| {
            first.get_or_insert_with(|| density(p.best));
            true
        })
        .map_err(|f| format!("{f:?}"))?;
        let seconds = begun.elapsed().as_secs_f64();
        let first = first.unwrap_or(0.0);
        println!("{count:6}  {first:5.1} %  {:17.1} %  {seconds:7.1}", density(&last));
    }
    Ok(())
}

/// A rectangle sawn into pieces by wavy lines: a grid whose corners, and two points on every edge
/// between them, are moved by fixed amounts that differ from place to place.
fn jigsaw(along: usize, across: usize) -> Vec<Part> {
    let cell = (LENGTH / along as f64, WIDTH / across as f64);
    // Thirds of cells; what lies on the rectangle's edge stays on it.
    let point = |i: usize, j: usize| {
        let wave = |k: usize, seed: usize| {
            let n = (i * 7919 + j * 104_729 + seed * 1_299_709) % 1000;
            k as f64 * (n as f64 / 1000.0 - 0.5)
        };
        let on_edge = |k: usize, n: usize| k == 0 || k == 3 * n;
        let dx = if on_edge(i, along) { 0.0 } else { 0.25 * cell.0 * wave(1, 1) };
        let dy = if on_edge(j, across) { 0.0 } else { 0.25 * cell.1 * wave(1, 2) };
        P2::new(i as f64 * cell.0 / 3.0 + dx, j as f64 * cell.1 / 3.0 + dy)
    };
    let mut parts = Vec::new();
    for i in 0..along {
        for j in 0..across {
            let (a, b) = (3 * i, 3 * j);
            let mut outline: Vec<P2> = (0..3).map(|k| point(a + k, b)).collect();
            outline.extend((0..3).map(|k| point(a + 3, b + k)));
            outline.extend((0..3).map(|k| point(a + 3 - k, b + 3)));
            outline.extend((0..3).map(|k| point(a, b + 3 - k)));
            parts.push(Part {
                name: format!("piece {i}-{j}"),
                outline,
                count: 1,
                hand: Hand::AsDrawn,
                turning: Turning::EndForEnd,
                grain: None,
            });
        }
    }
    parts
}

fn lay(value: &Value, moves: usize, seed: u64) -> Result<(), Failure> {
    let problem = problem(value)?;
    let begun = Instant::now();
    let (mut first, mut steps) = (None, Vec::new());
    let layout = nest(&problem, Effort { moves }, seed, &mut |p| {
        first.get_or_insert_with(|| begun.elapsed().as_secs_f64());
        if p.improved {
            let reach = p.best.sheets.last().map_or(0.0, |s| s.reach(&problem));
            steps.push(json!([p.moves, p.best.sheets.len(), reach]));
        }
        true
    })
    .map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))?;
    let keep = Keep::default();
    let sheets: Vec<Value> = layout
        .sheets
        .iter()
        .map(|sheet| {
            let parts: Vec<Value> = sheet
                .placed
                .iter()
                .map(|p| {
                    json!({ "name": problem.parts[p.part].name, "part": p.part, "copy": p.copy,
                        "mirrored": p.attitude.mirrored, "angle": p.attitude.angle,
                        "shift": [p.shift.x, p.shift.y], "outline_mm": pairs(&p.outline) })
                })
                .collect();
            let left = offcuts(&problem, sheet, keep, &[]);
            let left: Vec<Value> = left.iter().map(|o| json!(pairs(&o.outline))).collect();
            let cuts = cuts(&problem, sheet, keep);
            let cuts: Vec<Value> = cuts
                .iter()
                .map(|c| json!({ "kind": c.kind, "path_mm": pairs(&c.path), "part": c.part }))
                .collect();
            let stock = &problem.sheets[sheet.sheet];
            json!({ "stock": stock.name, "outline_mm": pairs(&stock.outline),
                "margin_mm": stock.edge_margin, "parts": parts, "offcuts_mm": left,
                "cuts": cuts, "density": sheet.density(&problem), "reach_mm": sheet.reach(&problem) })
        })
        .collect();
    let bought = layout.bought(&problem);
    let told: Vec<String> = layout
        .unplaced
        .iter()
        .map(|u| {
            format!(
                "{}: {}",
                problem.parts[u.part].name,
                on_no_sheet(&u.reason, chinewright::units::Units::Mm)
            )
        })
        .collect();
    let parts: Vec<Value> = problem
        .parts
        .iter()
        .map(|p| json!({ "name": p.name, "count": p.count, "outline_mm": pairs(&p.outline) }))
        .collect();
    let out = json!({ "kerf_mm": problem.kerf, "parts": parts, "sheets": sheets, "unplaced": told,
        "bought": bought, "cost": layout.cost(&problem), "bound": layout.bound,
        "why_more": layout.bound.excess(bought).as_ref().map(above_bound), "first_layout_s": first, "steps": steps,
        "seconds": begun.elapsed().as_secs_f64() });
    println!("{out}");
    Ok(())
}

fn pairs(ring: &[P2]) -> Vec<[f64; 2]> {
    ring.iter().map(|p| [p.x, p.y]).collect()
}

fn problem(value: &Value) -> Result<Problem, Failure> {
    let list = |v: &Value, key: &str| v[key].as_array().cloned().unwrap_or_default();
    let ring = |v: &Value| -> Vec<P2> {
        let number = |v: &Value| v.as_f64().unwrap_or(f64::NAN);
        list(v, "outline").iter().map(|p| P2::new(number(&p[0]), number(&p[1]))).collect()
    };
    let text = |v: &Value, key: &str| v[key].as_str().unwrap_or("").to_string();
    let sheet = |v: &Value| {
        let supply = v["on_hand"].as_u64().map_or(Supply::Bought, |n| Supply::OnHand(n as usize));
        let size = |key: &str| v[key].as_f64().unwrap_or(0.0);
        let mut sheet = Sheet::rectangle(text(v, "name"), size("length"), size("width"), supply);
        if v["outline"].is_array() {
            sheet.outline = ring(v);
        }
        sheet.price = v["price"].as_f64();
        sheet.edge_margin = size("margin");
        sheet
    };
    let part = |v: &Value| -> Result<Part, Failure> {
        let hand = match v["hand"].as_str().unwrap_or("as_drawn") {
            "as_drawn" => Hand::AsDrawn,
            "mirrored" => Hand::Mirrored,
            "either" => Hand::Either,
            "pairs" => Hand::Pairs,
            other => return Err(format!("no hand is called {other}").into()),
        };
        let turning = match v["turning"].as_str().unwrap_or("end_for_end") {
            "fixed" => Turning::Fixed,
            "end_for_end" => Turning::EndForEnd,
            "quarters" => Turning::Quarters,
            "free" => Turning::Free,
            other => return Err(format!("no turning is called {other}").into()),
        };
        let count = v["count"].as_u64().unwrap_or(1) as usize;
        let grain = v["grain_deg"].as_f64().map(f64::to_radians);
        Ok(Part { name: text(v, "name"), outline: ring(v), count, hand, turning, grain })
    };
    Ok(Problem {
        parts: list(value, "parts").iter().map(part).collect::<Result<_, _>>()?,
        sheets: list(value, "sheets").iter().map(sheet).collect(),
        kerf: value["kerf"].as_f64().unwrap_or(f64::NAN),
    })
}
