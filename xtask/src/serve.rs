//! `cargo xtask serve`: the page on 127.0.0.1, rebuilt whenever a source file changes.

use std::net::{Ipv4Addr, TcpListener};
use std::process::Command;

use anyhow::{Context, Result};

use crate::build::trunk;
use crate::run::{run, workspace};
use crate::tools;

/// The port people know from Trunk; another is taken when somebody is there already.
const USUAL_PORT: u16 = 8080;

/// Builds, says where the page is, and serves it until stopped.
pub fn serve(port: Option<u16>) -> Result<()> {
    tools::wasm_target()?;
    tools::trunk()?;
    tools::wasm_bindgen()?;
    tools::crates()?;
    println!("Building the page; the first time takes some minutes.");
    run(
        with_settings(trunk().arg("build")),
        "read the compiler's message above",
    )?;
    let port = match port {
        Some(port) => port,
        None => free_port()?,
    };
    println!("\nCopewright is at http://127.0.0.1:{port}/ (Ctrl-C stops it)\n");
    become_command(with_settings(trunk().args([
        "serve",
        "--address",
        "127.0.0.1",
        "--port",
        &port.to_string(),
        "--disable-address-lookup=true",
    ])))
}

/// Code at full speed, but none of the size work of a release, so a change shows quickly and
/// `wasm-opt` is not needed. Apart from `dist/`, which always holds the release site.
fn with_settings(command: &mut Command) -> &mut Command {
    command
        .args(["--cargo-profile", "release", "--dist"])
        .arg(workspace().join("target/serve"))
}

fn free_port() -> Result<u16> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, USUAL_PORT))
        .or_else(|_| TcpListener::bind((Ipv4Addr::LOCALHOST, 0)))
        .context("no port on 127.0.0.1 can be opened. What to do: name one with --port")?;
    Ok(listener.local_addr()?.port())
}

/// Hands this process over, so that a signal meant for us stops the server and leaves no orphan.
#[cfg(unix)]
fn become_command(command: &mut Command) -> Result<()> {
    use std::os::unix::process::CommandExt;
    Err(command.exec()).context("Trunk could not start")
}

#[cfg(not(unix))]
fn become_command(command: &mut Command) -> Result<()> {
    run(command, "read the message above")
}
