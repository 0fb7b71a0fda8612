//! Firefox and geckodriver.

use std::env;
use std::path::PathBuf;
use std::process::Child;

use fantoccini::wd::Capabilities;
use serde_json::{Value, json};
use tempfile::TempDir;

use super::{Device, downloads, on_path, start};

/// Starts geckodriver on a port of its own choice; the process and its address.
pub fn start_driver(profile: &TempDir) -> (Child, String) {
    // "1764111600000 geckodriver INFO Listening on 127.0.0.1:41237"
    let driver = ["geckodriver", "GECKODRIVER", "--port=0"];
    start(driver, "Listening on 127.0.0.1:", profile)
}

/// How the browser is to be started.
pub fn capabilities(device: Device, profile: &TempDir) -> Capabilities {
    let [width, height] = device.size;
    let mut options = json!({
        "args": ["-headless", format!("--width={width}"), format!("--height={height}")],
        "prefs": {
            "browser.download.folderList": 2,
            "browser.download.dir": downloads(profile),
            "browser.helperApps.neverAsk.saveToDisk":
                "text/csv,application/pdf,image/svg+xml,application/dxf,application/json,application/zip,model/stl",
            "pdfjs.disabled": true,
            "intl.accept_languages": "en",
            "ui.systemUsesDarkTheme": i32::from(device.dark),
            "ui.prefersReducedMotion": i32::from(device.reduced_motion),
            "webgl.disabled": !device.webgl,
            // Its driver turns this off, and pages of a file could then do what they cannot do for
            // a visitor.
            "security.fileuri.strict_origin_policy": true,
            // Nothing here may leave the machine or wait for a network that is not there.
            "network.captive-portal-service.enabled": false,
            "network.connectivity-service.enabled": false,
        },
    });
    if let Some(binary) = env::var_os("FIREFOX").map(PathBuf::from) {
        options["binary"] = json!(binary);
    } else if let Some(binary) = on_path(&["firefox-esr", "firefox"]) {
        options["binary"] = json!(binary);
    }
    match json!({ "browserName": "firefox", "moz:firefoxOptions": options }) {
        Value::Object(map) => map,
        _ => Capabilities::new(),
    }
}
