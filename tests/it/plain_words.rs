//! What a builder is told of a document or a file that cannot be read: what stands there, what
//! is accepted, and nothing of the machine's own.

use std::path::Path;
use std::process::{Command, Output};

use chinewright::hull::read::read;

use crate::hulls::GOOD;

/// The document that a name and lines are enough for, with words and switches besides.
fn good() -> String {
    let more = "  motor: (fitted: true, shaft: Long),\n  planking: (thickness_mm: 6.0),\n)";
    format!("{}{more}", GOOD.strip_suffix(')').expect("a closed document"))
}

/// Words of the reader's library, which say nothing to a builder.
const FOREIGN: [&str; 9] = [
    "Expected",
    "expected",
    "identifier",
    "struct",
    "boolean",
    "RON",
    "integer",
    "Unexpected",
    "enum",
];

#[test]
fn a_slip_in_a_document_is_told_with_what_is_accepted_there() {
    let good = good();
    let nines = "9".repeat(300);
    for (from, to, place, found, accepted) in [
        ("(x: 100, y", "[x: 100, y", "6:7", "`[` stands here", "( and fields by name"),
        ("x: 100, ", "x 100, ", "6:9", "`100` stands here", "a colon between"),
        ("x: 100, y", "x: 100 y", "6:15", "`y` stands here", "a comma before the next field"),
        ("z: 150)", "z: 150", "7:7", "`(` stands here", "a field's name, as in x: 100, or )"),
        ("(x: 100", "x: 100", "6:7", "`x` stands here", "( and fields by name"),
        ("x: 100", "x: one", "6:10", "`one` stands here", "a number such as 420"),
        ("x: 100", "x: \"100\"", "6:10", "the text \"100\"", "a number such as 420"),
        ("x: 100", "x: 1,5", "6:13", "`5` stands here", "written with a point"),
        ("x: 100", "x: 100mm", "6:14", "`mm` stands here", "no unit behind it"),
        ("x: 100", "x: 5'-6", "6:12", "`'` stands here", "a comma"),
        (
            "(x: 100, y: 0, z: 150)",
            "(100, 0, 150)",
            "6:8",
            "`100` stands",
            "a field's name and a colon",
        ),
        ("\"test\"", "test", "3:8", "`test` stands here", "a text in double quotes"),
        ("\"test\"", "5", "3:8", "`5` stands here", "a text in double quotes"),
        ("\"test\"", "\"te\\qst\"", "3:1", "", "\\\\ for a backslash"),
        ("fitted: true", "fitted: yes", "16:18", "`yes` stands here", "true or false"),
        (
            "shaft: Long",
            "shaft: Longish",
            "16:32",
            "`Longish` is unknown",
            "Short, Long, ExtraLong",
        ),
        ("shaft: Long", "shaft: \"Long\"", "16:32", "the text \"Long\"", "without quotation marks"),
        ("ducks: [", "ducks: (", "5:27", "`(` stands here", "[ and a list of values"),
        ("x: 100,", "x: 100, x: 100,", "6:1", "`x` is there twice", "once"),
        ("  name: \"test\",\n", "", "", "`name` is missing in the document", "name: and its value"),
        ("  name: \"test\"", "  /* name: \"test\"", "3:", "a comment begins here", "*/ at its end"),
        ("version: 1,", "version: 1.5,", "2:", "stands here", "a comma"),
        ("version: 1,", "version: -1,", "2:", "stands here", "a whole number, 0 or more"),
        (
            "thickness_mm: 6.0),\n)",
            "thickness_mm: 6.0),\n",
            "17:",
            "before ( of line 1 is closed",
            ") there",
        ),
        ("6.0),\n)", "6.0),\n) by the way", "18:", "`by` stands here", "nothing but comments"),
        (good.as_str(), "", "1:1", "the file ends here", "a hull document, which begins with ("),
        (
            good.as_str(),
            "line,x,y,z\nchine,0,0,1\n",
            "1:1",
            "`line` stands here",
            "chinewright import",
        ),
    ] {
        let text = good.replacen(from, to, 1);
        assert_ne!(text, good, "{from}");
        let said = read(&text, "boat.ron").expect_err(to).to_string();
        assert!(said.starts_with(&format!("boat.ron:{place}")), "{to:?}: {said}");
        assert!(said.contains(found), "{to:?}: {said}");
        let (_, after) = said.split_once("accepted: ").unwrap_or_else(|| panic!("{to:?}: {said}"));
        assert!(after.contains(accepted), "{to:?}: {said}");
        for word in FOREIGN {
            assert!(!said.contains(word), "{to:?}: {word} in {said}");
        }
    }
    // Numbers of 300 digits, wherever they are, are told short.
    for (from, to) in [
        ("x: 100", format!("x: {nines}")),
        ("x: 100", format!("x: {nines}{nines}")),
        ("x: 100", format!("x: 0.{}1", "0".repeat(300))),
        ("x: 100", format!("x 1{nines}")),
        ("version: 1", format!("version: {nines}")),
        ("thickness_mm: 6.0", format!("thickness_mm: {nines}")),
        ("thickness_mm: 6.0", format!("thickness_mm: -{nines}.5")),
        ("shaft: Long", format!("shaft: L{nines}")),
        ("fitted: true", format!("power_hp: 1{nines}")),
        ("name: \"sheer\"", format!("name: \"sheer{nines}\"")),
    ] {
        let text = good.replacen(from, &to, 1);
        match read(&text, "boat.ron") {
            Ok(_) => assert!(to.starts_with("x: 0.00"), "{to}"),
            Err(said) => {
                let said = said.to_string();
                assert!(said.len() < 400 && !said.contains(&"9".repeat(20)), "{said}");
                assert!(said.contains("accepted"), "{said}");
            }
        }
    }
}

fn chinewright(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_chinewright"))
        .args(args)
        .current_dir(folder)
        .output()
        .expect("it runs")
}

#[test]
fn files_that_cannot_be_read_or_written_are_told_in_plain_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    assert!(chinewright(here, &["start", "warden", "-o", "boat.ron"]).status.success());
    std::fs::create_dir(here.join("sub")).expect("a folder");
    let long = format!("{}.ron", "a".repeat(300));
    for (args, said) in [
        (vec!["report", "none.ron"], "cannot read none.ron: there is no such file"),
        (vec!["report", "sub"], "cannot read sub: it is a folder"),
        (vec!["report", "boat.ron/x"], "part of its path is a file"),
        (vec!["import", "none.csv", "-o", "x.ron"], "cannot read none.csv: there is no such file"),
        (
            vec!["start", "warden", "-o", "none/x.ron"],
            "cannot write none/x.ron: there is no such folder",
        ),
        (vec!["start", "warden", "-o", "boat.ron/x.ron"], "part of its path is a file"),
        (vec!["start", "warden", "-o", &long], "its name is too long"),
        (vec!["mesh", "boat.ron", "-o", "none/m.stl"], "there is no such folder"),
        (vec!["pack", "boat.ron", "-o", "boat.ron/x"], "cannot write boat.ron/x"),
    ] {
        let out = chinewright(here, &args);
        let text = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!(out.status.code(), Some(1), "{args:?}: {text}");
        assert!(text.contains(said), "{args:?}: {text}");
        assert!(!text.contains("os error"), "{args:?}: {text}");
    }
    // What is typed is told short too.
    let out = chinewright(here, &["import", "p.csv", "-o", "x.ron", "--sheet-thickness", "1e300"]);
    let text = String::from_utf8_lossy(&out.stderr).into_owned();
    assert_eq!(out.status.code(), Some(2));
    assert!(text.contains("1.000e300") && text.len() < 200, "{text}");
}

/// Lines in one plane once gave an empty solid with nothing but its figure on the screen.
#[test]
fn a_mesh_without_room_is_written_with_a_warning() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    let good = good();
    std::fs::write(here.join("boat.ron"), &good).expect("written");
    let flat: String = good
        .lines()
        .map(|l| match l.split_once("z: ") {
            Some((before, after)) => {
                let (_, rest) = after.split_once(')').expect("a duck");
                format!("{before}z: 100){rest}\n")
            }
            None => format!("{l}\n"),
        })
        .collect();
    std::fs::write(here.join("flat.ron"), flat).expect("written");
    for surface in ["moulded", "outside"] {
        let mesh = |boat: &str, file: &str| {
            let out = chinewright(here, &["mesh", boat, "-o", file, "--surface", surface]);
            assert!(here.join(file).exists(), "{boat}: {}", String::from_utf8_lossy(&out.stderr));
            String::from_utf8_lossy(&out.stderr).into_owned()
        };
        assert_eq!(mesh("boat.ron", "boat.stl"), "", "{surface}");
        let told = mesh("flat.ron", "flat.stl");
        assert_eq!(told.lines().count(), 1, "{surface}: {told}");
        assert!(told.starts_with("warning: "), "{surface}: {told}");
        assert!(told.contains("less than a litre (0.0 litres)"), "{surface}: {told}");
        assert!(told.contains("flat.stl is no solid"), "{surface}: {told}");
    }
}
