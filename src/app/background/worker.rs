//! The two ends of a worker. What goes between them is packed tight and
//! exactly: a number that is infinite or has all its digits arrives as it was.

use js_sys::Uint8Array;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, ErrorEvent, MessageEvent, Worker};

use super::job::{Job, Step};
use crate::app::host;

/// A worker as the page sees it.
pub struct Helper {
    worker: Worker,
    // Called by the browser as long as the worker lives.
    _on_message: Closure<dyn FnMut(MessageEvent)>,
    _on_error: Closure<dyn FnMut(ErrorEvent)>,
}

impl Helper {
    /// A new one. It tells `on_step` of each step of a task, and calls
    /// `on_fault` when it can't go on.
    ///
    /// # Errors
    /// The browser's own, where it makes none.
    pub fn new(on_step: fn(u64, Step), on_fault: fn()) -> Result<Self, JsValue> {
        let worker = host::worker()?;
        let on_message = Closure::new(move |event: MessageEvent| match unpack(&event) {
            Some((task, step)) => on_step(task, step),
            None => on_fault(),
        });
        let on_error = Closure::new(move |event: ErrorEvent| {
            // It is no fault of the page: the work is done there instead.
            event.prevent_default();
            on_fault();
        });
        worker.set_onmessage(Some(on_message.as_ref().unchecked_ref()));
        worker.set_onerror(Some(on_error.as_ref().unchecked_ref()));
        Ok(Helper { worker, _on_message: on_message, _on_error: on_error })
    }

    /// Gives it something to do.
    ///
    /// # Errors
    /// The browser's own, when it can't be told.
    pub fn begin(&self, task: u64, job: &Job) -> Result<(), JsValue> {
        self.worker.post_message(&pack(&(task, job)))
    }
}

impl Drop for Helper {
    fn drop(&mut self) {
        self.worker.set_onmessage(None);
        self.worker.set_onerror(None);
        self.worker.terminate();
    }
}

/// Does what the page asks for, if this program runs in a worker; otherwise
/// says so.
pub fn serve() -> bool {
    let Ok(scope) = js_sys::global().dyn_into::<DedicatedWorkerGlobalScope>() else {
        return false;
    };
    std::panic::set_hook(Box::new(console_error_panic_hook::hook));
    let page = scope.clone();
    let on_message = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let (task, job) = unpack::<(u64, Job)>(&event).expect("the page packs what this same program unpacks");
        let mut work = job.begin();
        loop {
            let step = work();
            page.post_message(&pack(&(task, &step))).expect("bytes can be sent from anywhere");
            if matches!(step, Step::Done(_)) {
                break;
            }
        }
    });
    scope.set_onmessage(Some(on_message.as_ref().unchecked_ref()));
    // It serves until the page ends it.
    on_message.forget();
    true
}

fn pack(value: &impl serde::Serialize) -> JsValue {
    let bytes = postcard::to_allocvec(value).expect("plain data can always be packed");
    Uint8Array::from(bytes.as_slice()).into()
}

fn unpack<T: serde::de::DeserializeOwned>(event: &MessageEvent) -> Option<T> {
    let bytes = event.data().dyn_into::<Uint8Array>().ok()?.to_vec();
    postcard::from_bytes(&bytes).ok()
}
