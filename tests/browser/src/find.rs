//! Finds things on the page by the names that a screen reader speaks.

use std::thread::sleep;
use std::time::Instant;

use fantoccini::Locator;
use fantoccini::elements::{Element as Found, ElementRef};
use fantoccini::error::CmdError;
use serde_json::{Value, json};

use crate::command::ComputedLabel;
use crate::page::{BETWEEN_LOOKS, PATIENCE, one_spaced};
use crate::{Element, Page};

/// Those of a selector in whose texts the letters of a name come one after the other, with others
/// in between or not: none that has the name is left out.
const MAY_BE_NAMED: &str = "
    const [selector, name] = arguments;
    const letters = [...name.replace(/\\s+/g, '')];
    const text = part => part?.textContent ?? '';
    const hasThem = words => {
        let next = 0;
        for (const letter of words) if (letter === letters[next]) next += 1;
        return next === letters.length;
    };
    return [...document.querySelectorAll(selector)].filter(element => {
        const ids = (element.getAttribute('aria-labelledby') ?? '').split(/\\s+/);
        const said = ['aria-label', 'title', 'placeholder', 'value', 'alt']
            .map(attribute => element.getAttribute(attribute) ?? '');
        return hasThem([
            ...ids.map(id => id && text(document.getElementById(id))),
            ...[...element.labels ?? []].map(text),
            text(element),
            ...said,
        ].join(' '));
    })";

/// The driver's word for an element, out of a script's answer: an object of one entry.
fn reference(found: &Value) -> Option<ElementRef> {
    let id = found.as_object()?.values().next()?.as_str()?;
    Some(ElementRef::from(id.to_owned()))
}

impl Page {
    /// The field that is spoken by this name: an input, a list or a text area.
    #[track_caller]
    #[must_use]
    pub fn field(&self, name: &str) -> Element<'_> {
        self.named("input, select, textarea", "field", name)
    }

    /// The button that is spoken by this name.
    #[track_caller]
    #[must_use]
    pub fn button(&self, name: &str) -> Element<'_> {
        self.named(
            "button, summary, [role=button], input[type=button]",
            "button",
            name,
        )
    }

    /// The link that is spoken by this name.
    #[track_caller]
    #[must_use]
    pub fn link(&self, name: &str) -> Element<'_> {
        self.named("a[href]", "link", name)
    }

    /// The heading with these words.
    #[track_caller]
    #[must_use]
    pub fn heading(&self, name: &str) -> Element<'_> {
        self.named("h1, h2, h3, h4", "heading", name)
    }

    /// The one element that is spoken by this name among those that a CSS selector picks; `kind`
    /// is the word for it in messages.
    ///
    /// # Panics
    /// When it does not come within 15 s, or when two visible ones share the name.
    #[track_caller]
    #[must_use]
    pub fn named(&self, selector: &str, kind: &str, name: &str) -> Element<'_> {
        let start = Instant::now();
        loop {
            let last = start.elapsed() >= PATIENCE;
            // An element may vanish between being listed and being asked its name; look again.
            let (found, names) = self.look_for(selector, name, last).unwrap_or_default();
            match found.as_slice() {
                [one] => return Element::new(self, one.clone(), format!("the {kind} \"{name}\"")),
                [] if !last => sleep(BETWEEN_LOOKS),
                [] => panic!(
                    "the page has no {kind} \"{name}\", only {names:?}; {}",
                    self.what_is_heard()
                ),
                several => panic!("the page has {} {kind}s \"{name}\"", several.len()),
            }
        }
    }

    /// The visible elements with this name, and the names of those that were asked: of all, or of
    /// those alone that may have it.
    fn look_for(
        &self,
        selector: &str,
        name: &str,
        all: bool,
    ) -> Result<(Vec<Found>, Vec<String>), CmdError> {
        self.browser().ask(|client| async move {
            // Each name is a request of its own, and a page has a hundred fields and buttons.
            let arguments = vec![json!(selector), json!(name)];
            let listed = client.execute(MAY_BE_NAMED, arguments).await?;
            let listed = listed.as_array().map(Vec::as_slice).unwrap_or_default();
            let mut elements: Vec<Found> = listed
                .iter()
                .filter_map(reference)
                .map(|reference| Found::from_element_id(client.clone(), reference))
                .collect();
            // What a style sheet adds to a name is not in the page's text.
            if all || elements.is_empty() {
                elements = client.find_all(Locator::Css(selector)).await?;
            }
            let mut found = Vec::new();
            let mut names = Vec::new();
            for element in elements {
                let label = client.issue_cmd(ComputedLabel::of(&element)).await?;
                let label = one_spaced(label.as_str().unwrap_or_default());
                if label == name && element.is_displayed().await? {
                    found.push(element);
                }
                names.push(label);
            }
            Ok((found, names))
        })
    }

    /// The spoken names of all visible elements that a CSS selector picks, in page order.
    #[track_caller]
    #[must_use]
    pub fn names_of(&self, selector: &str) -> Vec<String> {
        self.act("read the names", |client| async move {
            let mut names = Vec::new();
            for element in client.find_all(Locator::Css(selector)).await? {
                if element.is_displayed().await? {
                    let name = client.issue_cmd(ComputedLabel::of(&element)).await?;
                    names.push(one_spaced(name.as_str().unwrap_or_default()));
                }
            }
            Ok(names)
        })
    }

    /// Presses keys with whatever has the focus; special ones come from [`crate::Key`].
    #[track_caller]
    pub fn press(&self, keys: &str) {
        self.act("press keys", |client| async move {
            client.active_element().await?.send_keys(keys).await
        });
    }

    /// The spoken name of what has the focus.
    #[track_caller]
    #[must_use]
    pub fn focused(&self) -> String {
        let name = self.act("read the focus", |client| async move {
            let element = client.active_element().await?;
            client.issue_cmd(ComputedLabel::of(&element)).await
        });
        one_spaced(name.as_str().unwrap_or_default())
    }

    /// The first element that a CSS selector picks; `None` when there is none now.
    #[must_use]
    pub fn first(&self, selector: &str) -> Option<Element<'_>> {
        let find =
            |client: fantoccini::Client| async move { client.find(Locator::Css(selector)).await };
        let found = self.browser().ask(find).ok()?;
        Some(Element::new(self, found, format!("`{selector}`")))
    }
}
