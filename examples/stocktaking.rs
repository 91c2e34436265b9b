//! What the stock list of each starter takes and comes to, for scripts.
//!
//! `cargo run --release --no-default-features --example stocktaking [EFFORT] [STARTER …]`
//!
//! EFFORT is `first`, `quick` or `thorough`. Processor time is that of the main thread, which
//! does all the work, as `/proc/self/schedstat` counts it.

#![expect(clippy::print_stdout, reason = "an example is a program that prints")]

use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::model::stock::{SEED, StockList, stock};
use chinewright::stock::nest::Effort;

/// Processor time so far, s; `None` where the system does not say.
fn processor() -> Option<f64> {
    let told = std::fs::read_to_string("/proc/self/schedstat").ok()?;
    Some(told.split_whitespace().next()?.parse::<f64>().ok()? * 1e-9)
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let effort = match args.first().map_or("first", String::as_str) {
        "first" => Effort::NONE,
        "quick" => Effort::QUICK,
        "thorough" => Effort::THOROUGH,
        other => return Err(format!("no effort is called {other}").into()),
    };
    let wanted = |name: &str| args.len() < 2 || args[1..].iter().any(|a| a == name);
    for starter in STARTERS.iter().filter(|s| wanted(s.name)) {
        let model = derive(&starter.hull(), &Materials::shipped()).map_err(|f| format!("{f:?}"))?;
        let before = processor();
        let list = stock(&model, effort, SEED, &mut |_, _| true);
        let seconds = before.zip(processor()).map_or(f64::NAN, |(a, b)| b - a);
        println!("{}: {seconds:.2} s", starter.name);
        tell(&list);
    }
    Ok(())
}

fn tell(list: &StockList) {
    for kind in &list.sheets {
        let layout = &kind.layout;
        let (cut, least, left) = (layout.sheets.len(), layout.bound.sheets, layout.unplaced.len());
        let end = layout.sheets.last().map_or(0.0, |s| s.reach(&kind.problem));
        println!(
            "  {}, {:.1} mm: {cut} sheets, {least} at least, {left} unplaced, last to {end:.0} mm",
            kind.sheet, kind.thickness
        );
    }
    let plan = &list.lumber.plan;
    let mut last = None;
    for b in &plan.boards {
        let row = &list.lumber.lengths[b.stock];
        let section = (row.species.as_str(), row.thickness, row.width);
        if last != Some(section) {
            let same = |o: &&chinewright::stock::lumber::Board| {
                let r = &list.lumber.lengths[o.stock];
                (r.species.as_str(), r.thickness, r.width) == section
            };
            let all: Vec<f64> = plan
                .boards
                .iter()
                .filter(same)
                .map(|o| list.lumber.lengths[o.stock].length)
                .collect();
            let long: f64 = all.iter().sum();
            println!(
                "  {} {} x {}: {} boards, {long:.0} mm",
                section.0,
                section.1,
                section.2,
                all.len()
            );
            last = Some(section);
        }
    }
    for p in &plan.proofs {
        let gap = 100.0 * (p.cost / p.lower_bound - 1.0);
        println!("  {} kinds: {:.6}, gap {gap:.3} %, proved {}", p.kinds, p.cost, p.proved);
    }
    let joints: usize = list.panels.iter().map(|p| p.split.joints.len()).sum();
    println!("  {joints} joints, {} missing sticks", plan.missing.len());
}
