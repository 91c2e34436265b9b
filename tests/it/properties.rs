//! Properties that hold on any plausible hull: 512 random ones.

use chinewright::finding::{Fact, Finding, Place, Severity, SkinFact};
use chinewright::geom::polyline::first_self_crossing;
use chinewright::hull::document::{Duck, Hull, Line, LineEnd};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::tol::{DEVELOPABLE_WARP, STOP_WARP};
use chinewright::units::Units;
use chinewright::words::finding::said;
use proptest::prelude::*;

/// Hulls in CI; the issue asks for 500 at least.
const CASES: u32 = 512;

/// The same hulls every time, unless `CHINEWRIGHT_SEED` names another seed.
pub(crate) fn config() -> ProptestConfig {
    let seed = std::env::var("CHINEWRIGHT_SEED").ok().and_then(|s| s.parse().ok()).unwrap_or(1);
    ProptestConfig {
        cases: CASES,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(seed),
        ..ProptestConfig::default()
    }
}

/// What a random hull is made of: sizes as a builder would say them.
#[derive(Debug, Clone)]
pub(crate) struct Wish {
    length: f64,
    beam: f64,
    depth: f64,
    rocker: f64,
    flare: f64,
    rake: f64,
    deadrise: f64,
    chines: usize,
    stern: f64,
    widest: f64,
    wobble: [f64; 12],
}

pub(crate) fn wish() -> impl Strategy<Value = Wish> {
    (
        (2500.0..6000.0f64, 0.30..0.45f64, 0.12..0.2f64, 0.005..0.03f64),
        (0.05..0.45f64, 0.02..0.12f64, prop_oneof![Just(0.0), 0.05..0.35f64], 1usize..4),
        (0.55..0.95f64, 0.5..0.7f64),
        prop::array::uniform12(-1.0..1.0f64),
    )
        .prop_map(
            |(
                (length, beam, depth, rocker),
                (flare, rake, deadrise, chines),
                (stern, widest),
                wobble,
            )| Wish {
                length,
                beam: beam * length,
                depth: depth * length,
                rocker: rocker * length,
                flare,
                rake: rake * length,
                deadrise,
                chines,
                stern,
                widest,
                wobble,
            },
        )
}

/// Half-breadth share along the boat: 0 at the stem, 1 at the widest, `stern` at the transom.
fn breadth(w: &Wish, s: f64) -> f64 {
    if s < w.widest {
        let t = s / w.widest;
        1.0 - (1.0 - t).powf(1.9)
    } else {
        let t = (s - w.widest) / (1.0 - w.widest);
        1.0 - (1.0 - w.stern) * t * t
    }
}

pub(crate) fn hull_of(w: &Wish) -> Hull {
    let lines_up = w.chines + 1; // chines and the sheer
    let mut lines = Vec::new();
    let top = |s: f64| w.depth * (1.0 + 0.45 * (1.0 - s).powi(2) + 0.05 * s);
    let bottom = |s: f64| w.rocker * ((1.0 - 2.0 * s).powi(2)) + 0.12 * w.depth * (1.0 - s).powi(3);
    let stations: [f64; 6] = [0.0, 0.2, 0.4, 0.6, 0.8, 1.0];
    for k in 0..lines_up {
        let share = k as f64 / w.chines as f64; // 0 at the first chine, 1 at the sheer
        let name = match (k, w.chines) {
            (k, n) if k == n => "sheer".to_string(),
            (_, 1) => "chine".to_string(),
            (k, _) => format!("chine-{}", k + 1),
        };
        let ducks = stations
            .iter()
            .enumerate()
            .map(|(i, &s)| {
                // A ducks-width of wobble makes lines that are not of one family.
                let wobble = 0.003 * w.length * w.wobble[(3 * k + i) % 12] * s.min(1.0 - s);
                let half = 0.5 * w.beam * ((1.0 - w.flare) + w.flare * share) * breadth(w, s);
                let low = bottom(s) + w.deadrise * half * (1.0 - share);
                let x = (1.0 - share) * w.rake + s * (w.length - (1.0 - share) * w.rake);
                Duck::at(
                    x,
                    (half + wobble).max(0.0) * f64::from(u8::from(i > 0)),
                    low + share * (top(s) - low) + wobble,
                )
            })
            .collect();
        lines.push(Line { name, ducks, bow: LineEnd::RunsOn, stern: LineEnd::RunsOn });
    }
    if w.deadrise > 0.0 {
        let ducks = stations
            .iter()
            .map(|&s| {
                Duck::at(
                    1.05 * w.rake + s * (w.length - 1.05 * w.rake),
                    0.0,
                    bottom(s) - 0.02 * w.depth * f64::from(u8::from(s > 0.0)),
                )
            })
            .collect();
        lines.insert(
            0,
            Line { name: "keel".into(), ducks, bow: LineEnd::RunsOn, stern: LineEnd::RunsOn },
        );
    }
    Hull::new("random", lines)
}

fn check(model: &Model) -> Result<(), TestCaseError> {
    for p in &model.panels {
        let rulings = &p.flat.rulings;
        for (r, s) in rulings.iter().zip(&p.surface.rulings) {
            let space = (r.upper - r.lower).norm();
            let flat = (r.flat_upper - r.flat_lower).norm();
            prop_assert!(
                (space - flat).abs() <= 1e-6 * space.max(1.0),
                "{}: ruling {space} {flat}",
                p.name
            );
            prop_assert!(
                s.warp.is_finite() && r.flat_lower.x.is_finite() && r.flat_upper.y.is_finite()
            );
        }
        let mut sum = 0.0;
        for w in rulings.windows(2) {
            let area3 = |a: usize, b: usize, c: usize| {
                let p = [w[0].lower, w[0].upper, w[1].lower, w[1].upper];
                0.5 * (p[b] - p[a]).cross(&(p[c] - p[a])).norm()
            };
            let area2 = |a: usize, b: usize, c: usize| {
                let p = [w[0].flat_lower, w[0].flat_upper, w[1].flat_lower, w[1].flat_upper];
                0.5 * (p[b] - p[a]).perp(&(p[c] - p[a])).abs()
            };
            // The strip is laid over one of its diagonals; over that one, areas agree.
            let over = |f: &dyn Fn(usize, usize, usize) -> f64, first: bool| {
                if first { f(0, 1, 2) + f(1, 2, 3) } else { f(0, 1, 3) + f(0, 3, 2) }
            };
            let best = [true, false]
                .map(|d| (over(&area3, d) - over(&area2, d)).abs() / over(&area3, d).max(1.0))
                .into_iter()
                .fold(f64::INFINITY, f64::min);
            prop_assert!(best <= 1e-6, "{}: strip area off by {best}", p.name);
            sum += over(&area3, true);
        }
        prop_assert!(sum > 0.0);
        for w in p.surface.rulings.windows(2) {
            prop_assert!(w[1].u >= w[0].u && w[1].v >= w[0].v, "{}: rulings run backwards", p.name);
        }
        let outline = chinewright::flat::outline::of_flat(&p.flat, p.full_width);
        prop_assert_eq!(first_self_crossing(&outline), None, "{}: outline crosses itself", p.name);
        let warp = p.quality.greatest_warp;
        let told = model
            .findings
            .iter()
            .any(|f| of_panel(f, &p.name) && matches!(f.fact, Fact::Skin(SkinFact::Twist { .. })));
        prop_assert_eq!(
            warp > DEVELOPABLE_WARP,
            told,
            "{}: warp {} and finding {}",
            p.name,
            warp,
            told
        );
    }
    Ok(())
}

fn of_panel(f: &Finding, panel: &str) -> bool {
    matches!(&f.place, Place::Panel(p) | Place::PanelAt(p, _) if p == panel)
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn patterns_keep_lengths_and_areas_and_never_fold(wish in wish()) {
        let model = match derive(&hull_of(&wish), &Materials::shipped()) {
            Ok(model) => model,
            // A wobble may push a low chine under the keel at the bow: no boat, no case.
            Err(faults) => {
                let cross = |f: &Finding| said(f, Units::Mm).message.contains("cross");
                prop_assert!(faults.iter().all(cross), "{faults:?}");
                return Err(TestCaseError::reject("lines that cross"));
            }
        };
        check(&model)?;
    }

    /// Ducks thrown anywhere: an answer or a finding, never a panic, and what is not
    /// developable is said to be so.
    #[test]
    fn wild_lines_get_an_answer_or_a_finding(
        wish in wish(),
        throws in prop::collection::vec((0usize..4, 0usize..6, -600.0..600.0f64, -600.0..600.0f64), 1..6)
    ) {
        let mut hull = hull_of(&wish);
        for (line, duck, dy, dz) in throws {
            let n = hull.lines.len();
            let line = &mut hull.lines[line % n];
            let k = duck % line.ducks.len();
            let d = &mut line.ducks[k];
            if line.name != "keel" {
                d.y = (d.y + dy).max(0.0);
            }
            d.z += dz;
        }
        match derive(&hull, &Materials::shipped()) {
            Err(findings) => prop_assert!(!findings.is_empty()),
            Ok(model) => {
                for p in &model.panels {
                    prop_assert!(p.edges.lower.is_finite() && p.pattern_error.is_finite());
                    if p.quality.greatest_warp >= STOP_WARP {
                        let stopped = model.findings.iter().any(|f| {
                            f.severity == Severity::Stop && of_panel(f, &p.name)
                        });
                        prop_assert!(stopped, "{} twists by {}", p.name, p.quality.greatest_warp);
                    }
                }
            }
        }
    }
}

/// Writes the hulls of these tests as documents `hull-000.ron` … into the folder that
/// `CHINEWRIGHT_HULLS` names, for `tests/reference/random_boats.py`.
#[test]
#[ignore = "writes documents for random_boats.py"]
fn write_the_random_hulls() {
    let folder = std::env::var_os("CHINEWRIGHT_HULLS").expect("CHINEWRIGHT_HULLS: a folder");
    let folder = std::path::PathBuf::from(folder);
    std::fs::create_dir_all(&folder).expect("the folder");
    let written = std::cell::Cell::new(0);
    let mut runner = proptest::test_runner::TestRunner::new(config());
    let all = runner.run(&wish(), |wish| {
        let hull = hull_of(&wish);
        if !chinewright::hull::check::faults(&hull).is_empty() {
            return Err(TestCaseError::reject("lines that cross"));
        }
        let name = format!("hull-{:03}.ron", written.get());
        let hull = Hull { name: name.replace(".ron", ""), ..hull };
        chinewright::files::save_hull(&folder.join(&name), &hull).expect("written");
        written.set(written.get() + 1);
        Ok(())
    });
    all.expect("hulls enough");
    assert_eq!(written.get(), CASES);
}
