//! A search behind the window: how far it is is told once a second, what it found at once; it is
//! stopped at will, and what it came to is taken once.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};

/// The window is woken no oftener than this for how far a search is: drawing it takes a
/// processor from the search where there is no graphics card.
const TOLD_EVERY: Duration = Duration::from_secs(1);

/// How far a search is, as the window shows it.
pub trait Told: Clone + PartialEq + Send + 'static {
    /// Whether something was found since `shown`, which is not to wait for the next second.
    fn found_since(&self, shown: &Self) -> bool;
}

/// What the window was woken for last, and when.
struct Shown<P> {
    told: P,
    at: Instant,
}

impl<P: Told> Shown<P> {
    /// Whether the window is woken `at` this moment for what is told `now`.
    fn wakes(&mut self, now: &P, at: Instant) -> bool {
        let later = at.saturating_duration_since(self.at) >= TOLD_EVERY;
        let wakes = now.found_since(&self.told) || later && *now != self.told;
        if wakes {
            *self = Shown { told: now.clone(), at };
        }
        wakes
    }
}

/// A search that goes on: `P` is how far it is, `T` what it comes to.
#[derive(Debug)]
pub struct Search<P, T> {
    end: Arc<Mutex<Option<T>>>,
    stop: Arc<AtomicBool>,
    told: Arc<Mutex<P>>,
    /// Which model it is for, as [`crate::viewer::derive::Derived::count`] counts them.
    pub count: u64,
}

impl<P: Told, T: Send + 'static> Search<P, T> {
    /// Begins `work`, which is given what to call again and again with how far it is, and which
    /// ends early where that answers `false`.
    pub fn begin(
        count: u64,
        first: P,
        wake: Option<&EventLoopProxyWrapper>,
        work: impl FnOnce(&mut dyn FnMut(P) -> bool) -> T + Send + 'static,
    ) -> Search<P, T> {
        let mut shown = Shown { told: first.clone(), at: Instant::now() };
        let told = Arc::new(Mutex::new(first));
        let stop = Arc::new(AtomicBool::new(false));
        let end = Arc::new(Mutex::new(None));
        let (tell, halt, over) = (told.clone(), stop.clone(), end.clone());
        let wake = wake.map(|w| (**w).clone());
        let wake = move || {
            if let Some(wake) = &wake {
                // A window that is closed by now needs no waking.
                let _ = wake.send_event(WinitUserEvent::WakeUp);
            }
        };
        // A thread of its own: the pool for what waits has one where processors are few, and a
        // second search would not even begin, nor hear that it is to stop, before the first ends.
        std::thread::spawn(move || {
            let came_to = work(&mut |now| {
                let wakes = shown.wakes(&now, Instant::now());
                if let Ok(mut told) = tell.lock() {
                    *told = now;
                }
                if wakes {
                    wake();
                }
                !halt.load(Ordering::Relaxed)
            });
            if let Ok(mut end) = over.lock() {
                *end = Some(came_to);
            }
            wake();
        });
        Search { end, stop, told, count }
    }

    /// Ends it early.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// How far it is; `None` if that cannot be read.
    pub fn told(&self) -> Option<P> {
        self.told.lock().ok().map(|t| t.clone())
    }

    /// What it came to, once it is over.
    pub fn ended(&self) -> Option<T> {
        self.end.lock().ok().and_then(|mut end| end.take())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Clone, PartialEq)]
    struct Far {
        share: u32,
        found: u32,
    }

    impl Told for Far {
        fn found_since(&self, shown: &Self) -> bool {
            self.found > shown.found
        }
    }

    /// A minute of a search that is told of every ten milliseconds, as searches do, and finds
    /// something three times.
    #[test]
    fn the_window_is_woken_once_a_second_and_for_what_is_found() {
        let begun = Instant::now();
        let mut shown = Shown { told: Far { share: 0, found: 0 }, at: begun };
        let finds = [1234, 1235, 40_000];
        let mut woken = Vec::new();
        for ms in (10..60_000).step_by(10) {
            let found = finds.iter().filter(|f| **f <= ms).count() as u32;
            if shown.wakes(&Far { share: ms, found }, begun + Duration::from_millis(ms.into())) {
                woken.push(ms);
            }
        }
        assert!((55..=62).contains(&woken.len()), "{} times", woken.len());
        assert!(woken.contains(&1240) && woken.contains(&40_000), "{woken:?}");
        // Nothing new: never.
        let told = shown.told.clone();
        assert!(!shown.wakes(&told, begun + Duration::from_secs(600)));
    }
}
