//! WebDriver's wire: JSON over HTTP/1.1 to the driver on this machine, with the standard library only.
//! It must not know what the commands mean.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::net::TcpStream;
use std::time::Duration;

/// A line to one session of the driver (or to the driver itself, before there is a session).
#[derive(Clone)]
pub struct Wire {
    port: u16,
    prefix: String,
}

/// Longer than any command may take: a page that hangs must fail its test, not the whole run.
const LIMIT: Duration = Duration::from_secs(120);

impl Wire {
    /// A line to the driver on this port.
    pub fn to_port(port: u16) -> Wire {
        Wire { port, prefix: String::new() }
    }

    /// The line to a session.
    pub fn session(&self, id: &str) -> Wire {
        Wire { port: self.port, prefix: format!("/session/{id}") }
    }

    /// Sends a command and gives its value.
    pub fn post(&self, path: &str, body: &Value) -> Value {
        self.send("POST", path, Some(body)).unwrap_or_else(|error| panic!("POST {path}: {error}"))
    }

    /// Asks for a value.
    pub fn get(&self, path: &str) -> Value {
        self.send("GET", path, None).unwrap_or_else(|error| panic!("GET {path}: {error}"))
    }

    /// Ends the session; whether that works is of no interest any more.
    pub fn delete(&self) {
        let _ = self.send("DELETE", "", None);
    }

    /// Sends a request and gives the `value` of the answer, or the driver's own words for what is wrong.
    pub fn send(&self, method: &str, path: &str, body: Option<&Value>) -> Result<Value, String> {
        let answer =
            self.exchange(method, path, body).map_err(|error| format!("the driver does not answer: {error}"))?;
        let value = answer.get("value").cloned().unwrap_or(Value::Null);
        match value.get("error").and_then(Value::as_str) {
            Some(error) => {
                let message = value.get("message").and_then(Value::as_str).unwrap_or_default();
                Err(format!("{error}: {message}"))
            }
            None => Ok(value),
        }
    }

    fn exchange(&self, method: &str, path: &str, body: Option<&Value>) -> std::io::Result<Value> {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port))?;
        stream.set_read_timeout(Some(LIMIT))?;
        let body = body.map(Value::to_string).unwrap_or_default();
        write!(
            stream,
            "{method} {}{path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
             Content-Length: {}\r\nConnection: close\r\n\r\n{body}",
            self.prefix,
            self.port,
            body.len()
        )?;
        let bytes = read_body(&mut BufReader::new(stream))?;
        Ok(serde_json::from_slice(&bytes).unwrap_or_else(|_| json!({ "value": String::from_utf8_lossy(&bytes) })))
    }
}

/// The body of an HTTP answer; the driver always says how long it is.
fn read_body(reader: &mut impl BufRead) -> std::io::Result<Vec<u8>> {
    let mut length = None;
    loop {
        let mut line = String::new();
        if reader.read_line(&mut line)? == 0 || line.trim().is_empty() {
            break;
        }
        if let Some((name, value)) = line.split_once(':')
            && name.eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse::<usize>().ok();
        }
    }
    let mut bytes = Vec::new();
    match length {
        Some(length) => {
            bytes.resize(length, 0);
            reader.read_exact(&mut bytes)?;
        }
        None => {
            reader.read_to_end(&mut bytes)?;
        }
    }
    Ok(bytes)
}
