//! Work that takes more than a frame, done after the page has been painted.

use std::sync::Arc;
use std::time::Duration;

use crate::app::prelude::*;
use leptos::leptos_dom::helpers::TimeoutHandle;

/// Long enough for the page to be painted before.
const AFTER: Duration = Duration::from_millis(20);

/// What `work` makes of the value of `of`; `None` while it is on its way. It
/// starts over when that value changes. The browser's record of times has it
/// under `name`.
pub fn later<K, T>(
    name: &'static str,
    of: impl Fn() -> Option<K> + Send + Sync + 'static,
    work: impl Fn(&K) -> T + Copy + Send + Sync + 'static,
) -> RwSignal<Option<Arc<T>>>
where
    K: Send + Sync + 'static,
    T: Send + Sync + 'static,
{
    let done = RwSignal::new(None);
    let turn = Turn::new();
    Effect::new(move |_| {
        turn.stop();
        done.set(None);
        if let Some(key) = of() {
            turn.after_paint(move || {
                done.try_set(Some(Arc::new(timed(name, || work(&key)))));
            });
        }
    });
    done
}

/// Does `work` and notes in the browser's record of times how long it took.
pub fn timed<T>(name: &'static str, work: impl FnOnce() -> T) -> T {
    let stretch = Stretch(name).begin();
    let made = work();
    stretch.end();
    made
}

/// A stretch in the browser's record of times, by its name there. A browser that
/// keeps no record loses nothing else.
#[derive(Clone, Copy, Debug)]
pub struct Stretch(pub &'static str);

impl Stretch {
    /// From now, even if it had begun before.
    pub fn begin(self) -> Self {
        if let Some(clock) = window().performance() {
            _ = clock.mark(self.0);
        }
        self
    }

    /// To now.
    pub fn end(self) {
        if let Some(clock) = window().performance() {
            _ = clock.measure_with_start_mark(self.0, self.0);
        }
    }
}

/// One piece of work at a time; it is dropped with the page.
#[derive(Clone, Copy)]
pub struct Turn(StoredValue<Option<TimeoutHandle>>);

impl Turn {
    /// With nothing to do.
    pub fn new() -> Self {
        let turn = Turn(StoredValue::new(None));
        on_cleanup(move || turn.stop());
        turn
    }

    /// Does `work` when what has changed is on the screen.
    pub fn after_paint(self, work: impl FnOnce() + 'static) {
        self.0.set_value(set_timeout_with_handle(work, AFTER).ok());
    }

    /// Drops what has not begun.
    pub fn stop(self) {
        if let Some(handle) = self.0.try_get_value().flatten() {
            handle.clear();
        }
    }
}
