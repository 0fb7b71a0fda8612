//! Chromium and ChromeDriver.

use std::env;
use std::path::PathBuf;
use std::process::Child;

use fantoccini::wd::Capabilities;
use serde_json::{Value, json};
use tempfile::TempDir;

use super::{Device, downloads, on_path, start};

/// Starts ChromeDriver on a port of its own choice; the process and its address.
pub fn start_driver(profile: &TempDir) -> (Child, String) {
    // "ChromeDriver was started successfully on port 36413."
    let driver = ["chromedriver", "CHROMEDRIVER", "--port=0"];
    start(driver, "successfully on port ", profile)
}

/// How the browser is to be started.
pub fn capabilities(device: Device, profile: &TempDir) -> Capabilities {
    let [width, height] = device.size;
    let mut args: Vec<String> = [
        "--headless",
        // Chromium's sandbox refuses to run as root, which containers and CI machines are.
        "--no-sandbox",
        "--disable-gpu",
        // The software renderer, on machines with and without a graphics library.
        "--use-angle=swiftshader",
        "--enable-unsafe-swiftshader",
        "--disable-dev-shm-usage",
        // Nothing here may leave the machine or wait for a network that is not there.
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--hide-scrollbars",
        "--lang=en",
    ]
    .map(str::to_owned)
    .to_vec();
    args.push(format!("--user-data-dir={}", profile.path().display()));
    args.push(format!("--window-size={width},{height}"));
    // 0 is dark and 1 light in Blink's own settings.
    let scheme = if device.dark { 0 } else { 1 };
    args.push(format!("--blink-settings=preferredColorScheme={scheme}"));
    if device.reduced_motion {
        args.push("--force-prefers-reduced-motion".to_owned());
    }
    if !device.webgl {
        args.push("--disable-3d-apis".to_owned());
    }
    let mut options = json!({
        "args": args,
        "prefs": { "download.default_directory": downloads(profile) },
    });
    if let Some(binary) = binary() {
        options["binary"] = json!(binary);
    }
    if device.phone {
        options["mobileEmulation"] = json!({
            "deviceMetrics": { "width": width, "height": height, "pixelRatio": 3, "touch": true },
        });
    }
    let capabilities = json!({
        "browserName": "chrome",
        "goog:chromeOptions": options,
        // Chromium alone tells what its console said; others are heard through the page.
        "goog:loggingPrefs": { "browser": "SEVERE" },
    });
    match capabilities {
        Value::Object(map) => map,
        _ => Capabilities::new(),
    }
}

/// The browser named by CHROMIUM or found on the path; else its driver looks where it is usual.
fn binary() -> Option<PathBuf> {
    let named = env::var_os("CHROMIUM").map(PathBuf::from);
    named.or_else(|| on_path(&["chromium", "chromium-browser", "google-chrome"]))
}
