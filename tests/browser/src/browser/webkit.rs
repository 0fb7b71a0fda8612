//! WebKitGTK and its driver, as Debian packs them.

use std::env;
use std::fs;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use fantoccini::wd::Capabilities;
use serde_json::{Value, json};
use tempfile::TempDir;

use super::screen::Screen;
use super::{Device, downloads, on_path};

/// Names another driver than the one on the path.
const NAMED: &str = "WEBKITWEBDRIVER";
/// Where Debian puts what is started by other programs alone.
const PROGRAMS: &str = "/usr/lib";
/// The browser that comes with the engine.
const BROWSER: &str = "webkit2gtk-4.1/MiniBrowser";

/// Whether WebKit is to be tried on this machine. Where it cannot be had, a line says so: it runs
/// on Linux only, and is installed from Debian's packages. Where those can be had and are not
/// there, it is tried, and fails with a sentence.
#[must_use]
pub fn webkit_is_here() -> bool {
    let here = env::var_os(NAMED).is_some()
        || on_path(&["WebKitWebDriver"]).is_some()
        || cfg!(target_os = "linux") && on_path(&["apt-get"]).is_some();
    if !here {
        println!("skipped: WebKitGTK and its driver come from Debian's packages alone");
    }
    here
}

/// Starts the driver on a port that is free; the process, its address, and the screen that its
/// browser draws on.
pub fn start_driver(device: Device, profile: &TempDir) -> (Child, String, Screen) {
    let program = env::var_os(NAMED).unwrap_or_else(|| "WebKitWebDriver".into());
    let screen = Screen::start();
    settle(device, profile);
    // The driver takes the port it is given, and somebody may take it in between.
    for _ in 0..5 {
        let port = free_port();
        let mut command = Command::new(&program);
        let mut driver = at_home(&mut command, profile.path(), &screen)
            .arg(format!("--port={port}"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|error| {
                panic!(
                    "`{}` does not start ({error}): install webkit2gtk-driver, or set {NAMED} to \
                     its path",
                    program.display()
                )
            });
        if answers(&mut driver, port) {
            return (driver, format!("http://127.0.0.1:{port}"), screen);
        }
        let _ = driver.kill();
        let _ = driver.wait();
    }
    panic!("`{}` answers on no port", program.display());
}

/// How the browser is to be started.
pub fn capabilities(device: Device) -> Capabilities {
    let mut args = vec!["--automation".to_owned()];
    if device.dark {
        args.push("--dark-mode".to_owned());
    }
    if !device.webgl {
        args.push("--features=!WebGL".to_owned());
    }
    let capabilities = json!({
        "browserName": "MiniBrowser",
        "webkitgtk:browserOptions": { "binary": binary(), "args": args },
    });
    match capabilities {
        Value::Object(map) => map,
        _ => Capabilities::new(),
    }
}

/// A program that writes nowhere but in a folder, and draws on a screen.
pub fn at_home<'c>(command: &'c mut Command, folder: &Path, screen: &Screen) -> &'c mut Command {
    command
        .env("DISPLAY", &screen.name)
        // Where there is a session of another kind, it would be drawn on first.
        .env_remove("WAYLAND_DISPLAY")
        .env("GDK_BACKEND", "x11")
        .env("HOME", folder)
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .env("XDG_CACHE_HOME", folder.join("cache"))
        .env("XDG_DATA_HOME", folder.join("data"))
        .env("XDG_RUNTIME_DIR", folder)
        .env("TMPDIR", folder)
        // What it says, names of printers too, is in English everywhere.
        .env("LC_ALL", "C.UTF-8")
        // A bus for assistive programs is not there, and is waited for.
        .env("NO_AT_BRIDGE", "1")
        // Neither are settings of a desktop, nor one who answers for a proxy.
        .env("GSETTINGS_BACKEND", "memory")
        .env("GIO_USE_PROXY_RESOLVER", "dummy")
}

/// Writes what the browser is told by files: where what is saved goes, and what moves.
fn settle(device: Device, profile: &TempDir) {
    let config = profile.path().join("config");
    let toolkit = config.join("gtk-3.0");
    let saved = downloads(profile);
    let places = format!("XDG_DOWNLOAD_DIR=\"{}\"\n", saved.display());
    let moves = u8::from(!device.reduced_motion);
    let settings = format!("[Settings]\ngtk-enable-animations={moves}\n");
    let written = fs::create_dir_all(&toolkit)
        .and_then(|()| fs::create_dir_all(&saved))
        .and_then(|()| fs::write(config.join("user-dirs.dirs"), places))
        .and_then(|()| fs::write(toolkit.join("settings.ini"), settings));
    written.expect("the profile can be written");
}

/// The browser named by WEBKIT, or Debian's, in the folder of this machine's kind.
fn binary() -> PathBuf {
    if let Some(named) = env::var_os("WEBKIT") {
        return named.into();
    }
    let folders = fs::read_dir(PROGRAMS).into_iter().flatten().flatten();
    let mut places = folders.map(|folder| folder.path().join(BROWSER));
    places
        .find(|place| place.is_file())
        .unwrap_or_else(|| panic!("no {BROWSER} under {PROGRAMS}: install webkit2gtk-driver"))
}

fn free_port() -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a free port on 127.0.0.1");
    listener.local_addr().expect("a bound port").port()
}

/// Waits until the driver can be spoken to; whether it lives then.
fn answers(driver: &mut Child, port: u16) -> bool {
    let start = Instant::now();
    while start.elapsed() < Duration::from_secs(20) {
        if TcpStream::connect(("127.0.0.1", port)).is_ok() {
            // Else it is somebody else who answers.
            return matches!(driver.try_wait(), Ok(None));
        }
        if !matches!(driver.try_wait(), Ok(None)) {
            return false;
        }
        sleep(Duration::from_millis(25));
    }
    false
}
