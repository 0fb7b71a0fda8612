//! `cargo xtask icons`: the PNG icons in `public/`, drawn from `icon.svg` by Chromium. They are
//! kept with the sources, so that a build needs no browser.

use std::fs;

use anyhow::{Context, Result};

use crate::offline::own;
use crate::page::put_before;
use crate::run::{command, find, run, tools_dir, workspace};
use crate::tools;

/// Name, side in pixels, and what part of the drawing's plane is seen. The maskable one keeps the
/// drawing inside the circle of four fifths of its width that no mask may cut (Web App Manifest,
/// W3C: the safe zone of maskable icons).
const ICONS: [(&str, u32, &str); 3] = [
    ("icon-192.png", 192, "-2 -0.5 36 36"),
    ("icon-512.png", 512, "-2 -0.5 36 36"),
    ("icon-maskable-512.png", 512, "-8.5 -7 49 49"),
];

/// Draws them all anew.
pub fn draw() -> Result<()> {
    tools::chromium()?;
    let browser = ["chromium", "chromium-browser", "google-chrome"];
    let browser = browser.into_iter().find(|name| find(name).is_some());
    let browser = browser.context("Chromium is missing. What to do: put it on the PATH")?;
    let page = tools_dir().join("icon.html");
    for (name, side, seen) in ICONS {
        let svg = own("icon.svg")?.replace(
            "viewBox=\"0 0 32 32\"",
            &format!("viewBox=\"{seen}\" width=\"{side}\" height=\"{side}\""),
        );
        // White, as on the page: the lines are black, and a dark desk would swallow them.
        let style = "<style>*{margin:0}svg{display:block;background:#fff}</style>";
        fs::write(
            &page,
            put_before(&svg, "<svg", &format!("<!doctype html>{style}"))?,
        )?;
        let to = workspace().join("public").join(name);
        run(
            command(browser)
                .args([
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--hide-scrollbars",
                ])
                .arg(format!("--window-size={side},{side}"))
                .arg(format!("--screenshot={}", to.display()))
                .arg(format!("file://{}", page.display())),
            "see whether this Chromium runs at all",
        )?;
    }
    Ok(())
}
