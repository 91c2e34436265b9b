//! Pictures without a window. Where no graphics driver is found they are skipped, loudly;
//! `.ci/run` installs a software driver and fails on that word.

use std::io::Write;

use chinewright::hull::edit::Edit;
use chinewright::hull::starters::{STARTERS, demonstration};
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::screen::ViewFrom;
use chinewright::viewer;
use chinewright::viewer::screen::Screen;
use chinewright::viewer::session::Command;

/// The word that CI looks for.
pub(crate) const SKIPPED: &str = "RENDERING TEST SKIPPED";

/// Stage ground of the light theme, sRGB (viewer/ui/style.rs).
const GROUND: [u8; 3] = [0xEF, 0xEA, 0xE0];

#[test]
fn a_picture_shows_a_hull_in_the_middle_of_the_stage() {
    if let Err(why) = viewer::probe::graphics() {
        // Past the test runner's capture, so that it is seen whatever happens.
        let _ = writeln!(std::io::stderr().lock(), "{SKIPPED}: {why}");
        return;
    }
    let model = derive(&demonstration(), &Materials::shipped()).expect("the demonstration hull");
    let (width, height) = (320u32, 200u32);
    let bytes = viewer::picture(&model, ViewFrom::Side, (width, height)).expect("a picture");
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().expect("a PNG");
    let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut pixels).expect("pixels");
    assert_eq!((info.width, info.height), (width, height));
    let at = |x: u32, y: u32| {
        let i = ((y * width + x) * 4) as usize;
        [pixels[i], pixels[i + 1], pixels[i + 2]]
    };
    let is_ground = |c: [u8; 3]| c.iter().zip(GROUND).all(|(a, b)| a.abs_diff(b) <= 6);
    for corner in [(2, 2), (width - 3, 2), (2, height / 4)] {
        assert!(is_ground(at(corner.0, corner.1)), "{corner:?}: {:?}", at(corner.0, corner.1));
    }
    // Square-on from the side the hull fills its length: wood from left to right.
    let wood = |c: [u8; 3]| i32::from(c[0]) - i32::from(c[2]) > 25;
    let columns: Vec<u32> = (0..width).filter(|x| (0..height).any(|y| wood(at(*x, y)))).collect();
    let span = columns.last().expect("wood") - columns.first().expect("wood");
    assert!(f64::from(span) > 0.8 * f64::from(width) && span < width, "{span} of {width} columns");
    // 690 of 3950 mm high: a band of about that share of its length.
    let rows = (0..height).filter(|y| (0..width).any(|x| wood(at(x, *y)))).count();
    let share = rows as f64 / f64::from(span);
    assert!((0.12..0.26).contains(&share), "{rows} rows for {span} columns");
}

/// Letters that were never shown before stand in the very next frame that is drawn, whether or
/// not frames were computed before it of which none was drawn.
#[test]
fn new_letters_are_there_in_the_first_frame_that_is_drawn() {
    if let Err(why) = viewer::probe::graphics() {
        let _ = writeln!(std::io::stderr().lock(), "{SKIPPED}: {why}");
        return;
    }
    const SIZE: (u32, u32) = (1280, 800);
    /// The name, at the left of the top bar.
    const NAME: (usize, usize) = (200, 40);
    let crop = |rgba: &[u8]| -> Vec<u8> {
        let row = |y: usize| &rgba[4 * y * SIZE.0 as usize..][..4 * NAME.0];
        (0..NAME.1).flat_map(row).copied().collect()
    };
    let mut screen = Screen::new(STARTERS[0].checked(), SIZE).expect("a screen");
    let names = ["Ŵĥæţ Đøþ", "Żółć Ęąś", "Ñüßŕ Ķļņ", "Ÿžő Ĝĵŵ"];
    for (unseen, name) in names.into_iter().enumerate() {
        let rename = Command::Edit(Edit::Rename(name.into()));
        let first = crop(&screen.glimpse(rename, unseen).expect("a picture"));
        screen.set(|_, _, _| {});
        let rested = crop(&screen.pixels().expect("a picture"));
        assert!(first == rested, "{name} after {unseen} frames that were not drawn");
    }
}
