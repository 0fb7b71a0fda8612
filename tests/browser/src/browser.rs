//! A browser session of its own: starts driver and browser, and ends both with the value.

use std::env;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::error::CmdError;
use fantoccini::wd::{Capabilities, TimeoutConfiguration};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};

/// The program that draws the page and prints it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// Chromium by ChromeDriver.
    Chromium,
    /// Firefox by geckodriver. It has no touch screen, and no WebGL where there is no screen.
    Firefox,
}

/// What the visitor's device is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Device {
    /// Size of the page area in CSS pixels, before any scroll bar.
    pub size: [u32; 2],
    /// Touch screen and phone layout rules instead of a window.
    pub phone: bool,
    /// The visitor prefers dark colours.
    pub dark: bool,
    /// The visitor prefers little movement.
    pub reduced_motion: bool,
    /// WebGL works.
    pub webgl: bool,
    /// What draws the page.
    pub engine: Engine,
}

impl Device {
    /// A window of 1280 × 900 with light colours.
    pub const DESKTOP: Self = Self {
        size: [1280, 900],
        phone: false,
        dark: false,
        reduced_motion: false,
        webgl: true,
        engine: Engine::Chromium,
    };

    /// A phone 390 CSS pixels wide.
    pub const PHONE: Self = Self {
        size: [390, 844],
        phone: true,
        ..Self::DESKTOP
    };

    /// The same device with dark colours.
    #[must_use]
    pub const fn dark(self) -> Self {
        Self { dark: true, ..self }
    }

    /// The same device with little movement.
    #[must_use]
    pub const fn reduced_motion(self) -> Self {
        Self {
            reduced_motion: true,
            ..self
        }
    }

    /// The same device with Firefox on it.
    #[must_use]
    pub const fn in_firefox(self) -> Self {
        Self {
            engine: Engine::Firefox,
            ..self
        }
    }

    /// The same device without WebGL.
    #[must_use]
    pub const fn without_webgl(self) -> Self {
        Self {
            webgl: false,
            ..self
        }
    }
}

/// One browser without a screen, with a fresh profile.
pub struct Browser {
    runtime: Runtime,
    client: Option<Client>,
    driver: Child,
    profile: TempDir,
}

impl Browser {
    /// Starts driver and browser.
    ///
    /// # Panics
    /// When either does not start; the message says what to install or set.
    #[must_use]
    pub fn start(device: Device) -> Self {
        let profile = TempDir::new().expect("a folder for the browser's profile");
        let (driver, address) = match device.engine {
            Engine::Chromium => start_chrome_driver(&profile),
            Engine::Firefox => start_gecko_driver(&profile),
        };
        let runtime = Builder::new_current_thread().enable_all().build();
        let mut browser = Self {
            runtime: runtime.expect("a tokio runtime"),
            client: None,
            driver,
            profile,
        };
        let capabilities = match device.engine {
            Engine::Chromium => chromium(device, &browser.profile),
            Engine::Firefox => firefox(device, &browser.profile),
        };
        let mut builder = ClientBuilder::new(HttpConnector::new());
        builder.capabilities(capabilities);
        let connecting = async {
            let limit = Duration::from_secs(60);
            tokio::time::timeout(limit, builder.connect(&address)).await
        };
        match browser.runtime.block_on(connecting) {
            Ok(Ok(client)) => browser.client = Some(client),
            Ok(Err(error)) => panic!("{:?} did not start: {error}", device.engine),
            Err(_) => panic!("{:?} did not start within a minute", device.engine),
        }
        browser.limit_scripts();
        browser
    }

    /// Runs a WebDriver request to its end.
    pub(crate) fn ask<T, F>(&self, request: impl FnOnce(Client) -> F) -> Result<T, CmdError>
    where
        F: Future<Output = Result<T, CmdError>>,
    {
        let client = self.client.clone().expect("a session until the end");
        self.runtime.block_on(request(client))
    }

    /// Where files go that the page saves.
    pub(crate) fn downloads(&self) -> PathBuf {
        downloads(&self.profile)
    }

    fn limit_scripts(&self) {
        let seconds = |n| Some(Duration::from_secs(n));
        let limits = TimeoutConfiguration::new(seconds(60), seconds(60), seconds(0));
        let set = self.ask(|client| async move { client.update_timeouts(limits).await });
        set.expect("time limits are standard");
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if let Some(client) = self.client.take() {
            let closing =
                async { tokio::time::timeout(Duration::from_secs(10), client.close()).await };
            let _ = self.runtime.block_on(closing);
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

fn downloads(profile: &TempDir) -> PathBuf {
    profile.path().join("downloads")
}

/// Starts ChromeDriver on a port of its own choice; the process and its address.
fn start_chrome_driver(profile: &TempDir) -> (Child, String) {
    // "ChromeDriver was started successfully on port 36413."
    let driver = ["chromedriver", "CHROMEDRIVER", "--port=0"];
    start_driver(driver, "successfully on port ", profile)
}

/// Starts geckodriver on a port of its own choice; the process and its address.
fn start_gecko_driver(profile: &TempDir) -> (Child, String) {
    // "1764111600000 geckodriver INFO Listening on 127.0.0.1:41237"
    let driver = ["geckodriver", "GECKODRIVER", "--port=0"];
    start_driver(driver, "Listening on 127.0.0.1:", profile)
}

/// Starts a driver: its name, the variable that names another, and its argument. It says its port
/// after some words.
fn start_driver([name, named, port]: [&str; 3], says: &str, profile: &TempDir) -> (Child, String) {
    let program = env::var_os(named).unwrap_or_else(|| name.into());
    let mut driver = Command::new(&program)
        .arg(port)
        // What the browser forgets to clear away goes with its profile.
        .env("TMPDIR", profile.path())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| {
            panic!(
                "`{}` does not start ({error}): install {name}, or set {named} to its path",
                program.display()
            )
        });
    let output = driver.stdout.take().expect("the output is piped");
    let mut lines = BufReader::new(output).lines().map_while(Result::ok);
    let port = lines.find_map(|line| {
        let (_, rest) = line.split_once(says)?;
        rest.trim_end_matches('.').parse::<u16>().ok()
    });
    let Some(port) = port else {
        let _ = driver.kill();
        let _ = driver.wait();
        panic!("`{}` named no port", program.display());
    };
    // A full pipe would stop the driver, so what else it says is read and dropped.
    std::thread::spawn(move || lines.for_each(drop));
    (driver, format!("http://127.0.0.1:{port}"))
}

fn firefox(device: Device, profile: &TempDir) -> Capabilities {
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

fn chromium(device: Device, profile: &TempDir) -> Capabilities {
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
    if let Some(binary) = chromium_binary() {
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
fn chromium_binary() -> Option<PathBuf> {
    let named = env::var_os("CHROMIUM").map(PathBuf::from);
    named.or_else(|| on_path(&["chromium", "chromium-browser", "google-chrome"]))
}

/// The first of these programs on the path.
fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = env::var_os("PATH").unwrap_or_default();
    let find = |name: &&str| {
        let mut places = env::split_paths(&path).map(|folder| folder.join(name));
        places.find(|place| place.is_file())
    };
    names.iter().find_map(find)
}
