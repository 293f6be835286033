//! The explorer as its page uses it: from the command to the first picture, and from a changed stop
//! to the picture drawn anew. Asked over loopback, answers read to their last byte; what the browser
//! then does with them is not in it.

use crate::Fault;
use crate::numpy::HERE;
use crate::report::{Section, within};
use crate::timing::by_turns;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Instant;
use std::{fs, thread};

const ROUNDS: usize = 9;
/// Targets for the first picture and for a change, s.
const FIRST_S: f64 = 1.0;
const CHANGE_S: f64 = 0.2;

/// The release program, built in `target`.
///
/// # Errors
/// It cannot be built.
pub fn program(target: &Path) -> Result<PathBuf, Fault> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let build = ["build", "--release", "--locked", "--package", "evenfall", "--target-dir"];
    let built = Command::new(cargo).args(build).arg(target).current_dir(HERE).status()?;
    if !built.success() {
        return Err("the program does not build (see above)".into());
    }
    Ok(target.join("release").join(format!("evenfall{}", std::env::consts::EXE_SUFFIX)))
}

/// Builds the program in `target` and measures it on the demo.
///
/// # Errors
/// It cannot be built, or does not answer as it should.
pub fn measure(target: &Path) -> Result<Section, Fault> {
    let program = program(target)?;
    let mut first = || {
        let begun = Instant::now();
        let server = Server::start(&program)?;
        for path in ["/", "/assets/app.js", "/assets/app.css", "/api/schema", "/api/start"] {
            server.get(path)?;
        }
        let scenario = text(server.get("/api/demo")?)?;
        server.picture(&scenario, 4)?;
        Ok(begun.elapsed().as_secs_f64())
    };
    let server = Server::start(&program)?;
    let demo = text(server.get("/api/demo")?)?;
    let mut stops = Stops { demo: demo.clone(), turn: 0 };
    let mut change = |coarser: usize| -> Result<f64, Fault> {
        let scenario = stops.next();
        let begun = Instant::now();
        server.picture(&scenario, coarser)?;
        Ok(begun.elapsed().as_secs_f64())
    };
    let changes = by_turns(ROUNDS, &mut [&mut || change(4)])?;
    let fine = by_turns(ROUNDS, &mut [&mut || change(1)])?;
    let mut preview = || {
        let scenario = stops.next();
        let begun = Instant::now();
        server.post("/api/preview", &format!("{{\"scenario\":{scenario},\"coarser\":4}}"))?;
        Ok(begun.elapsed().as_secs_f64())
    };
    let previews = by_turns(ROUNDS, &mut [&mut preview])?;
    let run = server.picture(&demo, 1)?;
    let mut place = || {
        let begun = Instant::now();
        server.get(&format!("/api/runs/{run}/place?x_m=200&y_m=200"))?;
        Ok(begun.elapsed().as_secs_f64())
    };
    let places = by_turns(ROUNDS, &mut [&mut place])?;
    let memory = server.peak_mb();
    let firsts = by_turns(ROUNDS, &mut [&mut first])?;
    let row = |what: &str, times: &crate::timing::Times, target: Option<f64>| {
        let judged = target.map_or("none".to_owned(), |most| within(times.median(), most, "s"));
        vec![what.to_owned(), times.to_string(), judged]
    };
    let mut rows = vec![
        row("from the command to the first picture (coarse)", &firsts[0], Some(FIRST_S)),
        row(
            "a changed stop: layout and season, cells 4 times as wide",
            &changes[0],
            Some(CHANGE_S),
        ),
        row("the same in one answer, as while dragging", &previews[0], Some(CHANGE_S)),
        row("the same on the scenario's own cells", &fine[0], None),
        row("the history of one place, own cells", &places[0], None),
    ];
    rows.push(vec![
        "most memory of the server after all of these".to_owned(),
        memory.map_or("not told by this system".to_owned(), |mb| format!("{mb:.0} MB")),
        "none".to_owned(),
    ]);
    let cores = thread::available_parallelism()?;
    Ok(Section {
        title: "The explorer",
        notes: vec![format!(
            "`evenfall explore` with the demo, asked over loopback as its page asks: layout, run, \
             events, summary and one grid for each of the three alternatives, every answer read to \
             its last byte; drawing in the browser is not in it. Each change turns another stop of \
             the third alternative. Release binary, {cores} cores, medians of {ROUNDS}."
        )],
        heads: &["measure", "time", "target"],
        rows,
    })
}

/// The demo with another third alternative at every turn.
struct Stops {
    demo: String,
    turn: usize,
}

impl Stops {
    fn next(&mut self) -> String {
        let shifts = [
            "\"0 ft\", \"20 ft\", \"-20 ft\"",
            "\"0 ft\", \"-20 ft\", \"20 ft\"",
            "\"20 ft\", \"-20 ft\"",
        ];
        self.turn += 1;
        self.demo.replace(shifts[0], shifts[self.turn % shifts.len()])
    }
}

/// A running explorer.
struct Server {
    child: Child,
    authority: String,
    /// The cookie of whoever started it.
    cookie: String,
}

impl Server {
    fn start(program: &Path) -> Result<Self, Fault> {
        let mut explore = Command::new(program);
        let mut child = explore.args(["--quiet", "explore"]).stdout(Stdio::piped()).spawn()?;
        let mut address = String::new();
        BufReader::new(child.stdout.as_mut().ok_or("no output")?).read_line(&mut address)?;
        let address = address.trim().trim_start_matches("http://");
        let (authority, key) = address.split_once("/?key=").ok_or("no address")?;
        let port = authority.rsplit_once(':').ok_or("no port")?.1;
        let cookie = format!("evenfall-{port}={key}");
        Ok(Self { authority: authority.to_owned(), cookie, child })
    }

    fn request(&self, method: &str, path: &str, body: &str) -> Result<Vec<u8>, Fault> {
        let mut stream = TcpStream::connect(&self.authority)?;
        let request = format!(
            "{method} {path} HTTP/1.1\r\nHost: {}\r\nContent-Type: application/json\r\n\
             Cookie: {}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            self.authority,
            self.cookie,
            body.len()
        );
        stream.write_all(request.as_bytes())?;
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer)?;
        let end = answer.windows(4).position(|four| four == b"\r\n\r\n").ok_or("no answer")?;
        if !answer.starts_with(b"HTTP/1.1 20") {
            return Err(String::from_utf8_lossy(&answer).into_owned().into());
        }
        Ok(answer.split_off(end + 4))
    }

    fn get(&self, path: &str) -> Result<Vec<u8>, Fault> {
        self.request("GET", path, "")
    }

    fn post(&self, path: &str, body: &str) -> Result<Vec<u8>, Fault> {
        self.request("POST", path, body)
    }

    /// All that the page needs to draw a season; gives the run's number.
    fn picture(&self, scenario: &str, coarser: usize) -> Result<String, Fault> {
        self.post("/api/layout", &format!("{{\"scenario\":{scenario}}}"))?;
        let asked =
            format!("{{\"scenario\":{scenario},\"kind\":\"season\",\"coarser\":{coarser}}}");
        let started = text(self.post("/api/runs", &asked)?)?;
        let run = started.split('"').nth(3).ok_or("no run")?.to_owned();
        let events = text(self.get(&format!("/api/runs/{run}/events"))?)?;
        if !events.contains("event: done") {
            return Err(events.into());
        }
        self.get(&format!("/api/runs/{run}"))?;
        for alternative in 0..3 {
            let grid = format!("grid?alternative={alternative}&what=cumulative");
            self.get(&format!("/api/runs/{run}/{grid}"))?;
        }
        Ok(run)
    }

    /// Most memory it has held, where the system tells it in a file.
    fn peak_mb(&self) -> Option<f64> {
        let status = fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
        Some(line.trim().trim_end_matches("kB").trim().parse::<f64>().ok()? / 1000.0)
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn text(bytes: Vec<u8>) -> Result<String, Fault> {
    Ok(String::from_utf8(bytes)?)
}
