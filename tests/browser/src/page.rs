//! The page as a person meets it: opens it, waits for what takes a moment, reads, prints.

use std::path::Path;
use std::thread::sleep;
use std::time::{Duration, Instant};

use fantoccini::error::CmdError;
use fantoccini::wd::{PrintConfiguration, WindowHandle};
use serde_json::{Value, json};

use crate::pdf::Pdf;
use crate::{Browser, Device, Engine, Site};

/// How long the page may take to show what a test waits for.
pub(crate) const PATIENCE: Duration = Duration::from_secs(15);
pub(crate) const BETWEEN_LOOKS: Duration = Duration::from_millis(25);

/// A page open in a browser of its own.
pub struct Page {
    // Dropped in this order: the browser goes before the site it talks to.
    browser: Browser,
    site: Site,
    /// Where the page is, without a fragment.
    address: String,
}

impl Page {
    /// Opens the built site in a desktop window.
    #[track_caller]
    #[must_use]
    pub fn open() -> Self {
        Self::open_on(Device::DESKTOP)
    }

    /// Opens the built site on some device.
    #[track_caller]
    #[must_use]
    pub fn open_on(device: Device) -> Self {
        Self::open_site(Site::built(), device)
    }

    /// Opens a site in a browser that nobody used before.
    #[track_caller]
    #[must_use]
    pub fn open_site(site: Site, device: Device) -> Self {
        let address = site.address();
        Self::open_at(address, site, device)
    }

    /// Opens a file of this machine, as by a double click. Only in Chromium are its troubles heard.
    ///
    /// # Panics
    /// When there is no such file.
    #[track_caller]
    #[must_use]
    pub fn open_file(path: impl AsRef<Path>, device: Device) -> Self {
        let path = std::fs::canonicalize(path).expect("a file to open");
        let address = url::Url::from_file_path(path).expect("a whole path");
        Self::open_at(address.into(), Site::empty(), device)
    }

    #[track_caller]
    fn open_at(address: String, site: Site, device: Device) -> Self {
        let browser = Browser::start(device);
        let page = Self {
            browser,
            site,
            address,
        };
        if page.browser.engine() == Engine::WebKit {
            // It alone cannot be told at its start how large its window is.
            let [width, height] = device.size;
            page.window(width, height);
        }
        page.go_to(&page.address);
        page
    }

    /// The server behind the page.
    #[must_use]
    pub const fn site(&self) -> &Site {
        &self.site
    }

    /// Opens a share link, as from a message: the page starts afresh, and keeps what it stored.
    #[track_caller]
    pub fn open_fragment(&self, fragment: &str) {
        // Only leaving makes it start afresh; a new fragment alone would not load the page again.
        self.act(
            "leave",
            |client| async move { client.goto("about:blank").await },
        );
        self.go_to(&format!("{}#{fragment}", self.address));
    }

    /// Comes back by the bare address, without a link.
    #[track_caller]
    pub fn come_back(&self) {
        self.act(
            "leave",
            |client| async move { client.goto("about:blank").await },
        );
        self.go_to(&self.address);
    }

    /// Forgets everything that was stored, the database too, takes back the window's size, and opens the page.
    #[track_caller]
    pub(crate) fn visit_for_the_first_time(&self, [width, height]: [u32; 2]) {
        // What the page keeps while it goes away must not be kept.
        self.run(
            "localStorage.clear(); sessionStorage.clear(); Storage.prototype.setItem = () => {}",
            Vec::new(),
        );
        if self.run("return [innerWidth, innerHeight]", Vec::new()) != json!([width, height]) {
            self.window(width, height);
        }
        self.come_back();
        // The last visit's page has gone, and with it what held the database open.
        self.run_async(
            "const done = arguments[arguments.length - 1];
             const away = indexedDB.deleteDatabase('copewright');
             away.onsuccess = away.onerror = away.onblocked = () => done(0);",
            Vec::new(),
        );
        self.site.forget_troubles();
        let _ = self.troubles();
    }

    /// Loads the page again.
    #[track_caller]
    pub fn reload(&self) {
        self.act("reload", |client| async move { client.refresh().await });
        self.wait_until_mounted();
    }

    /// The words shown by the first element that a CSS selector picks, waiting for it to come.
    #[track_caller]
    #[must_use]
    pub fn text_of(&self, selector: &str) -> String {
        self.wait_until(&format!("`{selector}` is there"), |page| {
            page.first(selector).is_some()
        });
        let text = self.run(
            "return document.querySelector(arguments[0])?.innerText ?? \
                    document.querySelector(arguments[0])?.textContent ?? ''",
            vec![json!(selector)],
        );
        text.as_str().unwrap_or_default().to_owned()
    }

    /// Whether the page shows these words now.
    #[track_caller]
    #[must_use]
    pub fn says(&self, words: &str) -> bool {
        one_spaced(&self.text_of("body")).contains(words)
    }

    /// Waits until something holds.
    ///
    /// # Panics
    /// When it does not within 15 s; `what` says what did not.
    #[track_caller]
    pub fn wait_until(&self, what: &str, holds: impl Fn(&Self) -> bool) {
        let start = Instant::now();
        while !holds(self) {
            assert!(
                start.elapsed() < PATIENCE,
                "waited {PATIENCE:?} in vain until {what}; {}",
                self.what_is_heard()
            );
            sleep(BETWEEN_LOOKS);
        }
    }

    /// Runs JavaScript in the page: for what a person sees but WebDriver does not tell.
    #[track_caller]
    pub fn run(&self, script: &str, arguments: Vec<Value>) -> Value {
        self.act("run a script", |client| async move {
            client.execute(script, arguments).await
        })
    }

    /// Waits until the sheets show what is typed: they follow when the hands rest.
    #[track_caller]
    pub fn rest(&self) {
        self.wait_until("the sheets follow", |page| {
            let busy = "return document.querySelector('.sheets[aria-busy=true]') !== null";
            page.run(busy, Vec::new()) == json!(false)
        });
    }

    /// Waits until nothing is left that waits for a moment: the page stays as it is from here on.
    ///
    /// # Panics
    /// On a page without the recorder of [`Site::built`], which counts what waits.
    #[track_caller]
    pub fn settle(&self) {
        self.wait_until("nothing moves any more", |page| {
            page.run("return window.isSettled()", Vec::new()) == json!(true)
        });
    }

    /// Runs JavaScript that calls its last argument with the result later on.
    #[track_caller]
    pub fn run_async(&self, script: &str, arguments: Vec<Value>) -> Value {
        self.act("run a script", |client| async move {
            client.execute_async(script, arguments).await
        })
    }

    /// The page's address now, with its fragment.
    #[track_caller]
    #[must_use]
    pub fn url(&self) -> String {
        let url = self.act("read the address", |client| async move {
            client.current_url().await
        });
        url.to_string()
    }

    /// Prints as the print dialog would to a PDF file on the paper that the page asks for.
    #[track_caller]
    #[must_use]
    pub fn print_pdf(&self) -> Vec<u8> {
        // Without `shrink_to_fit(false)` Chromium takes the request's paper, not the page's, and
        // scales to it.
        let settings = PrintConfiguration::builder()
            .shrink_to_fit(false)
            .background(true)
            .build()
            .expect("the standard's default paper is valid");
        self.act(
            "print",
            |client| async move { client.print(settings).await },
        )
    }

    /// Prints, and reads what is on the paper.
    #[track_caller]
    #[must_use]
    pub fn print(&self) -> Pdf {
        Pdf::read(&self.print_pdf()).unwrap_or_else(|error| panic!("the print is no PDF: {error}"))
    }

    /// Makes the window so large that the page itself has this size in CSS pixels.
    #[track_caller]
    pub fn window(&self, width: u32, height: u32) {
        let resize = |width, height| {
            self.act("resize", |client| async move {
                client.set_window_size(width, height).await
            });
        };
        let inner = || {
            let size = self.run("return [innerWidth, innerHeight]", Vec::new());
            [0, 1].map(|i| size[i].as_u64().unwrap_or(0) as u32)
        };
        let frame = || {
            let script = "return [outerWidth - innerWidth, outerHeight - innerHeight]";
            let size = self.run(script, Vec::new());
            [0, 1].map(|i| size[i].as_u64().unwrap_or(0) as u32)
        };
        // A window follows in its own time, and what it says of its frame may be of the moment
        // before.
        let start = Instant::now();
        while start.elapsed() < PATIENCE {
            if inner() == [width, height] {
                return;
            }
            let [across, down] = frame();
            resize(width + across, height + down);
            sleep(BETWEEN_LOOKS);
        }
        assert_eq!(
            inner(),
            [width, height],
            "the window cannot be of this size; see Device"
        );
    }

    /// The window that is driven now.
    #[track_caller]
    #[must_use]
    pub fn this_window(&self) -> WindowHandle {
        self.act(
            "name the window",
            |client| async move { client.window().await },
        )
    }

    /// Opens a share link in a second window of the same visitor, and drives that from here on.
    #[track_caller]
    pub fn open_window(&self, fragment: &str) -> WindowHandle {
        let opened = self.act("open a window", |client| async move {
            client.new_window(false).await
        });
        self.turn_to(&opened.handle);
        self.go_to(&format!("{}#{fragment}", self.address));
        opened.handle
    }

    /// Drives another of the visitor's windows.
    #[track_caller]
    pub fn turn_to(&self, window: &WindowHandle) {
        let window = window.clone();
        self.act("turn to a window", |client| async move {
            client.switch_to_window(window).await
        });
    }

    /// Closes another of the visitor's windows than the one that is driven.
    #[track_caller]
    pub fn close_window(&self, window: &WindowHandle) {
        let here = self.this_window();
        self.turn_to(window);
        self.act("close a window", |client| async move {
            client.close_window().await
        });
        self.turn_to(&here);
    }

    /// Writes what the window shows as a PNG file.
    #[track_caller]
    pub fn screenshot(&self, path: impl AsRef<Path>) {
        let path = path.as_ref();
        let png = self.act("take a picture", |client| async move {
            client.screenshot().await
        });
        std::fs::write(path, png)
            .unwrap_or_else(|error| panic!("cannot write {}: {error}", path.display()));
    }

    /// The text of the file that the page saves under this name, waiting for it to come.
    ///
    /// # Panics
    /// When it is no text, or does not come.
    #[track_caller]
    #[must_use]
    pub fn saved(&self, name: &str) -> String {
        String::from_utf8(self.saved_bytes(name))
            .unwrap_or_else(|error| panic!("{name} is no text: {error}"))
    }

    /// What is in the file that the page saves under this name, waiting for it to come.
    #[track_caller]
    #[must_use]
    pub fn saved_bytes(&self, name: &str) -> Vec<u8> {
        let path = self.browser.downloads().join(name);
        // The browser holds the name with an empty file until the whole one is moved onto it.
        self.wait_until(&format!("{name} is saved"), |_| {
            path.metadata().is_ok_and(|file| file.len() > 0)
        });
        let bytes =
            std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        // The next file of this name keeps its name.
        let _ = std::fs::remove_file(&path);
        bytes
    }

    pub(crate) const fn browser(&self) -> &Browser {
        &self.browser
    }

    #[track_caller]
    fn go_to(&self, url: &str) {
        self.act(
            "open the page",
            |client| async move { client.goto(url).await },
        );
        self.wait_until_mounted();
    }

    /// `index.html` has a loading line, and the page mounts behind it.
    #[track_caller]
    fn wait_until_mounted(&self) {
        let mounted = "const line = document.getElementById('loading');
                       return document.readyState === 'complete' && !(line && !document.querySelector('.screen'))";
        self.wait_until("the page is mounted", |page| {
            page.run(mounted, Vec::new()) == json!(true)
        });
    }

    #[track_caller]
    pub(crate) fn act<T, F>(&self, what: &str, request: impl FnOnce(fantoccini::Client) -> F) -> T
    where
        F: Future<Output = Result<T, CmdError>>,
    {
        match self.browser.ask(request) {
            Ok(value) => value,
            Err(error) => panic!("cannot {what}: {error}"),
        }
    }
}

/// The words with single spaces between them, as they are spoken.
pub(crate) fn one_spaced(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}
