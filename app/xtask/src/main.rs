//! Builds, packs, opens and tests the tool. One module per subcommand, and what they share.

mod build;
mod look;
mod needs;
mod open;
mod pack;
mod shell;
mod slim;
mod test;

use std::process::ExitCode;

const USAGE: &str = "\
usage: cargo xtask COMMAND

  build                            write dist/sisterframe.html and print its size
  open [--no-open]                 build, then open the page in the browser (or print its path)
  test [--only lint|core|browser]  run every check in order, fetching what it lacks
  look [--sheet NAME]              build, then write pictures of the page to target/pictures";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["build"] => build::run().map(drop),
        ["open"] => open::run(true),
        ["open", "--no-open"] => open::run(false),
        ["test"] => test::run(None),
        ["test", "--only", group] => test::Group::named(group)
            .ok_or_else(|| format!("no group of checks is called {group}\n\n{USAGE}"))
            .and_then(|group| test::run(Some(group))),
        ["look"] => look::run(None),
        ["look", "--sheet", name] => look::run(Some(name)),
        _ => Err(USAGE.to_string()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(reason) => {
            eprintln!("{reason}");
            ExitCode::FAILURE
        }
    }
}
