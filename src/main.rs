//! Parses, runs, and maps the outcome to an exit code.

use std::process::ExitCode;

use chinewright::cli::{Job, Outcome, args::Args, run};
use chinewright::screen::Screen;
use chinewright::units::short::short_numbers;
use clap::Parser;

fn main() -> ExitCode {
    let (mut out, mut messages) = (std::io::stdout(), std::io::stderr());
    let outcome = match Job::from_args(Args::parse()) {
        Ok(job) => run(job, screen(), &mut out, &mut messages),
        Err(message) => {
            use std::io::Write;
            let _ = writeln!(messages, "chinewright: {}", short_numbers(&message));
            Outcome::Usage
        }
    };
    ExitCode::from(outcome as u8)
}

#[cfg(feature = "viewer")]
fn screen() -> Option<Screen> {
    Some(Screen { open: chinewright::viewer::open, picture: chinewright::viewer::picture })
}

#[cfg(not(feature = "viewer"))]
fn screen() -> Option<Screen> {
    None
}
