//! Prints a page with WebKit, whose driver cannot: another window of the same engine opens it.

use std::fs::{self, File};
use std::path::Path;
use std::process::{Command, Stdio};

use tempfile::TempDir;

use crate::browser::{Screen, at_home};
use crate::pdf::Pdf;
use crate::{Engine, Page};

/// Debian's own, for which its package of the engine's bindings is; one found on the path may be
/// another.
const PYTHON: &str = "/usr/bin/python3";

/// The margins in the print dialog.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Margins {
    /// Set to none by the user.
    None,
    /// As the dialog has them for the paper when nobody changes them.
    Printer,
}

impl Page {
    /// Prints what the page's address and its store hold on a sheet that the print dialog knows by
    /// a name such as `iso_a4`, in another window of WebKit. What this window alone holds, such as
    /// an open job, is not there.
    ///
    /// # Panics
    /// When it does not print; the message says what to install.
    #[track_caller]
    #[must_use]
    pub fn print_in_webkit(&self, sheet: &str, margins: Margins) -> Pdf {
        assert_eq!(
            self.browser().engine(),
            Engine::WebKit,
            "this would not be the print of the browser that is driven"
        );
        let stored = self.run("return JSON.stringify({ ...localStorage })", Vec::new());
        print(&self.url(), sheet, margins, stored.as_str().unwrap_or("{}"))
    }
}

#[track_caller]
fn print(address: &str, sheet: &str, margins: Margins, stored: &str) -> Pdf {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("print_in_webkit.py");
    let folder = TempDir::new().expect("a folder for the print");
    let file = folder.path().join("print.pdf");
    let margins = match margins {
        Margins::None => "none",
        Margins::Printer => "printer",
    };
    // A file: a pipe ends only with the last of the engine's processes that has it.
    let said = folder.path().join("said.txt");
    let says = File::create(&said).expect("a file in a folder of our own");
    let screen = Screen::start();
    let printing = at_home(&mut Command::new(PYTHON), folder.path(), &screen)
        .arg(script)
        .arg(address)
        .arg(&file)
        .args([sheet, margins, stored])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(says)
        .status();
    let ended = printing.unwrap_or_else(|error| panic!("{PYTHON} does not start: {error}"));
    assert!(
        ended.success(),
        "WebKit did not print ({ended}): {}\nIt needs the packages python3-gi and gir1.2-webkit2-4.1",
        fs::read_to_string(&said).unwrap_or_default()
    );
    let bytes = fs::read(&file).expect("the script has written the file");
    Pdf::read(&bytes).unwrap_or_else(|error| panic!("the print is no PDF: {error}"))
}
