//! Saving as a file: what the sheets show, templates for other programs and machines, tables,
//! solids, and all of the job at once. Files are made in a worker of their own.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::app::bench::{Bench, bench};
use crate::app::browser;
use crate::app::dom::{El, html};
use crate::app::workshop::code::CodeAddress;
use crate::app::workshop::making::{Kind, Wish};
use crate::app::workshop::office::{Answer, Office, Progress};
use crate::app::workshop::print::{Shown, request};
use crate::app::workshop::worker::{Make, Request, SleeveInMm};
use crate::job::EndKind;
use crate::piece::{Side, SleeveError, SleeveSizes};
use crate::units::{LENGTH_LIMIT, Length, Unit, read_length, write_small};

/// The menu's id.
const MENU: &str = "files";

/// What a number of the sleeve is, what it is where nothing is typed, and what is wrong with it.
struct SleeveField {
    id: &'static str,
    label: &'static str,
    /// None for a length that the end itself gives.
    usual: fn() -> Option<Length>,
    /// What stands in the empty field for that.
    instead: &'static str,
    refused: fn(Length) -> Option<SleeveError>,
}

const CLEARANCE: SleeveField = SleeveField {
    id: "sleeve-clearance",
    label: "Sleeve, room to the tube",
    usual: || Some(SleeveSizes::default().clearance),
    instead: "",
    refused: |is| (!SleeveSizes::CLEARANCE.contains(&is)).then_some(SleeveError::Clearance { is }),
};

const WALL: SleeveField = SleeveField {
    id: "sleeve-wall",
    label: "Sleeve, wall",
    usual: || Some(SleeveSizes::default().wall),
    instead: "",
    refused: |is| (!SleeveSizes::WALL.contains(&is)).then_some(SleeveError::Wall { is }),
};

/// From the long point: one that is too short for an end is refused when that end is made.
const LENGTH: SleeveField = SleeveField {
    id: "sleeve-length",
    label: "Sleeve, long point to square end",
    usual: || None,
    instead: "to the mark line",
    refused: |is| (is > LENGTH_LIMIT).then_some(SleeveError::Long { is }),
};

impl SleeveField {
    /// What is typed as a length, or what is wrong with it; what is usual where nothing is typed.
    fn read(&self, typed: &str, unit: Unit) -> Result<Option<Length>, String> {
        if typed.trim().is_empty() {
            return Ok((self.usual)());
        }
        let length = read_length(typed, unit).map_err(|error| error.to_string())?;
        match (self.refused)(length) {
            Some(error) => Err(error.sentence(unit)),
            None => Ok(Some(length)),
        }
    }
}

/// A file that came, to be handed on.
#[derive(Clone, PartialEq)]
struct Saved {
    name: String,
    kind: String,
    bytes: Vec<u8>,
}

/// The menu; copies are handles to the same one.
#[derive(Clone, Copy)]
struct Files {
    bench: Bench,
    shown: Shown,
    code: Option<CodeAddress>,
    office: Office,
    /// What came of the last file, a sentence each.
    told: RwSignal<Vec<String>>,
    saved: RwSignal<Option<Saved>>,
    clearance: RwSignal<String>,
    wall: RwSignal<String>,
    length: RwSignal<String>,
}

/// The menu.
pub fn files(shown: Shown) -> El {
    let told = RwSignal::new(Vec::new());
    let saved = RwSignal::new(None);
    let office = Office::new(move |answer| match answer {
        Answer::File {
            name,
            kind,
            bytes,
            note,
        } => {
            let done = if browser::save_bytes(&name, &kind, &bytes) {
                format!("{name} is saved.")
            } else {
                format!("This browser does not save {name}. Open the link on a computer.")
            };
            let lines = [done, note].into_iter();
            told.set(lines.filter(|line| !line.is_empty()).collect());
            saved.set(Some(Saved { name, kind, bytes }));
        }
        Answer::Refused(sentence) => told.set(vec![sentence]),
        Answer::Sheets { .. } => {}
    });
    let files = Files {
        bench: bench(),
        shown,
        code: use_context::<CodeAddress>(),
        office,
        told,
        saved,
        clearance: RwSignal::new(String::new()),
        wall: RwSignal::new(String::new()),
        length: RwSignal::new(String::new()),
    };
    files.menu()
}

/// Opens the menu and puts the focus on its first button.
pub fn open_menu() {
    let Some(menu) = document().get_element_by_id(MENU) else {
        return;
    };
    // Refused only for a name that is none.
    let _ = menu.set_attribute("open", "");
    let first = menu.query_selector("button").ok().flatten();
    if let Some(first) = first.and_then(|first| first.dyn_into::<HtmlElement>().ok()) {
        first.scroll_into_view();
        // Refused by nothing that is on the page.
        let _ = first.focus();
    }
}

/// Whether a coped end is one of a whole piece, and how many mains have a template at it.
type HasEnd = Option<(bool, usize)>;

impl Files {
    fn unit(self) -> Unit {
        self.bench.typed.with(|typed| typed.unit)
    }

    fn menu(self) -> El {
        let ends = Memo::new(move |_| self.has_ends());
        let working = move || self.office.progress.get() != Progress::Idle;
        html(r#"<details class="jobs files"><summary>Save as a file</summary></details>"#)
            .attr("id", MENU)
            .child(self.sheets())
            .children_of(move || self.ends(ends.get()))
            .child(self.everything())
            .when(working, move || self.progress())
            .child(
                html(r#"<div class="notes" role="status"></div>"#)
                    .children_of(move || {
                        let told = self.told.get().into_iter();
                        told.map(|line| html("<p></p>").text(&line)).collect()
                    })
                    .children_of(move || self.share().into_iter().collect()),
            )
    }

    /// A button that makes a file.
    fn button(self, name: &str, wish: impl Fn() -> Wish + 'static) -> El {
        html(r#"<button type="button"></button>"#)
            .text(name)
            .on_click(move || self.ask(wish()))
    }

    fn sheets(self) -> El {
        let wish = move || {
            if self.shown.whole.get_untracked() {
                Wish::JobSheets
            } else {
                Wish::PieceSheets
            }
        };
        group("Sheets")
            .child(self.button("PDF of the sheets", wish))
            .child(html(concat!(
                r#"<p class="remark">Exactly what Print shows, for a print shop, a telephone, "#,
                "or where the browser prints at a wrong size.</p>",
            )))
    }

    /// What there is of the ends of the piece on the bench.
    fn has_ends(self) -> [HasEnd; 2] {
        self.bench.form.with(|form| {
            Side::BOTH.map(|side| {
                let coped = if form.is_whole() {
                    form.kind(side) == EndKind::Coped
                } else {
                    side == Side::A
                };
                let end = form.end(side);
                let mains = if end.landing { end.mains() } else { 0 };
                coped.then(|| (form.is_whole(), mains))
            })
        })
    }

    /// What there is of each end and of the mains under it.
    fn ends(self, has: [HasEnd; 2]) -> Vec<El> {
        let mut groups = Vec::new();
        for side in Side::BOTH {
            let Some((whole, mains)) = has[side.index()] else {
                continue;
            };
            let end = side.index();
            let which = if whole {
                [", ", side.name()].concat()
            } else {
                String::new()
            };
            let named = |name: &str| [name, &which].concat();
            let button =
                |name: &str, kind: Kind| self.button(&named(name), move || Wish::OfEnd(end, kind));
            groups.push(
                group(&named("Template"))
                    .child(button("SVG", Kind::Svg))
                    .child(button("DXF", Kind::Dxf))
                    .child(button("Heights as CSV", Kind::Csv))
                    .child(button("Cut end as STL", Kind::End))
                    .child(button("Marking sleeve as STL", Kind::Sleeve)),
            );
            for main in 0..mains {
                let number = (main + 1).to_string();
                let named = |name: &str| [name, " for main ", &number, &which].concat();
                let button = |name: &str, kind: Kind| {
                    self.button(&named(name), move || Wish::OfMain(end, main, kind))
                };
                groups.push(
                    group(&named("Template"))
                        .child(button("SVG", Kind::Svg))
                        .child(button("DXF", Kind::Dxf)),
                );
            }
        }
        groups
    }

    fn everything(self) -> El {
        let sleeve = html(r#"<div class="row"></div>"#)
            .child(self.sleeve_field(&CLEARANCE, self.clearance))
            .child(self.sleeve_field(&WALL, self.wall))
            .child(self.sleeve_field(&LENGTH, self.length));
        html("<div></div>").child(sleeve).child(
            group("The whole job")
                .child(
                    self.button("Everything of the job in one archive", || Wish::Archive),
                )
                .child(html(concat!(
                    r#"<p class="remark">A ZIP file with the job file, the packet as PDF, and of each end "#,
                    "template, heights and sleeve.</p>",
                ))),
        )
    }

    fn sleeve_field(self, field: &'static SleeveField, typed: RwSignal<String>) -> El {
        let problem = Memo::new(move |_| {
            let read = typed.with(|typed| field.read(typed, self.unit()));
            read.err().unwrap_or_default()
        });
        let problem_id = [field.id, "-problem"].concat();
        let input = html(
            r#"<input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" data-own-undo>"#,
        )
        .attr("id", field.id)
        .attr("aria-describedby", &problem_id)
        .attr_of("placeholder", move || {
            let usual = (field.usual)().map(|usual| write_small(usual, self.unit()));
            Some(usual.unwrap_or_else(|| String::from(field.instead)))
        })
        .truth_of("aria-invalid", move || !problem.with(String::is_empty))
        .value_of(move || typed.get())
        .on_text("input", move |text| typed.set(text));
        html(r#"<div class="field"></div>"#)
            .child(
                html("<label></label>")
                    .attr("for", field.id)
                    .text(field.label),
            )
            .child(input)
            .child(
                html(r#"<p class="problem" aria-live="polite"></p>"#)
                    .attr("id", &problem_id)
                    .text_of(move || problem.get()),
            )
    }

    fn ask(self, wish: Wish) {
        let read = |field: &SleeveField, typed: RwSignal<String>| {
            typed.with_untracked(|typed| field.read(typed, untrack(|| self.unit())))
        };
        let sleeve = || -> Result<SleeveSizes, String> {
            let usual = SleeveSizes::default();
            Ok(SleeveSizes {
                clearance: read(&CLEARANCE, self.clearance)?.unwrap_or(usual.clearance),
                wall: read(&WALL, self.wall)?.unwrap_or(usual.wall),
                length: read(&LENGTH, self.length)?,
            })
        };
        let needs_sleeve = matches!(wish, Wish::Archive | Wish::OfEnd(_, Kind::Sleeve));
        let sleeve = match sleeve() {
            Ok(sizes) => sizes,
            Err(sentence) if needs_sleeve => return self.told.set(vec![sentence]),
            Err(_) => SleeveSizes::default(),
        };
        let Some(request) = request(self.bench, self.shown, Make::File(wish)) else {
            return;
        };
        let request = Request {
            sleeve: SleeveInMm::of(&sleeve),
            code_address: self
                .code
                .map(CodeAddress::get_untracked)
                .unwrap_or_default(),
            ..request
        };
        self.told.set(Vec::new());
        self.saved.set(None);
        self.office
            .ask(serde_json::to_string(&request).unwrap_or_default());
    }

    fn progress(self) -> El {
        let so_far = move || match self.office.progress.get() {
            Progress::Idle | Progress::At(_, 0) => String::from("Making the file …"),
            Progress::At(done, of) => format!("Making the file: {done} of {of} …"),
        };
        html(r#"<p class="row" role="status"></p>"#)
            .child(html("<span></span>").text_of(so_far))
            .child(
                html(r#"<button type="button">Stop</button>"#).on_click(move || self.office.stop()),
            )
    }

    /// Handing the file on, where the system has a way to.
    fn share(self) -> Option<El> {
        let Saved { name, kind, bytes } = self.saved.get()?;
        let file = browser::shareable(&name, &kind, &bytes)?;
        let label = format!("Share {name} …");
        let refused = move || {
            let sentence = format!(
                "{name} was not handed on: the system refused it. It is saved; send it on from the \
                 folder that downloads go to."
            );
            if !self
                .told
                .with_untracked(|told| told.last() == Some(&sentence))
            {
                self.told.update(|told| told.push(sentence));
            }
        };
        Some(
            html(r#"<button type="button">Share …</button>"#)
                .attr("aria-label", &label)
                .on_click(move || browser::share(&file, refused.clone())),
        )
    }
}

/// Buttons that belong together, under their name.
fn group(name: &str) -> El {
    html(r#"<div class="row file-row" role="group"></div>"#)
        .attr("aria-label", name)
        .child(html(r#"<b class="file-of" aria-hidden="true"></b>"#).text(name))
}
