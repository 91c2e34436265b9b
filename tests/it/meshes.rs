//! The hull's closed mesh, its files, and the patterns against general-purpose libraries.

use chinewright::geom::P2;
use chinewright::hull::starters::{STARTERS, demonstration, find};
use chinewright::material::Materials;
use chinewright::mesh_files::MeshFormat;
use chinewright::model::derive;
use serde::Deserialize;

use crate::reference::frozen;

#[test]
fn hulls_are_closed_and_outward_inside_and_out() {
    for starter in STARTERS {
        let model = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        let (moulded, outside) = (model.mesh(false), model.mesh(true));
        for mesh in [&moulded, &outside] {
            assert!(mesh.closed_faults().is_empty(), "{}: open edges", starter.name);
            assert!(mesh.volume() > 0.0, "{}", starter.name);
        }
        // The planking lies between both: its area times its thickness, near enough that
        // only the mitres at the edges differ.
        let planking: f64 =
            model.panels.iter().map(|p| p.thickness * p.flat.area_in_flat() * 2.0).sum();
        let between = outside.volume() - moulded.volume();
        assert!((between / planking - 1.0).abs() < 0.05, "{}: {between} {planking}", starter.name);
    }
}

/// The lid over a flat-bottomed hull's sheers and the bottom bound a volume that slices of
/// it give too: the trapezoid of each station, summed by Simpson's rule over 200 slices
/// (elementary; no part of the mesh is used).
#[test]
fn the_volume_is_that_of_its_slices() {
    let model = derive(&demonstration(), &Materials::shipped()).expect("the demonstration hull");
    let side = &model.panels[1].surface;
    let (chine, sheer) = (&model.lines.lines[1].spline, &model.lines.lines[2].spline);
    // From the section at x: half-breadths at the chine's and the sheer's height, with the
    // side's own crossing of the plane where the boat is narrower than either line.
    let section = |x: f64| -> f64 {
        let mut points: Vec<(f64, f64)> = Vec::new();
        if let Some(t) = chine.parameter_at_x(x) {
            let p = chine.at(t);
            points.push((0.0, p.z));
            points.push((p.y, p.z));
        }
        let mut inner: Vec<(f64, f64)> = side
            .rulings
            .iter()
            .filter(|r| (r.lower.x - x) * (r.upper.x - x) < 0.0)
            .map(|r| {
                let t = (x - r.lower.x) / (r.upper.x - r.lower.x);
                let p = r.lower + t * (r.upper - r.lower);
                (p.y, p.z)
            })
            .collect();
        inner.sort_by(|a, b| a.1.total_cmp(&b.1));
        points.extend(inner);
        if let Some(t) = sheer.parameter_at_x(x) {
            let p = sheer.at(t);
            points.push((p.y, p.z));
            points.push((0.0, p.z));
        }
        let n = points.len();
        (0..n)
            .map(|i| points[i].0 * points[(i + 1) % n].1 - points[(i + 1) % n].0 * points[i].1)
            .sum::<f64>()
            .abs()
    };
    // Away from stem and transom, where both lines are there.
    let (from, to, n) = (300.0, 3800.0, 200);
    let h = (to - from) / f64::from(n);
    let weight = |i: i32| {
        if i == 0 || i == n {
            1.0
        } else if i % 2 == 1 {
            4.0
        } else {
            2.0
        }
    };
    let slices: f64 =
        (0..=n).map(|i| weight(i) * section(from + h * f64::from(i))).sum::<f64>() * h / 3.0;
    let mesh = model.mesh(false);
    let part = clipped_volume(&mesh, from, to);
    assert!((part / slices - 1.0).abs() < 2e-3, "{part} {slices}");
}

/// Volume of a closed mesh between two stations, by integrating x times the sections that
/// each triangle bounds: clip every triangle and close with the section planes, whose own
/// contribution to ∫ x n_x dA is known from the sections' areas.
fn clipped_volume(mesh: &chinewright::geom::mesh::Mesh, from: f64, to: f64) -> f64 {
    // Divergence theorem with F = (0, y, 0): section planes x = const contribute nothing.
    let mut volume = 0.0;
    for t in mesh.corners() {
        let mut polygon: Vec<[f64; 3]> = t.iter().map(|p| [p.x, p.y, p.z]).collect();
        for (limit, sign) in [(from, 1.0), (to, -1.0)] {
            let inside = |p: &[f64; 3]| sign * (p[0] - limit) >= 0.0;
            let mut cut = Vec::new();
            for i in 0..polygon.len() {
                let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
                if inside(&a) {
                    cut.push(a);
                }
                if inside(&a) != inside(&b) {
                    let s = (limit - a[0]) / (b[0] - a[0]);
                    cut.push(std::array::from_fn(|k| a[k] + s * (b[k] - a[k])));
                }
            }
            polygon = cut;
        }
        for k in 1..polygon.len().saturating_sub(1) {
            let (a, b, c) = (polygon[0], polygon[k], polygon[k + 1]);
            // n_y dA of the triangle, times its mean y.
            let (u, v): ([f64; 3], [f64; 3]) =
                (std::array::from_fn(|i| b[i] - a[i]), std::array::from_fn(|i| c[i] - a[i]));
            let ny = 0.5 * (u[2] * v[0] - u[0] * v[2]);
            volume += ny * (a[1] + b[1] + c[1]) / 3.0;
        }
    }
    volume
}

#[test]
fn mesh_files_hold_the_same_hull() {
    let model = derive(&demonstration(), &Materials::shipped()).expect("the demonstration hull");
    let mesh = model.mesh(true);
    let stl = MeshFormat::Stl.bytes(&mesh, "test").expect("stl");
    assert_eq!(stl.len(), 84 + 50 * mesh.triangles.len(), "binary STL: 84 bytes and 50 a triangle");
    let obj = String::from_utf8(MeshFormat::Obj.bytes(&mesh, "test").expect("obj")).expect("text");
    assert_eq!(obj.lines().filter(|l| l.starts_with("f ")).count(), mesh.triangles.len());
    let glb = MeshFormat::Glb.bytes(&mesh, "test").expect("glb");
    assert_eq!(&glb[..4], b"glTF");
    assert_eq!(u32::from_le_bytes([glb[8], glb[9], glb[10], glb[11]]) as usize, glb.len());
    let length = u32::from_le_bytes([glb[12], glb[13], glb[14], glb[15]]) as usize;
    let json: serde_json::Value =
        serde_json::from_slice(&glb[20..20 + length]).expect("its JSON chunk");
    let high = json["accessors"][0]["max"][0].as_f64().expect("a bound");
    assert!((high - 3.95).abs() < 0.02, "metres: {high}");
}

#[derive(Deserialize)]
struct PanelCheck {
    hull: Option<String>,
    panels: Vec<CheckedPanel>,
}

#[derive(Deserialize)]
struct CheckedPanel {
    name: String,
    area_mm2: CheckedAreas,
    edges_mm: CheckedEdges,
    igl_places_mm: Places,
}

/// Even places along both edges of a panel that libigl laid flat, in its own axes.
#[derive(Deserialize)]
struct Places {
    lower: Vec<[f64; 2]>,
    upper: Vec<[f64; 2]>,
}

/// `count` even places along a line, end to end.
fn places(line: &[P2], count: usize) -> Vec<P2> {
    let mut reached = vec![0.0];
    for w in line.windows(2) {
        reached.push(reached[reached.len() - 1] + (w[1] - w[0]).norm());
    }
    let whole = reached[reached.len() - 1];
    (0..count)
        .map(|k| {
            let wanted = whole * k as f64 / (count - 1) as f64;
            let i = reached.partition_point(|r| *r <= wanted).clamp(1, line.len() - 1);
            let t = (wanted - reached[i - 1]) / (reached[i] - reached[i - 1]).max(1e-12);
            line[i - 1] + t * (line[i] - line[i - 1])
        })
        .collect()
}

#[derive(Deserialize)]
struct CheckedAreas {
    space_a: f64,
}

#[derive(Deserialize)]
struct CheckedEdges {
    space: std::collections::BTreeMap<String, f64>,
}

/// Truth: `tests/reference/panel_check.py` on the V-bottomed starter's report: areas by
/// trimesh, outline by shapely, the same strip laid flat by libigl's conformal map. Today's
/// panels are held to those areas and lengths, and every distance between eleven places on
/// either edge to that between the same places of libigl's: the shape, wherever it lies.
#[test]
fn panels_are_those_that_other_libraries_laid_flat() {
    let check: PanelCheck = frozen("panel_check.json");
    let hull = find("warden").expect("a starter").hull();
    assert_eq!(check.hull.as_deref(), Some(hull.name.as_str()));
    let model = derive(&hull, &Materials::shipped()).expect("a starter");
    assert_eq!(check.panels.len(), model.panels.len());
    for (theirs, ours) in check.panels.iter().zip(&model.panels) {
        assert_eq!(theirs.name, ours.name);
        assert!(!ours.full_width, "{}: the strip is a half, the pattern a whole", ours.name);
        let theirs_at = theirs.igl_places_mm.lower.iter().chain(&theirs.igl_places_mm.upper);
        let theirs_at: Vec<P2> = theirs_at.map(|p| P2::new(p[0], p[1])).collect();
        let count = theirs.igl_places_mm.lower.len();
        let ours_at =
            [places(&ours.flat.lower_edge(), count), places(&ours.flat.upper_edge(), count)]
                .concat();
        assert!(count > 10 && theirs_at.len() == ours_at.len());
        for (i, (a, b)) in ours_at.iter().zip(&theirs_at).enumerate() {
            for (c, d) in ours_at[..i].iter().zip(&theirs_at) {
                let (own, other) = ((a - c).norm(), (b - d).norm());
                assert!((own - other).abs() < 0.05, "{}: {own} {other}", ours.name);
            }
        }
        let area = ours.flat.area_in_space;
        assert!((area / theirs.area_mm2.space_a - 1.0).abs() < 1e-5, "{}: {area}", ours.name);
        for (edge, length) in &theirs.edges_mm.space {
            let got = match edge.as_str() {
                "lower" => ours.edges.lower,
                "upper" => ours.edges.upper,
                "bow" => ours.edges.bow,
                _ => ours.edges.stern,
            };
            assert!((got - length).abs() < 0.05, "{} {edge}: {got} {length}", ours.name);
        }
    }
}
