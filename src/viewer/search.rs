//! A search behind the window: how far it is is told a few times a second, it is stopped at
//! will, and what it came to is taken once.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};

/// The window is woken no oftener than this while a search goes on: drawing it takes a
/// processor from the search where there is no graphics card.
const TOLD_EVERY: Duration = Duration::from_millis(250);

/// A search that goes on: `P` is how far it is, `T` what it comes to.
#[derive(Debug)]
pub struct Search<P, T> {
    end: Arc<Mutex<Option<T>>>,
    stop: Arc<AtomicBool>,
    told: Arc<Mutex<P>>,
    /// Which model it is for, as [`crate::viewer::derive::Derived::count`] counts them.
    pub count: u64,
}

impl<P: Clone + Send + 'static, T: Send + 'static> Search<P, T> {
    /// Begins `work`, which is given what to call again and again with how far it is, and which
    /// ends early where that answers `false`.
    pub fn begin(
        count: u64,
        first: P,
        wake: Option<&EventLoopProxyWrapper>,
        work: impl FnOnce(&mut dyn FnMut(P) -> bool) -> T + Send + 'static,
    ) -> Search<P, T> {
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
            let mut last = Instant::now();
            let came_to = work(&mut |now| {
                if let Ok(mut told) = tell.lock() {
                    *told = now;
                }
                if last.elapsed() > TOLD_EVERY {
                    last = Instant::now();
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
