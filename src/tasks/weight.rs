//! What the built app weighs, against its budget.

use crate::pins::Budgets;
use crate::process::{Outcome, Stop, find_program, run};
use crate::project::Project;

/// Prints a table of what `dist/` loads at its start; fails above the budget.
pub fn weigh(project: &Project) -> Outcome {
    let budgets = Budgets::read(&project.manifest())?;
    let node = find_program("node");
    let node = node.ok_or_else(|| Stop("Weighing the app needs Node.js: install it and try again.".into()))?;
    let mut node = project.command(node);
    node.arg(project.root().join("src/tasks/weight/weigh.mjs")).arg(project.dist());
    run(node.args([budgets.start, budgets.one_file]))
}
