//! Pictures of every question, light and dark, beside those in `tests/pictures`.
//!
//! Drivers draw edges and round colours differently, so a picture may differ a little
//! everywhere or much in a few places. After a wanted change: look at the new pictures
//! (`CHINEWRIGHT_BLESS=1 cargo test --release pictures` writes them), then commit them.

use std::io::Write;
use std::path::{Path, PathBuf};

use chinewright::hull::starters::STARTERS;
use chinewright::screen::ViewFrom;
use chinewright::viewer::screen::Screen;
use chinewright::viewer::state::table::Tool;
use chinewright::viewer::state::{AfloatPlot, BonesPart, Look, Question, UiState};

use super::window::SKIPPED;

/// Pixels of the window, and how many of them make one of the picture, each way.
const SIZE: (u32, u32) = (1280, 800);
const SHRINK: u32 = 2;
/// A channel that differs by more than this is seen.
const SEEN: u8 = 48;
/// Share of channels that may differ so much, and mean difference of all, of 255.
const MOST_SEEN: f64 = 0.012;
const MOST_MEAN: f64 = 2.5;
/// Side of a block, pixels, and the most that one may differ on average.
const BLOCK: usize = 20;
const MOST_BLOCK: f64 = 20.0;

/// A picture in the window's own colours, RGB.
#[derive(Clone, PartialEq)]
struct Picture {
    width: u32,
    height: u32,
    rgb: Vec<u8>,
}

impl Picture {
    /// Means over blocks of pixels, of RGBA rows.
    fn shrunk(rgba: &[u8]) -> Picture {
        let (width, height) = (SIZE.0 / SHRINK, SIZE.1 / SHRINK);
        let mut rgb = Vec::with_capacity((3 * width * height) as usize);
        for y in 0..height {
            for x in 0..width {
                for c in 0..3 {
                    let mut sum = 0;
                    for (dx, dy) in [(0, 0), (1, 0), (0, 1), (1, 1)] {
                        let at = ((y * SHRINK + dy) * SIZE.0 + x * SHRINK + dx) * 4 + c;
                        sum += u32::from(rgba[at as usize]);
                    }
                    rgb.push((sum / 4) as u8);
                }
            }
        }
        Picture { width, height, rgb }
    }

    fn read(path: &Path) -> Option<Picture> {
        let file = std::io::BufReader::new(std::fs::File::open(path).ok()?);
        let mut reader = png::Decoder::new(file).read_info().ok()?;
        let mut rgb = vec![0; reader.output_buffer_size()?];
        let info = reader.next_frame(&mut rgb).ok()?;
        (info.color_type == png::ColorType::Rgb).then_some(Picture {
            width: info.width,
            height: info.height,
            rgb,
        })
    }

    fn write(&self, path: &Path) {
        let file = std::fs::File::create(path).expect("a place for the picture");
        let mut encoder = png::Encoder::new(std::io::BufWriter::new(file), self.width, self.height);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_compression(png::Compression::High);
        let mut writer = encoder.write_header().expect("a header");
        writer.write_image_data(&self.rgb).expect("pixels");
    }

    /// Mean difference and share of channels that differ visibly.
    fn off(&self, other: &Picture) -> (f64, f64) {
        if (self.width, self.height) != (other.width, other.height) {
            return (255.0, 1.0);
        }
        let n = self.rgb.len() as f64;
        let (mut sum, mut seen) = (0.0, 0.0);
        for (a, b) in self.rgb.iter().zip(&other.rgb) {
            let d = a.abs_diff(*b);
            sum += f64::from(d);
            seen += f64::from(u8::from(d > SEEN));
        }
        (sum / n, seen / n)
    }

    /// The greatest mean difference of any block: a word that is gone, a mark that changed.
    fn worst_block(&self, other: &Picture) -> f64 {
        if (self.width, self.height) != (other.width, other.height) {
            return 255.0;
        }
        let mut worst = 0.0f64;
        for top in (0..self.height).step_by(BLOCK) {
            for left in (0..self.width).step_by(BLOCK) {
                let (mut sum, mut n) = (0.0, 0.0);
                for y in top..(top + BLOCK as u32).min(self.height) {
                    for x in left..(left + BLOCK as u32).min(self.width) {
                        for c in 0..3 {
                            let at = ((y * self.width + x) * 3 + c) as usize;
                            sum += f64::from(self.rgb[at].abs_diff(other.rgb[at]));
                            n += 1.0;
                        }
                    }
                }
                worst = worst.max(sum / n);
            }
        }
        worst
    }

    fn alike(&self, other: &Picture) -> bool {
        let (mean, seen) = self.off(other);
        mean <= MOST_MEAN && seen <= MOST_SEEN && self.worst_block(other) <= MOST_BLOCK
    }
}

/// What is shown: a name and how to bring it about.
const SHOWN: [(&str, fn(&mut UiState)); 20] = [
    ("shape", |_| {}),
    ("skin", |s| s.ask(Question::Skin)),
    ("bones", |s| s.ask(Question::Bones)),
    ("frames", |s| {
        s.ask(Question::Bones);
        s.selection.bones = BonesPart::Frames;
        s.take_frame(2);
    }),
    ("ends", |s| {
        s.ask(Question::Bones);
        s.selection.bones = BonesPart::Ends;
    }),
    ("setup", |s| s.ask(Question::Setup)),
    ("setting-up", |s| {
        s.ask(Question::Setup);
        (s.display.built, s.selection.sheet) = (Some(5), 1);
    }),
    ("frame-parts", |s| {
        s.ask(Question::Bones);
        (s.selection.bones, s.table.open, s.selection.sheet) = (BonesPart::Frames, true, 1);
    }),
    ("afloat", |s| s.ask(Question::Afloat)),
    ("heeled", |s| {
        s.ask(Question::Afloat);
        (s.selection.case, s.display.plot) = (Some(4), AfloatPlot::Speed);
    }),
    ("swamped", |s| {
        s.ask(Question::Afloat);
        (s.selection.case, s.display.plot, s.selection.load) =
            (Some(5), AfloatPlot::Drafts, Some(0));
    }),
    ("water", |s| s.display.water = Some(170.0)),
    ("stock", |s| s.ask(Question::Stock)),
    ("unfolding", |s| {
        s.ask(Question::Skin);
        s.display.opened = 0.6;
    }),
    ("table", |s| {
        s.ask(Question::Skin);
        (s.table.open, s.selection.panel) = (true, Some(1));
    }),
    ("pages", |s| {
        s.ask(Question::Skin);
        (s.table.open, s.table.tool, s.table.page) = (true, Tool::Print, Some(5));
    }),
    ("stripes", |s| s.display.stripes = true),
    ("keys", |s| s.dialogs.keys = true),
    ("full-size", |s| {
        s.ask(Question::Skin);
        (s.table.open, s.table.full_screen, s.selection.panel) = (true, true, Some(1));
    }),
    ("section", |s| {
        (s.display.half, s.display.section) = (true, Some(1500.0));
        s.set_look(Look::Planked);
    }),
];

#[test]
fn every_question_looks_as_it_did_in_light_and_in_dark() {
    if let Err(why) = chinewright::viewer::probe::graphics() {
        let _ = writeln!(std::io::stderr().lock(), "{SKIPPED}: {why}");
        return;
    }
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/pictures");
    let bless = std::env::var_os("CHINEWRIGHT_BLESS").is_some();
    let mut screen = Screen::new(STARTERS[0].checked(), SIZE).expect("a screen");
    let mut all: Vec<(String, Picture)> = Vec::new();
    let mut wrong = Vec::new();
    for dark in [false, true] {
        for (name, show) in SHOWN {
            screen.set(|state, prefs, view| {
                *state = UiState::default();
                prefs.dark = dark;
                view.asked = Some(ViewFrom::Quarter);
                show(state);
            });
            let picture = Picture::shrunk(&screen.pixels().expect("a picture"));
            let name = format!("{name}-{}.png", if dark { "dark" } else { "light" });
            let path = folder.join(&name);
            if bless {
                picture.write(&path);
            } else {
                match Picture::read(&path) {
                    Some(kept) if kept.alike(&picture) => {}
                    Some(kept) => {
                        let (mean, seen) = kept.off(&picture);
                        let new = std::env::temp_dir().join(format!("chinewright-{name}"));
                        picture.write(&new);
                        wrong.push(format!(
                            "{name}: mean {mean:.2}, seen {:.2} %, worst block {:.0}; see {}",
                            100.0 * seen,
                            kept.worst_block(&picture),
                            new.display()
                        ));
                    }
                    None => wrong.push(format!("{name} is not in tests/pictures")),
                }
            }
            all.push((name, picture));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // The comparison tells any two of them apart: it can fail. Questions that are not
    // answered yet differ by a few words only, and light thrown on a sheet by nothing.
    let alike_by_right = |name: &str| ["stock", "full-size"].iter().any(|n| name.starts_with(n));
    for (i, (a, p)) in all.iter().enumerate() {
        for (b, q) in &all[i + 1..] {
            let by_right = alike_by_right(a) && alike_by_right(b);
            assert!(by_right || !p.alike(q), "{a} and {b} are not told apart");
        }
    }
}
