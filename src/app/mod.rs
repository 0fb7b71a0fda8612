//! The page. No geometry here, and no millimetre computed here.
//!
//! The sketch is the form: its dimensions are inputs. Everything else on the page is a memo of
//! what is typed, in the order of the rooms.

mod bench;
mod browser;
mod checks;
mod choices;
mod dom;
mod field;
mod handover;
mod header;
mod mains;
mod more;
mod packet;
mod paper;
mod printer;
mod sheets;
mod sketch;
mod table;
mod unrolled;
mod workshop;

mod view3d;

use std::cell::RefCell;

use leptos::prelude::*;

use crate::app::bench::{Means, Taken};
use crate::app::dom::{El, about_last, html};
use crate::app::handover::{Asked, OfferFiles};
use crate::app::more::More;
use crate::job::list::is_job_link;
use crate::job::{PieceForm, write_whole_form};

pub use bench::Bench;
pub use dom::mount;
pub use view3d::view3d;
pub use workshop::start_workshop;

/// Mounts the page of a first visit, one joint, in place of the loading line. Where the visit
/// wants more than that, the workshop takes its place.
pub fn start() {
    console_error_panic_hook::set_once();
    let Some(body) = document().body() else {
        return;
    };
    let owner = mount(&body, |body| {
        let means = Means {
            take_link: Some(take_link),
            ..Means::default()
        };
        let bench = Bench::open(means, &[]);
        provide_context(bench);
        let more = More::new();
        provide_context(more);
        provide_context(OfferFiles(Callback::new(move |()| more.ask(Asked::Files))));
        more.hand_over(bench);
        let show = move || {
            browser::remove_loading_line();
            page(body.clone(), bench);
        };
        // A job that was open holds the form that the visit begins with.
        let form = bench.form.with_untracked(write_whole_form);
        let of_job = browser::open_jobs().iter().any(|open| open.form == form);
        let linked = is_job_link(&browser::fragment());
        if of_job || linked || bench.form.with_untracked(PieceForm::is_whole) {
            more.ask_instead(show);
        } else {
            show();
        }
    });
    // The page lives until the workshop takes its place.
    OWNER.with(|own| own.replace(Some(owner)));
}

/// The link of a job is for the workshop, which finds it in the address.
fn take_link(link: &str) -> Taken {
    match use_context::<More>() {
        Some(more) if is_job_link(link) => {
            more.ask(Asked::GoOn);
            Taken::Awaited
        }
        _ => Taken::Not,
    }
}

thread_local! {
    /// Keeps the page in step.
    static OWNER: RefCell<Option<Owner>> = const { RefCell::new(None) };
}

/// Takes the page away, and with it all that listens and waits.
fn leave() {
    // First what can be seen: a field that loses the focus by it still speaks to the page.
    if let Some(body) = document().body() {
        handover::clear(&body);
    }
    // Dropped it would live on in what it has made.
    if let Some(owner) = OWNER.with(RefCell::take) {
        owner.cleanup();
    }
}

/// The page of one joint.
fn page(body: El, bench: Bench) {
    bench.keep();
    let left = html(r#"<div class="bench-left"></div>"#)
        .child(sketch::sketch_form())
        .child(choices::choices())
        .child(more::more())
        .child(unrolled::unrolled());
    let right = html(r#"<div class="bench-right"></div>"#)
        .child(checks::checks())
        .child(unrolled::in_space());
    let main = header::notices(html(r#"<main class="screen" id="bench"></main>"#))
        .child(
            html(r#"<div class="bench"></div>"#)
                .child(left)
                .child(right),
        )
        .child(table::ordinate_table())
        .child(paper::paper_panel());
    about_last(
        &body
            .child(header::header())
            .child(main)
            .child(sheets::sheets()),
    );
}
