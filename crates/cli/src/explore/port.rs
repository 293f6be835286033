//! The port of the explorer: the same at every start, so that an address that was kept is still good;
//! another one is taken only aloud. Farms do not depend on it.

use crate::failure::Failure;
use evenfall_explorer::{Explorer, PROGRAM, Start};
use std::io::{self, Read as _, Write as _};
use std::net::{Ipv4Addr, SocketAddr, TcpStream};
use std::time::Duration;

/// Port where none is asked for. Below the ports that systems hand out by themselves, and none of a
/// service that we know of (from memory; no list was asked).
const USUAL: u16 = 21_743;
/// How many ports after it are tried where it is taken.
const OTHERS: u16 = 9;
/// How long whoever holds a port is waited for.
const PATIENCE: Duration = Duration::from_millis(500);
/// Most bytes of its answer that are read.
const MOST_BYTES: u64 = 4096;

/// Listens at the port asked for, or the usual one, or one of those after it; says what was taken
/// where it is not the one that was meant.
pub(super) fn bind(
    start: &Start,
    asked: Option<u16>,
) -> Result<(Explorer, Option<String>), Failure> {
    let port = asked.unwrap_or(USUAL);
    let first = match Explorer::bind(start.clone(), port) {
        Ok(explorer) => return Ok((explorer, None)),
        Err(error) => error,
    };
    let is_taken = first.kind() == io::ErrorKind::AddrInUse;
    let holder = if is_taken { holder(port) } else { first.to_string() };
    if asked.is_some() || !is_taken {
        return Err(Failure::Files(format!(
            "cannot listen on 127.0.0.1:{port}: {holder}. Leave --port out to use port {USUAL} or \
             the next free one, or use --port 0 for any free port"
        )));
    }
    for other in USUAL + 1..=USUAL + OTHERS {
        if let Ok(explorer) = Explorer::bind(start.clone(), other) {
            let said = format!(
                "Port {USUAL} is taken: {holder}. This explorer is at port {other} instead. Your \
                 farms are the same at both; what a browser remembers by itself is not."
            );
            return Ok((explorer, Some(said)));
        }
    }
    let last = USUAL + OTHERS;
    Err(Failure::Files(format!(
        "cannot listen on 127.0.0.1:{USUAL}: {holder}, and the ports up to {last} are taken too. Use \
         --port 0 for any free port"
    )))
}

/// Who answers at a port, in words.
fn holder(port: u16) -> String {
    match version_at(port) {
        Ok(version) => format!(
            "an Evenfall explorer (version {version}) runs at http://127.0.0.1:{port}/ already; \
             open the address that it printed, with its key, to use it"
        ),
        Err(_) => "another program uses it".to_owned(),
    }
}

/// The version of the explorer at a port, if it is one that answers.
fn version_at(port: u16) -> io::Result<String> {
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    let mut stream = TcpStream::connect_timeout(&address, PATIENCE)?;
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    write!(
        stream,
        "GET /api/health HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n"
    )?;
    let mut answer = Vec::new();
    stream.take(MOST_BYTES).read_to_end(&mut answer)?;
    let answer = String::from_utf8_lossy(&answer);
    let stranger = || io::Error::other("no explorer");
    let (_, body) = answer.split_once("\r\n\r\n").ok_or_else(stranger)?;
    let told: serde_json::Value = serde_json::from_str(body.trim())?;
    let is_ours = told["program"] == PROGRAM;
    // Printed, so nothing but a plain word is taken from whoever answers.
    let is_plain = |word: &&str| {
        word.len() <= 20 && word.chars().all(|c| c.is_ascii_alphanumeric() || ".-+".contains(c))
    };
    let version = told["version"].as_str().filter(|_| is_ours).filter(is_plain);
    version.map(str::to_owned).ok_or_else(stranger)
}
