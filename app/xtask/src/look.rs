//! `look`: pictures of the page for people to look at.

use crate::{build, needs, shell};

/// Writes pictures of the page, or of one sheet of it, in every size and scheme the browser tests use.
pub fn run(sheet: Option<&str>) -> Result<(), String> {
    build::run()?;
    needs::browser()?;
    let mut cargo = shell::cargo(&[
        "test",
        "--quiet",
        "--package",
        "sisterframe-tests",
        "--features",
        "browser",
        "--test",
        "browser",
        "--",
        "--ignored",
        "--exact",
        "look::pictures",
    ]);
    cargo.env("SISTERFRAME_SHEET", sheet.unwrap_or_default());
    shell::run(cargo)?;
    println!("{}", shell::target()?.join("pictures").display());
    Ok(())
}
