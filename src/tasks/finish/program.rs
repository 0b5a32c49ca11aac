//! Makes the program and its bindings smaller, once both are built.

use super::module::Module;
use super::order::by_likeness;
use crate::process::{Outcome, Stop, because, find_program, run};
use crate::project::Project;
use std::fs;
use std::path::{Path, PathBuf};

/// What imports are said to be a part of, in place of the name of a file.
const BINDINGS: &str = "b";

/// Shortens the names by which program and bindings know each other, and puts
/// functions that look alike together.
pub fn shrink(project: &Project, folder: &Path) -> Outcome {
    let program = program_in(folder)?;
    let bindings = PathBuf::from(program.to_string_lossy().replace("_bg.wasm", ".js"));
    let module = because(fs::read(&program), program.display())?;
    let text = because(fs::read_to_string(&bindings), bindings.display())?;
    let unknown = || Stop(format!("{} and its bindings don’t fit each other.", program.display()));

    let (module, text) = with_short_names(&module, &text).ok_or_else(unknown)?;
    because(fs::write(&bindings, text), bindings.display())?;
    let ordered = with_an_order(&module).ok_or_else(unknown)?;
    because(fs::write(&program, ordered), program.display())?;
    let optimizer = find_program("wasm-opt");
    let optimizer = optimizer.ok_or_else(|| Stop("This step belongs to a build: use `cargo task build`.".into()))?;
    let mut optimizer = project.command(optimizer);
    optimizer.args(["--reorder-functions-by-name", "--generate-stack-ir", "--optimize-stack-ir"]);
    run(optimizer.arg("--output").arg(&program).arg(&program))
}

fn program_in(folder: &Path) -> Outcome<PathBuf> {
    let files = because(fs::read_dir(folder), folder.display())?;
    let mut paths = files.filter_map(|entry| Some(entry.ok()?.path()));
    let program = paths.find(|path| path.to_string_lossy().ends_with("_bg.wasm"));
    program.ok_or_else(|| Stop(format!("There is no program in {}.", folder.display())))
}

/// Numbers in place of names such as `__wbg_body_5f971cbc6950ca4f`, on both
/// sides.
fn with_short_names(module: &[u8], bindings: &str) -> Option<(Vec<u8>, String)> {
    let module = Module::read(module)?;
    let imports = module.imports()?;
    let mut text = bindings.to_owned();
    let mut replace = |long: String, short: String| {
        let found = text.matches(&long).count();
        text = text.replace(&long, &short);
        (found == 1).then_some(())
    };
    replace(format!("\"{}\": ", imports.first()?.from), format!("{BINDINGS}: "))?;
    for (at, import) in imports.iter().enumerate() {
        replace(format!("{}: function", import.name), format!("{at}: function"))?;
    }
    Some((module.with_numbered_imports(BINDINGS, &imports), text))
}

/// Names by which the functions, sorted, stand beside those they look like.
fn with_an_order(module: &[u8]) -> Option<Vec<u8>> {
    let module = Module::read(module)?;
    let functions = module.functions()?;
    let mut names = vec![String::new(); functions.len()];
    for (place, function) in by_likeness(&functions).into_iter().enumerate() {
        names[function] = format!("{place:06}");
    }
    Some(module.with_names(module.imports()?.len(), &names))
}
