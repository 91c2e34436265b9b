//! What a dragged frame takes from the pointer to the last pixel, drawn into an image at the
//! size of a small window and of a large screen, in its parts. Runs on whatever draws here:
//! a graphics card, or the software driver.
//!
//!     cargo bench --bench frames [-- FRAMES]

use std::io::Write;
use std::time::Duration;

use chinewright::hull::edit::Edit;
use chinewright::hull::starters::STARTERS;
use chinewright::hull::{Duck, Hull};
use chinewright::viewer::frame_parts::{FrameParts, TimedScreen};
use chinewright::viewer::screen::Screen;
use chinewright::viewer::session::Command;

const SIZES: [(u32, u32); 2] = [(1280, 800), (3840, 2160)];
/// Frames that are drawn before those that count.
const WARM: usize = 10;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let frames = std::env::args().filter_map(|a| a.parse().ok()).next().unwrap_or(100usize).max(1);
    let mut out = std::io::stdout().lock();
    let mut device_told = false;
    for starter in &STARTERS {
        for size in SIZES {
            let hull = starter.checked();
            let mut screen = TimedScreen::of(Screen::new(hull.clone(), size)?);
            if !std::mem::replace(&mut device_told, true) {
                writeln!(out, "{}; ms, median and worst of {frames} frames", screen.device())?;
                write!(out, "{:<12} {:>9} {:>15}", "", "", "whole")?;
                for name in FrameParts::NAMES {
                    write!(out, " {name:>15}")?;
                }
                writeln!(out)?;
            }
            for step in 0..WARM {
                screen.frame(pull(&hull, step));
            }
            let taken: Vec<FrameParts> =
                (0..frames).map(|step| screen.frame(pull(&hull, WARM + step))).collect();
            write!(out, "{:<12} {:>9}", starter.name, format!("{} x {}", size.0, size.1))?;
            told(&mut out, taken.iter().map(FrameParts::whole).collect())?;
            for k in 0..FrameParts::NAMES.len() {
                told(&mut out, taken.iter().map(|f| f.each()[k]).collect())?;
            }
            writeln!(out)?;
        }
    }
    Ok(())
}

/// A duck of the sheer, a millimetre further out or in with each frame.
fn pull(hull: &Hull, step: usize) -> Command {
    let line = hull.lines.len() - 1;
    let duck = hull.lines[line].ducks[2];
    let to = Duck { y: duck.y + (step % 12) as f64, ..duck };
    Command::Drag(Edit::MoveDuck { line, duck: 2, to })
}

fn told(out: &mut impl Write, mut times: Vec<Duration>) -> std::io::Result<()> {
    times.sort();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    let both = format!("{:.2} {:.1}", ms(times[times.len() / 2]), ms(times[times.len() - 1]));
    write!(out, " {both:>15}")
}
