//! Evaluates a project file and prints the whole study as JSON.
//!
//! `cargo run --release -p sisterframe-core --example evaluate -- FILE.json`
//!
//! Exit code 1 and one line on standard error if the file cannot be read or is refused.

use sisterframe_core::evaluate;
use sisterframe_core::project::Project;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(json) => {
            println!("{json}");
            ExitCode::SUCCESS
        }
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<String, String> {
    let path = std::env::args_os().nth(1).ok_or("name a project file: evaluate FILE.json")?;
    let shown = path.to_string_lossy().into_owned();
    let text = std::fs::read_to_string(&path).map_err(|error| format!("{shown}: {error}"))?;
    let project = Project::from_json(&text).map_err(|error| format!("{shown}: {error}"))?;
    serde_json::to_string_pretty(&evaluate::study(&project)).map_err(|error| format!("{shown}: {error}"))
}
