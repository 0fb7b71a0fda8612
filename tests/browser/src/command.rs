//! WebDriver requests that the client library does not have.

use fantoccini::elements::Element;
use fantoccini::wd::WebDriverCompatibleCommand;
use http::Method;
use serde_json::json;
use url::{ParseError, Url};

/// The accessible name of an element (W3C WebDriver, "Get Computed Label").
#[derive(Debug)]
pub struct ComputedLabel {
    element: String,
}

impl ComputedLabel {
    pub fn of(element: &Element) -> Self {
        let element = element.element_id().to_string();
        Self { element }
    }
}

impl WebDriverCompatibleCommand for ComputedLabel {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, ParseError> {
        in_session(
            base,
            session,
            &format!("element/{}/computedlabel", self.element),
        )
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        (Method::GET, None)
    }
}

/// What Chromium's console has shown since the last such request. Others do not know it.
#[derive(Debug)]
pub struct BrowserLog;

impl WebDriverCompatibleCommand for BrowserLog {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, ParseError> {
        in_session(base, session, "se/log")
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        (Method::POST, Some(json!({ "type": "browser" }).to_string()))
    }
}

fn in_session(base: &Url, session: Option<&str>, path: &str) -> Result<Url, ParseError> {
    base.join(&format!("session/{}/{path}", session.unwrap_or_default()))
}
