//! The browser's database of jobs. Each is kept as its file's text, with a revision that grows by
//! one at each write, so that a window notices when another one has written.

use idb::{
    Database, DatabaseEvent, Error, Factory, KeyPath, ObjectStoreParams, Query, TransactionMode,
};
use js_sys::{Object, Reflect};
use wasm_bindgen::JsValue;

const DATABASE: &str = "copewright";
const VERSION: u32 = 1;
const JOBS: &str = "jobs";

/// A job as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Number in the database; none before it is first written.
    pub id: Option<u32>,
    /// What the job is called.
    pub title: String,
    /// Its file.
    pub text: String,
    /// How often it was written.
    pub revision: u32,
    /// When it was last written, milliseconds since 1970.
    pub changed: f64,
}

/// What became of a job that was to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Written {
    /// It is written under this number and revision.
    As(u32, u32),
    /// Another window has written it since; nothing was done.
    Overtaken,
}

/// Every job, the last written first.
pub async fn all() -> Result<Vec<Record>, Error> {
    let database = open().await?;
    let transaction = database.transaction(&[JOBS], TransactionMode::ReadOnly)?;
    let found = transaction.object_store(JOBS)?.get_all(None, None)?.await?;
    database.close();
    let mut records: Vec<Record> = found.iter().filter_map(from_js).collect();
    records.sort_unstable_by(|one, other| other.changed.total_cmp(&one.changed));
    Ok(records)
}

/// The job of a number.
pub async fn read(id: u32) -> Result<Option<Record>, Error> {
    let database = open().await?;
    let transaction = database.transaction(&[JOBS], TransactionMode::ReadOnly)?;
    let found = transaction.object_store(JOBS)?.get(key(id))?.await?;
    database.close();
    Ok(found.as_ref().and_then(from_js))
}

/// Writes a job over the one of its number and revision, or as a new one.
pub async fn write(record: &Record) -> Result<Written, Error> {
    let database = open().await?;
    let transaction = database.transaction(&[JOBS], TransactionMode::ReadWrite)?;
    let jobs = transaction.object_store(JOBS)?;
    // A job that was deleted and is brought back goes on: a window that knows it as it was then
    // must not take it for what it knows.
    let revision = record.revision.saturating_add(1);
    if let Some(id) = record.id {
        let there = jobs.get(key(id))?.await?;
        let there = there.as_ref().and_then(from_js);
        // A job that another window has deleted is written again: nothing typed is lost.
        if there.is_some_and(|there| there.revision != record.revision) {
            database.close();
            return Ok(Written::Overtaken);
        }
    }
    let written = to_js(&Record {
        revision,
        ..record.clone()
    });
    let id = jobs.put(&written, None)?.await?;
    transaction.commit()?.await?;
    database.close();
    Ok(Written::As(number(&id).unwrap_or_default(), revision))
}

/// Deletes a job.
pub async fn delete(id: u32) -> Result<(), Error> {
    let database = open().await?;
    let transaction = database.transaction(&[JOBS], TransactionMode::ReadWrite)?;
    transaction.object_store(JOBS)?.delete(key(id))?.await?;
    transaction.commit()?.await?;
    database.close();
    Ok(())
}

async fn open() -> Result<Database, Error> {
    let mut request = Factory::new()?.open(DATABASE, Some(VERSION))?;
    request.on_upgrade_needed(|event| {
        if let Ok(database) = event.database() {
            let mut params = ObjectStoreParams::new();
            params.auto_increment(true);
            params.key_path(Some(KeyPath::new_single("id")));
            // Refused only where it is there already.
            let _ = database.create_object_store(JOBS, params);
        }
    });
    request.await
}

fn key(id: u32) -> Query {
    Query::Key(JsValue::from_f64(f64::from(id)))
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "keys and revisions are small whole numbers that this module wrote"
)]
fn number(value: &JsValue) -> Option<u32> {
    value.as_f64().map(|number| number as u32)
}

fn from_js(value: &JsValue) -> Option<Record> {
    let get = |name: &str| Reflect::get(value, &JsValue::from_str(name)).ok();
    Some(Record {
        id: get("id").as_ref().and_then(number),
        title: get("title")?.as_string()?,
        text: get("text")?.as_string()?,
        revision: number(&get("revision")?)?,
        changed: get("changed")?.as_f64()?,
    })
}

fn to_js(record: &Record) -> JsValue {
    let object = Object::new();
    let set = |name: &str, value: JsValue| {
        // A plain object of ours takes every name.
        let _ = Reflect::set(&object, &JsValue::from_str(name), &value);
    };
    if let Some(id) = record.id {
        set("id", JsValue::from_f64(f64::from(id)));
    }
    set("title", JsValue::from_str(&record.title));
    set("text", JsValue::from_str(&record.text));
    set("revision", JsValue::from_f64(f64::from(record.revision)));
    set("changed", JsValue::from_f64(record.changed));
    object.into()
}
