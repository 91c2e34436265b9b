//! The report for people: text in the order in which the questions are asked.

mod afloat;
mod speed;
mod stock;
mod woodwork;
mod yard;

pub use afloat::{CAUTION as AFLOAT_CAUTION, SWAMPED_WITH, arm_area, paired, worked};
pub use stock::stock;
pub use woodwork::{bevel_run, motor_caution};
pub use yard::yard;

use std::fmt::Write as _;

use crate::bend::BentMember;
use crate::finding::{Severity, gravest};
use crate::flat::laps::Role;
use crate::model::{Model, PanelModel};
use crate::part::Question;
use crate::units::{Units, half_degrees};
use crate::words::{self, finding::said};

/// Width of the text.
const WIDTH: usize = 88;

/// The report, or `only` one part of it (a key of the JSON report); lengths in `units`.
pub fn report(model: &Model, units: Units, only: Option<&str>) -> String {
    let wanted = |part: &str| super::wanted(only, part);
    let mut out = String::new();
    let name = &model.hull.name;
    let _ = writeln!(out, "{name}\n{}\n", "=".repeat(name.chars().count()));
    let _ = writeln!(
        out,
        "{} long, {} beam, {} deep, to the inside of the planking.\n",
        units.show(model.lines.length_overall()),
        units.show(model.lines.beam_overall()),
        units.show(model.lines.depth())
    );
    let _ = writeln!(out, "{}\n", super::mark_words(&model.hull));
    if !model.hull.notes.trim().is_empty() {
        paragraph(&mut out, "", model.hull.notes.trim());
        out.push('\n');
    }
    grave(&mut out, model, units);
    if wanted("lines") {
        heading(&mut out, model, "Shape: is she fair?", Question::Shape);
        lines(&mut out, model, units);
    }
    if wanted("panels") {
        heading(&mut out, model, "Skin: will the sheets lie flat?", Question::Skin);
        for p in &model.panels {
            panel(&mut out, model, p, units);
        }
    }
    if wanted("members") {
        heading(&mut out, model, "Bones: will the lumber bend?", Question::Bones);
        for (i, bent) in model.members.iter().enumerate() {
            let length = model.run_of(i).map_or(bent.length, |run| run.length);
            member(&mut out, bent, length, units);
        }
    }
    let work = &model.woodwork;
    if wanted("frames") || wanted("stations") {
        woodwork::frames(&mut out, model, units);
    }
    for (part, name, t) in
        [("transom", "transom", &work.transom), ("bow_transom", "bow transom", &work.bow_transom)]
    {
        if let Some(t) = t.as_ref().filter(|_| wanted(part)) {
            woodwork::transom(&mut out, model, name, t, units);
        }
    }
    for (part, name, s) in
        [("stem", "stem", &work.stem), ("sternpost", "sternpost", &work.sternpost)]
    {
        if let Some(s) = s.as_ref().filter(|_| wanted(part)) {
            woodwork::stem(&mut out, model, name, s, units);
        }
    }
    if wanted("strongback") || wanted("as_built") {
        heading(&mut out, model, "Setup: will it stand true upside down?", Question::Setup);
        match &work.strongback {
            Some(jig) => woodwork::strongback(&mut out, model, jig, units),
            None => out.push_str("No frame can be stood on a strongback.\n\n"),
        }
    }
    if wanted("afloat") {
        heading(&mut out, model, "Afloat: will she float right?", Question::Afloat);
        match model.afloat.as_deref() {
            Some(a) => afloat::afloat(&mut out, model, a, units),
            None => out.push_str("Her lines enclose no space.\n\n"),
        }
    }
    let _ = writeln!(out, "Findings\n--------");
    if model.findings.is_empty() {
        let _ = writeln!(out, "None.");
    }
    // Asked for the boat afloat only, it says what is to be said of that.
    for f in model
        .findings
        .iter()
        .filter(|f| only != Some("afloat") || f.question() == Some(Question::Afloat))
    {
        let said = said(f, units);
        let told = format!("[{}] {}: {}.", f.severity.word(), said.place, said.message);
        paragraph(&mut out, "", &told);
        paragraph(&mut out, "    ", &format!("{}.", said.hint.trim_end_matches('.')));
    }
    out.push('\n');
    paragraph(
        &mut out,
        "",
        "Figures are computed from the lines and the published tables named beside them. They do not replace local rules, a surveyor, or a test piece of your own stock.",
    );
    out
}

/// The findings of the gravest kind, first of all: the rest stands at the end.
fn grave(out: &mut String, model: &Model, units: Units) {
    const MOST: usize = 6;
    let stops: Vec<_> = model.findings.iter().filter(|f| f.severity == Severity::Stop).collect();
    if stops.is_empty() {
        return;
    }
    let _ = writeln!(out, "Do not build her as she is:");
    for f in stops.iter().take(MOST) {
        let said = said(f, units);
        paragraph(out, "  ", &format!("[stop] {}: {}.", said.place, said.message));
    }
    if stops.len() > MOST {
        let _ = writeln!(out, "  and {} more, among the findings at the end", stops.len() - MOST);
    }
    out.push('\n');
}

fn heading(out: &mut String, model: &Model, title: &str, of: Question) {
    heading_of(out, title, of, gravest(&model.findings, Some(of)));
}

/// A heading with the verdict of what was found.
fn heading_of(out: &mut String, title: &str, of: Question, severity: Option<Severity>) {
    let verdict = match severity {
        None | Some(Severity::Note) => good_word(of),
        Some(Severity::Watch) => "watch",
        Some(Severity::Stop) => "stop",
    };
    let line = format!("{title}  {verdict}");
    let _ = writeln!(out, "{line}\n{}", "-".repeat(line.chars().count()));
}

/// What is said of a question to which nothing speaks against her: sheets, sticks and stock
/// hold, her shape, her setup and how she floats are sound.
fn good_word(of: Question) -> &'static str {
    match of {
        Question::Skin | Question::Bones | Question::Stock => "holds",
        _ => "sound",
    }
}

/// Wraps at [`WIDTH`].
fn paragraph(out: &mut String, indent: &str, text: &str) {
    let mut column = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > WIDTH {
            out.push('\n');
            column = 0;
        }
        if column == 0 {
            out.push_str(indent);
            column = indent.len();
        } else {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out.push('\n');
}

fn lines(out: &mut String, model: &Model, units: Units) {
    for (line, fair) in model.lines.lines.iter().zip(&model.fairness) {
        let note = if line.derived { "  (the chine's profile: a flat bottom)" } else { "" };
        let _ = writeln!(
            out,
            "{:<10} {:>12} along   reverses: plan {}, profile {}{note}",
            line.id,
            units.show(line.arc.length()),
            fair.plan.inflections_x.len(),
            fair.profile.inflections_x.len()
        );
    }
    out.push('\n');
}

fn panel(out: &mut String, model: &Model, p: &PanelModel, units: Units) {
    let whole = if p.full_width { "one piece over both sides" } else { "one a side" };
    let measured = units.gauge(p.thickness);
    let _ = writeln!(out, "{}: {}, measured {measured}, {whole}", p.name, p.sheet);
    let _ = writeln!(
        out,
        "    edges     {} {}, {} {}, bow {}, stern {}{}",
        model.line_below(p),
        units.show(p.edges.lower),
        model.line_above(p),
        units.show(p.edges.upper),
        units.show(p.edges.bow),
        units.show(p.edges.stern),
        if p.full_width { " (ends of a half)" } else { "" }
    );
    let diagonals: Vec<String> = crate::drawing::compose::panel::diagonals(p)
        .iter()
        .map(|d| format!("{} to {} {}", d.from, d.to, units.show((d.b - d.a).norm())))
        .collect();
    let _ = writeln!(
        out,
        "    tape      corner {} (lettered on pattern and card)",
        diagonals.join(", ")
    );
    let _ = writeln!(
        out,
        "    pattern   {} of the sheet, {} rulings, within {}",
        p.pattern_surface.word(),
        p.flat.rulings.len(),
        units.accuracy(p.pattern_error)
    );
    for (edge, line) in [(&p.laps.lower, model.line_below(p)), (&p.laps.upper, model.line_above(p))]
    {
        if edge.role != Role::RunsOn {
            let bevels = crate::words::bevels::along(&edge.off_far_face(p.thickness), units);
            let said: Vec<String> = bevels.into_iter().map(|w| w.1).collect();
            let _ = writeln!(
                out,
                "    {:<9} {}: {} added at most, bevel {}",
                line,
                edge.role.word(),
                units.fine(edge.most_added()),
                said.join(" and ")
            );
        }
    }
    if p.quality.greatest_warp > crate::tol::DEVELOPABLE_WARP {
        let _ = writeln!(
            out,
            "    twist     {:.2}° at most, which stretches the sheet by {:.4} %",
            p.quality.greatest_warp.to_degrees(),
            100.0 * p.quality.edge_stretch
        );
    } else {
        let _ = writeln!(out, "    twist     none: the sheet lies flat without stretching");
    }
    if p.bend.radius.is_finite() {
        let _ = writeln!(
            out,
            "    bend      tightest radius {} at {} aft; the sheet takes {} there",
            units.radius(p.bend.radius),
            units.show(p.bend.at.x),
            units.radius(p.bend.least_radius)
        );
        let source = model.materials.sheets.source_of_radii(p.bend.quality);
        let words = format!(
            "{} sheet, face grain at {} to the bend's axis there; {source}",
            p.bend.quality.word(),
            half_degrees(p.bend.grain_angle)
        );
        paragraph(out, "              ", &words);
    } else {
        let _ = writeln!(out, "    bend      flat");
    }
    if p.bend.radius < p.bend.least_radius {
        for o in &p.bend.options {
            let word = if o.holds { "holds" } else { "does not hold" };
            let _ = writeln!(out, "              {}: {word}", words::bend::sheet_way(&o.way));
        }
    }
    out.push('\n');
}

/// A member, as long as it lies (mm).
fn member(out: &mut String, bent: &BentMember, length: f64, units: Units) {
    let m = &bent.member;
    let _ = writeln!(
        out,
        "{} along the {}: {}, {} (moulded x sided), {:.0} % moisture{}, {} long",
        m.name,
        m.line,
        m.species,
        units.section(m.moulded_mm, m.sided_mm),
        m.moisture(),
        if m.air.is_some() { " (from its air)" } else { "" },
        units.show(length)
    );
    let _ = writeln!(
        out,
        "    worst     {:.2} % strain at {} from the bow, mostly by {}",
        100.0 * bent.peak_strain,
        units.show(bent.peak_at),
        words::bend::governs(bent.governs())
    );
    let _ = writeln!(
        out,
        "    bears     {:.2} %, where half of such sticks break: {}",
        100.0 * bent.limit.breaking,
        words::bend::stock(m.stock)
    );
    let both = if m.sticks() > 1 {
        format!(", {} that one of the two does", chance(bent.pair_break_chance))
    } else {
        String::new()
    };
    let _ = writeln!(
        out,
        "    chance    {} that a stick breaks when bent dry{both}",
        chance(bent.break_chance)
    );
    for r in &bent.advice.rungs {
        let mark = if Some(r.method) == bent.advice.recommended { "->" } else { "  " };
        let word = if r.holds { "holds" } else { "does not hold" };
        let _ = writeln!(
            out,
            " {mark} {:<17} {word:<14} {:.2} % asked, {:.2} % allowed",
            words::bend::method(r.method),
            100.0 * r.strain,
            100.0 * r.allowed
        );
        // Its strain would do: the pull is what it fails by.
        if !r.holds && r.strain <= r.allowed {
            paragraph(out, "        ", &words::bend::how(&r.how, units));
        }
        if Some(r.method) == bent.advice.recommended {
            paragraph(out, "        ", &words::bend::how(&r.how, units));
            let caution = words::bend::caution(r.method);
            paragraph(out, "        ", &format!("Caution: {caution}"));
            paragraph(out, "        ", &format!("Source: {}.", words::bend::source(r.method)));
        }
    }
    out.push('\n');
}

/// A chance as a builder says it.
pub fn chance(p: f64) -> String {
    match p {
        p if p < 5e-4 => "under 1 in 2000".into(),
        p if p < 0.01 => format!("1 in {:.0}", 10.0 * (0.1 / p).round()),
        p if p < 0.1 => format!("1 in {:.0}", 1.0 / p),
        p => format!("{:.0} in 100", 100.0 * p),
    }
}
