//! A pull within one late frame: press, movement and release that a busy machine hands over
//! together are spread over as many frames as the panels need to see them.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::EguiInput;
use bevy_egui::egui::Event;

/// What waits for the next frame, in its order.
#[derive(Default)]
pub(super) struct Waiting(Vec<Event>);

impl Waiting {
    /// What of `events` (after all that waits) belongs to this frame; the rest waits.
    ///
    /// The panels' library looks for what is pressed where the pointer is at the end of a
    /// frame, and sees a drag only when a frame ends with the button down: so a press ends its
    /// frame, and a release after a movement begins one.
    fn next(&mut self, events: &mut Vec<Event>) {
        self.0.append(events);
        let mut moved = false;
        for (i, event) in self.0.iter().enumerate() {
            match event {
                Event::PointerButton { pressed: true, .. } => {
                    *events = self.0.drain(..=i).collect();
                    return;
                }
                Event::PointerButton { pressed: false, .. } if moved => {
                    *events = self.0.drain(..i).collect();
                    return;
                }
                Event::PointerMoved(_) => moved = true,
                _ => {}
            }
        }
        events.append(&mut self.0);
    }
}

/// Hands the panels what belongs to one frame, and asks for another while something waits.
pub(super) fn spread(
    mut inputs: Query<(Entity, &mut EguiInput)>,
    mut waiting: Local<bevy::platform::collections::HashMap<Entity, Waiting>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    waiting.retain(|of, _| inputs.contains(*of));
    for (of, mut input) in &mut inputs {
        let waits = waiting.entry(of).or_default();
        waits.next(&mut input.events);
        if !waits.0.is_empty() {
            redraw.write(RequestRedraw);
        }
    }
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::{
        CentralPanel, Context, Modifiers, PointerButton, Pos2, RawInput, Rect, Sense, Vec2, pos2,
    };

    use super::*;

    fn button(pos: Pos2, pressed: bool) -> Event {
        let button = PointerButton::Primary;
        Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE }
    }

    /// How far a square of 40 points at (100, 100) is pulled, and how often it is clicked, when
    /// frames bring these events.
    fn pulled(frames: Vec<Vec<Event>>) -> (Vec2, usize) {
        let ctx = Context::default();
        let (mut sum, mut clicks) = (Vec2::ZERO, 0);
        for events in [vec![]].into_iter().chain(frames) {
            let screen_rect = Some(Rect::from_min_size(Pos2::ZERO, Vec2::splat(400.0)));
            let input = RawInput { screen_rect, events, ..RawInput::default() };
            let _ = ctx.run_ui(input, |ui| {
                CentralPanel::default().show(ui, |ui| {
                    let square = Rect::from_min_size(pos2(100.0, 100.0), Vec2::splat(40.0));
                    let r = ui.interact(square, ui.id().with("square"), Sense::click_and_drag());
                    sum += r.drag_delta();
                    clicks += usize::from(r.clicked());
                });
            });
        }
        (sum, clicks)
    }

    fn spread_out(events: Vec<Event>) -> Vec<Vec<Event>> {
        let mut waiting = Waiting::default();
        let mut frames = Vec::new();
        let mut new = events;
        loop {
            waiting.next(&mut new);
            frames.push(std::mem::take(&mut new));
            if waiting.0.is_empty() {
                frames.push(Vec::new());
                return frames;
            }
        }
    }

    fn flick() -> Vec<Event> {
        let (from, to) = (pos2(120.0, 120.0), pos2(190.0, 150.0));
        let way = [from.lerp(to, 0.5), to].map(Event::PointerMoved);
        let mut all = vec![Event::PointerMoved(from), button(from, true)];
        all.extend(way);
        all.push(button(to, false));
        all
    }

    #[test]
    fn a_pull_within_one_frame_arrives_whole() {
        assert_eq!(pulled(vec![flick(), vec![]]).0, Vec2::ZERO, "needless if this is seen");
        let (far, clicks) = pulled(spread_out(flick()));
        assert_eq!((far, clicks), (Vec2::new(70.0, 30.0), 0));
    }

    #[test]
    fn two_flicks_in_one_frame_keep_their_order() {
        let mut twice = flick();
        twice.extend(flick());
        assert_eq!(spread_out(twice.clone()).concat(), twice);
        assert_eq!(pulled(spread_out(twice)).0, Vec2::new(140.0, 60.0));
    }

    #[test]
    fn a_click_within_one_frame_is_one_click() {
        let at = pos2(120.0, 120.0);
        let click = vec![Event::PointerMoved(at), button(at, true), button(at, false)];
        assert_eq!(pulled(spread_out(click)), (Vec2::ZERO, 1));
    }

    #[test]
    fn typing_and_moving_wait_for_nothing() {
        let mut waiting = Waiting::default();
        let mut events = vec![
            Event::PointerMoved(pos2(1.0, 2.0)),
            Event::Text("14".into()),
            Event::PointerMoved(pos2(3.0, 4.0)),
        ];
        let all = events.clone();
        waiting.next(&mut events);
        assert_eq!((events, waiting.0.len()), (all, 0));
    }
}
