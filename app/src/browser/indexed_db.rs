//! The browser's shelf for large texts: IndexedDB, which holds many of them, where `store` holds few and short ones. A
//! browser may refuse it or have no room left, and then nothing is kept.

use js_sys::Promise;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{DomException, IdbDatabase, IdbRequest, IdbTransaction, IdbTransactionMode};

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
    let transaction = begin(IdbTransactionMode::Readonly).await?;
    let store = transaction.object_store(TEXTS).map_err(told)?;
    Ok(answer(&store.get(&key.into()).map_err(told)?).await?.as_string())
}

/// Keeps a text and its description under a key, both or neither.
pub async fn keep(key: &str, about: &str, text: &str) -> Result<(), DatabaseError> {
    let transaction = begin(IdbTransactionMode::Readwrite).await?;
    for (name, value) in [(ABOUT, about), (TEXTS, text)] {
        let store = transaction.object_store(name).map_err(told)?;
        store.put_with_key(&value.into(), &key.into()).map_err(told)?;
    }
    end(&transaction).await
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
    let factory =
        web_sys::window().and_then(|window| window.indexed_db().ok().flatten()).ok_or(DatabaseError::Refused)?;
    let request = factory.open_with_u32(DATABASE, 1).map_err(told)?;
    let made = request.clone();
    let make = Closure::once_into_js(move || {
        if let Some(database) = made.result().ok().and_then(|found| found.dyn_into::<IdbDatabase>().ok()) {
            let _ = database.create_object_store(ABOUT);
            let _ = database.create_object_store(TEXTS);
        }
    });
    request.set_onupgradeneeded(Some(make.unchecked_ref()));
    answer(&request).await?.dyn_into().map_err(|_| DatabaseError::Refused)
}

/// Waits for the answer to a request.
async fn answer(request: &IdbRequest) -> Result<JsValue, DatabaseError> {
    let promise = Promise::new(&mut |resolve, reject| {
        let (good, bad) = (request.clone(), request.clone());
        let succeeded = Closure::once_into_js(move || {
            let _ = resolve.call1(&JsValue::NULL, &good.result().unwrap_or(JsValue::NULL));
        });
        let failed = Closure::once_into_js(move || {
            let why = bad.error().ok().flatten().map_or(JsValue::NULL, JsValue::from);
            let _ = reject.call1(&JsValue::NULL, &why);
        });
        request.set_onsuccess(Some(succeeded.unchecked_ref()));
        request.set_onerror(Some(failed.unchecked_ref()));
    });
    JsFuture::from(promise).await.map_err(told)
}

/// Waits until what was written is safe.
async fn end(transaction: &IdbTransaction) -> Result<(), DatabaseError> {
    let promise = Promise::new(&mut |resolve, reject| {
        let broken = transaction.clone();
        let completed = Closure::once_into_js(move || {
            let _ = resolve.call0(&JsValue::NULL);
        });
        let aborted = Closure::once_into_js(move || {
            let _ = reject.call1(&JsValue::NULL, &broken.error().map_or(JsValue::NULL, JsValue::from));
        });
        transaction.set_oncomplete(Some(completed.unchecked_ref()));
        transaction.set_onabort(Some(aborted.unchecked_ref()));
    });
    JsFuture::from(promise).await.map(|_| ()).map_err(told)
}

fn told(why: JsValue) -> DatabaseError {
    let full = why.dyn_ref::<DomException>().is_some_and(|why| why.name() == "QuotaExceededError");
    if full { DatabaseError::Full } else { DatabaseError::Refused }
}
