//! A tiny web server on this machine: serves a folder under a sub-path, and counts what it is asked for.

use std::io::{BufRead, BufReader, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// A running server. It ends with the test's process.
pub struct Site {
    address: String,
    asked: Arc<Mutex<Vec<String>>>,
}

impl Site {
    /// Serves a folder under a sub-path, as an intranet may do: at `/` nothing is found.
    ///
    /// # Panics
    /// When no port is free.
    #[must_use]
    pub fn serve(folder: &Path, sub_path: &str) -> Site {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port is free");
        let port = listener.local_addr().expect("a listener has an address").port();
        let prefix = format!("/{}/", sub_path.trim_matches('/')).replace("//", "/");
        let site =
            Site { address: format!("http://127.0.0.1:{port}{prefix}"), asked: Arc::new(Mutex::new(Vec::new())) };
        let asked = Arc::clone(&site.asked);
        let folder = folder.to_path_buf();
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let (asked, folder, prefix) = (Arc::clone(&asked), folder.clone(), prefix.clone());
                // A browser opens connections that it may never use: each gets a thread, so that none blocks another.
                std::thread::spawn(move || {
                    let _ = answer(&stream, &asked, &folder, &prefix);
                });
            }
        });
        site
    }

    /// Where it is, with a slash at the end.
    #[must_use]
    pub fn address(&self) -> &str {
        &self.address
    }

    /// The paths that were asked for so far.
    ///
    /// # Panics
    /// When a server thread has panicked.
    #[must_use]
    pub fn asked(&self) -> Vec<String> {
        self.asked.lock().expect("no server thread panics").clone()
    }
}

fn answer(stream: &TcpStream, asked: &Mutex<Vec<String>>, folder: &Path, prefix: &str) -> std::io::Result<()> {
    stream.set_read_timeout(Some(Duration::from_secs(30)))?;
    let mut reader = BufReader::new(stream);
    let mut first = String::new();
    reader.read_line(&mut first)?;
    let Some(path) = first.split_whitespace().nth(1) else { return Ok(()) };
    asked.lock().expect("no server thread panics").push(path.to_string());
    let mut line = String::new();
    while reader.read_line(&mut line)? > 0 && !line.trim().is_empty() {
        line.clear();
    }
    let (status, kind, bytes) = match file_for(path, folder, prefix).map(|file| (kind_of(&file), std::fs::read(file))) {
        Some((kind, Ok(bytes))) => ("200 OK", kind, bytes),
        _ => ("404 Not Found", "text/plain", b"not here".to_vec()),
    };
    let mut stream = stream;
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nConnection: close\r\n\
         Access-Control-Allow-Origin: *\r\n\r\n",
        bytes.len()
    )?;
    stream.write_all(&bytes)
}

fn file_for(path: &str, folder: &Path, prefix: &str) -> Option<PathBuf> {
    let path = path.split(['?', '#']).next()?;
    let name = path.strip_prefix(prefix)?;
    let name = if name.is_empty() { "index.html" } else { name };
    (!name.contains("..")).then(|| folder.join(name))
}

fn kind_of(file: &Path) -> &'static str {
    match file.extension().and_then(|extension| extension.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        Some("svg") => "image/svg+xml",
        _ => "application/octet-stream",
    }
}
