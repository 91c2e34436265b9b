//! Speed of the one pass from lines to patterns, bends and frames.
//!
//! `cargo bench` prints, for the demonstration hull: the whole pass, its parts, and how the
//! surface grows with the number of rulings.

use chinewright::flat::{develop, error};
use chinewright::float::body::{Body, Floats};
use chinewright::float::equilibrium::{Weight, float};
use chinewright::float::righting::righting;
use chinewright::float::volume::{Water, immersed};
use chinewright::geom::P3;
use chinewright::hull::starters::{STARTERS, demonstration};
use chinewright::hull::{CheckedHull, Duck, Hull, HullLines};
use chinewright::material::Materials;
use chinewright::model::{Planked, derive, derive_after, derive_checked};
use chinewright::panel::{EndEdge, Pair, Surface, match_lines};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;

fn whole_pass(c: &mut Criterion) {
    let materials = Materials::shipped();
    let mut group = c.benchmark_group("lines to patterns, bends and frames");
    for starter in STARTERS {
        let hull = starter.hull();
        group.bench_function(starter.name, |b| {
            b.iter(|| derive(black_box(&hull), &materials).expect("a starter"));
        });
    }
    group.finish();
}

/// A duck of the sheer amidships a millimetre further out.
fn pulled(hull: &Hull) -> Hull {
    let mut pulled = hull.clone();
    let ducks = &mut pulled.lines.last_mut().expect("a sheer").ducks;
    let middle = ducks.len() / 2;
    ducks[middle] = Duck { y: ducks[middle].y + 1.0, ..ducks[middle] };
    pulled
}

/// A duck is dragged: the document checked, then new panels and members, or the whole pass
/// after the one before.
fn dragged(c: &mut Criterion) {
    let materials = Materials::shipped();
    let mut group = c.benchmark_group("dragged duck");
    for starter in STARTERS {
        let hull = starter.checked();
        let before = derive_checked(&hull, &materials);
        let changed = |to: &Hull| hull.changed(black_box(to).clone()).expect("a hull");
        let pulled = pulled(&hull);
        group.bench_function(format!("{}: panels and members", starter.name), |b| {
            b.iter(|| Planked::after(&before, &changed(&pulled), &materials));
        });
        group.bench_function(format!("{}: the whole pass", starter.name), |b| {
            b.iter(|| derive_after(Some(&before), &changed(&pulled), &materials));
        });
        let named = Hull { name: "another".into(), ..hull.hull().clone() };
        group.bench_function(format!("{}: a new name", starter.name), |b| {
            b.iter(|| derive_after(Some(&before), &changed(&named), &materials));
        });
    }
    group.finish();
}

/// Hull after hull on one core: checked, and panels and members only.
fn sweep(c: &mut Criterion) {
    let materials = Materials::shipped();
    let mut group = c.benchmark_group("sweep");
    group.throughput(Throughput::Elements(1));
    for starter in STARTERS {
        let hull = starter.hull();
        group.bench_function(starter.name, |b| {
            b.iter(|| {
                let hull = CheckedHull::of(black_box(&hull).clone()).expect("a starter");
                Planked::of(&hull, &materials)
            });
        });
    }
    group.finish();
}

fn parts(c: &mut Criterion) {
    let hull = demonstration();
    let lines = HullLines::of(&hull).expect("the demonstration hull");
    let (lower, upper) = (&lines.lines[1].spline, &lines.lines[2].spline);
    let pair = Pair { lower, upper, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
    let matching = match_lines(&pair);
    let mut group = c.benchmark_group("side panel");
    group.bench_function("matching", |b| b.iter(|| match_lines(black_box(&pair))));
    for strips in [50usize, 100, 200, 400, 800] {
        group.throughput(Throughput::Elements(strips as u64));
        group.bench_with_input(BenchmarkId::new("rulings", strips), &strips, |b, &n| {
            b.iter(|| Surface::of(black_box(&pair), &matching, n));
        });
        let surface = Surface::of(&pair, &matching, strips);
        group.bench_with_input(BenchmarkId::new("flat with its error", strips), &strips, |b, _| {
            b.iter(|| {
                let flat = develop(black_box(&surface), 3.0);
                error::estimate(&flat)
            });
        });
    }
    group.finish();
}

/// How she floats and how hard she comes back, on the mesh that is shown.
fn afloat(c: &mut Criterion) {
    let model = derive_checked(&STARTERS[0].checked(), &Materials::shipped());
    let mesh = model.mesh(true);
    let middle = 0.52 * model.lines.length_overall();
    let weight = Weight { mass: 260.0, centre: P3::new(middle, 15.0, 320.0) };
    let body = Body::of(&mesh);
    let heels: Vec<f64> = (0..=18).map(|i| (5.0 * f64::from(i)).to_radians()).collect();
    let mut group = c.benchmark_group("afloat");
    group.bench_function("one plane of water", |b| {
        b.iter(|| immersed(black_box(&mesh), &Water::level(120.0)));
    });
    group.bench_function("a mesh made ready for many", |b| b.iter(|| Body::of(black_box(&mesh))));
    group.bench_function("one of many planes of water", |b| {
        b.iter(|| black_box(&body).immersed(&Water::level(120.0)));
    });
    group.bench_function("equilibrium", |b| {
        b.iter(|| float(black_box(&body), weight, 1000.0, (0.0, 0.0)).expect("she floats"));
    });
    group.bench_function("righting curve, 19 heels", |b| {
        b.iter(|| righting(black_box(&body), weight, 1000.0, &[], &heels));
    });
    group.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(40);
    targets = whole_pass, dragged, sweep, parts, afloat
}
criterion_main!(benches);
