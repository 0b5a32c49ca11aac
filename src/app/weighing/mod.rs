//! What takes longer to find out than an answer: remedies together, why the best
//! buy wins, how firmly it does, and what drives the doubt.

mod afterwards;
mod drivers;
mod favour;
mod page;
mod study;
mod together;
mod why;

pub use page::weighing_page;
