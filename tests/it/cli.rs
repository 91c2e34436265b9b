//! The program run as a program: commands, files, exit codes.

use std::path::Path;
use std::process::{Command, Output};

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Folder {
        Folder(tempfile::tempdir().expect("a folder"))
    }

    fn path(&self) -> &Path {
        self.0.path()
    }

    fn write(&self, name: &str, text: &str) -> &Folder {
        std::fs::write(self.path().join(name), text).expect("writable");
        self
    }

    fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path().join(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
    }

    /// Runs the program here, with no display.
    fn run(&self, args: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_chinewright"))
            .args(args)
            .current_dir(self.path())
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET")
            .output()
            .expect("the program runs")
    }
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn code(out: &Output) -> i32 {
    out.status.code().expect("no signal")
}

const TABLE: &str = "unit,mm\nline,x,y,z\nchine,100,0,150\nchine,1500,400,30\nchine,3000,420,60\nsheer,0,0,600\nsheer,1500,560,480\nsheer,3090,560,470\n";

#[test]
fn without_a_display_it_says_so_in_one_line_and_writes_the_pack() {
    let folder = Folder::new();
    let out = folder.run(&[]);
    assert_eq!(code(&out), 0, "{}", text(&out.stderr));
    let said = text(&out.stderr);
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.contains("build pack"), "{said}");
    for file in [
        "patterns/side.dxf",
        "patterns/side.svg",
        "patterns/side-a4.pdf",
        "frames/frame-1.dxf",
        "frames/frame-1-parts-a4.pdf",
        "frames/transom.svg",
        "frames/stem-a4.pdf",
        "setup/strongback-plan.pdf",
        "setup/strongback-elevation.dxf",
        "setup/lines-plan.pdf",
        "setup/table-of-offsets.pdf",
        "sheets/sheet-1.dxf",
        "sheets/sheet-1.svg",
        "sheets/sheet-1.pdf",
        "lists/sheets.csv",
        "lists/costs.csv",
        "lists/offcuts.ron",
        "offsets.csv",
        "summary.txt",
        "report.json",
        "hull.ron",
    ] {
        assert!(folder.path().join("build-pack").join(file).is_file(), "{file}");
    }
}

#[test]
fn start_report_pack_and_mesh_work_on_a_starter() {
    let folder = Folder::new();
    assert!(text(&folder.run(&["start"]).stdout).contains("reed-skiff"));
    assert_eq!(code(&folder.run(&["start", "warden", "-o", "w.ron"])), 0);
    let out = folder.run(&["report", "w.ron", "--json"]);
    assert_eq!(code(&out), 0, "{}", text(&out.stderr));
    let report: serde_json::Value = serde_json::from_slice(&out.stdout).expect("one JSON object");
    assert_eq!(report["schema"], 1);
    for key in ["transom", "stem", "strongback"] {
        assert!(report[key].is_object(), "{key}");
    }
    assert!(report["bow_transom"].is_null() && report["as_built"].is_null());
    let frame = &report["frames"][2];
    for key in [
        "name",
        "station_x_mm",
        "face",
        "section_mm",
        "crown_mm",
        "bevels_deg",
        "notches",
        "pieces",
    ] {
        assert!(!frame[key].is_null(), "{key}");
    }
    assert_eq!(frame["face"], "aft");
    let stock = report.as_object().expect("object").get("stock");
    assert!(stock.is_some_and(serde_json::Value::is_null), "to come");
    let afloat = report["afloat"].as_object().expect("the boat afloat");
    for key in [
        "mass_kg",
        "draft_mm",
        "trim_deg",
        "heel_deg",
        "displacement_kg",
        "lcb_mm",
        "vcb_mm",
        "waterplane_area_mm2",
        "wetted_area_mm2",
        "gm_mm",
        "waterline",
        "righting",
        "curves",
        "capacity",
        "speed_power",
    ] {
        assert!(afloat.get(key).is_some_and(|v| !v.is_null()), "{key}");
    }
    let panel = &report["panels"][0];
    for key in [
        "name",
        "lower_line",
        "upper_line",
        "mirrored",
        "thickness_mm",
        "pattern_surface",
        "rulings",
        "outline_mm",
        "area_mm2",
        "flat_area_mm2",
        "edges_mm",
        "max_twist_deg",
        "stretch_max",
        "pattern_error_mm",
        "tightest_radius_mm",
        "least_radius_mm",
    ] {
        assert!(!panel[key].is_null(), "panels[].{key}");
    }
    let member = &report["members"][0];
    for key in [
        "name",
        "line",
        "length_mm",
        "moulded_mm",
        "sided_mm",
        "species",
        "moisture_pct",
        "along",
        "peak_strain",
        "breaking_strain",
        "utilisation",
        "break_chance",
        "pair_break_chance",
        "sticks",
        "stock",
        "advice",
    ] {
        assert!(!member[key].is_null(), "members[].{key}");
    }
    assert_eq!(member["advice"]["options"].as_array().map(Vec::len), Some(6));
    assert!(
        text(&folder.run(&["report", "w.ron"]).stdout).contains("Will the sheets lie flat?")
            || text(&folder.run(&["report", "w.ron"]).stdout).contains("will the sheets lie flat?")
    );
    let only = folder.run(&["report", "w.ron", "--json", "--only", "lines"]);
    let only: serde_json::Value = serde_json::from_slice(&only.stdout).expect("JSON");
    assert!(only.get("panels").is_none() && only["lines"].is_array());
    assert_eq!(
        code(&folder.run(&["pack", "w.ron", "-o", "out", "--paper", "roll", "--units", "ft-in-8"])),
        0
    );
    assert!(folder.read("out/summary.txt").contains("Warden"));
    assert!(folder.read("out/offsets.csv").contains("unit,ft-in-8"));
    for file in ["hull.stl", "hull.obj", "hull.glb"] {
        assert_eq!(code(&folder.run(&["mesh", "w.ron", "-o", file, "--surface", "outside"])), 0);
        assert!(folder.path().join(file).metadata().expect(file).len() > 1000);
    }
}

#[test]
fn packs_are_the_same_bytes_twice() {
    let folder = Folder::new();
    folder.run(&["start", "sluice-pram", "-o", "p.ron"]);
    folder.run(&["pack", "p.ron", "-o", "a"]);
    folder.run(&["pack", "p.ron", "-o", "b"]);
    for file in [
        "patterns/side.dxf",
        "patterns/side.svg",
        "patterns/side-a4.pdf",
        "patterns/bottom.dxf",
        "report.json",
        "hull.ron",
    ] {
        let bytes = |which: &str| std::fs::read(folder.path().join(which).join(file)).expect(file);
        assert!(bytes("a") == bytes("b"), "{file} differs");
    }
}

#[test]
fn an_imported_table_becomes_a_document_with_the_asked_planking() {
    let folder = Folder::new();
    folder.write("plan.csv", TABLE);
    let out = folder.run(&[
        "import",
        "plan.csv",
        "-o",
        "plan.ron",
        "--sheet-thickness",
        "6.4",
        "--pattern-surface",
        "inside",
    ]);
    assert_eq!(code(&out), 0, "{}", text(&out.stderr));
    let saved = folder.read("plan.ron");
    assert!(saved.contains("thickness_mm: 6.4") && saved.contains("Inside"), "{saved}");
    let report = folder.run(&["report", "plan.ron", "--json"]);
    let report: serde_json::Value = serde_json::from_slice(&report.stdout).expect("JSON");
    assert_eq!(report["panels"][1]["pattern_surface"], "inside");
    assert_eq!(report["panels"][0]["mirrored"], false, "a flat bottom is one piece");
}

#[test]
fn exit_codes_tell_failure_usage_and_grave_findings_apart() {
    let folder = Folder::new();
    assert_eq!(code(&folder.run(&["report", "none.ron"])), 1);
    folder.write("broken.ron", "(version: 1, name: \"x\", lines: [");
    let broken = folder.run(&["report", "broken.ron"]);
    assert_eq!(code(&broken), 1);
    assert!(text(&broken.stderr).contains("broken.ron:1:"), "{}", text(&broken.stderr));
    assert_eq!(code(&folder.run(&["report"])), 2);
    assert_eq!(code(&folder.run(&["mesh", "x.ron", "-o", "x.step"])), 2);
    assert_eq!(code(&folder.run(&["start", "nobody"])), 2);
    assert_eq!(code(&folder.run(&["picture", "x.ron", "-o", "x.png", "--size", "huge"])), 2);
    assert_eq!(code(&folder.run(&["report", "x.ron", "--only", "sails"])), 2);
    // A sheer thrown far out amidships: computed, but not to be built.
    folder.write("grave.csv", &TABLE.replace("sheer,1500,560,480", "sheer,1500,1400,480"));
    assert_eq!(code(&folder.run(&["import", "grave.csv", "-o", "grave.ron"])), 0);
    let grave = folder.run(&["report", "grave.ron", "--json"]);
    assert_eq!(code(&grave), 3);
    let report: serde_json::Value = serde_json::from_slice(&grave.stdout).expect("JSON");
    assert!(
        report["findings"].as_array().expect("findings").iter().any(|f| f["severity"] == "stop")
    );
}

#[test]
fn a_bad_table_names_its_row() {
    let folder = Folder::new();
    folder.write("bad.csv", &TABLE.replace("sheer,1500,560,480", "sheer,1500,wide,480"));
    let out = folder.run(&["import", "bad.csv", "-o", "bad.ron"]);
    assert_eq!(code(&out), 1);
    assert!(text(&out.stderr).contains("bad.csv:7:"), "{}", text(&out.stderr));
    assert!(!folder.path().join("bad.ron").exists());
}

/// Another boat packed into the same folder left 42 files of the first; and nothing on a sheet
/// told one state of a boat from another.
#[test]
fn a_folder_holds_one_boat_and_every_sheet_bears_her_mark() {
    let folder = Folder::new();
    folder.run(&["start", "warden", "-o", "w.ron"]);
    folder.run(&["start", "sluice-pram", "-o", "p.ron"]);
    assert_eq!(code(&folder.run(&["start", "warden", "-o", "w.ron"])), 1, "it is there");
    assert_eq!(code(&folder.run(&["start", "warden", "-o", "w.ron", "--force"])), 0);
    assert_eq!(code(&folder.run(&["pack", "w.ron", "-o", "out", "--paper", "roll"])), 0);
    folder.write("out/mine.txt", "do not touch");
    let packed = folder.run(&["pack", "p.ron", "-o", "out"]);
    assert_eq!(code(&packed), 0, "{}", text(&packed.stderr));
    assert_eq!(folder.read("out/mine.txt"), "do not touch");
    let manifest: serde_json::Value =
        serde_json::from_str(&folder.read("out/manifest.json")).expect("JSON");
    let told = manifest["files"].as_object().expect("files");
    let mut found = 0;
    for at in ["", "/patterns", "/cards", "/frames", "/setup", "/sheets", "/lists"] {
        let at = format!("out{at}");
        for entry in std::fs::read_dir(folder.path().join(&at)).expect(&at).flatten() {
            if entry.path().is_file() {
                let name = format!("{at}/{}", entry.file_name().to_string_lossy());
                let name = name.trim_start_matches("out/").to_string();
                found += 1;
                let known = told.contains_key(&name);
                assert!(known || name == "mine.txt" || name == "manifest.json", "{name} is stale");
            }
        }
    }
    assert_eq!(found, told.len() + 2);
    let report: serde_json::Value =
        serde_json::from_str(&folder.read("out/report.json")).expect("JSON");
    let mark = report["hull"]["mark"].as_str().expect("a mark").to_string();
    assert_eq!(manifest["mark"], report["hull"]["mark"]);
    for name in [
        "out/summary.txt",
        "out/patterns/side.svg",
        "out/patterns/side.dxf",
        "out/sheets/sheet-1.dxf",
    ] {
        assert!(folder.read(name).contains(&format!("mark {mark}")), "{name}");
    }
    // A folder of somebody else's.
    std::fs::create_dir(folder.path().join("theirs")).expect("a folder");
    folder.write("theirs/letter.txt", "dear");
    let out = folder.run(&["pack", "p.ron", "-o", "theirs"]);
    assert_eq!(code(&out), 1);
    assert!(text(&out.stderr).contains("--force"), "{}", text(&out.stderr));
    assert_eq!(code(&folder.run(&["mesh", "p.ron", "-o", "p.ron"])), 2, "no mesh's ending");
    folder.run(&["start", "sluice-pram", "-o", "p.obj"]);
    let out = folder.run(&["mesh", "p.obj", "-o", "p.obj"]);
    assert_eq!(code(&out), 1);
    assert!(text(&out.stderr).contains("is what is read"), "{}", text(&out.stderr));
    // One question of the six.
    let skin = folder.run(&["report", "p.ron", "--json", "--only", "bones"]);
    let skin: serde_json::Value = serde_json::from_slice(&skin.stdout).expect("JSON");
    assert!(
        skin["frames"].is_array() && skin["members"].is_array() && skin.get("panels").is_none()
    );
}

/// The same boat gives the same bytes wherever the builder lives.
#[cfg(unix)]
#[test]
fn a_pack_does_not_depend_on_the_time_zone() {
    let folder = Folder::new();
    folder.run(&["start", "sluice-pram", "-o", "p.ron"]);
    for (zone, out) in [("UTC0", "utc"), ("XYZ-9", "east"), ("XYZ5", "west")] {
        let done = Command::new(env!("CARGO_BIN_EXE_chinewright"))
            .args(["pack", "p.ron", "-o", out, "--paper", "roll"])
            .current_dir(folder.path())
            .env("TZ", zone)
            .output()
            .expect("the program runs");
        assert_eq!(code(&done), 0, "{}", text(&done.stderr));
    }
    let manifest = |out: &str| folder.read(&format!("{out}/manifest.json"));
    assert!(manifest("utc").contains("side.dxf"));
    assert_eq!(manifest("utc"), manifest("east"));
    assert_eq!(manifest("utc"), manifest("west"));
}

/// Control characters in a name made an SVG that no program reads.
#[test]
fn a_name_with_control_characters_harms_no_file() {
    let folder = Folder::new();
    folder.run(&["start", "sluice-pram", "-o", "p.ron"]);
    let boat = folder.read("p.ron").replacen(
        "name: \"Sluice pram\"",
        "name: \"Sl\\u{0}ui\\u{1b}ce\\npram\"",
        1,
    );
    folder.write("odd.ron", &boat);
    let out = folder.run(&["pack", "odd.ron", "-o", "out", "--paper", "roll"]);
    assert_eq!(code(&out), 0, "{}", text(&out.stderr));
    for file in ["out/patterns/side.svg", "out/patterns/side.dxf", "out/setup/lines-plan.svg"] {
        let bad = folder.read(file).chars().any(|c| c.is_control() && !"\n\r\t".contains(c));
        assert!(!bad, "{file}");
        assert!(folder.read(file).contains("Sl ui ce pram"), "{file}");
    }
}

/// Without lists it says what to write; with them the changed document is written, opens, and
/// needs no change any more.
#[test]
fn the_yard_is_asked_and_the_changed_document_written() {
    let folder = Folder::new();
    assert_eq!(code(&folder.run(&["start", "sluice-pram", "-o", "p.ron"])), 0);
    let none = folder.run(&["yard", "p.ron"]);
    assert_eq!(code(&none), 1);
    assert!(text(&none.stderr).contains("stock: (sheets: [(sheet: \"marine ply 6\""));
    let lists = "    sheets: [(sheet: \"yard ply 1/4\", length_mm: 2440, width_mm: 1220, price: 40)],
    lumber: [(species: \"Douglas-fir\", thickness_mm: 19, width_mm: 140, lengths_mm: [3000], price: Each(12))],";
    let empty = "    sheets: [],\n    lumber: [],";
    folder.write("y.ron", &folder.read("p.ron").replacen(empty, lists, 1));
    let out = folder.run(&["yard", "y.ron", "-o", "cheap.ron", "--json"]);
    assert_eq!(code(&out), 0, "{}", text(&out.stderr));
    let found: serde_json::Value = serde_json::from_slice(&out.stdout).expect("one JSON object");
    assert!(found["proved"] == true && found["changes"][0]["panel"] == "bottom", "{found:#}");
    let again = folder.run(&["yard", "cheap.ron"]);
    assert!(text(&again.stdout).contains("nothing: as she is"), "{}", text(&again.stdout));
    assert_eq!(code(&folder.run(&["yard", "y.ron", "-o", "cheap.ron"])), 1, "it is left alone");
}
