//! Speed of the one pass from lines to patterns, bends and frames.
//!
//! `cargo bench` prints, for the demonstration hull: the whole pass, its parts, and how the
//! surface grows with the number of rulings.

use chinewright::flat::{develop, error};
use chinewright::float::equilibrium::{Weight, float};
use chinewright::float::righting::righting;
use chinewright::float::volume::{Water, immersed};
use chinewright::geom::P3;
use chinewright::hull::HullLines;
use chinewright::hull::starters::{STARTERS, demonstration};
use chinewright::material::Materials;
use chinewright::model::derive_checked;
use chinewright::panel::{EndEdge, Pair, Surface, match_lines};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;

fn whole_pass(c: &mut Criterion) {
    let materials = Materials::shipped();
    let mut group = c.benchmark_group("lines to patterns, bends and frames");
    for starter in STARTERS {
        let hull = starter.hull();
        group.bench_function(starter.name, |b| {
            b.iter(|| derive_checked(black_box(&hull), &materials).expect("a starter"));
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
    let model = derive_checked(&demonstration(), &Materials::shipped()).expect("the hull");
    let mesh = model.mesh(true);
    let middle = 0.52 * model.lines.length_overall();
    let weight = Weight { mass: 260.0, centre: P3::new(middle, 15.0, 320.0) };
    let heels: Vec<f64> = (0..=18).map(|i| (5.0 * f64::from(i)).to_radians()).collect();
    let mut group = c.benchmark_group("afloat");
    group.bench_function("one plane of water", |b| {
        b.iter(|| immersed(black_box(&mesh), &Water::level(120.0)));
    });
    group.bench_function("equilibrium", |b| {
        b.iter(|| float(black_box(&mesh), weight, 1000.0, (0.0, 0.0)).expect("she floats"));
    });
    group.bench_function("righting curve, 19 heels", |b| {
        b.iter(|| righting(black_box(&mesh), weight, 1000.0, &[], &heels));
    });
    group.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(40);
    targets = whole_pass, parts, afloat
}
criterion_main!(benches);
