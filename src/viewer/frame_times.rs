//! How quick the window is, measured where it runs: only where the variable
//! `CHINEWRIGHT_PACE` is set, printed after each drag.

use std::io::Write;
use std::time::Instant;

use bevy::prelude::*;

use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::session::Command;

/// Set to anything, it has the window say how quick each drag was.
pub const VARIABLE: &str = "CHINEWRIGHT_PACE";

/// Times of the drag in hand, milliseconds.
#[derive(Resource, Default)]
struct Pace {
    began: Option<Instant>,
    asked: Option<Instant>,
    count: u64,
    dragging: bool,
    frames: Vec<f64>,
    answers: Vec<f64>,
}

/// Measures drags if it is asked to.
#[derive(Debug)]
pub struct FrameTimesPlugin;

impl Plugin for FrameTimesPlugin {
    fn build(&self, app: &mut App) {
        if std::env::var_os(VARIABLE).is_none() {
            return;
        }
        app.init_resource::<Pace>()
            .add_systems(First, begin)
            .add_systems(Update, answered.after(Stage::Sync))
            // The panels have spoken by then: the frame of the pointer's own event counts.
            .add_systems(Last, (asked, end).chain());
    }
}

fn begin(mut pace: ResMut<Pace>) {
    pace.began = Some(Instant::now());
}

/// The pointer moved a duck in this frame.
fn asked(mut pace: ResMut<Pace>, mut commands: MessageReader<Command>) {
    for command in commands.read() {
        match command {
            Command::Drag(_) | Command::DragFromStart(_) => {
                pace.dragging = true;
                pace.asked = pace.asked.or(pace.began);
            }
            Command::DragEnd => pace.dragging = false,
            _ => {}
        }
    }
}

/// The meshes of a newer model are there.
fn answered(mut pace: ResMut<Pace>, derived: Res<Derived>) {
    if derived.count != pace.count {
        pace.count = derived.count;
        if let Some(asked) = pace.asked.take() {
            pace.answers.push(asked.elapsed().as_secs_f64() * 1e3);
        }
    }
}

fn end(mut pace: ResMut<Pace>) {
    let Some(began) = pace.began else {
        return;
    };
    if pace.dragging {
        pace.frames.push(began.elapsed().as_secs_f64() * 1e3);
    } else if !pace.frames.is_empty() {
        let (frames, answers) =
            (std::mem::take(&mut pace.frames), std::mem::take(&mut pace.answers));
        // A closed pipe is no reason to stop.
        let _ = writeln!(
            std::io::stderr().lock(),
            "pace: {} dragged frames, own work {}; pointer to mesh {}",
            frames.len(),
            said(frames),
            said(answers)
        );
    }
}

/// Median and worst, in words.
fn said(mut times: Vec<f64>) -> String {
    times.sort_by(f64::total_cmp);
    match (times.get(times.len() / 2), times.last()) {
        (Some(median), Some(worst)) => format!("{median:.1} ms (worst {worst:.1} ms)"),
        _ => "not measured".into(),
    }
}
