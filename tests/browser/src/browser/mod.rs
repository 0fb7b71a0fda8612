//! A browser session of its own: starts driver and browser, and ends both with the value.

use std::env;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::error::CmdError;
use fantoccini::wd::TimeoutConfiguration;
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};

mod chromium;
mod device;
mod firefox;
mod screen;
mod webkit;

pub use device::{Device, Engine};
pub(crate) use screen::Screen;
pub(crate) use webkit::at_home;
pub use webkit::webkit_is_here;

/// What a page and its scripts may take, by the driver's own clock.
const PATIENCE: Duration = Duration::from_secs(60);
/// Longer than any request takes that the driver ends itself.
const NO_ANSWER: Duration = Duration::from_secs(150);

/// One browser without a screen, with a fresh profile.
pub struct Browser {
    runtime: Runtime,
    client: Option<Client>,
    driver: Child,
    engine: Engine,
    profile: TempDir,
    /// Where it is drawn, when it needs to be; ends after the browser.
    _screen: Option<Screen>,
}

impl Browser {
    /// Starts driver and browser.
    ///
    /// # Panics
    /// When either does not start; the message says what to install or set.
    #[must_use]
    pub fn start(device: Device) -> Self {
        let profile = TempDir::new().expect("a folder for the browser's profile");
        let mut screen = None;
        let (driver, address) = match device.engine {
            Engine::Chromium => chromium::start_driver(&profile),
            Engine::Firefox => firefox::start_driver(&profile),
            Engine::WebKit => {
                let (driver, address, drawn_on) = webkit::start_driver(device, &profile);
                screen = Some(drawn_on);
                (driver, address)
            }
        };
        let runtime = Builder::new_current_thread().enable_all().build();
        let mut browser = Self {
            runtime: runtime.expect("a tokio runtime"),
            client: None,
            driver,
            engine: device.engine,
            profile,
            _screen: screen,
        };
        let capabilities = match device.engine {
            Engine::Chromium => chromium::capabilities(device, &browser.profile),
            Engine::Firefox => firefox::capabilities(device, &browser.profile),
            Engine::WebKit => webkit::capabilities(device),
        };
        let mut builder = ClientBuilder::new(HttpConnector::new());
        builder.capabilities(capabilities);
        let connecting = async { tokio::time::timeout(PATIENCE, builder.connect(&address)).await };
        match browser.runtime.block_on(connecting) {
            Ok(Ok(client)) => browser.client = Some(client),
            Ok(Err(error)) => panic!("{:?} did not start: {error}", device.engine),
            Err(_) => panic!("{:?} did not start within a minute", device.engine),
        }
        browser.limit_scripts();
        browser
    }

    /// Runs a WebDriver request to its end.
    ///
    /// # Panics
    /// When it has no end: a browser that hangs would hold all tests up without a word.
    pub(crate) fn ask<T, F>(&self, request: impl FnOnce(Client) -> F) -> Result<T, CmdError>
    where
        F: Future<Output = Result<T, CmdError>>,
    {
        let client = self.client.clone().expect("a session until the end");
        let asking = async { tokio::time::timeout(NO_ANSWER, request(client)).await };
        self.runtime
            .block_on(asking)
            .unwrap_or_else(|_| panic!("{:?} has not answered for {NO_ANSWER:?}", self.engine))
    }

    /// What draws the page.
    pub(crate) const fn engine(&self) -> Engine {
        self.engine
    }

    /// Where files go that the page saves.
    pub(crate) fn downloads(&self) -> PathBuf {
        downloads(&self.profile)
    }

    fn limit_scripts(&self) {
        let limits =
            TimeoutConfiguration::new(Some(PATIENCE), Some(PATIENCE), Some(Duration::ZERO));
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

/// Starts a driver: its name, the variable that names another, and its argument. It says its port
/// after some words.
fn start([name, named, port]: [&str; 3], says: &str, profile: &TempDir) -> (Child, String) {
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

/// The first of these programs on the path.
fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = env::var_os("PATH").unwrap_or_default();
    let find = |name: &&str| {
        let mut places = env::split_paths(&path).map(|folder| folder.join(name));
        places.find(|place| place.is_file())
    };
    names.iter().find_map(find)
}
