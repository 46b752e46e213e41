//! The browser's shelf for large texts: IndexedDB, which holds many of them, where `store` holds few and short ones. A
//! browser may refuse it or have no room left, and then nothing is kept.
//!
//! No crate stands in its place: `idb` 0.6 tells of an aborted transaction only that it was aborted, so a full store could
//! not be told from a refusing one without going behind it, and forgets a closure at each request; `rexie` 0.6 stands on it;
//! `indexed_db_futures` 0.6 drops the reason as well. (Read in their sources; what they would weigh was not measured.)

use gloo::events::EventListener;
use gloo::utils::window;
use js_sys::{Function, Promise};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    DomException, Event, EventTarget, IdbDatabase, IdbKeyRange, IdbRequest, IdbTransaction, IdbTransactionMode,
};

const DATABASE: &str = "likeness";
/// Short descriptions by key, so that a list can be shown without reading every study.
const ABOUT: &str = "about";
const TEXTS: &str = "texts";

/// Why something was not kept or found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DatabaseError {
    /// The browser has no room left.
    Full,
    /// The browser does not keep anything for this page.
    Refused,
}

/// Keys and short descriptions of all that is kept.
pub async fn list() -> Result<Vec<(String, String)>, DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readonly).await?;
    let store = transaction.object_store(ABOUT).map_err(told)?;
    // Both are ordered by key.
    let keys = answer(&store.get_all_keys().map_err(told)?).await?;
    let values = answer(&store.get_all().map_err(told)?).await?;
    Ok(words_in(&keys).into_iter().zip(words_in(&values)).collect())
}

/// The text kept under a key.
pub async fn text_of(key: &str) -> Result<Option<String>, DatabaseError> {
    Ok(record_of(key).await?.1)
}

/// Description and text kept under a key, as they lie there at the same moment.
pub async fn record_of(key: &str) -> Result<(Option<String>, Option<String>), DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readonly).await?;
    let about = read(&transaction, ABOUT, key).await?;
    Ok((about, read(&transaction, TEXTS, key).await?))
}

/// Texts whose keys begin so, with their keys and in order of these.
pub async fn texts_beginning(start: &str) -> Result<Vec<(String, String)>, DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readonly).await?;
    let store = transaction.object_store(TEXTS).map_err(told)?;
    // The last letter that there is comes after whatever follows.
    let range = IdbKeyRange::bound(&start.into(), &format!("{start}\u{ffff}").into()).map_err(told)?;
    let keys = answer(&store.get_all_keys_with_key(&range).map_err(told)?).await?;
    let values = answer(&store.get_all_with_key(&range).map_err(told)?).await?;
    Ok(words_in(&keys).into_iter().zip(words_in(&values)).collect())
}

/// Keeps a text and its description under a key, both or neither.
pub async fn keep(key: &str, about: &str, text: &str) -> Result<(), DatabaseError> {
    keep_if(key, text, |_| Some(about.to_owned())).await.map(drop)
}

/// Keeps a text under a key with the description that `describe` gives, told the one that lies there; nothing is written where
/// it gives none, and then the answer is `false`. No other tab writes between.
pub async fn keep_if(
    key: &str,
    text: &str,
    describe: impl FnOnce(Option<&str>) -> Option<String>,
) -> Result<bool, DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readwrite).await?;
    let lies_there = read(&transaction, ABOUT, key).await?;
    let Some(about) = describe(lies_there.as_deref()) else { return Ok(false) };
    for (name, value) in [(ABOUT, about.as_str()), (TEXTS, text)] {
        let store = transaction.object_store(name).map_err(told)?;
        store.put_with_key(&value.into(), &key.into()).map_err(told)?;
    }
    end(&transaction).await?;
    Ok(true)
}

/// Keeps a text under a key without a description: it is not listed.
pub async fn keep_aside(key: &str, text: &str) -> Result<(), DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readwrite).await?;
    let store = transaction.object_store(TEXTS).map_err(told)?;
    store.put_with_key(&text.into(), &key.into()).map_err(told)?;
    end(&transaction).await
}

async fn read(transaction: &IdbTransaction, store: &str, key: &str) -> Result<Option<String>, DatabaseError> {
    let store = transaction.object_store(store).map_err(told)?;
    Ok(answer(&store.get(&key.into()).map_err(told)?).await?.as_string())
}

pub async fn forget(key: &str) -> Result<(), DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readwrite).await?;
    for name in [ABOUT, TEXTS] {
        transaction.object_store(name).map_err(told)?.delete(&key.into()).map_err(told)?;
    }
    end(&transaction).await
}

fn words_in(list: &JsValue) -> Vec<String> {
    js_sys::Array::from(list).iter().map(|item| item.as_string().unwrap_or_default()).collect()
}

async fn begin(mode: IdbTransactionMode) -> Result<IdbTransaction, DatabaseError> {
    let names = js_sys::Array::of2(&ABOUT.into(), &TEXTS.into());
    database().await?.transaction_with_str_sequence_and_mode(&names, mode).map_err(told)
}

async fn database() -> Result<IdbDatabase, DatabaseError> {
    let factory = window().indexed_db().ok().flatten().ok_or(DatabaseError::Refused)?;
    let request = factory.open_with_u32(DATABASE, 1).map_err(told)?;
    let made = request.clone();
    let making = EventListener::once(&request, "upgradeneeded", move |_| {
        if let Some(database) = made.result().ok().and_then(|found| found.dyn_into::<IdbDatabase>().ok()) {
            let _ = database.create_object_store(ABOUT);
            let _ = database.create_object_store(TEXTS);
        }
    });
    let opened = answer(&request).await;
    drop(making);
    opened?.dyn_into().map_err(|_| DatabaseError::Refused)
}

/// Waits for the answer to a request.
async fn answer(request: &IdbRequest) -> Result<JsValue, DatabaseError> {
    if happens(request, "success", "error").await {
        return request.result().map_err(told);
    }
    Err(told(request.error().ok().flatten().into()))
}

/// Waits until what was written is safe.
async fn end(transaction: &IdbTransaction) -> Result<(), DatabaseError> {
    if happens(transaction, "complete", "abort").await {
        return Ok(());
    }
    Err(told(transaction.error().into()))
}

/// Waits until one of two events happens, and says whether it was the first.
async fn happens(target: &EventTarget, good: &'static str, bad: &'static str) -> bool {
    let mut listeners = None;
    let promise = Promise::new(&mut |resolve, reject| {
        let call = |function: Function| move |_: &Event| drop(function.call0(&JsValue::NULL));
        listeners =
            Some((EventListener::once(target, good, call(resolve)), EventListener::once(target, bad, call(reject))));
    });
    let is_good = JsFuture::from(promise).await.is_ok();
    drop(listeners);
    is_good
}

fn told(why: JsValue) -> DatabaseError {
    let full = why.dyn_ref::<DomException>().is_some_and(|why| why.name() == "QuotaExceededError");
    if full { DatabaseError::Full } else { DatabaseError::Refused }
}
