//! The part of the document about what is bought: left out, written, refused.

use chinewright::hull::read::read;
use chinewright::hull::starters::STARTERS;
use chinewright::hull::stock::{JointKind, LumberPrice, SoldBy, StockPlan};
use chinewright::material::StoreTable;
use chinewright::units::Units;

const STOCK: &str = "  stock: (
    sheets: [
      (sheet: \"marine ply 6\", length_mm: 2440, width_mm: 1220, price: 71.5),
      (sheet: \"marine ply 9\", length_mm: 1240, width_mm: 620, count: 2, price: 0, one_good_face: true,
        outline_mm: [(0, 0), (1240, 0), (700, 620), (0, 620)]),
    ],
    lumber: [
      (species: \"Douglas-fir\", thickness_mm: 19, width_mm: 140, lengths_mm: [2400, 3600], price: PerMetre(4.2)),
      (species: \"white oak\", thickness_mm: 27, width_mm: 90, lengths_mm: [2100], count: 3, price: Each(25)),
    ],
    joint: (kind: Scarf, slope: 10),
    panel_joints: [(panel: \"bottom\", rule: (kind: ButtBlock, block_length_mm: 250), at_mm: [1900])],
    kerf_mm: 2.5,
    glue: \"resorcinol\",
    prices: [(store: \"primer\", price: 30), (store: \"glass tape\", pack: 50, price: 22)],
    waste: [(store: \"primer\", pct: 20)],
    stores: [(name: \"bedding\", figure: Bead, value: 20, pack: 0.3, source: \"a cartridge\")],
    currency: \"kr\",
  ),
";

fn with_stock() -> String {
    let skiff = STARTERS.iter().find(|s| s.name == "reed-skiff").expect("a starter");
    skiff.text.replacen("  planking:", &format!("{STOCK}  planking:"), 1)
}

#[test]
fn a_file_without_it_opens_as_before_and_comes_back() {
    for s in STARTERS {
        let hull = s.hull();
        assert_eq!(hull.stock, StockPlan::default());
        let written = hull.to_ron().expect("it can be written");
        assert_eq!(read(&written, "again.ron").expect("it can be read"), hull);
    }
    let plan = StockPlan::default();
    let table = StoreTable::shipped();
    assert!(table.glue(&plan.glue).is_some() && table.store(&plan.fastening).is_some());
}

#[test]
fn all_of_it_is_read_and_comes_back() {
    let hull = read(&with_stock(), "boat.ron").expect("it can be read");
    let plan = &hull.stock;
    assert_eq!((plan.sheets.len(), plan.sheets[0].count, plan.sheets[1].count), (2, None, Some(2)));
    assert_eq!(plan.lumber[0].price, Some(LumberPrice::PerMetre(4.2)));
    assert!((plan.lumber[0].price_of(3600.0).expect("priced") - 15.12).abs() < 1e-9);
    assert_eq!(plan.lumber[1].price_of(2100.0), Some(25.0));
    assert_eq!(plan.joint_of("side").kind, JointKind::Scarf);
    assert_eq!(plan.joint_of("bottom").block_length_mm, Some(250.0));
    let written = hull.to_ron().expect("it can be written");
    assert_eq!(read(&written, "again.ron").expect("it can be read"), hull);
}

/// Every fault is refused with its own line and what would be accepted.
#[test]
fn what_no_yard_has_is_refused_where_it_stands() {
    let good = with_stock();
    for (from, to, words) in [
        ("length_mm: 2440", "length_mm: 24", "100 to 20000 mm"),
        ("price: 71.5", "price: -1", "0 to 1000000"),
        ("(700, 620)", "(700, 900)", "corners from 0 to its length"),
        ("(700, 620), (0, 620)", "(0, 620), (700, 620)", "in their order"),
        ("[(0, 0), (1240, 0), (700, 620), (0, 620)]", "[(0, 0), (9, 0)]", "3 corners"),
        ("thickness_mm: 19, width_mm: 140", "thickness_mm: 190, width_mm: 140", "thickness first"),
        ("lengths_mm: [2400, 3600]", "lengths_mm: []", "1 to 40 lengths"),
        ("lengths_mm: [2100]", "lengths_mm: [21]", "100 to 20000 mm"),
        ("slope: 10", "slope: 1", "4 to 20 in 1"),
        ("block_length_mm: 250", "block_length_mm: 5", "50 to 1000 mm"),
        ("at_mm: [1900]", "at_mm: [1e9]", "-20000 to 20000 mm"),
        ("kerf_mm: 2.5", "kerf_mm: 250", "0 to 10 mm"),
        ("kerf_mm: 2.5", "lumber_slope: 1", "4 to 20 in 1"),
        ("kerf_mm: 2.5", "end_trim_mm: 400", "0 to 300 mm"),
        ("kerf_mm: 2.5", "stick_trim_mm: 400", "0 to 300 mm"),
        ("kerf_mm: 2.5", "sheet_margin_mm: 400", "0 to 100 mm"),
        ("kerf_mm: 2.5", "gluing: (gap_mm: 90)", "0 to 20 mm"),
        ("price: PerMetre(4.2)", "price: Some(4.5)", "PerMetre(4.5), Each(4.5)"),
        ("price: PerMetre(4.2)", "price: 4.5", "PerMetre(4.5), Each(4.5)"),
        ("glue: \"resorcinol\"", "glue: \" \"", "one of epoxy"),
        ("glue: \"resorcinol\"", "glue: \"epoxi\"", "epoxi, polyurethane glue, resorcinol"),
        ("glue: \"resorcinol\"", "fastening: \"brads\"", "brads, galvanised nail"),
        ("glue: \"resorcinol\"", "fastening: \"bedding\"", "bedding, galvanised nail"),
        ("pack: 50", "pack: 0", "0.001 to 1000000"),
        ("store: \"glass tape\"", "store: \"primer\"", "one price for each"),
        ("pct: 20", "pct: 900", "0 to 200 percent"),
        ("value: 20, pack: 0.3", "value: 0, pack: 0.3", "mm² of bead"),
        ("currency: \"kr\"", "currency: \"a great many crowns\"", "at most 8 letters"),
        ("kind: Scarf", "kind: Nailed", "ButtBlock, Scarf"),
        ("one_good_face: true", "good: true", "unknown field"),
    ] {
        let text = good.replacen(from, to, 1);
        assert_ne!(text, good, "{from}");
        let error = read(&text, "bad.ron").expect_err(to);
        let said = error.message.replace('`', "");
        let accepted = words.split(", ").all(|w| said.contains(w));
        assert!(accepted, "{to}: {error}");
        let line = text.lines().position(|l| l.contains(to)).map_or(0, |i| i + 1);
        // A row is pointed at where it begins, an offcut's outline there too; of two rows about
        // one thing either may be named. Figures and names are pointed at themselves.
        let own = from.starts_with("kerf") || from.starts_with("glue") || from.starts_with("curr");
        let most = usize::from(!own && !from.starts_with("slope"));
        assert!(error.line.abs_diff(line) <= most, "{to}: {error}, not line {line}");
    }
}

/// A document that does not say where its lumber is bought is of the yard that its units tell;
/// one that says so stays there, whatever units it is shown in.
#[test]
fn where_she_is_bought_is_read_once_and_stays() {
    let skiff = STARTERS.iter().find(|s| s.name == "reed-skiff").expect("a starter");
    let with = |units: &str, stock: &str| {
        let text = skiff.text.replacen("  planking:", &format!("{units}{stock}  planking:"), 1);
        read(&text, "boat.ron").expect("it can be read")
    };
    let (feet, metric) = ("  units: FeetInchesEighths,\n", "  stock: (sold_by: Metres),\n");
    for (units, stock, wanted) in [
        ("", "", SoldBy::Metres),
        (feet, "", SoldBy::Feet),
        (feet, "  stock: (kerf_mm: 2),\n", SoldBy::Feet),
        (feet, metric, SoldBy::Metres),
        ("", "  stock: StockPlan(sold_by: Feet),\n", SoldBy::Feet),
    ] {
        let hull = with(units, stock);
        assert_eq!(hull.stock.sold_by, wanted, "{units}{stock}");
        for shown in [Units::Mm, Units::Inch] {
            let written = hull.clone().in_units(shown).to_ron().expect("it can be written");
            let back = read(&written, "again.ron").expect("it can be read");
            assert_eq!(back.stock.sold_by, wanted, "{written}");
        }
    }
}
