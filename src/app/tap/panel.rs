//! The part of the readings page that listens.

use std::sync::Arc;
use std::time::Duration;

use crate::app::prelude::*;
use leptos::task::spawn_local;
use spindlewise_engine::tap::{Heard, Recording, listen};
use web_sys::HtmlInputElement;

use super::microphone::Microphone;
use super::result::result;
use super::sound_file::read_sound;
use crate::app::files::picked;

/// How long it listens before it stops by itself, s.
const LONGEST: f64 = 12.0;

/// Time for the page to paint before the sound is worked out.
const PAINT: Duration = Duration::from_millis(60);

/// How far it has come.
#[derive(Clone)]
enum Stage {
    /// Nothing is going on.
    Idle,
    /// The browser asks the user for the microphone.
    Asking,
    /// The microphone is open.
    Listening,
    /// The sound is being worked out.
    Working,
    /// Something rang.
    Heard {
        /// What was recorded, in words.
        source: String,
        /// What was heard in it.
        heard: Arc<Heard>,
    },
    /// It came to nothing, and why.
    Failed(String),
}

/// What the buttons work on. Gone, microphone and all, with the page.
#[derive(Clone, Copy)]
struct Listener {
    stage: RwSignal<Stage>,
    /// Loudest sample lately, full scale being 1, and time listened, s.
    level: RwSignal<(f32, f64)>,
    microphone: StoredValue<Option<Microphone>, LocalStorage>,
}

/// Buttons to record or open a sound, and what was heard in it.
pub fn sound() -> AnyView {
    let listener = Listener {
        stage: RwSignal::new(Stage::Idle),
        level: RwSignal::new((0.0, 0.0)),
        microphone: StoredValue::new_local(None),
    };
    let Listener { stage, .. } = listener;
    let open_file = move |event: leptos::ev::Targeted<leptos::ev::Event, HtmlInputElement>| {
        listener.open_file(&event.target());
    };
    let answer = move || match stage.get() {
        Stage::Heard { heard, .. } => Some(result(heard)),
        _ => None,
    };
    view! {
        <div class="tap">
            <h3>"Let this device listen"</h3>
            <p>
                "A microphone hears the sound, not the motion: how loud it is counts for nothing, pitch and decay are those of the iron. Small microphones hear little below 80 to 100 Hz, so a slow ring of the column may be missing. The recording stays in this page and is dropped when you leave it."
            </p>
            <div class="actions">
                <button
                    type="button"
                    class="button primary"
                    aria-disabled=move || stage.with(|stage| matches!(stage, Stage::Asking | Stage::Working)).to_string()
                    on:click=move |_| listener.press()
                >
                    {move || stage.with(verb)}
                </button>
                <div class="pick-file">
                    <input id="tap-file" type="file" accept=".wav,audio/*" on:change:target=open_file />
                    <label class="button" for="tap-file">"Open a sound file"</label>
                </div>
            </div>
            {listener.meter()}
            <div role="status">{move || stage.with(said).map(|said| view! { <p class="news">{said}</p> })}</div>
            {answer}
        </div>
    }
    .into_any()
}

/// What the one button does now.
fn verb(stage: &Stage) -> &'static str {
    match stage {
        Stage::Asking => "Waiting for the microphone…",
        Stage::Listening => "Stop and work it out",
        Stage::Working => "Working it out…",
        Stage::Idle | Stage::Heard { .. } | Stage::Failed(_) => "Record a tap",
    }
}

/// What there is to say about it.
fn said(stage: &Stage) -> Option<String> {
    Some(match stage {
        Stage::Idle => return None,
        Stage::Asking => "The browser asks whether this page may use the microphone.".to_owned(),
        Stage::Listening => {
            "Listening. Keep still for a second, tap three to five times with a second between, then stop.".to_owned()
        }
        Stage::Working => "Working it out…".to_owned(),
        Stage::Heard { source, heard } => match heard.taps {
            1 => format!("One tap was heard in {source}. Three or more would say how well they agree."),
            taps => format!("{taps} taps were heard in {source}."),
        },
        Stage::Failed(why) => why.clone(),
    })
}

impl Listener {
    /// Starts to record, or stops and works out what was recorded.
    fn press(self) {
        match self.stage.get_untracked() {
            Stage::Asking | Stage::Working => {}
            Stage::Listening => self.finish(),
            Stage::Idle | Stage::Heard { .. } | Stage::Failed(_) => self.record(),
        }
    }

    fn record(self) {
        self.stage.set(Stage::Asking);
        self.level.set((0.0, 0.0));
        spawn_local(async move {
            let opened = Microphone::open(move |loudest, seconds| {
                let fallen = self.level.try_get_untracked().map_or(0.0, |(level, _)| 0.7 * level);
                self.level.try_set((loudest.max(fallen), seconds));
                if seconds >= LONGEST {
                    // Not from within the microphone that it drops.
                    set_timeout(move || self.finish(), Duration::ZERO);
                }
            });
            let opened = opened.await;
            // The page may have been left meanwhile, or a file opened.
            if !self.stage.try_with_untracked(|stage| matches!(stage, Stage::Asking)).unwrap_or(false) {
                return;
            }
            match opened {
                Ok(microphone) => {
                    self.microphone.set_value(Some(microphone));
                    self.stage.set(Stage::Listening);
                }
                Err(why) => self.stage.set(Stage::Failed(why.to_string())),
            }
        });
    }

    fn finish(self) {
        let microphone = self.microphone.try_update_value(Option::take).flatten();
        if let Some((rate, samples)) = microphone.map(|microphone| microphone.recorded()) {
            self.work_out("the recording".to_owned(), rate, samples);
        }
    }

    fn open_file(self, input: &HtmlInputElement) {
        let Some(file) = picked(input) else { return };
        // The file takes the place of what is being recorded.
        _ = self.microphone.try_update_value(Option::take);
        self.stage.set(Stage::Working);
        spawn_local(async move {
            match read_sound(&file).await {
                Ok((rate, samples)) => self.work_out(file.name(), rate, samples),
                Err(why) => _ = self.stage.try_set(Stage::Failed(format!("{} was not used. {why}", file.name()))),
            }
        });
    }

    fn work_out(self, source: String, rate: f64, samples: Vec<f64>) {
        self.stage.try_set(Stage::Working);
        let work = move || {
            let heard = Recording::new(rate, samples).and_then(|recording| listen(&recording));
            self.stage.try_set(match heard {
                Ok(heard) => Stage::Heard { source, heard: Arc::new(heard) },
                Err(why) => Stage::Failed(format!("Nothing could be read from {source}. {why}")),
            });
        };
        set_timeout(work, PAINT);
    }

    /// How loud it is, and how long it has listened.
    fn meter(self) -> impl IntoView {
        let Listener { stage, level, .. } = self;
        let listening = Memo::new(move |_| stage.with(|stage| matches!(stage, Stage::Listening)));
        let loudness = move || format!("{:.2}", level.get().0);
        let judged = move || match level.get().0 {
            loud if loud >= 0.98 => "Too loud: move it away",
            loud if loud >= 0.02 => "Good",
            _ => "Quiet",
        };
        let time = move || format!("{:.0} s of {LONGEST:.0}", level.get().1);
        move || {
            listening.get().then(|| {
                view! {
                    <p class="tap-meter">
                        <meter min="0" max="1" low="0.02" high="0.98" optimum="0.3" aria-label="Loudness" prop:value=loudness></meter>
                        <span>{judged}</span>
                        <span>{time}</span>
                    </p>
                }
            })
        }
    }
}
