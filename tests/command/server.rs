//! A running explorer, and asking it.

use crate::runs::{Ran, command};
use std::io::{BufRead as _, BufReader, Cursor, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;
use zip::ZipArchive;

/// A running explorer; ended when it is dropped.
pub(crate) struct Server {
    child: Child,
    /// `127.0.0.1:port`.
    pub(crate) authority: String,
    /// The cookie by which it knows whoever started it.
    pub(crate) cookie: String,
    /// The folder of farms, where none was named.
    _farms: TempDir,
}

impl Server {
    /// Starts it at a free port, unless the words name one.
    pub(crate) fn start(folder: &Path, words: &[&str]) -> Self {
        let port = if words.contains(&"--port") { &[][..] } else { &["--port", "0"] };
        Self::start_as(folder, &[words, port].concat())
    }

    /// Starts it with these words alone. Its farms are kept in a folder of its own.
    pub(crate) fn start_as(folder: &Path, words: &[&str]) -> Self {
        let farms = TempDir::new().unwrap();
        let mut explore = command(folder, &[&["explore"], words].concat());
        explore.env("EVENFALL_FARMS", farms.path());
        let mut child = explore.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut lines = BufReader::new(child.stdout.as_mut().unwrap()).lines();
        let address = lines.next().unwrap().unwrap();
        let address = address.strip_prefix("http://").and_then(|rest| rest.split_once("/?key="));
        let (authority, key) = address.unwrap_or_else(|| panic!("no address with a key"));
        let port = authority.strip_prefix("127.0.0.1:").unwrap();
        let cookie = format!("evenfall-{port}={key}");
        Self { child, authority: authority.to_owned(), cookie, _farms: farms }
    }

    /// The whole answer to a request, head and body, as text.
    pub(crate) fn request(&self, method: &str, path: &str, host: &str, body: &str) -> String {
        String::from_utf8(self.answer(method, path, host, body)).unwrap()
    }

    /// The whole answer to a request, head and body.
    pub(crate) fn answer(&self, method: &str, path: &str, host: &str, body: &str) -> Vec<u8> {
        let mut stream = TcpStream::connect(&self.authority).unwrap();
        // What is never answered fails; a run that is followed on a busy machine may be silent for long.
        stream.set_read_timeout(Some(Duration::from_mins(10))).unwrap();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nContent-Type: application/json\r\n\
             Cookie: {}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            self.cookie,
            body.len()
        )
        .unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        answer
    }

    /// Puts the files of the archive that answers a request into a new folder.
    pub(crate) fn unpack(&self, path: &str, body: &str, into: &Path) {
        let answer = self.answer("POST", path, &self.authority, body);
        let head = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
        let zip = Cursor::new(&answer[head + 4..]);
        let told = String::from_utf8_lossy(&answer);
        let mut zip = ZipArchive::new(zip).unwrap_or_else(|error| panic!("{error}: {told}"));
        zip.extract(into).unwrap();
    }

    pub(crate) fn get(&self, path: &str) -> String {
        self.request("GET", path, &self.authority, "")
    }

    /// Status and JSON of the answer to a body.
    pub(crate) fn post(&self, path: &str, body: &str) -> (String, serde_json::Value) {
        let answer = self.request("POST", path, &self.authority, body);
        let (_, told) = answer.split_once("\r\n\r\n").unwrap();
        (status(&answer).to_owned(), serde_json::from_str(told).unwrap_or_default())
    }

    /// The JSON that an address answers with.
    pub(crate) fn json(&self, path: &str) -> serde_json::Value {
        let answer = self.get(path);
        let (_, told) = answer.split_once("\r\n\r\n").unwrap();
        serde_json::from_str(told).unwrap_or_else(|error| panic!("{error}: {answer}"))
    }

    /// The number of its process.
    pub(crate) fn id(&self) -> u32 {
        self.child.id()
    }

    /// What it said on standard error so far, a line.
    pub(crate) fn warned(&mut self) -> String {
        let mut line = String::new();
        BufReader::new(self.child.stderr.as_mut().unwrap()).read_line(&mut line).unwrap();
        line
    }

    /// Sends a signal and waits for the end.
    pub(crate) fn end(mut self, signal: &str) -> (Ran, Duration) {
        let begun = Instant::now();
        let kill = format!("kill {signal} {}", self.child.id());
        assert!(Command::new("sh").args(["-c", &kill]).status().unwrap().success());
        while self.child.try_wait().unwrap().is_none() {
            assert!(begun.elapsed() < Duration::from_secs(30), "{signal} does not end it");
            std::thread::sleep(Duration::from_millis(10));
        }
        let status = self.child.wait().unwrap();
        let mut err = String::new();
        self.child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
        (Ran { code: status.code(), out: String::new(), err }, begun.elapsed())
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The status of an answer.
pub(crate) fn status(answer: &str) -> &str {
    answer.split(' ').nth(1).unwrap_or_default()
}
