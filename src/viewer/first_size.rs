//! How large the window is at first: as large as it is meant to be, or what of a smaller screen
//! is left beside the title of the window and the screen's own bars.

use bevy::prelude::*;
use bevy::window::{Monitor, PrimaryMonitor, PrimaryWindow};

/// Of a screen with room for it, points.
pub const MEANT: (u32, u32) = (1280, 800);
/// Left beside and above the window on a smaller screen, points: frame, title, a bar of the
/// screen's. Our judgement, no source.
const LEFT: (f32, f32) = (16.0, 88.0);
/// No smaller, points: below that its panels have no room.
const LEAST: (f32, f32) = (640.0, 400.0);

/// Makes the window smaller once, where its screen is.
#[derive(Debug)]
pub struct FirstSizePlugin;

impl Plugin for FirstSizePlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(First, once_known);
    }
}

/// The size of a window at first on a screen of so many pixels, so many of them to a point.
pub fn first_size(pixels: (u32, u32), to_a_point: f64) -> (f32, f32) {
    let one = |pixels: u32, meant: u32, left: f32, least: f32| {
        let (screen, meant) = (pixels as f32 / to_a_point as f32, meant as f32);
        if screen < meant { (screen - left).max(least) } else { meant }
    };
    (one(pixels.0, MEANT.0, LEFT.0, LEAST.0), one(pixels.1, MEANT.1, LEFT.1, LEAST.1))
}

/// Screens are known only when the window is there already. Some systems name none of them the
/// first: then it is the one that is told first.
fn once_known(
    screens: Query<(&Monitor, Has<PrimaryMonitor>)>,
    mut window: Query<&mut Window, With<PrimaryWindow>>,
    mut done: Local<bool>,
) {
    let known = screens.iter().find(|s| s.1).or_else(|| screens.iter().next());
    let (false, Some((screen, _)), Ok(mut window)) = (*done, known, window.single_mut()) else {
        return;
    };
    *done = true;
    let pixels = (screen.physical_width, screen.physical_height);
    let (width, height) = first_size(pixels, screen.scale_factor);
    if (width, height) != (MEANT.0 as f32, MEANT.1 as f32) {
        window.resolution.set(width, height);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_smaller_screen_has_a_smaller_window_and_room_beside_it() {
        assert_eq!(first_size((1920, 1080), 1.0), (1280.0, 800.0));
        assert_eq!(first_size((1280, 800), 1.0), (1280.0, 800.0), "it fills it as it is meant");
        assert_eq!(first_size((1366, 768), 1.0), (1280.0, 680.0));
        assert_eq!(first_size((1024, 600), 1.0), (1008.0, 512.0));
        // 1920 by 1080 at one and a half times the usual size of letters: 1280 by 720 points.
        assert_eq!(first_size((1920, 1080), 1.5), (1280.0, 632.0));
        assert_eq!(first_size((320, 240), 1.0), LEAST);
    }

    /// By the engine's own words: the screen that is told of after the window was made.
    #[test]
    fn the_window_is_made_smaller_once() {
        let mut app = App::new();
        app.add_plugins(FirstSizePlugin);
        let window = Window { resolution: MEANT.into(), ..default() };
        let window = app.world_mut().spawn((window, PrimaryWindow)).id();
        let screen = |width, height| Monitor {
            name: None,
            physical_width: width,
            physical_height: height,
            physical_position: IVec2::ZERO,
            refresh_rate_millihertz: None,
            scale_factor: 1.0,
            video_modes: Vec::new(),
        };
        let size = |app: &App| {
            let window = app.world().get::<Window>(window).expect("a window");
            (window.width(), window.height())
        };
        app.update();
        assert_eq!(size(&app), (1280.0, 800.0), "no screen is known yet");
        app.world_mut().spawn(screen(1920, 1200));
        app.world_mut().spawn((screen(1024, 768), PrimaryMonitor));
        app.update();
        assert_eq!(size(&app), (1008.0, 680.0));
        // As it was pulled since then.
        app.world_mut().get_mut::<Window>(window).expect("a window").resolution.set(900.0, 500.0);
        app.update();
        assert_eq!(size(&app), (900.0, 500.0));
    }
}
