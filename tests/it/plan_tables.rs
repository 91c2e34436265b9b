//! Tables of offsets as a plan prints them, and planking deducted from lines that a plan
//! draws to its outside.

use chinewright::drawing::compose::offsets_table::{columns, rows};
use chinewright::files::import::import;
use chinewright::finding::Severity;
use chinewright::geom::mesh::Mesh;
use chinewright::geom::{P3, V3};
use chinewright::hull::offsets::{Offsets, read};
use chinewright::hull::starters::STARTERS;
use chinewright::hull::{CheckedHull, Duck, Hull, Line, LineEnd, PanelPlanking};
use chinewright::material::Materials;
use chinewright::model::{derive, off_transom};
use chinewright::panel::{Moved, deduct};
use chinewright::units::{Units, feet_inches_eighths};
use chinewright::words::finding::said;

/// A hull's ducks as a plan's matrix: a column for every distance at which any line has a
/// duck, the cells of the others empty. `grouped` puts the lines below "Heights" and
/// "Half-breadths".
fn matrix(hull: &Hull, grouped: bool, cell: &dyn Fn(f64) -> String) -> String {
    let mut all: Vec<f64> = hull.lines.iter().flat_map(|l| &l.ducks).map(|d| d.x).collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    let row = |name: String, of: &dyn Fn(f64) -> Option<String>| {
        let cells: Vec<String> = all.iter().map(|x| of(*x).unwrap_or_default()).collect();
        format!("{name},{}\n", cells.join(","))
    };
    let names: Vec<String> = (0..all.len()).map(|k| k.to_string()).collect();
    let mut text = format!("Station,{}\n", names.join(","));
    text.push_str(&row("Aft".into(), &|x| Some(cell(x))));
    for (group, word, of) in [
        ("Heights above base", "height", (|d: &Duck| d.z) as fn(&Duck) -> f64),
        ("Half-breadths", "half-breadth", |d| d.y),
    ] {
        if grouped {
            text.push_str(&format!("{group},{}\n", ",".repeat(all.len())));
        }
        for line in hull.lines.iter().filter(|l| word == "height" || l.name != "keel") {
            let name = if grouped { line.name.clone() } else { format!("{} {word}", line.name) };
            text.push_str(&row(name, &|x| {
                line.ducks.iter().find(|d| d.x == x).map(|d| cell(of(d)))
            }));
        }
    }
    text
}

/// Ducks of both, line by line, no further apart than `within` mm.
fn same_ducks(a: &Hull, b: &Hull, within: f64, what: &str) {
    assert_eq!(a.lines.len(), b.lines.len(), "{what}");
    for (l, m) in a.lines.iter().zip(&b.lines) {
        assert_eq!((&l.name, l.ducks.len()), (&m.name, m.ducks.len()), "{what}");
        for (d, e) in l.ducks.iter().zip(&m.ducks) {
            let off = (d.point() - e.point()).abs().max();
            assert!(off <= within, "{what}, {}: {off} mm", l.name);
        }
    }
}

#[test]
fn a_plans_matrix_gives_the_boat_that_it_was_made_of() {
    let metric = |scale: f64| move |mm: f64| format!("{}", mm / scale);
    // Rounding to a sixteenth of an inch is out by half of one at most.
    let sixteenth = 25.4 / 32.0 + 1e-9;
    for starter in STARTERS {
        let hull = starter.hull();
        for grouped in [false, true] {
            let told = |unit: &str, cell: &dyn Fn(f64) -> String, within: f64, shown: Units| {
                let what = format!("{} in {unit}, grouped: {grouped}", starter.name);
                let text = format!("unit,{unit}\n{}", matrix(&hull, grouped, cell));
                let Offsets { hull: back, moved_aft, .. } =
                    read(&text, "plan.csv", "plan").unwrap_or_else(|e| panic!("{what}: {e}"));
                same_ducks(&hull, &back, within, &what);
                assert_eq!(back.units, shown, "{what}");
                assert_eq!(moved_aft, 0.0, "{what}");
                // What is noted of the boat herself is noted of the table too.
                let findings = off_transom(back.lines());
                let grave = findings.iter().find(|f| f.severity != Severity::Note);
                assert!(grave.is_none(), "{what}: {findings:?}");
            };
            told("mm", &metric(1.0), 1e-9, Units::Mm);
            told("cm", &metric(10.0), 1e-9, Units::Mm);
            told("m", &metric(1000.0), 1e-9, Units::M);
            told("in", &metric(25.4), 1e-9, Units::Inch);
            told("ft-in-8", &feet_inches_eighths, sixteenth, Units::FeetInchesEighths);
        }
    }
}

/// The program's own table, stem and transom at each line's own distance, typed in again:
/// whole millimetres, so the lines are the same within a millimetre and a half.
#[test]
fn the_programs_own_table_typed_in_again_is_the_same_boat() {
    for starter in STARTERS {
        let hull = starter.hull();
        let model = derive(&hull, &Materials::shipped()).expect("a starter");
        let mut text = format!("station;{}\n", columns(&model).join(";"));
        let stations: Vec<String> = model.stations.iter().map(|x| format!("{x}")).collect();
        text.push_str(&format!("aft;;{};\n", stations.join(";").replace('.', ",")));
        for (name, values) in rows(&model) {
            // A bottom without a keel has none in the table that a builder types.
            if name.starts_with("keel") && hull.lines[0].name != "keel" {
                continue;
            }
            let cells: Vec<String> =
                values.iter().map(|v| v.map_or("–".into(), |v| format!("{v:.0}"))).collect();
            text.push_str(&format!("\"{name}\";{}\n", cells.join(";")));
        }
        let back = read(&text, "plan.csv", "plan").unwrap_or_else(|e| panic!("{text}\n{e}")).hull;
        let again = derive(&back, &Materials::shipped()).expect("the boat again");
        let mut compared = 0;
        for (a, b) in model.lines.lines.iter().zip(&again.lines.lines) {
            for i in 1..40 {
                let p = a.spline.at(a.spline.end() * f64::from(i) / 40.0);
                let Some(t) = b.spline.parameter_at_x(p.x) else { continue };
                let off = (b.spline.at(t) - p).norm();
                assert!(off < 2.5, "{} {} at {:.0}: {off}", starter.name, a.id, p.x);
                compared += 1;
            }
        }
        assert!(compared >= 100, "{}: {compared}", starter.name);
    }
}

const PLAN: &str = "\
Station (mm),0,1,2,3
Aft,0,1000,2000,3000
Heights,,,,
Sheer,650,560,500,490
Chine,200,60,30,70
Half-breadths,,,,
Sheer,0,420,600,580
Chine,0,260,460,450
";

#[test]
fn a_matrix_is_read_in_the_ways_that_plans_are_drawn() {
    let plain = read(PLAN, "plan.csv", "plan").expect("a good matrix").hull;
    assert_eq!(plain.lines[1].ducks[2], Duck::at(2000.0, 600.0, 500.0));
    let same = |text: &str, what: &str| {
        let hull = read(text, "plan.csv", "plan").unwrap_or_else(|e| panic!("{what}: {e}")).hull;
        same_ducks(&plain, &hull, 1e-9, what);
    };
    same(&PLAN.replace("Station (mm),0,1,2,3\nAft", "x (mm)"), "distances alone");
    same(
        &PLAN
            .replace("Station (mm),0,1,2,3\nAft,0,1000,2000,3000", "Station (mm),0,1000,2000,3000"),
        "distances as the stations' names",
    );
    same(
        &PLAN.replace("Station (mm),0,1,2,3\nAft,0,1000,2000,3000", ",0 mm,100 cm,2 m,3000 mm"),
        "distances with their own units",
    );
    same(&PLAN.replace("Aft,0,1000,2000,3000", "Aft (m),0,1,2,3"), "a row with its own unit");
    // From the stern forward, the label in two columns, by line.
    same(
        "unit,cm\n,,C,B,A,bow\nAft,,300,200,100,0\nSheer,height,49,50,56,65\n,half-breadth,58,60,42,0\nChine,height,7,3,6,20\n,half-breadth,45,46,26,0\n",
        "by line",
    );
    same(
        ",,bow,A,B,C\nAft (m),,0,1,2,3\nHeights,chine,200,60,30,70\n,sheer,650,560,500,490\nHalf-breadths,chine,0,260,460,450\n,sheer,0,420,600,580\n",
        "by measure",
    );
    // A raked stem: the line's own distance where the station has none.
    let raked = PLAN
        .replace("Aft,0,", "Aft,,")
        .replace("Heights,", "Sheer aft,0,,,\nChine aft,90,,,\nHeights,");
    let hull = read(&raked, "plan.csv", "plan").expect("a raked stem").hull;
    assert_eq!((hull.lines[0].ducks[0].x, hull.lines[1].ducks[0].x), (90.0, 0.0));
    // Counted from a station abaft the stem: moved, and told.
    let ahead = PLAN.replace("Aft,0,1000,2000,3000", "Aft,-150,850,1850,2850");
    let Offsets { hull, moved_aft, .. } = read(&ahead, "plan.csv", "plan").expect("a plan");
    same_ducks(&plain, &hull, 1e-9, "moved");
    assert_eq!(moved_aft, 150.0);
}

/// Each fault: what is changed, its line in the file, and words of the message.
#[test]
fn a_bad_matrix_names_line_column_and_value() {
    for (from, to, line, words) in [
        (
            "Sheer,0,420,600",
            "Sheer,0,420,wide",
            7,
            "column 4 (station 2), sheer half-breadth: \"wide\"",
        ),
        (
            "Sheer,0,420,600",
            "Sheer,0,,600",
            4,
            "column 3 (station 1): the sheer has no half-breadth",
        ),
        ("Sheer,650,560", "Sheer,650,", 7, "column 3 (station 1): the sheer has no height"),
        (
            "Aft,0,1000,2000",
            "Aft,0,1000,",
            4,
            "column 4 (station 2): the sheer has no distance aft",
        ),
        ("Aft,0,1000,2000", "Aft,0,1000,two", 2, "column 4 (station 2), distance aft: \"two\""),
        ("Aft,0,1000,2000", "Aft,0,1000,1000", 5, "x = 1000 is not aft"),
        ("Station (mm),0,1,2,3\nAft,0,1000,2000,3000\n", "Station,0,1,2,3\n", 3, "a row \"aft\""),
        ("Sheer,0,420", "Gunnel,0,420", 7, "\"gunnel\" in \"gunnel\""),
        ("Half-breadths,", "Breadths,", 6, "half-breadths, from the centreplane"),
        ("Half-breadths,,,,\n", "", 6, "height of the sheer is given twice, first in line 4"),
        ("Heights,,,,\n", "", 3, "height or half-breadth of the sheer"),
        ("Station (mm)", "Station (ell)", 1, "\"ell\" is unknown; accepted: mm, cm"),
        ("Chine,200,60,30,70\n", "", 7, "the chine has no row for its height"),
        (
            "Sheer,650,560,500,490",
            "Sheer,650,560,9e9,490",
            4,
            "column 4 (station 2): duck 3 of the sheer: z = 9e9",
        ),
    ] {
        let text = PLAN.replacen(from, to, 1);
        assert_ne!(text, PLAN, "{from}");
        let error = read(&text, "plan.csv", "plan").expect_err(to);
        assert_eq!(error.line, line, "{to}: {error}");
        assert!(error.message.contains(words), "{to}: {error}");
        assert!(error.message.contains("accepted"), "{to}: {error}");
    }
}

pub(crate) fn line(name: &str, ducks: &[(f64, f64, f64)]) -> Line {
    let ducks = ducks.iter().map(|(x, y, z)| Duck::at(*x, *y, *z)).collect();
    Line { name: name.into(), ducks, bow: LineEnd::default(), stern: LineEnd::default() }
}

/// The planking of a boat without fault deducted.
pub(crate) fn deducted(outer: &Hull) -> Result<(Hull, Vec<Moved>), String> {
    deduct(&CheckedHull::of(outer.clone()).expect("a boat"))
}

/// A bottom of 9 mm and sides of 6 mm.
pub(crate) fn planked(lines: Vec<Line>) -> Hull {
    let mut hull = Hull::new("outside", lines);
    hull.planking.thickness_mm = 6.0;
    hull.planking.panels = vec![PanelPlanking {
        panel: "bottom".into(),
        sheet: "marine ply 9".into(),
        thickness_mm: 9.0,
        grain_across: false,
    }];
    hull
}

fn at(hull: &Hull, line: &str, duck: usize, want: (f64, f64, f64), within: f64) {
    let d = hull.line(line).expect(line).ducks[duck];
    let off = (d.point() - P3::new(want.0, want.1, want.2)).norm();
    assert!(off < within, "duck {duck} of the {line}: {d:?}, not {want:?}, {off} mm off");
}

/// A box with flared sides. A side leans out by 1 in 2, so its face is √5/2 times its
/// thickness away along the half-breadth, and a bottom 9 mm up takes half of that off again.
#[test]
fn a_flared_box_is_planked_inward_square_to_each_panel() {
    let xs = [0.0, 1000.0, 2000.0, 3000.0];
    let outer = planked(vec![
        line("chine", &xs.map(|x| (x, 400.0, 0.0))),
        line("sheer", &xs.map(|x| (x, 600.0, 400.0))),
    ]);
    let (inner, moved) = deducted(&outer).expect("a box");
    let side = 6.0 * 5f64.sqrt() / 2.0;
    for (k, x) in xs.into_iter().enumerate() {
        at(&inner, "chine", k, (x, 400.0 + 9.0 / 2.0 - side, 9.0), 1e-4);
        at(&inner, "sheer", k, (x, 600.0 - side, 400.0), 1e-4);
    }
    let chine = (side - 4.5).hypot(9.0);
    assert!((moved[0].between.0 - chine).abs() < 1e-4, "{moved:?}");
    // A V-bottom of the same box: the keel is up by 9 mm square to a bottom of 1 in 4.
    let mut vee = outer.clone();
    vee.lines.insert(0, line("keel", &xs.map(|x| (x, 0.0, -100.0))));
    let (inner, _) = deducted(&vee).expect("a box");
    let up = 9.0 * (1.0f64 + 0.0625).sqrt();
    for (k, x) in xs.into_iter().enumerate() {
        at(&inner, "keel", k, (x, 0.0, -100.0 + up), 1e-4);
        // y/4 - 100 + up = z on the bottom, y = 400 + z/2 - side on the side.
        let y = (400.0 - side + (up - 100.0) / 2.0) / (1.0 - 0.125);
        at(&inner, "chine", k, (x, y, y / 4.0 - 100.0 + up), 1e-4);
    }
}

/// A wedge whose sides are the planes y = x/5 + z/10 - 40, brought together on a stem: its
/// inner faces meet there 5 · 6 mm · |n| further aft, at another height for each line.
#[test]
fn a_wedges_stem_moves_aft_by_what_its_faces_ask() {
    let y = |x: f64, z: f64| x / 5.0 + z / 10.0 - 40.0;
    let ducks = |z: f64| {
        let x0 = 200.0 - z / 2.0;
        [x0, 1000.0, 2000.0, 3000.0].map(|x| (x, y(x, z), z))
    };
    let outer = planked(vec![line("chine", &ducks(0.0)), line("sheer", &ducks(400.0))]);
    let (inner, moved) = deducted(&outer).expect("a wedge");
    let n = (1.0f64 + 0.04 + 0.01).sqrt();
    let inner_y = |x: f64, z: f64| y(x, z) - 6.0 * n;
    at(&inner, "sheer", 0, (5.0 * 6.0 * n, 0.0, 400.0), 1e-3);
    at(&inner, "chine", 0, (200.0 - 4.5 + 5.0 * 6.0 * n, 0.0, 9.0), 1e-3);
    assert!((moved[1].bow_aft - 30.0 * n).abs() < 1e-3, "{moved:?}");
    for (name, z) in [("chine", 9.0), ("sheer", 400.0)] {
        for d in &inner.line(name).expect(name).ducks {
            assert!((d.y - inner_y(d.x, z)).abs() < 1e-4 && (d.z - z).abs() < 1e-4, "{d:?}");
        }
        // On the transom, which stood at 3000.
        assert!((inner.line(name).expect(name).ducks[3].x - 3000.0).abs() < 1e-4);
    }
}

/// Upright sides bent to a circle of 4 m lie on one of 4 m less their thickness.
#[test]
fn bent_sides_lie_on_the_inner_circle() {
    let plan = |r: f64, x: f64| (r * r - (x - 1500.0f64).powi(2)).sqrt() - 3400.0;
    let xs: Vec<f64> = (0..=10).map(|k| 300.0 * f64::from(k)).collect();
    let ring = |z: f64| xs.iter().map(|x| (*x, plan(4000.0, *x), z)).collect::<Vec<_>>();
    let outer = planked(vec![line("chine", &ring(0.0)), line("sheer", &ring(400.0))]);
    let (inner, _) = deducted(&outer).expect("a pram");
    for l in &inner.lines {
        for d in &l.ducks {
            let off = d.y - plan(3994.0, d.x);
            assert!(off.abs() < 0.02, "{}: {d:?} is {off} mm off", l.name);
        }
        let ends = (l.ducks[0].x, l.ducks[10].x);
        assert!(ends.0.abs() < 1e-3 && (ends.1 - 3000.0).abs() < 1e-3, "{ends:?}");
    }
}

fn off_mesh(mesh: &Mesh, p: P3) -> f64 {
    let to_edge = |a: P3, b: P3| {
        let d: V3 = b - a;
        let t = ((p - a).dot(&d) / d.norm_squared().max(1e-12)).clamp(0.0, 1.0);
        (a + t * d - p).norm()
    };
    let to = |[a, b, c]: [P3; 3]| {
        let n = (b - a).cross(&(c - a));
        let within =
            [(a, b), (b, c), (c, a)].iter().all(|(u, v)| n.dot(&(v - u).cross(&(p - u))) >= 0.0);
        if within && n.norm() > 1e-9 {
            (p - a).dot(&n.normalize()).abs()
        } else {
            to_edge(a, b).min(to_edge(b, c)).min(to_edge(c, a))
        }
    };
    mesh.corners().map(to).fold(f64::INFINITY, f64::min)
}

/// The other way round: planked again, the outside passes through the plan's own points.
#[test]
fn a_starter_planked_again_has_the_outside_that_was_drawn() {
    for starter in STARTERS {
        let outer = starter.hull();
        let (inner, moved) = deducted(&outer).expect(starter.name);
        let model = derive(&inner, &Materials::shipped()).expect(starter.name);
        let outside = model.mesh(true);
        let drawn = derive(&outer, &Materials::shipped()).expect(starter.name).mesh(false);
        let ratio = outside.volume() / drawn.volume();
        assert!((ratio - 1.0).abs() < 1e-3, "{}: {ratio}", starter.name);
        for l in &outer.lines {
            for (k, d) in l.ducks.iter().enumerate() {
                let off = off_mesh(&outside, d.point());
                // A stem's point is carried a long way aft, and the mesh carries it back
                // along straight faces.
                let within = if k == 0 { 2.0 } else { 0.3 };
                assert!(off < within, "{} {} duck {k}: {off}", starter.name, l.name);
            }
        }
        let least = moved.iter().map(|m| m.between.0).fold(f64::INFINITY, f64::min);
        assert!(least >= 5.99, "{}: {moved:?}", starter.name);
    }
}

#[test]
fn import_deducts_what_it_is_told_and_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("plan.csv");
    let put = |text: &str| std::fs::write(&path, text).expect("written");
    put(PLAN);
    let (plain, findings) = import(&path, None).expect("a plan");
    assert!(findings.is_empty(), "{findings:?}");
    let option = chinewright::hull::OutsideOf::parse("bottom 9 mm, side 6 mm").expect("planking");
    let (typed, told) = import(&path, Some(&option)).expect("a plan");
    put(&format!("outside of,bottom 9 mm,sides 6 mm\n{PLAN}"));
    let (row, _) = import(&path, None).expect("a plan");
    assert_eq!(typed, row, "the row and the option are one thing");
    assert_eq!(typed.planking.of_panel("bottom"), ("marine ply 9", 9.0));
    assert_eq!(typed.planking.of_panel("side"), ("marine ply 6", 6.0));
    assert!(typed.lines[0].ducks[1].z > plain.lines[0].ducks[1].z + 8.0);
    let said = &said(&told[0], typed.units).message;
    assert!(said.contains("bottom 9.0 mm, side 6.0 mm") && said.contains("chine by"), "{said}");
    // The list of points takes the row too.
    put(
        "outside of,9 mm\nchine,0,0,300\nchine,2000,500,40\nchine,3900,450,120\nsheer,0,0,742\nsheer,2000,690,500\nsheer,3980,600,560\n",
    );
    let (listed, _) = import(&path, None).expect("a list");
    assert!(listed.lines[0].ducks[1].z > 48.0);
    for (text, said) in [
        (format!("outside of,thick\n{PLAN}"), "plan.csv:1: outside of: \"thick\""),
        (format!("outside of,bottom 9 mm\n{PLAN}"), "no thickness is given for the side"),
        (format!("outside of,9 mm,strake-2 6 mm\n{PLAN}"), "she has only: bottom, side"),
    ] {
        put(&text);
        let error = import(&path, None).expect_err(said).to_string();
        assert!(error.contains(said) && !error.contains("os error"), "{error}");
    }
    put(&format!("outside of,9 mm\n{PLAN}"));
    assert!(import(&path, Some(&option)).expect_err("two answers").to_string().contains("differ"));
}

/// The table that README shows.
#[test]
fn the_readmes_own_matrix_is_read() {
    let readme = include_str!("../../README.md");
    let from = readme.find("unit,ft-in-8\nStation").expect("the table");
    let text = readme[from..].split("```").next().expect("its end");
    let Offsets { hull, moved_aft, .. } = read(text, "README.md", "plan").expect("a good table");
    assert_eq!(moved_aft, 0.0);
    assert_eq!(off_transom(hull.lines()), []);
    let inches = |name: &str, k: usize| hull.line(name).expect(name).ducks[k].point() / 25.4;
    assert!((inches("sheer", 0) - P3::new(0.0, 0.0, 27.3125)).norm() < 1e-9);
    assert!((inches("chine", 2) - P3::new(78.5, 19.625, 0.6875)).norm() < 1e-9);
    assert!((inches("sheer", 3) - P3::new(156.625, 25.25, 18.625)).norm() < 1e-9);
    assert!(derive(&hull, &Materials::shipped()).is_ok());
}

/// 39 × 25.4 is 990.5999999999999 in floating point, and stood so in the document.
#[test]
fn a_table_in_inches_leaves_no_rounding_in_the_document() {
    let list = "unit,in\nchine,0.1,0,12.3\nchine,79,19.7,1.6\nchine,153.3,17.9,39\nsheer,0,0,39\nsheer,79,27.3,37.1\nsheer,156.7,23.7,41.3\n";
    // Counted from a station: all is moved aft by 3.1 in.
    let matrix = "unit,in,,\nstation,0,1,2\naft,-3.1,79,150.2\nchine height,12.3,1.6,39\nchine half-breadth,0,19.7,17.9\nsheer height,39,37.1,41.3\nsheer half-breadth,0.1,27.3,23.7\n";
    for (what, table, end) in [("a list", list, 153.3 * 25.4), ("a matrix", matrix, 153.3 * 25.4)] {
        let hull = read(table, "plan.csv", "plan").unwrap_or_else(|e| panic!("{what}: {e}")).hull;
        let all: Vec<f64> =
            hull.lines.iter().flat_map(|l| &l.ducks).flat_map(|d| [d.x, d.y, d.z]).collect();
        assert!(all.contains(&990.6), "{what}: {all:?}");
        for c in all {
            let decimals = c.to_string().split_once('.').map_or(0, |(_, d)| d.len());
            assert!(decimals <= 6, "{what}: {c}");
        }
        let chine = hull.line("chine").expect("a chine");
        assert!((chine.ducks[2].x - end).abs() <= 1e-6, "{what}: {}", chine.ducks[2].x);
    }
}
