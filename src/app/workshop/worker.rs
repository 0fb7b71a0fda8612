//! The worker: lays whole jobs out and makes files, away from the page. It holds nothing but
//! readings of pieces, and is told everything with each request.

use std::cell::RefCell;

use js_sys::{Array, Uint8Array};
use serde::{Deserialize, Serialize};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

use crate::app::workshop::making::{self, Made, Wish};
use crate::job::Printer;
use crate::job::list::{Readings, open_job};
use crate::piece::SleeveSizes;
use crate::sheet::Packet;
use crate::sheet::packet::{JobSheets, Parts, lay_out_list_with_codes};
use crate::units::Length;
use crate::write::{Ink, SvgName, svg_inline};

/// What the page asks for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Request {
    /// The job's file.
    pub job: String,
    /// The printer.
    pub printer: Printer,
    /// Date in words.
    pub date: String,
    /// Address of the page, without a fragment.
    pub address: String,
    /// The parts of the packet.
    pub parts: Parts,
    /// Address that codes open the page by; empty for no codes.
    pub code_address: String,
    /// The piece on the bench.
    pub at: u32,
    /// How marking sleeves are made.
    pub sleeve: SleeveInMm,
    /// What is to be made of it.
    pub make: Make,
}

/// Sizes of marking sleeves as they go to the worker, in mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SleeveInMm {
    clearance: f64,
    wall: f64,
    length: Option<f64>,
}

impl SleeveInMm {
    /// The same in mm.
    pub fn of(sizes: &SleeveSizes) -> Self {
        Self {
            clearance: sizes.clearance.mm(),
            wall: sizes.wall.mm(),
            length: sizes.length.map(Length::mm),
        }
    }

    /// The same as lengths.
    pub fn sizes(self) -> SleeveSizes {
        SleeveSizes {
            clearance: Length::from_mm(self.clearance),
            wall: Length::from_mm(self.wall),
            length: self.length.map(Length::from_mm),
        }
    }
}

/// What a job is made into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Make {
    /// Sheets to look at and print.
    Sheets,
    /// A file.
    File(Wish),
}

/// Said once, as soon as requests are heard.
pub const READY: &str = "ready";

/// Listens for requests until the page goes.
pub fn serve() {
    let Ok(scope) = js_sys::global().dyn_into::<DedicatedWorkerGlobalScope>() else {
        return;
    };
    let own = scope.clone();
    let readings = RefCell::new(Readings::default());
    let hear = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
        let Some(text) = event.data().as_string() else {
            return;
        };
        let told = match serde_json::from_str::<Request>(&text) {
            Ok(request) => answer(&request, &mut readings.borrow_mut(), &own),
            Err(_) => refusal("The worker is of another version of the page. Load the page again."),
        };
        tell(&own, &told);
    });
    scope.set_onmessage(Some(hear.into_js_value().unchecked_ref()));
    // What is sent before a worker listens is lost.
    tell(&scope, &Array::of1(&JsValue::from_str(READY)));
}

fn answer(request: &Request, readings: &mut Readings, scope: &DedicatedWorkerGlobalScope) -> Array {
    let job = match open_job(&request.job) {
        Ok(opened) => opened.job,
        Err(sentence) => return refusal(&sentence),
    };
    readings.keep_only(&job);
    let order = JobSheets {
        job: &job,
        printer: &request.printer,
        date: &request.date,
        address: &request.address,
        parts: request.parts,
    };
    let mut progress = |done: usize, of: usize| {
        let told = [JsValue::from_str("at"), number(done), number(of)];
        tell(scope, &told.iter().collect());
        true
    };
    match request.make {
        Make::Sheets => {
            let address = &request.code_address;
            match lay_out_list_with_codes(&order, address, readings, &mut progress) {
                Ok(packet) => sheets(&packet),
                Err(error) => refusal(&error.sentence()),
            }
        }
        Make::File(wish) => match making::make(request, &job, wish, readings, &mut progress) {
            Ok(made) => file(&made),
            Err(sentence) => refusal(&sentence),
        },
    }
}

fn sheets(packet: &Packet) -> Array {
    let count = packet.pages.len();
    let pages = packet.pages.iter().enumerate().map(|(index, page)| {
        let name = format!("Sheet {} of {count}, as it will print", index + 1);
        let svg = svg_inline(page, Ink::Black, SvgName::Picture(&name)).unwrap_or_default();
        JsValue::from_str(&svg)
    });
    let notes = packet.notes.iter().map(|note| JsValue::from_str(note));
    [
        JsValue::from_str("sheets"),
        pages.collect::<Array>().into(),
        notes.collect::<Array>().into(),
    ]
    .iter()
    .collect()
}

/// A file as it goes to the page.
fn file(made: &Made) -> Array {
    [
        JsValue::from_str("file"),
        JsValue::from_str(&made.name),
        JsValue::from_str(made.kind),
        Uint8Array::from(made.bytes.as_slice()).into(),
        JsValue::from_str(&made.note),
    ]
    .iter()
    .collect()
}

fn refusal(sentence: &str) -> Array {
    [JsValue::from_str("refused"), JsValue::from_str(sentence)]
        .iter()
        .collect()
}

#[allow(clippy::cast_precision_loss, reason = "steps of a packet are few")]
fn number(number: usize) -> JsValue {
    JsValue::from_f64(number as f64)
}

fn tell(scope: &DedicatedWorkerGlobalScope, told: &Array) {
    // Refused only for what cannot be copied; texts, numbers and bytes can.
    let _ = scope.post_message(told);
}
