//! What the browser has noted: lines in the console, and every request that the page made.

use super::wire::Wire;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// One line of the console.
#[derive(Clone, Debug)]
pub struct ConsoleLine {
    /// "SEVERE", "WARNING", "INFO" or "DEBUG".
    pub level: String,
    pub text: String,
}

impl ConsoleLine {
    /// Whether it is an error: an exception, console.error, or a refusal by the policy.
    #[must_use]
    pub fn is_error(&self) -> bool {
        self.level == "SEVERE"
    }
}

/// One thing that the page asked for.
#[derive(Clone, Debug)]
pub struct Request {
    pub address: String,
    /// Why the browser refused it ("csp", for example), or nothing when it let it go out.
    pub blocked: Option<String>,
}

/// All that was noted since the browser started; the driver hands each entry out once.
#[derive(Default)]
pub struct Logs {
    console: Vec<ConsoleLine>,
    requests: Vec<Request>,
    number_of_id: BTreeMap<String, usize>,
    own_origins: Vec<String>,
}

impl Logs {
    /// Remembers an address that the test itself opens: its server is the page's own.
    pub fn opened(&mut self, address: &str) {
        if let Some(rest) = address.strip_prefix("http://127.0.0.1:") {
            let port = rest.split('/').next().unwrap_or_default();
            self.own_origins.push(format!("http://127.0.0.1:{port}/"));
        }
    }

    /// Fetches what is new.
    pub fn update(&mut self, wire: &Wire) {
        for entry in entries(wire, "browser") {
            let word = |name: &str| entry[name].as_str().unwrap_or_default().to_string();
            self.console.push(ConsoleLine { level: word("level"), text: word("message") });
        }
        for entry in entries(wire, "performance") {
            let text = entry["message"].as_str().unwrap_or_default();
            let message: Value = serde_json::from_str(text).unwrap_or(Value::Null);
            self.note(&message["message"]);
        }
    }

    /// Forgets everything noted so far.
    pub fn forget(&mut self, wire: &Wire) {
        self.update(wire);
        *self = Logs::default();
    }

    pub fn console(&self) -> &[ConsoleLine] {
        &self.console
    }

    pub fn requests(&self) -> &[Request] {
        &self.requests
    }

    /// The requests that are neither for a file, nor inside the page, nor to the server that the test opened.
    pub fn outside(&self) -> Vec<Request> {
        let is_own = |address: &str| {
            ["file:", "data:", "blob:", "about:"].iter().any(|scheme| address.starts_with(scheme))
                || self.own_origins.iter().any(|origin| address.starts_with(origin))
        };
        self.requests.iter().filter(|request| !is_own(&request.address)).cloned().collect()
    }

    fn note(&mut self, event: &Value) {
        let parameters = &event["params"];
        let id = parameters["requestId"].as_str().unwrap_or_default().to_string();
        match event["method"].as_str().unwrap_or_default() {
            "Network.requestWillBeSent" => self.add(id, &parameters["request"]["url"]),
            "Network.webSocketCreated" | "Network.webTransportCreated" => self.add(id, &parameters["url"]),
            "Network.loadingFailed" => {
                if let (Some(number), Some(reason)) = (self.number_of_id.get(&id), parameters["blockedReason"].as_str())
                {
                    self.requests[*number].blocked = Some(reason.to_string());
                }
            }
            _ => {}
        }
    }

    fn add(&mut self, id: String, address: &Value) {
        self.number_of_id.insert(id, self.requests.len());
        let address = address.as_str().unwrap_or_default().to_string();
        self.requests.push(Request { address, blocked: None });
    }
}

fn entries(wire: &Wire, kind: &str) -> Vec<Value> {
    let answer = wire.post("/se/log", &json!({ "type": kind }));
    answer.as_array().cloned().unwrap_or_default()
}
