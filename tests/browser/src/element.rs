//! Something on the page that a person can read, press or type into.

use std::time::Duration;

use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::elements::Element as Found;
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::json;

use crate::Page;

/// One element, found by [`Page`].
pub struct Element<'page> {
    page: &'page Page,
    found: Found,
    name: String,
}

impl<'page> Element<'page> {
    pub(crate) fn new(page: &'page Page, found: Found, name: String) -> Self {
        Self { page, found, name }
    }

    /// Types over whatever the field holds, key by key.
    #[track_caller]
    pub fn type_text(&self, text: &str) {
        self.press(&select_all());
        // Deletes first when nothing is typed; otherwise the first key replaces the selection.
        let keys = if text.is_empty() {
            Key::Delete.to_string()
        } else {
            text.to_owned()
        };
        self.press(&keys);
    }

    /// Types over whatever the field holds with a pause after each key, as fingers do.
    #[track_caller]
    pub fn type_steadily(&self, text: &str, pause: Duration) {
        self.press(&select_all());
        let keys = text
            .chars()
            .fold(KeyActions::new("keys".into()), |keys, value| {
                keys.then(KeyAction::Down { value })
                    .then(KeyAction::Up { value })
                    .then(KeyAction::Pause { duration: pause })
            });
        self.page.act("type", |client| async move {
            client.perform_actions(keys).await
        });
    }

    /// Presses keys with this element in focus; special ones come from [`Key`].
    #[track_caller]
    pub fn press(&self, keys: &str) {
        self.done(
            "type into",
            |found| async move { found.send_keys(keys).await },
        );
    }

    /// Clicks or taps in its middle.
    #[track_caller]
    pub fn click(&self) {
        self.done("click", |found| async move { found.click().await });
    }

    /// Clicks when the page has settled, where what comes above it would move it.
    #[track_caller]
    pub fn click_when_settled(&self) {
        self.page.settle();
        self.click();
    }

    /// Chooses the option with these words from a drop-down list.
    #[track_caller]
    pub fn choose(&self, option: &str) {
        self.done("choose from", |found| async move {
            found.select_by_label(option).await
        });
    }

    /// What the field holds now.
    #[track_caller]
    #[must_use]
    pub fn value(&self) -> String {
        let value = self.done("read", |found| async move { found.prop("value").await });
        value.unwrap_or_default()
    }

    /// The words it shows.
    #[track_caller]
    #[must_use]
    pub fn text(&self) -> String {
        self.done("read", |found| async move { found.text().await })
    }

    /// An attribute as written in the page.
    #[track_caller]
    #[must_use]
    pub fn attribute(&self, attribute: &str) -> Option<String> {
        self.done("read", |found| async move { found.attr(attribute).await })
    }

    /// Whether it can be used now.
    #[track_caller]
    #[must_use]
    pub fn is_enabled(&self) -> bool {
        self.done("read", |found| async move { found.is_enabled().await })
    }

    /// Whether a box is ticked, an option chosen.
    #[track_caller]
    #[must_use]
    pub fn is_chosen(&self) -> bool {
        self.done("read", |found| async move { found.is_selected().await })
    }

    /// Left, top, width and height on the page in CSS pixels.
    #[track_caller]
    #[must_use]
    pub fn rectangle(&self) -> [f64; 4] {
        let (x, y, width, height) =
            self.done("measure", |found| async move { found.rectangle().await });
        [x, y, width, height]
    }

    /// Whether the keyboard acts on it now.
    #[track_caller]
    #[must_use]
    pub fn has_focus(&self) -> bool {
        let found = serde_json::to_value(&self.found).unwrap_or_default();
        let script = "return document.activeElement === arguments[0]";
        self.page.run(script, vec![found]) == json!(true)
    }

    #[track_caller]
    fn done<T, F>(&self, what: &str, act: impl FnOnce(Found) -> F) -> T
    where
        F: Future<Output = Result<T, CmdError>>,
    {
        let found = self.found.clone();
        match self.page.browser().ask(|_| act(found)) {
            Ok(value) => value,
            Err(error) => panic!("cannot {what} {}: {error}", self.name),
        }
    }
}

/// The chord that selects all of a field, and the end of that chord.
fn select_all() -> String {
    let hold = if cfg!(target_os = "macos") {
        Key::Meta
    } else {
        Key::Control
    };
    format!("{}a{}", char::from(hold), char::from(Key::Null))
}
