//! What the page can do beyond one joint: each behind a button that loads the workshop.

use leptos::prelude::*;

use crate::app::bench::Bench;
use crate::app::dom::{El, html};
use crate::app::handover::{Asked, Handed, load_workshop, on_take_over};
use crate::app::leave;

/// Where the workshop stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    /// Nobody has asked.
    Away,
    Coming,
    /// It could not be loaded.
    Failed,
}

/// The way to the workshop.
#[derive(Clone, Copy)]
pub struct More {
    state: RwSignal<State>,
    asked: RwSignal<Option<Asked>>,
}

impl More {
    pub fn new() -> Self {
        Self {
            state: RwSignal::new(State::Away),
            asked: RwSignal::new(None),
        }
    }

    /// Loads the workshop for what is asked.
    pub fn ask(self, asked: Asked) {
        self.asked.set(Some(asked));
        if self.state.get_untracked() != State::Coming {
            self.state.set(State::Coming);
            load_workshop(move || self.state.set(State::Failed));
        }
    }

    /// Loads the workshop before anything is shown; shows what there is where it does not come.
    pub fn ask_instead(self, show: impl Fn() + 'static) {
        self.asked.set(Some(Asked::GoOn));
        self.state.set(State::Coming);
        let owner = Owner::current().unwrap_or_default();
        load_workshop(move || {
            if self.state.get_untracked() == State::Coming {
                self.state.set(State::Failed);
                owner.with(&show);
            }
        });
    }

    /// Hands everything over when the workshop asks, and goes.
    pub fn hand_over(self, bench: Bench) {
        on_take_over(move || {
            let handed = Handed {
                forms: bench.forms(),
                asked: self.asked.get_untracked(),
            };
            leave();
            handed
        });
    }
}

/// The buttons that ask for more.
pub fn more() -> El {
    let Some(more) = use_context::<More>() else {
        return html("<div></div>");
    };
    let ask = |asked: Asked, name: &str| {
        html(r#"<button type="button"></button>"#)
            .text(name)
            .on_click(move || more.ask(asked))
    };
    let told = move || match more.state.get() {
        State::Away => "",
        State::Coming => "Loading the rest of the page …",
        State::Failed => {
            "The rest of the page did not load. Look after the network, then press again."
        }
    };
    html(r#"<section class="whole" aria-labelledby="more-head"><h2 id="more-head">More than one joint</h2></section>"#)
        .child(
            html(r#"<div class="row"></div>"#)
                .child(ask(Asked::Piece, "Add the other end and the length"))
                .child(ask(Asked::List, "Start a list of pieces"))
                .child(ask(Asked::Saw, "Set up the saw, predict the fit"))
                .child(ask(Asked::Files, "Save as a file"))
                .child(ask(Asked::Example, "See an example")),
        )
        .child(html(r#"<p class="remark">A whole piece: where each template goes on the tube, and what to check. A list: many pieces, one print, one run through the saws.</p>"#))
        .child(html(r#"<p class="told" role="status"></p>"#).text_of(told))
}
