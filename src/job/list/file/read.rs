//! The file read: a job and what had to be mended, or why there is none.

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use super::keys::{form_of, short};
use super::salvage::salvage;
use super::{DONE, VERSION};
use crate::job::list::Job;
use crate::job::{AtHand, BarTyped, Field, MachineTyped, PieceForm, SawTyped};
use crate::piece::Side;
use crate::stock::Paper;
use crate::units::Unit;

/// Longest text read, in bytes; a job of 500 pieces has about one and a half million.
const LONGEST: usize = 30_000_000;

/// A job's file read.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedJob {
    /// The job.
    pub job: Job,
    /// What was wrong with the file: which piece, which key, and what was done about it.
    pub told: Vec<String>,
}

/// What a file consists of, whole or what is left of it.
#[derive(Default)]
pub(super) struct Parts {
    /// Everything but the pieces.
    pub top: Map<String, Value>,
    /// The pieces, as far as each is there.
    pub pieces: Vec<Value>,
}

/// Reads the text of a job's file.
///
/// # Errors
/// A sentence that says why there is no job in it. Nothing else is given up: what is damaged is
/// mended or left empty, and told.
pub fn open_job(text: &str) -> Result<OpenedJob, String> {
    if text.trim().is_empty() {
        return Err(String::from(
            "This file is empty. Open one that was saved from this page.",
        ));
    }
    if text.len() > LONGEST {
        return Err(format!(
            "This file has {} million characters, far more than any job has. Open one that was \
             saved from this page.",
            text.len() / 1_000_000
        ));
    }
    // Editors put an invisible mark before the text.
    let text = text.trim_start_matches('\u{feff}');
    let mut told = Vec::new();
    let parts = match serde_json::from_str::<Value>(text) {
        Ok(Value::Object(mut top)) => match top.remove("pieces") {
            Some(Value::Array(pieces)) => Parts { top, pieces },
            _ => {
                told.push(String::from(
                    "The list of pieces is not where it belongs; what looks like a piece was \
                     taken.",
                ));
                salvage(text)
            }
        },
        Ok(_) => salvage(text),
        Err(error) => {
            told.push(format!(
                "The file is damaged in line {}. What could be read of it is here; check every \
                 piece.",
                error.line()
            ));
            salvage(text)
        }
    };
    let job = job_of(&parts, &mut told).ok_or_else(|| {
        String::from(
            "There is no piece of a job in this file. Open one that was saved from this page.",
        )
    })?;
    Ok(OpenedJob { job, told })
}

fn job_of(parts: &Parts, told: &mut Vec<String>) -> Option<Job> {
    let top = &parts.top;
    version(top.get("version"), told);
    let unit = unit(parts, told);
    let mut pieces = Vec::new();
    for (place, piece) in parts.pieces.iter().enumerate() {
        match piece {
            Value::Object(map) if !map.is_empty() => pieces.push(piece_of(place, map, unit, told)),
            _ => told.push(format!(
                "Piece {} of the file is no piece and is left out.",
                place + 1
            )),
        }
    }
    let mut text = |key: &str| match top.get(key) {
        Some(Value::String(text)) => text.clone(),
        other => {
            if !(key == "printer" && other.is_none()) {
                let how = if other.is_none() {
                    "missing"
                } else {
                    "no text"
                };
                told.push(format!("The job’s “{key}” is {how} and is left empty."));
            }
            String::new()
        }
    };
    let (title, printer) = (text("title"), text("printer"));
    let paper = paper(top.get("paper"), unit, told);
    let at_hand = at_hand(top.get("at_hand"), told);
    for key in top.keys() {
        const KNOWN: [&str; 6] = ["version", "title", "unit", "paper", "printer", "at_hand"];
        if !KNOWN.contains(&key.as_str()) {
            told.push(format!(
                "“{}” is not known here and is left out.",
                short(key)
            ));
        }
    }
    let job = Job::of_pieces(unit, paper, pieces)?;
    Some(
        job.with_title(title)
            .with_printer(printer)
            .with_at_hand(at_hand),
    )
}

fn version(version: Option<&Value>, told: &mut Vec<String>) {
    match version.map(|version| (version, version.as_u64())) {
        Some((_, Some(VERSION))) => {}
        Some((_, Some(newer))) if newer > VERSION => told.push(format!(
            "This file is of version {newer}; this page knows version {VERSION}. What it \
             recognises is here. Check every number, and keep the file: saving from here loses \
             what is not known."
        )),
        Some((other, _)) => told.push(format!(
            "The file says version {}, which there is not. It was read as version {VERSION}.",
            short(&other.to_string())
        )),
        None => told.push(format!(
            "The file does not say its version. It was read as version {VERSION}."
        )),
    }
}

/// The job's unit, or that of its first piece that has one.
fn unit(parts: &Parts, told: &mut Vec<String>) -> Unit {
    let read = |value: Option<&Value>| value.and_then(Value::as_str).and_then(Unit::from_code);
    if let Some(unit) = read(parts.top.get("unit")) {
        return unit;
    }
    let of_piece = parts
        .pieces
        .iter()
        .find_map(|piece| read(piece.get("unit")));
    let unit = of_piece.unwrap_or(Unit::Millimetre);
    told.push(format!(
        "The job’s “unit” is missing or not known; {} stands there{}.",
        unit.code(),
        if of_piece.is_some() {
            ", which a piece says"
        } else {
            ". Check every number"
        }
    ));
    unit
}

fn paper(value: Option<&Value>, unit: Unit, told: &mut Vec<String>) -> Paper {
    let read = value.and_then(Value::as_str).and_then(Paper::from_code);
    read.unwrap_or_else(|| {
        let usual = PieceForm::usual(unit).end(Side::A).paper;
        told.push(format!(
            "The job’s “paper” is missing or not known; {} stands there.",
            usual.name()
        ));
        usual
    })
}

/// One piece of the file, and whether it is done.
fn piece_of(
    place: usize,
    map: &Map<String, Value>,
    unit: Unit,
    told: &mut Vec<String>,
) -> (PieceForm, bool) {
    let mut wrong = Vec::new();
    let mut pairs = Vec::new();
    for (key, value) in map.iter().filter(|(key, _)| *key != DONE) {
        match value {
            Value::String(text) => pairs.push((key.clone(), text.clone())),
            Value::Number(number) => {
                wrong.push(format!(
                    "“{}” is a bare number, taken as typed.",
                    short(key)
                ));
                pairs.push((key.clone(), number.to_string()));
            }
            Value::Bool(yes) => {
                wrong.push(format!("“{}” is no text; it was understood.", short(key)));
                let code = if *yes { "yes" } else { "no" };
                pairs.push((key.clone(), code.to_owned()));
            }
            Value::Null | Value::Array(_) | Value::Object(_) => {
                wrong.push(format!("“{}” is no text.", short(key)));
            }
        }
    }
    let done = match map.get(DONE) {
        Some(Value::Bool(done)) => *done,
        Some(Value::String(text)) => ["yes", "true"].contains(&text.as_str()),
        _ => {
            wrong.push(String::from("“done” is missing; it counts as to do."));
            false
        }
    };
    let (form, more) = form_of(&pairs, unit);
    wrong.extend(more);
    let end = form.end(Side::A);
    if end.unit != unit {
        wrong.push(format!(
            "It is in another unit, {}; sizes stay as they are.",
            end.unit.code()
        ));
    }
    let label = end.text(Field::Label).unwrap_or_default().trim();
    let name = if label.is_empty() {
        format!("Piece {}", place + 1)
    } else {
        format!("Piece {} (“{}”)", place + 1, short(label))
    };
    told.extend(
        wrong
            .into_iter()
            .map(|sentence| format!("{name}: {sentence}")),
    );
    (form, done)
}

fn at_hand(value: Option<&Value>, told: &mut Vec<String>) -> AtHand {
    let Some(Value::Object(map)) = value else {
        told.push(String::from(
            "What is at hand (saws, machine, stock) is missing or damaged and is left empty.",
        ));
        return AtHand::default();
    };
    let mut rest = Rest { told };
    let stock = map.get("stock").cloned().unwrap_or_default();
    let mut at_hand = AtHand {
        saws: rest.list::<SawTyped>(map.get("saws"), "Saw"),
        machine: rest.one::<MachineTyped>(map.get("machine"), "The machine"),
        ..AtHand::default()
    };
    at_hand.stock.bars = rest.list::<BarTyped>(stock.get("bars"), "Stock");
    at_hand.stock.kerf = rest.text(stock.get("kerf"), "kerf");
    at_hand.stock.end_trim = rest.text(stock.get("end_trim"), "end_trim");
    at_hand.material = rest.text(map.get("material"), "material");
    if let Some(clearance) = map.get("clearance") {
        at_hand.clearance = rest.text(Some(clearance), "clearance");
    }
    // Nothing need be asked about a fit.
    if let Some(fit) = map.get("fit") {
        match serde_json::from_value(fit.clone()) {
            Ok(fit) => at_hand.fit = fit,
            Err(_) => rest.told.push(String::from(
                "What was asked about how an end will fit is damaged and is left empty.",
            )),
        }
    }
    at_hand
}

/// Reads what is at hand, part by part.
struct Rest<'a> {
    told: &'a mut Vec<String>,
}

impl Rest<'_> {
    fn text(&mut self, value: Option<&Value>, key: &str) -> String {
        match value {
            Some(Value::String(text)) => text.clone(),
            Some(Value::Number(number)) => number.to_string(),
            _ => {
                self.told
                    .push(format!("“{key}” is missing or no text and is left empty."));
                String::new()
            }
        }
    }

    fn list<T>(&mut self, value: Option<&Value>, name: &str) -> Vec<T>
    where
        T: Serialize + DeserializeOwned + Default,
    {
        let Some(Value::Array(list)) = value else {
            self.told.push(format!(
                "{name}: the list is missing or damaged and is left empty."
            ));
            return Vec::new();
        };
        let entries = list.iter().enumerate();
        entries
            .map(|(place, value)| self.one(Some(value), &format!("{name} {}", place + 1)))
            .collect()
    }

    /// One flat entry of texts; each key by itself.
    fn one<T>(&mut self, value: Option<&Value>, name: &str) -> T
    where
        T: Serialize + DeserializeOwned + Default,
    {
        let Ok(Value::Object(mut own)) = serde_json::to_value(T::default()) else {
            return T::default();
        };
        let empty = Map::new();
        let given = value.and_then(Value::as_object).unwrap_or(&empty);
        for (key, slot) in &mut own {
            match given.get(key) {
                Some(Value::String(text)) => *slot = Value::String(text.clone()),
                Some(Value::Number(number)) => *slot = Value::String(number.to_string()),
                _ => self.told.push(format!(
                    "{name}: “{key}” is missing or no text and is left empty."
                )),
            }
        }
        serde_json::from_value(Value::Object(own)).unwrap_or_default()
    }
}
