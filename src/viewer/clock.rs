//! What time a frame is at: the moment it begins.
//!
//! The engine takes it from the renderer's last frame. In a window that has rested that is the
//! time at which it went to rest, so that a press in the first frame and its release in the
//! second lie as far apart as the rest was long, and the panels take the click for a hold.

use std::time::Instant;

use bevy::prelude::*;
use bevy::time::{TimeSystems, TimeUpdateStrategy};

/// Gives every frame its own time.
#[derive(Debug)]
pub struct ClockPlugin;

impl Plugin for ClockPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(First, tell.before(TimeSystems));
    }
}

fn tell(mut strategy: ResMut<TimeUpdateStrategy>) {
    *strategy = TimeUpdateStrategy::ManualInstant(Instant::now());
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use bevy::time::{TimePlugin, create_time_channels};

    use super::*;

    /// The renderer's word from before the rest lies in the channel, as it does after every
    /// frame; the next frame comes half a second later.
    #[test]
    fn the_first_frame_after_a_rest_is_at_its_own_time() {
        let after_rest = |app: &mut App| {
            let (sender, receiver) = create_time_channels();
            app.insert_resource(receiver).insert_resource(Time::<Real>::new(Instant::now()));
            app.update();
            sender.0.try_send(Instant::now()).expect("an empty channel");
            std::thread::sleep(Duration::from_millis(500));
            app.update();
            app.world().resource::<Time<Real>>().delta()
        };
        let mut plain = App::new();
        plain.add_plugins(TimePlugin);
        assert!(after_rest(&mut plain) < Duration::from_millis(250), "the engine's own is stale");
        let mut ours = App::new();
        ours.add_plugins((TimePlugin, ClockPlugin));
        assert!(after_rest(&mut ours) >= Duration::from_millis(500));
    }
}
