//! Drives the built page in a real browser the way a person does, and measures what it prints.
//!
//! A test opens a [`Page`], finds things by the names a screen reader would speak, and panics with
//! a sentence when something is not there. Only the WebDriver standard is used where it reaches;
//! what needs one engine says so.
#![allow(
    clippy::panic,
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "a test harness fails as an assertion does"
)]

pub mod fit;
pub mod patch;
pub mod pdf;
pub mod printed;
pub mod rulers;
pub mod solid;
pub mod tape;

mod axe;
mod browser;
mod codes;
mod command;
mod element;
mod find;
mod heard;
mod page;
mod recorder;
mod shared;
mod site;
mod vector;
mod webkit_print;

pub use axe::Violation;
pub use browser::{Browser, Device, Engine, webkit_is_here};
pub use codes::{codes_on_sheet, codes_on_sheets};
pub use element::Element;
pub use fantoccini::key::Key;
pub use page::Page;
pub use shared::SharedPage;
pub use site::Site;
pub use webkit_print::Margins;
