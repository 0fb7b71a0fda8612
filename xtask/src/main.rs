//! `cargo xtask serve | test | build | icons | licences`: everything this project needs beyond plain cargo.

mod about;
mod build;
mod checks;
mod folder;
mod icons;
mod licences;
mod minify;
mod offline;
mod one_file;
mod page;
mod policy;
mod run;
mod serve;
mod styles;
mod tally;
mod tools;
mod weight;

use std::process::ExitCode;

use anyhow::{Result, bail};

const USAGE: &str = "\
Usage: cargo xtask <command>

  serve [--port N]        build the page and serve it on 127.0.0.1, rebuilding when a file changes
  test [--only STEP,...]  check everything, or only the named steps
  build                   the release site in dist/, with a table of its sizes
  icons                   draw the PNG icons in public/ anew, after a change of icon.svg
  licences                list anew what the page is made of, after a change of Cargo.lock

Each command first installs what it is missing.";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    match dispatch(&args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("\nerror: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn dispatch(args: &[&str]) -> Result<()> {
    match args {
        ["serve"] => serve::serve(None),
        ["serve", "--port", port] => match port.parse() {
            Ok(port) => serve::serve(Some(port)),
            Err(_) => bail!("--port takes a number from 1 to 65535, not `{port}`"),
        },
        ["test"] => checks::test(&[]),
        ["test", "--only", steps] => checks::test(&steps.split(',').collect::<Vec<_>>()),
        ["build"] => build::build(),
        ["icons"] => icons::draw(),
        ["licences"] => licences::write(),
        ["about"] => about::write_for_trunk(),
        [] | ["help" | "--help" | "-h"] => {
            println!("{USAGE}\n\nSteps of test: {}", checks::names());
            Ok(())
        }
        _ => bail!("cannot read `{}`\n\n{USAGE}", args.join(" ")),
    }
}
