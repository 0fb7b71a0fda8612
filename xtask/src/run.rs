//! Running other programs: where they are found, what they see, and what is said when they fail.

use std::env;
use std::ffi::OsString;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};

use anyhow::{Context, Result, bail};

use crate::tally::Tally;

/// The folder that holds the workspace's `Cargo.toml`.
pub fn workspace() -> &'static Path {
    let xtask = Path::new(env!("CARGO_MANIFEST_DIR"));
    xtask.parent().unwrap_or(xtask)
}

/// Where tools are installed, so that they never clash with what the machine already has.
pub fn tools_dir() -> PathBuf {
    workspace().join("target/tools")
}

/// Our own tools first, then whatever the machine offers.
pub fn search_path() -> Vec<PathBuf> {
    let ours = [
        tools_dir().join("bin"),
        tools_dir().join("node_modules/.bin"),
    ];
    let theirs = env::var_os("PATH").unwrap_or_default();
    ours.into_iter().chain(env::split_paths(&theirs)).collect()
}

/// The first program of this name on [`search_path`].
pub fn find(program: &str) -> Option<PathBuf> {
    let file = format!("{program}{}", env::consts::EXE_SUFFIX);
    search_path()
        .into_iter()
        .map(|dir| dir.join(&file))
        .find(|path| path.is_file())
}

/// A command that runs in the workspace and finds our tools before the machine's.
pub fn command(program: impl Into<OsString>) -> Command {
    let program = program.into();
    let found = program.to_str().and_then(find);
    let mut command = Command::new(found.map_or(program, Into::into));
    command.current_dir(workspace());
    if let Ok(path) = env::join_paths(search_path()) {
        command.env("PATH", path);
    }
    command
}

/// The cargo that runs this program.
pub fn cargo() -> Command {
    command(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Runs to the end; a failure names the command, how it ended and what to do.
pub fn run(command: &mut Command, hint: &str) -> Result<()> {
    let status = command
        .status()
        .with_context(|| cannot_start(command, hint))?;
    judge(command, status, hint)
}

/// Like [`run`], and adds the test results that the command prints to `tally`.
pub fn run_tests(command: &mut Command, tally: &mut Tally, hint: &str) -> Result<()> {
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .with_context(|| cannot_start(command, hint))?;
    if let Some(output) = child.stdout.take() {
        let mut ours = std::io::stdout();
        for line in BufReader::new(output).split(b'\n') {
            let line = line.with_context(|| format!("reading from `{}`", words(command)))?;
            let line = String::from_utf8_lossy(&line);
            tally.read(&line);
            writeln!(ours, "{line}")?;
        }
    }
    let status = child.wait()?;
    judge(command, status, hint)
}

/// What the command prints on standard output, or nothing if it cannot run or fails.
pub fn answer(command: &mut Command) -> Option<String> {
    let output = command.stderr(Stdio::null()).output().ok()?;
    output
        .status
        .success()
        .then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

fn judge(command: &Command, status: ExitStatus, hint: &str) -> Result<()> {
    if !status.success() {
        bail!(
            "`{}` ended with {status}\nWhat to do: {hint}",
            words(command)
        );
    }
    Ok(())
}

fn cannot_start(command: &Command, hint: &str) -> String {
    format!("`{}` could not start. What to do: {hint}", words(command))
}

/// The command as one would type it.
pub fn words(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let program = program.file_name().unwrap_or(program.as_os_str());
    std::iter::once(program)
        .chain(command.get_args())
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}
