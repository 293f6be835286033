//! The server on its own socket: connections that dawdle, too many of them, and its end.

use crate::limits::{BODY_TIME, CONNECTIONS, HEAD_TIME, Patience};
use crate::{Explorer, Start};
use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How long a server waits in tests of what comes after that.
const IMPATIENT: Patience = Patience { head: Duration::from_secs(2), body: Duration::from_secs(2) };

/// A server that runs; its address without `http://` and key.
fn running() -> (crate::Stopper, String, JoinHandle<std::io::Result<()>>) {
    let (stopper, authority, _, server) = running_with_cookie();
    (stopper, authority, server)
}

/// The same with the cookie of whoever started it.
fn running_with_cookie() -> (crate::Stopper, String, String, JoinHandle<std::io::Result<()>>) {
    running_with(Patience::default())
}

/// The same that waits for as long as is told.
fn running_with(
    patience: Patience,
) -> (crate::Stopper, String, String, JoinHandle<std::io::Result<()>>) {
    let explorer = Explorer::bind(Start::default(), 0).unwrap().with_patience(patience);
    let address = explorer.address();
    let (authority, key) = address["http://".len()..].split_once("/?key=").unwrap();
    let cookie = format!("evenfall-{}={key}", authority.rsplit_once(':').unwrap().1);
    let (authority, stopper) = (authority.to_owned(), explorer.stopper());
    (stopper, authority, cookie, std::thread::spawn(|| explorer.run()))
}

fn connect(authority: &str) -> TcpStream {
    let stream = TcpStream::connect(authority).unwrap();
    stream.set_read_timeout(Some(HEAD_TIME + Duration::from_secs(20))).unwrap();
    stream
}

fn request(authority: &str, head: &str) -> String {
    let mut stream = connect(authority);
    write!(stream, "{head}\r\nHost: {authority}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

/// Twice as many as there are places, who never end their request, or never begin one.
fn dawdlers(authority: &str) -> Vec<TcpStream> {
    let dawdler = |number| {
        let mut stream = connect(authority);
        if number % 2 == 0 {
            write!(stream, "GET /api/health HTTP/1.1\r\nX-Slow: ").unwrap();
        }
        stream
    };
    (0..2 * CONNECTIONS).map(dawdler).collect()
}

#[test]
fn who_dawdles_keeps_nobody_out() {
    let (stopper, authority, server) = running();
    let begun = Instant::now();
    let dawdlers = dawdlers(&authority);
    let answer = request(&authority, "GET /api/health HTTP/1.1");
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    assert!(begun.elapsed() < HEAD_TIME / 2, "{:?}", begun.elapsed());
    drop(dawdlers);
    stopper.stop();
    server.join().unwrap().unwrap();
}

#[test]
fn who_dawdles_is_dropped() {
    let (stopper, authority, _, server) = running_with(IMPATIENT);
    let begun = Instant::now();
    let dawdlers = dawdlers(&authority);
    let answer = request(&authority, "GET /api/health HTTP/1.1");
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    for mut stream in dawdlers {
        // Told so or not: the connection comes to its end.
        let mut rest = Vec::new();
        let ended = stream.read_to_end(&mut rest);
        assert!(
            ended.is_ok() || ended.is_err_and(|e| e.kind() == std::io::ErrorKind::ConnectionReset)
        );
    }
    // By the two seconds that it was told, not by its own ten.
    assert!(begun.elapsed() < HEAD_TIME, "{:?}", begun.elapsed());
    stopper.stop();
    server.join().unwrap().unwrap();
}

#[test]
fn heads_without_end_or_sense_are_refused_and_the_server_lives_on() {
    let (stopper, authority, server) = running();
    let long = format!("GET /{} HTTP/1.1", "x".repeat(200_000));
    for head in [
        long.as_str(),
        "GET /../../etc/passwd HTTP/1.1",
        "GET /assets/..%2f..%2fCargo.toml HTTP/1.1",
        "GET //etc/passwd HTTP/1.1",
        "GET http://evil.example/ HTTP/1.1",
        "CONNECT evil.example:80 HTTP/1.1",
        "GET / HTTP/9.9",
        "PRI * HTTP/2.0",
        "\u{0}\u{1}\u{2}",
    ] {
        let mut stream = connect(&authority);
        // The server may close before all of it is written.
        let _ = write!(stream, "{head}\r\nHost: {authority}\r\nConnection: close\r\n\r\n");
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let answer = String::from_utf8_lossy(&answer);
        let shown: String = head.chars().take(40).collect();
        assert!(answer.is_empty() || answer.starts_with("HTTP/1.1 4"), "{shown}: {answer}");
        assert!(!answer.contains("root:") && !answer.contains("[package]"), "{shown}: {answer}");
    }
    assert!(request(&authority, "GET /api/health HTTP/1.1").starts_with("HTTP/1.1 200"));
    stopper.stop();
    server.join().unwrap().unwrap();
}

/// Starts a run that takes long; the connection on which its events are followed.
fn followed(authority: &str, cookie: &str) -> TcpStream {
    let body =
        serde_json::json!({ "scenario": super::helpers::long(), "kind": "season" }).to_string();
    let mut stream = connect(authority);
    write!(
        stream,
        "POST /api/runs HTTP/1.1\r\nHost: {authority}\r\nContent-Type: application/json\r\n\
         Cookie: {cookie}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
        body.len()
    )
    .unwrap();
    let mut started = String::new();
    stream.read_to_string(&mut started).unwrap();
    let run = started.rsplit('"').nth(1).unwrap();
    let mut events = connect(authority);
    let head = format!("GET /api/runs/{run}/events HTTP/1.1\r\nHost: {authority}");
    write!(events, "{head}\r\nCookie: {cookie}\r\n\r\n").unwrap();
    let mut first = [0; 12];
    events.read_exact(&mut first).unwrap();
    assert_eq!(&first, b"HTTP/1.1 200");
    events
}

#[test]
fn it_ends_soon_though_somebody_still_follows_a_run() {
    let (stopper, authority, cookie, server) = running_with_cookie();
    let mut events = followed(&authority, &cookie);
    let begun = Instant::now();
    stopper.stop();
    server.join().unwrap().unwrap();
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    let mut rest = String::new();
    let _ = events.read_to_string(&mut rest);
    assert!(rest.contains("event: canceled"), "{rest}");
}

#[test]
fn a_body_that_comes_word_by_word_gives_its_place_to_others() {
    let (stopper, authority, cookie, server) = running_with(IMPATIENT);
    let mut slow = connect(&authority);
    write!(
        slow,
        "POST /api/check HTTP/1.1\r\nHost: {authority}\r\nContent-Type: application/json\r\n\
         Cookie: {cookie}\r\nContent-Length: 1000\r\nConnection: close\r\n\r\n{{"
    )
    .unwrap();
    let begun = Instant::now();
    let mut answer = [0; 12];
    slow.read_exact(&mut answer).unwrap();
    assert_eq!(&answer, b"HTTP/1.1 408");
    assert!(begun.elapsed() < BODY_TIME, "{:?}", begun.elapsed());
    // Without the key nobody's body is waited for at all.
    let mut stranger = connect(&authority);
    write!(
        stranger,
        "POST /api/check HTTP/1.1\r\nHost: {authority}\r\nContent-Type: application/json\r\n\
         Content-Length: 1000\r\nConnection: close\r\n\r\n{{"
    )
    .unwrap();
    let begun = Instant::now();
    stranger.read_exact(&mut answer).unwrap();
    assert_eq!(&answer, b"HTTP/1.1 401");
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    stopper.stop();
    server.join().unwrap().unwrap();
}

/// A body that stops half way, sent by whoever holds the key.
fn half_body(authority: &str, cookie: &str) -> TcpStream {
    let mut slow = connect(authority);
    write!(
        slow,
        "POST /api/check HTTP/1.1\r\nHost: {authority}\r\nContent-Type: application/json\r\n\
         Cookie: {cookie}\r\nContent-Length: 1000\r\n\r\n{{"
    )
    .unwrap();
    slow
}

#[test]
fn slow_bodies_and_strangers_however_many_keep_no_whole_request_of_the_owner_out() {
    let (stopper, authority, cookie, server) = running_with_cookie();
    let begun = Instant::now();
    // What is being answered stays, whatever comes: a run that is followed.
    let mut events = followed(&authority, &cookie);
    let mut slow = Vec::new();
    for number in 0..2 * CONNECTIONS {
        slow.push(half_body(&authority, &cookie));
        if number % 2 == 0 {
            slow.push(connect(&authority));
        }
        if number % 16 == 15 {
            let cookie = format!("GET /api/demo HTTP/1.1\r\nCookie: {cookie}");
            let answer = request(&authority, &cookie);
            assert!(answer.starts_with("HTTP/1.1 200"), "{number}: {answer}");
        }
    }
    assert!(begun.elapsed() < BODY_TIME, "no place came free by waiting: {:?}", begun.elapsed());
    stopper.stop();
    server.join().unwrap().unwrap();
    let mut rest = String::new();
    let _ = events.read_to_string(&mut rest);
    assert!(rest.contains("event: canceled"), "{rest}");
}
