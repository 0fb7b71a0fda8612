//! What takes long is done in a worker, so that typing never waits: this is the page's side of it.
//!
//! One request is under way at a time. A newer one waits and takes the place of any other that
//! waits; stopping ends the worker, and the next request starts another.

use std::sync::Arc;

use js_sys::{Array, Uint8Array};
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MessageEvent, Worker, WorkerOptions, WorkerType};

use crate::app::handover;
use crate::app::workshop::worker::READY;

/// What came of a request.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// Sheets as SVG, and what is to be known before printing.
    Sheets {
        /// One for each sheet.
        pages: Arc<Vec<String>>,
        /// One sentence each.
        notes: Vec<String>,
        /// Whether a newer request waits: these show the job as it was before.
        overtaken: bool,
    },
    /// A file.
    File {
        /// Its name.
        name: String,
        /// Its media type.
        kind: String,
        /// What is in it.
        bytes: Vec<u8>,
    },
    /// There is none; one sentence.
    Refused(String),
}

/// Where the work stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Progress {
    /// Nothing is under way.
    Idle,
    /// So many steps of so many are done.
    At(u32, u32),
}

/// The way to the worker; copies are handles to the same one.
#[derive(Clone, Copy)]
pub struct Office {
    worker: StoredValue<Option<Worker>, LocalStorage>,
    /// The request that is sent as soon as the worker listens.
    first: StoredValue<Option<String>>,
    /// The request that waits for the one under way.
    waiting: StoredValue<Option<String>>,
    /// How far it is.
    pub progress: RwSignal<Progress>,
    answered: StoredValue<Option<Callback<Answer>>>,
}

impl Office {
    /// An office that calls back with each answer.
    pub fn new(answered: impl Fn(Answer) + Send + Sync + 'static) -> Self {
        Self {
            worker: StoredValue::new_local(None),
            first: StoredValue::new(None),
            waiting: StoredValue::new(None),
            progress: RwSignal::new(Progress::Idle),
            answered: StoredValue::new(Some(Callback::new(answered))),
        }
    }

    /// Sends a request, or has it wait for the one under way.
    pub fn ask(self, request: String) {
        if self.progress.get_untracked() != Progress::Idle {
            self.waiting.set_value(Some(request));
            return;
        }
        let sent = match self.worker.get_value() {
            Some(worker) => worker.post_message(&JsValue::from_str(&request)).is_ok(),
            None => {
                self.first.set_value(Some(request));
                self.hire().is_some()
            }
        };
        if sent {
            self.progress.set(Progress::At(0, 0));
        } else {
            self.answer(Answer::Refused(String::from(
                "This browser does not run the part of the page that lays out whole jobs. Print \
                 the pieces one by one.",
            )));
        }
    }

    /// Ends what is under way.
    pub fn stop(self) {
        self.waiting.set_value(None);
        self.first.set_value(None);
        if let Some(worker) = self.worker.get_value() {
            worker.terminate();
        }
        self.worker.set_value(None);
        self.progress.set(Progress::Idle);
    }

    fn hire(self) -> Option<Worker> {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let address = handover::workshop_address()?;
        let worker = Worker::new_with_options(&address, &options).ok()?;
        let hear = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
            self.hear(&event.data());
        });
        let fail = Closure::<dyn Fn()>::new(move || {
            self.stop();
            self.answer(Answer::Refused(String::from(
                "Laying out the job went wrong. Leave parts of the packet out, or print the pieces \
                 one by one.",
            )));
        });
        worker.set_onmessage(Some(hear.into_js_value().unchecked_ref()));
        worker.set_onerror(Some(fail.into_js_value().unchecked_ref()));
        self.worker.set_value(Some(worker.clone()));
        Some(worker)
    }

    fn hear(self, told: &JsValue) {
        let Some(told) = told.dyn_ref::<Array>() else {
            return;
        };
        let text = |at: u32| told.get(at).as_string().unwrap_or_default();
        let texts = |at: u32| {
            let list = told.get(at).dyn_into::<Array>().unwrap_or_default();
            list.iter()
                .filter_map(|text| text.as_string())
                .collect::<Vec<_>>()
        };
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "steps that the worker counted"
        )]
        let number = |at: u32| told.get(at).as_f64().unwrap_or_default() as u32;
        let answer = match text(0).as_str() {
            READY => {
                let first = self.first.try_update_value(Option::take).flatten();
                if let (Some(worker), Some(first)) = (self.worker.get_value(), first) {
                    // Refused only for what cannot be copied; a text can.
                    let _ = worker.post_message(&JsValue::from_str(&first));
                }
                return;
            }
            "at" => {
                self.progress.set(Progress::At(number(1), number(2)));
                return;
            }
            "sheets" => Answer::Sheets {
                pages: Arc::new(texts(1)),
                notes: texts(2),
                overtaken: self.waiting.with_value(Option::is_some),
            },
            "file" => Answer::File {
                name: text(1),
                kind: text(2),
                bytes: told
                    .get(3)
                    .dyn_into::<Uint8Array>()
                    .map(|bytes| bytes.to_vec())
                    .unwrap_or_default(),
            },
            _ => Answer::Refused(text(1)),
        };
        self.progress.set(Progress::Idle);
        self.answer(answer);
        if let Some(next) = self.waiting.try_update_value(Option::take).flatten() {
            self.ask(next);
        }
    }

    fn answer(self, answer: Answer) {
        if let Some(answered) = self.answered.get_value() {
            answered.run(answer);
        }
    }
}
