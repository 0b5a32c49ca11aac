//! Work that takes more than a frame, done after the page has been painted.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use spindlewise_engine::decision::Case;

use crate::app::state::workbench;

/// What `work` makes of the case that the latest answer belongs to; `None`
/// while it is on its way. It starts over when the answer or what `also` says
/// is another.
pub fn later<K, T>(also: impl Fn() -> K + Send + Sync + 'static, work: fn(&Case, &K) -> T) -> RwSignal<Option<Arc<T>>>
where
    K: Send + Sync + 'static,
    T: Send + Sync + 'static,
{
    /// Long enough for the page to be painted first.
    const AFTER: Duration = Duration::from_millis(30);
    let bench = workbench();
    let done = RwSignal::new(None);
    let waiting = StoredValue::new(None::<leptos::leptos_dom::helpers::TimeoutHandle>);
    let stop = move || {
        if let Some(handle) = waiting.try_get_value().flatten() {
            handle.clear();
        }
    };
    on_cleanup(stop);
    Effect::new(move |_| {
        stop();
        let key = also();
        if bench.decision.with(Option::is_none) {
            return;
        }
        done.set(None);
        let handle = set_timeout_with_handle(
            move || {
                let case = bench.resolved.with_untracked(|resolved| resolved.case.clone());
                done.try_set(Some(Arc::new(work(&case, &key))));
            },
            AFTER,
        );
        waiting.set_value(handle.ok());
    });
    done
}
