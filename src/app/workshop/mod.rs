//! The workshop: the page with whole pieces, jobs of many pieces, and all that goes with them.

mod after;
mod code;
mod files;
mod fit;
mod hand;
mod jobs;
mod keep;
mod kit;
mod list;
mod making;
mod of_piece;
mod office;
mod piece;
mod print;
mod resume;
mod saw;
mod stock;
mod store;
mod worker;

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, Means, OnList, Taken, bench};
use crate::app::browser;
use crate::app::dom::{El, about_last, html, mount};
use crate::app::handover::{self, Asked, Handed, OfferFiles};
use crate::app::packet::Wanted;
use crate::app::workshop::keep::{Keeper, Told};
use crate::app::workshop::kit::OwnKit;
use crate::app::workshop::resume::LeftOff;
use crate::app::{checks, choices, header, paper, sheets, sketch, table, unrolled};
use crate::job::list::{Job, Kit, demo, is_job_link, open_job_link, write_hand};
use crate::job::{PieceDraft, PieceForm, read_piece};
use crate::piece::{Clamps, tape_division};
use crate::sheet::{Packet, PieceOrder, lay_out_piece};
use crate::stock::Density;

/// What the workshop can do beyond one joint.
const MEANS: Means = Means {
    read_piece: Some(read_piece),
    piece_sheet: Some(sheet_on_bench),
    put_on_list: Some(put_on_list),
    take_link: Some(take_link),
    hand_in_link: Some(|list| write_hand(list.job.at_hand())),
    codes: Some(code::on_bench),
    changed_elsewhere: Some(changed_elsewhere),
};

/// The sheet of the piece on the bench, in the material of its job.
fn sheet_on_bench(piece: &PieceDraft, wanted: &Wanted) -> Packet {
    let of = hand::OfWhat::here();
    piece_sheet(piece, wanted, of().density)
}

fn piece_sheet(piece: &PieceDraft, wanted: &Wanted, density: Density) -> Packet {
    let [a, b] = wanted.ends;
    let end = a.or(b);
    lay_out_piece(&PieceOrder {
        piece: &piece.piece,
        label: end.map_or("", |end| &end.label),
        count: piece.count,
        density: Some(density),
        unit: piece.unit,
        division: tape_division(piece.unit),
        clamps: Clamps::default(),
        link: wanted.link,
        date: wanted.date,
        paper: wanted.paper,
        printer: wanted.printer,
    })
}

fn put_on_list(list: &OnList, form: &PieceForm) -> OnList {
    let job = Job::clone(&list.job).with_form(list.at, form.clone());
    OnList {
        job: Arc::new(job),
        at: list.at,
    }
}

fn changed_elsewhere(before: &OnList, now: &OnList) -> Option<u32> {
    let was = before.job.pieces().iter();
    let changed = was.filter(|was| {
        let is = now.job.piece(was.id());
        is.is_some_and(|is| !Arc::ptr_eq(is, was) && is.form() != was.form())
    });
    let ids: Vec<u32> = changed.map(|piece| piece.id()).collect();
    // Where several have changed, as with a unit, one of them is as good as another.
    match ids.as_slice() {
        [one] if *one != now.at => Some(*one),
        _ => None,
    }
}

/// Opens the link of a job.
fn take_link(link: &str) -> Taken {
    let (Some(keeper), Some(kit)) = (use_context::<Keeper>(), use_context::<OwnKit>()) else {
        return Taken::Not;
    };
    if !is_job_link(link) {
        return Taken::Not;
    }
    let opened = open_job_link(link);
    keeper.open(kit.lent_to(opened.job), None);
    let told = opened.newer.into_iter().chain(opened.problems);
    keeper.tell(told.map(Told::plain));
    Taken::Opened
}

/// Mounts the workshop in place of whatever page of ours there is.
pub fn start_workshop() {
    console_error_panic_hook::set_once();
    if web_sys::window().is_none() {
        return worker::serve();
    }
    // The database answers in its own time; the other page stays until then.
    let _ = any_spawner::Executor::init_wasm_bindgen();
    leptos::task::spawn_local(async {
        let left = resume::left_off().await;
        let Some(body) = document().body() else {
            return;
        };
        let handed = handover::take_over();
        handover::clear(&body);
        let owner = mount(&body, |body| open(body, &handed, left));
        // The page lives as long as its document.
        std::mem::forget(owner);
    });
}

/// The bench with what was handed over, or else with what is linked or kept.
fn open(body: El, handed: &Handed, left: LeftOff) {
    provide_context(code::CodeAddress::open());
    provide_context(OfferFiles(Callback::new(|()| files::open_menu())));
    let bench = Bench::open(MEANS, &handed.forms);
    provide_context(bench);
    let (kit, told) = OwnKit::open();
    provide_context(kit);
    bench.list_all(|form| OnList {
        job: Arc::new(kit.lent_to(Job::of_form(form.clone()))),
        at: 1,
    });
    let keeper = Keeper::new(bench);
    provide_context(keeper);
    keeper.tell(told.into_iter().map(Told::plain));
    if let Some(list) = bench.list_untracked() {
        keeper.lends(Kit::of(&list.job));
    }
    provide_context(hand::OfWhat::of(bench));
    resume::resume(bench, keeper, left);
    provide_context(saw::Plans::keep(bench));
    bench.keep();
    keeper.keep();
    take_link(&browser::fragment());
    kit.keep(bench, keeper);
    match handed.asked {
        Some(Asked::Piece) if !bench.form.with_untracked(PieceForm::is_whole) => {
            bench.choose_piece(|form| form.as_whole(true));
        }
        Some(Asked::List) => keeper.show_list(),
        Some(Asked::Example) => {
            let unit = bench.typed.with_untracked(|typed| typed.unit);
            keeper.open(demo(unit), None);
        }
        _ => {}
    }
    page(body);
    if handed.asked == Some(Asked::Saw) {
        hand::show();
    }
    if handed.asked == Some(Asked::Files) {
        files::open_menu();
    }
}

/// The whole page.
fn page(body: El) {
    let bench = bench();
    let shown = print::Shown::new();
    let coped = move || bench.has_cope();
    let square = || {
        html(
            r#"<p class="remark">Neither end is coped: there is nothing to sketch, and no template.</p>"#,
        )
    };
    let left = html(r#"<div class="bench-left"></div>"#)
        .child(piece::ends())
        .when(coped, || {
            html("<div></div>")
                .child(sketch::sketch_form())
                .child(choices::choices())
        })
        .when(move || !coped(), square)
        .child(piece::whole_piece())
        .child(hand::tools())
        .child(stock::stock())
        .when(coped, unrolled::unrolled)
        .when(coped, fit::fit);
    let right = html(r#"<div class="bench-right"></div>"#)
        .when(coped, checks::checks)
        .child(piece::marks())
        .when(coped, saw::saw)
        .when(coped, unrolled::in_space);
    let main = header::notices(html(r#"<main class="screen" id="bench"></main>"#))
        .child(jobs::told())
        .child(list::list())
        .child(
            html(r#"<div class="bench"></div>"#)
                .child(left)
                .child(right),
        )
        .when(coped, table::ordinate_table)
        .child(print::what_to_print(shown))
        .child(code::address())
        .child(files::files(shown))
        .child(paper::paper_panel());
    about_last(
        &body
            .child(header::header())
            .child(main)
            .child(sheets::sheets()),
    );
}
