//! Where water runs in her: drain slopes and wedges, and where rain lies.

use chinewright::finding::{DrainFact, Fact, Place};
use chinewright::hull::read::read;
use chinewright::hull::{DrainWedge, starters};
use chinewright::material::Materials;
use chinewright::model::{Rain, derive};

fn reed() -> chinewright::hull::Hull {
    starters::find("reed-skiff").expect("a starter").hull()
}

/// The keel over a wedge lies h below the chines where the bottom is wide and by the wedge's
/// slope times the half-breadth where it is narrow: limits of y h / (y⁴ + l⁴)^¼ by hand.
#[test]
fn a_wedge_lets_the_keel_down_by_its_height_amidships() {
    let mut hull = reed();
    let wedge = DrainWedge { height_mm: 25.0, length_mm: 200.0 };
    hull.framing.drain_wedge = Some(wedge);
    let model = derive(&hull, &Materials::shipped()).expect("a starter");
    let at = |line: &str, x: f64| {
        let s = &model.lines.get(line).expect("a line").spline;
        s.at(s.parameter_at_x(x).expect("it passes"))
    };
    for x in [250.0, 400.0, 900.0, 1500.0, 2300.0, 3100.0] {
        let (keel, chine) = (at("keel", x), at("chine", x));
        let fall = chine.z - keel.z;
        let y = chine.y;
        let by_hand = y * 25.0 / (y.powi(4) + 200f64.powi(4)).powf(0.25);
        // The ends are moved onto the transom's plane, which slides the profile a little.
        assert!((fall - by_hand).abs() < 0.6, "{x}: {fall} {by_hand}");
        if y > 400.0 {
            assert!((24.0..25.6).contains(&fall), "{x}: {fall}");
        }
        if y < 100.0 {
            assert!((fall - 0.125 * y).abs() < 0.6, "{x}: {fall}");
        }
    }
    assert!(!model.lines.flat_bottom);
    // One slope for all frames falls further where she is wider.
    hull.framing.drain_wedge = None;
    hull.framing.drain_slope = wedge.slope();
    let sloped = derive(&hull, &Materials::shipped()).expect("a starter");
    let deeper = sloped.lines.get("keel").expect("a keel").spline.clone();
    let z = deeper.at(deeper.parameter_at_x(2300.0).expect("it passes")).z;
    assert!(z < at("keel", 2300.0).z - 30.0, "{z}");
    let told = |m: &chinewright::model::Model| {
        m.findings.iter().find_map(|f| match f.fact {
            Fact::Drain(DrainFact::Falls { drop, .. }) => Some(drop),
            _ => None,
        })
    };
    assert!((told(&model).expect("a finding") - 25.0).abs() < 0.5, "{:?}", told(&model));
}

#[test]
fn a_wedge_is_saved_read_and_checked() {
    let mut hull = reed();
    hull.framing.drain_wedge = Some(DrainWedge { height_mm: 25.0, length_mm: 350.0 });
    let text = hull.to_ron().expect("plain data");
    assert_eq!(read(&text, "saved").expect("its own text"), hull);
    let steep = text.replace("length_mm: 350.0", "length_mm: 50.0");
    let error = read(&steep, "steep").expect_err("too steep").to_string();
    assert!(error.contains("drain wedge") && error.contains("0.3"), "{error}");
    hull.framing.drain_slope = 0.07;
    let both = read(&hull.to_ron().expect("plain data"), "both").expect_err("both");
    assert!(both.to_string().contains("one of them"), "{both}");
}

/// The lowest place of the keel with the hull turned to its trim about the origin, and what
/// the builder is told beside the limbers: five of six hulls lie by the bow when empty.
#[test]
fn rain_is_told_of_beside_the_limbers_where_she_lies_by_the_bow() {
    let mut by_the_bow = 0;
    for s in starters::STARTERS {
        let model = derive(&s.hull(), &Materials::shipped()).expect("a starter");
        let rain = Rain::of(&model).expect("she floats");
        let empty = model
            .afloat
            .as_ref()
            .and_then(|a| a.case(chinewright::part::CaseId::Empty)?.floating)
            .expect("afloat");
        assert_eq!(rain.trim, empty.trim);
        let keel = &model.lines.lines[0].spline;
        // By the stern positive: turning the stern down by the trim, z' = z cos θ − x sin θ.
        let lowest = (0..=2000)
            .map(|i| keel.at(keel.end() * f64::from(i) / 2000.0))
            .map(|p| (p.z * rain.trim.cos() - p.x * rain.trim.sin(), p.x))
            .fold((f64::INFINITY, 0.0), |a, b| if b.0 < a.0 { b } else { a });
        let here = rain.at.z * rain.trim.cos() - rain.at.x * rain.trim.sin();
        assert!(here - lowest.0 < 0.1, "{}: {} {}", s.name, rain.at, lowest.1);
        let told = model.findings.iter().find(|f| f.place == Place::Limbers);
        assert_eq!(told.is_some(), rain.trim.to_degrees() < -0.25, "{}", s.name);
        if let Some(f) = told {
            by_the_bow += 1;
            let Fact::Drain(DrainFact::RainStays { trim, between: [Some(_), Some(_)], .. }) =
                f.fact
            else {
                panic!("{f:?}");
            };
            assert_eq!(trim, rain.trim);
            let sheet = model.woodwork.frames.iter().find(|f| !f.limbers.is_empty()).map(|f| {
                chinewright::drawing::compose::frame::frame_assembly(&model, f, model.hull.units)
            });
            let notes = sheet.expect("a frame with limbers").notes;
            assert!(notes.iter().any(|n| n.contains("by the bow")), "{notes:?}");
        }
    }
    assert!(by_the_bow >= 2, "{by_the_bow}");
}
