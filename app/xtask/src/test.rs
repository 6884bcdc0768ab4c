//! `test`: every check there is, in order, stopping at the first that fails.

use crate::{build, needs, shell};

/// Checks that can be asked for alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Group {
    /// Formatting and the linter, natively and for the browser.
    Lint,
    /// Everything that runs without a browser.
    Core,
    /// The built page in a browser.
    Browser,
}

impl Group {
    /// The group of this name.
    pub fn named(name: &str) -> Option<Group> {
        Some(match name {
            "lint" => Group::Lint,
            "core" => Group::Core,
            "browser" => Group::Browser,
            _ => return None,
        })
    }
}

struct Step {
    group: Group,
    heading: &'static str,
    check: fn() -> Result<(), String>,
}

const STEPS: [Step; 7] = [
    Step {
        group: Group::Lint,
        heading: "What the lints need",
        check: || needs::components().and_then(|()| needs::wasm_target()),
    },
    Step { group: Group::Lint, heading: "Formatting", check: || cargo(&["fmt", "--all", "--check"]) },
    Step {
        group: Group::Lint,
        heading: "Lints, native",
        check: || cargo(&["clippy", "--workspace", "--all-targets", "--all-features", "--", "-D", "warnings"]),
    },
    Step {
        group: Group::Lint,
        heading: "Lints, browser",
        check: || {
            cargo(&[
                "clippy",
                "--package",
                "sisterframe-app",
                "--target",
                "wasm32-unknown-unknown",
                "--",
                "-D",
                "warnings",
            ])
        },
    },
    Step { group: Group::Core, heading: "Tests without a browser", check: || cargo(&["test", "--workspace"]) },
    Step { group: Group::Browser, heading: "The page", check: || build::run().map(drop) },
    Step {
        group: Group::Browser,
        heading: "Tests in a browser",
        check: || {
            needs::browser()?;
            needs::axe()?;
            cargo(&["test", "--package", "sisterframe-tests", "--features", "browser", "--test", "browser"])
        },
    },
];

/// Runs all checks, or those of one group.
pub fn run(only: Option<Group>) -> Result<(), String> {
    for step in STEPS.iter().filter(|step| only.is_none_or(|g| g == step.group)) {
        println!("\n== {} ==", step.heading);
        (step.check)().map_err(|reason| format!("\n== {} failed ==\n{reason}", step.heading))?;
    }
    println!("\n== All checks passed ==");
    Ok(())
}

fn cargo(arguments: &[&str]) -> Result<(), String> {
    shell::run(shell::cargo(arguments))
}
