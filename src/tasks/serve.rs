//! A small static file server for this machine only.
//!
//! It serves the built app to a person (`cargo app`) and to the browser tests.
//! It listens on 127.0.0.1, answers GET and HEAD, and never looks outside its
//! folder.

use crate::process::{Outcome, Stop, because};
use std::fs;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::thread;
use std::time::Duration;

const FIRST_PORT: u16 = 8080;
const PORTS_TRIED: u16 = 100;
const LONGEST_REQUEST: u64 = 16 * 1024;

/// Serves a folder at the first free port until the program is ended.
pub fn serve_forever(folder: &Path) -> Outcome {
    if !folder.join("index.html").is_file() {
        return Err(Stop(format!("There is no app in {} yet; `cargo task build` makes it.", folder.display())));
    }
    let last = FIRST_PORT + PORTS_TRIED;
    let free = (FIRST_PORT..last).find_map(|port| listen(port).ok());
    let listener = free.ok_or_else(|| Stop(format!("No port from {FIRST_PORT} to {} is free.", last - 1)))?;
    let address = because(listener.local_addr(), "The server has no address")?;
    println!("Spindlewise is at http://{address}/ (Ctrl+C stops it)");
    accept(&listener, folder, "/");
    Ok(())
}

/// Serves a folder below `prefix` (such as `/some/folder/`) in the background
/// and says where.
pub fn serve_in_background(folder: &Path, prefix: &'static str) -> Outcome<String> {
    let listener = because(listen(0), "The server for the tests could not start")?;
    let address = because(listener.local_addr(), "The server has no address")?;
    let folder = folder.to_owned();
    thread::spawn(move || accept(&listener, &folder, prefix));
    Ok(format!("http://{address}{prefix}"))
}

fn listen(port: u16) -> io::Result<TcpListener> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port))
}

fn accept(listener: &TcpListener, folder: &Path, prefix: &'static str) {
    let folder: Arc<Path> = folder.into();
    for stream in listener.incoming().flatten() {
        let folder = Arc::clone(&folder);
        // A browser that goes away in the middle of an answer is no error of ours.
        thread::spawn(move || answer(stream, &folder, prefix).ok());
    }
}

fn answer(mut stream: TcpStream, folder: &Path, prefix: &str) -> io::Result<()> {
    stream.set_read_timeout(Some(Duration::from_secs(10)))?;
    let mut request = BufReader::new(stream.try_clone()?.take(LONGEST_REQUEST)).lines();
    let first = request.next().transpose()?.unwrap_or_default();
    // Reading the headers to their end keeps the browser from seeing a reset.
    while request.next().transpose()?.is_some_and(|line| !line.is_empty()) {}

    let mut words = first.split(' ');
    let method = words.next().unwrap_or_default();
    let target = words.next().unwrap_or_default();
    let path = target.strip_prefix(prefix).and_then(safe_path);
    let (status, kind, body) = match (method, path) {
        ("GET" | "HEAD", Some(path)) => match fs::read(folder.join(&path)) {
            Ok(body) => ("200 OK", media_type(&path), body),
            Err(_) => not_found(),
        },
        ("GET" | "HEAD", None) => not_found(),
        _ => ("405 Method Not Allowed", TEXT, b"Only GET and HEAD".to_vec()),
    };
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n\
         Cache-Control: no-cache\r\nX-Content-Type-Options: nosniff\r\n\
         Connection: close\r\n\r\n",
        body.len()
    )?;
    if method != "HEAD" {
        stream.write_all(&body)?;
    }
    stream.flush()
}

const TEXT: &str = "text/plain; charset=utf-8";

fn not_found() -> (&'static str, &'static str, Vec<u8>) {
    ("404 Not Found", TEXT, b"Not found".to_vec())
}

/// The file a request asks for, relative to the served folder; nothing when it
/// could lead out of it.
fn safe_path(target: &str) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next().unwrap_or_default();
    let mut path = percent_decoded(path)?;
    if path.is_empty() || path.ends_with('/') {
        path.push_str("index.html");
    }
    if path.contains(['\\', ':', '\0']) {
        return None;
    }
    let path = PathBuf::from(path);
    let inside = |part: Component<'_>| matches!(part, Component::Normal(_));
    path.components().all(inside).then_some(path)
}

fn percent_decoded(text: &str) -> Option<String> {
    let mut bytes = text.bytes();
    let mut decoded = Vec::with_capacity(text.len());
    while let Some(byte) = bytes.next() {
        decoded.push(match byte {
            b'%' => hex(bytes.next()?)? * 16 + hex(bytes.next()?)?,
            other => other,
        });
    }
    String::from_utf8(decoded).ok()
}

fn hex(digit: u8) -> Option<u8> {
    let value = char::from(digit).to_digit(16)?;
    u8::try_from(value).ok()
}

/// The media type of a file, by its ending.
fn media_type(path: &Path) -> &'static str {
    let ending = path.extension().and_then(|ending| ending.to_str());
    match ending.map(str::to_ascii_lowercase).as_deref() {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        Some("woff2") => "font/woff2",
        Some("txt") => TEXT,
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_means_its_index() {
        assert_eq!(safe_path(""), Some("index.html".into()));
        assert_eq!(safe_path("help/"), Some("help/index.html".into()));
        assert_eq!(safe_path("?x=1#y"), Some("index.html".into()));
    }

    #[test]
    fn names_are_decoded() {
        assert_eq!(safe_path("a%20b.svg?v=2"), Some("a b.svg".into()));
        assert_eq!(safe_path("caf%C3%A9.txt"), Some("café.txt".into()));
        assert_eq!(safe_path("broken%2"), None);
        assert_eq!(safe_path("broken%zz"), None);
        assert_eq!(safe_path("not-utf8-%FF"), None);
    }

    #[test]
    fn nothing_outside_the_folder_can_be_asked_for() {
        for target in [
            "../secret",
            "a/../../secret",
            "%2e%2e/secret",
            "..%2fsecret",
            "..\\secret",
            "a\\..\\..\\secret",
            "/etc/passwd",
            "%2Fetc%2Fpasswd",
            "c:/windows/win.ini",
            "a%00.html",
        ] {
            assert_eq!(safe_path(target), None, "{target}");
        }
    }

    #[test]
    fn browsers_get_the_types_they_insist_on() {
        assert_eq!(media_type(Path::new("a/app_bg.wasm")), "application/wasm");
        assert!(media_type(Path::new("app.js")).starts_with("text/javascript"));
        assert!(media_type(Path::new("INDEX.HTML")).starts_with("text/html"));
        assert_eq!(media_type(Path::new("x.unknown")), "application/octet-stream");
    }

    #[test]
    fn the_server_answers_inside_its_prefix_only() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR"));
        let address = serve_in_background(folder, "/some/folder/").unwrap();
        let host = address.strip_prefix("http://").unwrap();
        let host = host.strip_suffix("/some/folder/").unwrap().to_owned();
        let ask = |request: &str| {
            let mut stream = TcpStream::connect(&host).unwrap();
            write!(stream, "{request} HTTP/1.1\r\nHost: {host}\r\n\r\n").unwrap();
            let mut text = String::new();
            stream.read_to_string(&mut text).unwrap();
            text
        };
        let found = ask("GET /some/folder/Cargo.toml");
        assert!(found.starts_with("HTTP/1.1 200 OK\r\n"), "{found}");
        assert!(found.contains("name = \"tasks\""), "{found}");
        let head = ask("HEAD /some/folder/Cargo.toml");
        assert!(head.starts_with("HTTP/1.1 200 OK\r\n") && head.ends_with("\r\n\r\n"));
        for elsewhere in ["/Cargo.toml", "/some/folder/../Cargo.toml", "/some/folder/"] {
            let answer = ask(&format!("GET {elsewhere}"));
            assert!(answer.starts_with("HTTP/1.1 404 "), "{elsewhere}: {answer}");
        }
        assert!(ask("POST /some/folder/Cargo.toml").starts_with("HTTP/1.1 405 "));
    }
}
