//! Running programs, and where things are.

use std::path::PathBuf;
use std::process::{Command, Stdio};

/// The root of the repository.
pub fn root() -> PathBuf {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).map(PathBuf::from).unwrap_or(here)
}

/// Cargo's target directory, wherever the settings put it.
pub fn target() -> Result<PathBuf, String> {
    let text = output(cargo(&["metadata", "--no-deps", "--format-version", "1"]))?;
    let metadata: serde_json::Value = serde_json::from_str(&text).map_err(|e| format!("cargo metadata: {e}"))?;
    metadata["target_directory"]
        .as_str()
        .map(PathBuf::from)
        .ok_or_else(|| "cargo metadata names no target directory".to_string())
}

/// The cargo that runs this program, started at the root.
pub fn cargo(arguments: &[&str]) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(arguments).current_dir(root());
    command
}

/// A program with its arguments.
pub fn program(name: &str, arguments: &[&str]) -> Command {
    let mut command = Command::new(name);
    command.args(arguments);
    command
}

/// Runs a command, its output going to ours; an error when it cannot start or does not succeed.
pub fn run(mut command: Command) -> Result<(), String> {
    let status = command.status().map_err(|e| format!("{} does not start: {e}", line(&command)))?;
    if status.success() { Ok(()) } else { Err(format!("failed ({status}): {}", line(&command))) }
}

/// Whether the command starts and succeeds; prints nothing.
pub fn succeeds(mut command: Command) -> bool {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// What a command prints on its standard output.
pub fn output(mut command: Command) -> Result<String, String> {
    let output = command.output().map_err(|e| format!("{} does not start: {e}", line(&command)))?;
    if !output.status.success() {
        let said = String::from_utf8_lossy(&output.stderr);
        return Err(format!("failed ({}): {}\n{said}", output.status, line(&command)));
    }
    String::from_utf8(output.stdout).map_err(|e| format!("{}: {e}", line(&command)))
}

fn line(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    let words: Vec<_> = words.map(|word| word.to_string_lossy()).collect();
    words.join(" ")
}
