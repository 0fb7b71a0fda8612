//! The code on the sheets that opens the piece again, and the address it opens it by.

use leptos::prelude::*;

use crate::app::browser;
use crate::app::dom::{El, html};
use crate::app::packet::Wanted;
use crate::sheet::{Code, Packet, draw_codes, link_in_code};

/// Where the address is kept.
const STORE: &str = "copewright-code-address";

/// The address in the code; copies are handles to the same one.
#[derive(Clone, Copy)]
pub struct CodeAddress(RwSignal<String>);

impl CodeAddress {
    /// As the last visit left it, or the page's own. A page from a file has none that another
    /// machine could open.
    pub fn open() -> Self {
        let kept = browser::stored_as(STORE).unwrap_or_else(|| {
            let own = browser::page_address("");
            String::from(usable(own.trim_end_matches('#')))
        });
        Self(RwSignal::new(kept))
    }

    /// The address, empty where there is to be no code.
    pub fn get_untracked(self) -> String {
        self.0.with_untracked(|typed| String::from(usable(typed)))
    }

    /// Hears of every change.
    pub fn track(self) {
        self.0.track();
    }
}

/// An address of the web; empty for any other.
fn usable(typed: &str) -> &str {
    let typed = typed.trim();
    let of_web = ["https://", "http://"]
        .iter()
        .any(|start| typed.len() > start.len() && typed.starts_with(start));
    if of_web { typed } else { "" }
}

/// Draws the code on every sheet of the piece on the bench that has room for it.
pub fn on_bench(packet: &mut Packet, wanted: &Wanted) {
    if let Some(own) = use_context::<CodeAddress>() {
        let address = own.0.with(|typed| String::from(usable(typed)));
        on_piece(packet, wanted, &address);
    }
}

/// The same by an address that may be empty; then there is no code.
pub fn on_piece(packet: &mut Packet, wanted: &Wanted, address: &str) {
    let code = link_in_code(address, wanted.link).and_then(|link| Code::new(&link));
    let Some(code) = code else { return };
    let codes = [(&code, "opens this again")];
    for page in &mut packet.pages {
        draw_codes(page, wanted.paper, wanted.printer, &codes, true);
    }
}

/// The field for the address.
pub fn address() -> El {
    let Some(CodeAddress(typed)) = use_context::<CodeAddress>() else {
        return html("<div></div>");
    };
    let wrong = move || typed.with(|typed| !typed.trim().is_empty() && usable(typed).is_empty());
    let input = html(
        r#"<input id="code-address" type="url" autocomplete="off" autocapitalize="off" spellcheck="false" data-own-undo aria-describedby="code-address-problem code-address-remark">"#,
    )
    .truth_of("aria-invalid", wrong)
    .value_of(move || typed.get())
    .on_text("change", move |text| {
        browser::store_as(STORE, &text);
        typed.set(text);
    });
    let problem = html(r#"<p class="problem" id="code-address-problem" aria-live="polite"></p>"#)
        .text_of(move || {
            if wrong() {
                "No code is printed: an address of the web begins with https:// or http://."
            } else {
                ""
            }
        });
    html(r#"<div class="field code-address"><label for="code-address">Address in the code</label></div>"#)
        .child(input)
        .child(problem)
        .child(html(concat!(
            r#"<p class="remark" id="code-address-remark">A telephone that reads the code on a sheet opens the piece here. "#,
            "With nothing in it no code is printed; nor where a sheet has no room for one.</p>",
        )))
}
