//! The tasks under way, and who does them.

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use leptos::prelude::set_timeout;

use super::job::{Job, Reply, Step, Work};
use super::worker::Helper;

/// Between two slices on the page: enough for it to be painted and to hear a
/// key or a finger.
const BETWEEN_SLICES: Duration = Duration::from_millis(10);

/// Workers kept for the next tasks: one for a quick one, one for another.
const IDLE: usize = 2;

thread_local! {
    static OFFICE: RefCell<Office> = RefCell::default();
}

/// Names a task that was started.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Task(u64);

impl Task {
    /// Ends it: nothing more is heard of it. Nothing happens if it is done.
    pub fn cancel(self) {
        // Its worker ends with it.
        drop(with_office(|office| office.take(self.0)));
    }
}

/// Begins `job` beside the page; `on_progress` is told how far it is (0 to 1)
/// and `on_done` what came of it, unless it is cancelled.
pub fn start(job: Job, on_progress: impl Fn(f64) + 'static, on_done: impl FnOnce(Reply) + 'static) -> Task {
    let (id, helper) = with_office(|office| {
        office.last += 1;
        (office.last, office.helper(job.is_quick()))
    });
    let helper = helper.filter(|helper| helper.begin(id, &job).is_ok());
    let on_page = helper.is_none();
    let task = Underway { id, job, helper, on_progress: Rc::new(on_progress), on_done: Box::new(on_done) };
    with_office(|office| office.underway.push(task));
    if on_page {
        do_on_page(id);
    }
    Task(id)
}

#[derive(Default)]
struct Office {
    /// Number of the task started last.
    last: u64,
    underway: Vec<Underway>,
    /// Workers with nothing to do.
    idle: Vec<Helper>,
    /// Whether a worker has failed, or could not be made: then none is tried again.
    without_workers: bool,
}

struct Underway {
    id: u64,
    /// To begin anew on the page if its worker fails.
    job: Job,
    /// Who does it, if not the page.
    helper: Option<Helper>,
    on_progress: Rc<dyn Fn(f64)>,
    on_done: Box<dyn FnOnce(Reply)>,
}

impl Office {
    fn task(&self, id: u64) -> Option<&Underway> {
        self.underway.iter().find(|task| task.id == id)
    }

    fn take(&mut self, id: u64) -> Option<Underway> {
        let at = self.underway.iter().position(|task| task.id == id)?;
        Some(self.underway.remove(at))
    }

    /// Of the workers with nothing to do the last is left to quick tasks: a longer
    /// one may be cancelled, and its worker with it, for a quick one to begin.
    fn helper(&mut self, quick: bool) -> Option<Helper> {
        if self.without_workers {
            return None;
        }
        let idle = if quick || self.idle.len() > 1 { self.idle.pop() } else { None };
        let helper = idle.or_else(|| Helper::new(took_step, failed).ok());
        self.without_workers = helper.is_none();
        helper
    }
}

/// The callbacks of a task may start the next, so none is called in here.
fn with_office<T>(work: impl FnOnce(&mut Office) -> T) -> T {
    OFFICE.with_borrow_mut(work)
}

fn took_step(id: u64, step: Step) {
    match step {
        Step::Progress(share) => {
            let on_progress = with_office(|office| office.task(id).map(|task| task.on_progress.clone()));
            if let Some(on_progress) = on_progress {
                on_progress(share);
            }
        }
        Step::Done(reply) => {
            let done = with_office(|office| {
                let Underway { helper, on_done, .. } = office.take(id)?;
                office.idle.extend(helper.filter(|_| office.idle.len() < IDLE));
                Some(on_done)
            });
            if let Some(on_done) = done {
                on_done(reply);
            }
        }
    }
}

/// A worker has failed: what it and all others were at is done on the page.
fn failed() {
    let (helpers, stranded) = with_office(|office| {
        office.without_workers = true;
        let mut helpers = std::mem::take(&mut office.idle);
        let mut stranded = Vec::new();
        for task in &mut office.underway {
            if let Some(helper) = task.helper.take() {
                helpers.push(helper);
                stranded.push(task.id);
            }
        }
        (helpers, stranded)
    });
    drop(helpers);
    stranded.into_iter().for_each(do_on_page);
}

fn do_on_page(id: u64) {
    let job = with_office(|office| office.task(id).map(|task| task.job.clone()));
    if let Some(job) = job {
        slice(id, job.begin());
    }
}

fn slice(id: u64, mut work: Work) {
    let next = move || {
        if with_office(|office| office.task(id).is_some()) {
            let step = work();
            let goes_on = matches!(step, Step::Progress(_));
            took_step(id, step);
            if goes_on {
                slice(id, work);
            }
        }
    };
    set_timeout(next, BETWEEN_SLICES);
}
