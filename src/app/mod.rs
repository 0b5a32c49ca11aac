//! The interface: pages, components, drawings and storage. Everything that is
//! computed comes from the engine.

pub mod answer;
mod answering;
mod background;
pub mod charts;
mod components;
mod drawings;
mod files;
mod focus;
mod guide;
mod host;
mod incut;
mod later;
mod markup;
mod pages;
mod prefs;
mod prelude;
mod records;
pub mod route;
mod shelf;
mod shell;
pub mod state;
mod storage;
mod tap;
mod trial;
mod weighing;

/// Shows the app, or, in a worker, does the work that pages give away.
pub fn run() {
    if !background::serve() {
        shell::start();
    }
}
