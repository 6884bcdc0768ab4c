//! `open`: builds the page and shows it.

use std::env;

use crate::{build, shell};

/// Opens the built page with the desktop's own program; without a display its path has been printed.
pub fn run(show: bool) -> Result<(), String> {
    let path = build::run()?;
    let display = env::var_os("DISPLAY").is_some() || env::var_os("WAYLAND_DISPLAY").is_some();
    let opener: &[&str] = match env::consts::OS {
        "macos" => &["open"],
        "windows" => &["cmd", "/C", "start", ""],
        _ if display => &["xdg-open"],
        _ => &[],
    };
    if let (true, [name, arguments @ ..]) = (show, opener) {
        let mut command = shell::program(name, arguments);
        command.arg(&path);
        shell::run(command).map_err(|e| format!("{e}\nopen this file in a browser: {}", path.display()))?;
    }
    Ok(())
}
