//! The user's kit, kept in the browser apart from the jobs: what a new job and a link without saws
//! begin with.

use leptos::prelude::*;

use crate::app::bench::Bench;
use crate::app::browser;
use crate::app::dom::{El, follow, html, whether};
use crate::app::workshop::keep::Keeper;
use crate::app::workshop::list::change;
use crate::job::list::{Job, Kit};

const STORE: &str = "copewright-kit";
const SET_ASIDE: &str = "copewright-kit-set-aside";

/// The kit; copies are handles to the same one.
#[derive(Clone, Copy)]
pub struct OwnKit {
    kept: RwSignal<Kit>,
    /// The one that “Keep these as mine” has put away.
    former: RwSignal<Option<Kit>>,
}

impl OwnKit {
    /// The kit that earlier visits kept, and what is to be said about it.
    pub fn open() -> (Self, Vec<String>) {
        let mut told = Vec::new();
        let text = browser::stored_as(STORE);
        let kit = text.and_then(|text| {
            let (kit, problems) = match Kit::read(&text) {
                Ok((kit, problems)) => (Some(kit), problems),
                Err(sentence) => (None, vec![sentence]),
            };
            if !problems.is_empty() {
                browser::store_as(SET_ASIDE, &text);
            }
            told = problems;
            kit
        });
        for sentence in &mut told {
            sentence.insert_str(0, "Saws kept in this browser: ");
        }
        let kit = kit.unwrap_or_else(|| Kit::none(browser::usual_unit()));
        let own = Self {
            kept: RwSignal::new(kit),
            former: RwSignal::new(None),
        };
        (own, told)
    }

    /// A job that has no kit of its own begins with the user's.
    pub fn lent_to(self, job: Job) -> Job {
        if Kit::of(&job).is_empty() {
            self.kept.with_untracked(|kept| kept.given_to(job))
        } else {
            job
        }
    }

    /// A new job in place of another, with the user's kit; where there is none, with the other's.
    pub fn given_to(self, job: Job) -> Job {
        self.kept.with_untracked(|kept| {
            if kept.is_empty() {
                job
            } else {
                kept.given_to(job)
            }
        })
    }

    /// A change in a job that has the user's kit is a change of the kit.
    pub fn keep(self, bench: Bench, keeper: Keeper) {
        let here = of_bench(bench);
        let is_own = move |kit: &Kit| self.kept.with_untracked(|kept| kept.is_same(kit));
        let last = StoredValue::new((keeper.turn(), here.get_untracked()));
        // The job's own, that the user's took the place of: a step back brings it into the job,
        // not among the user's.
        let displaced = StoredValue::new(None::<Kit>);
        follow(move || {
            let now = (keeper.turn(), here.get());
            let before = last.try_update_value(|last| std::mem::replace(last, now.clone()));
            let Some(before) = before.filter(|before| before.1 != now.1) else {
                return;
            };
            if before.0 != now.0 {
                displaced.set_value(None);
            } else if !is_own(&before.1) {
                if is_own(&now.1) {
                    displaced.set_value(Some(before.1));
                }
            } else if !displaced
                .with_value(|displaced| displaced.as_ref().is_some_and(|kit| kit.is_same(&now.1)))
            {
                self.set(now.1);
            }
        });
        browser::on_store_change(STORE, move |text| {
            if let Ok((kit, _)) = Kit::read(&text) {
                self.kept.set(kit);
            }
        });
    }

    fn set(self, kit: Kit) {
        browser::store_as(STORE, &kit.write());
        self.kept.set(kit);
    }

    /// Whose the saws of the job on the bench are, and what can be done about it.
    pub fn whose(self, bench: Bench) -> El {
        let here = of_bench(bench);
        let is_own = whether(move || here.with(|here| self.kept.with(|kept| kept.is_same(here))));
        let none_kept = whether(move || self.kept.with(Kit::is_empty));
        let none_here = whether(move || here.with(Kit::is_empty));
        let words = move || match (is_own.get(), none_kept.get(), none_here.get()) {
            (true, _, _) => "Kept in this browser: every new job begins with these.",
            (false, true, _) => "These belong to this job. None are kept as yours yet.",
            (false, false, true) => "None in this job. Yours are kept in this browser.",
            (false, false, false) => {
                "These belong to this job. Yours are kept apart from it in this browser."
            }
        };
        let button = |name: &str, act: Box<dyn Fn()>| {
            html(r#"<button type="button"></button>"#)
                .text(name)
                .on_click(act)
        };
        let take = move || {
            let kept = self.kept;
            let take = move || {
                let given = |job, at| (kept.with_untracked(|kept| kept.given_to(job)), at);
                change(bench, None, given);
            };
            button("Use mine in this job", Box::new(take))
        };
        let keep = move || {
            let keep = move || {
                self.former.set(Some(self.kept.get_untracked()));
                self.set(here.get_untracked());
            };
            button("Keep these as mine", Box::new(keep))
        };
        let back = move || {
            let back = move || {
                if let Some(former) = self.former.get_untracked() {
                    self.set(former);
                    self.former.set(None);
                }
            };
            button("Keep the former ones instead", Box::new(back))
        };
        let has_former = move || {
            let former = |former: &Option<Kit>| former.as_ref().is_some_and(|kit| !kit.is_empty());
            is_own.get() && self.former.with(former)
        };
        let actions = html(r#"<div class="row"></div>"#)
            .when(move || !is_own.get() && !none_kept.get(), take)
            .when(move || !is_own.get() && !none_here.get(), keep)
            .when(has_former, back);
        html(r#"<div id="whose-saws"></div>"#)
            .child(html(r#"<p class="remark" role="status"></p>"#).text_of(words))
            .child(actions)
    }
}

/// The kit of the job on the bench.
fn of_bench(bench: Bench) -> Memo<Kit> {
    Memo::new(move |_| {
        bench.list().map_or_else(
            || Kit::none(bench.typed.with_untracked(|typed| typed.unit)),
            |list| Kit::of(&list.job),
        )
    })
}
