//! What the other commands need on the machine: fetched when we may, asked for in words when not.

use std::fs;
use std::path::PathBuf;

use crate::shell::{self, program};

const WASM: &str = "wasm32-unknown-unknown";
/// The accessibility checker the browser tests inject; fetched for the tests, never part of the tool.
const AXE: &str = "4.14.1";

/// The compiler's library for WebAssembly.
pub fn wasm_target() -> Result<(), String> {
    let installed = || {
        let folder = shell::output(program("rustc", &["--print", "target-libdir", "--target", WASM]));
        folder.is_ok_and(|folder| PathBuf::from(folder.trim()).exists())
    };
    if installed() {
        return Ok(());
    }
    println!("Adding the compiler's {WASM} target");
    let added = shell::run(program("rustup", &["target", "add", WASM]));
    if added.is_ok() && installed() {
        return Ok(());
    }
    Err(format!(
        "The page is compiled to WebAssembly, and this Rust has no {WASM} target. \
         Add it with `rustup target add {WASM}` while online, or install your system's package of it."
    ))
}

/// The formatter and the linter.
pub fn components() -> Result<(), String> {
    for (command, component) in [("cargo-fmt", "rustfmt"), ("cargo-clippy", "clippy")] {
        if shell::succeeds(program(command, &["--version"])) {
            continue;
        }
        println!("Adding the toolchain's {component}");
        shell::run(program("rustup", &["component", "add", component]))
            .map_err(|_| format!("The checks need {component}: `rustup component add {component}` while online."))?;
    }
    Ok(())
}

/// Chromium and its driver.
pub fn browser() -> Result<(), String> {
    let wanted = [
        ("SISTERFRAME_CHROMIUM", "chromium", "chromium"),
        ("SISTERFRAME_CHROMEDRIVER", "chromedriver", "chromium-driver"),
    ];
    let missing = || -> Vec<&str> {
        let there = |variable, usual: &str| {
            let name = std::env::var(variable).unwrap_or_else(|_| usual.to_string());
            shell::succeeds(program(&name, &["--version"]))
        };
        let absent = wanted.iter().filter(|(variable, usual, _)| !there(variable, usual));
        absent.map(|(_, _, package)| *package).collect()
    };
    let fetched = install(&missing());
    let still = missing();
    if still.is_empty() {
        return Ok(());
    }
    Err(format!(
        "The browser tests need Chromium and its driver: install {}, or name the two programs in \
         SISTERFRAME_CHROMIUM and SISTERFRAME_CHROMEDRIVER. {}",
        still.join(" and "),
        fetched.err().unwrap_or_default()
    ))
}

/// The accessibility checker, in the target directory.
pub fn axe() -> Result<(), String> {
    let folder = shell::target()?.join("axe");
    let about = folder.join("node_modules/axe-core/package.json");
    let here = fs::read_to_string(about).unwrap_or_default();
    if here.contains(&format!("\"version\": \"{AXE}\"")) {
        return Ok(());
    }
    if !shell::succeeds(program("npm", &["--version"])) {
        install(&["npm"])
            .map_err(|reason| format!("The browser tests fetch axe-core with npm: install npm. {reason}"))?;
    }
    fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let package = format!("axe-core@{AXE}");
    let mut npm = program("npm", &["install", "--no-save", "--ignore-scripts"]);
    npm.args(["--no-audit", "--no-fund", "--loglevel=error", &package]);
    // Its own folder is the project to npm, which would else look for one further up.
    npm.arg("--prefix").arg(&folder);
    shell::run(npm).map_err(|e| format!("axe-core could not be fetched. {e}"))
}

/// Installs system packages where that needs nobody's password.
fn install(packages: &[&str]) -> Result<(), String> {
    if packages.is_empty() {
        return Ok(());
    }
    if !shell::succeeds(program("apt-get", &["--version"])) {
        return Err("This system has no apt-get to fetch them with.".into());
    }
    let root = shell::output(program("id", &["-u"])).is_ok_and(|id| id.trim() == "0");
    if !root && !shell::succeeds(program("sudo", &["-n", "true"])) {
        return Err("Fetching them here would take an administrator's password.".into());
    }
    println!("Installing {}", packages.join(", "));
    let apt = |arguments: &[&str]| {
        let mut command = program(if root { "env" } else { "sudo" }, &[]);
        if !root {
            command.args(["-n", "env"]);
        }
        command.args(["DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq"]);
        command.args(arguments);
        shell::run(command)
    };
    apt(&["update"])?;
    let mut arguments = vec!["install", "--yes", "--no-install-recommends"];
    arguments.extend(packages);
    apt(&arguments)
}
