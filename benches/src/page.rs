//! The explorer's page in a real browser, where there is one: what a person waits for, from opening
//! the page to seeing it. The page's own measurement (`npm run measure`) does it; here it is called
//! and its numbers are laid beside their targets.

use crate::Fault;
use crate::numpy::HERE;
use crate::report::{Section, within};
use serde_json::Value;
use std::path::Path;
use std::process::Command;
use std::{env, fs};

const WEB: &str = "../crates/explorer/web";
const CHROMIUM: &str = "/usr/bin/chromium";
/// Targets for the first picture and for a change, ms.
const FIRST_MS: f64 = 1000.0;
const CHANGE_MS: f64 = 200.0;

/// Measures the page of `program`, or says why it was not measured.
///
/// # Errors
/// There is a browser, and the measurement failed.
pub fn measure(program: &Path) -> Result<Section, Fault> {
    let web = Path::new(HERE).join(WEB);
    let mut notes = vec![
        "The demo in headless Chromium, the page as a person uses it: release binary, a fresh \
         browser profile for each of five openings, median (least to most). Playback is judged \
         over 240 frames; a screen shows 60 a second."
            .to_owned(),
    ];
    let mut rows = Vec::new();
    match missing(&web) {
        Some(why) => notes.push(format!("Not measured in this run: {why}.")),
        None => rows = asked(&web, program)?.iter().map(row).collect(),
    }
    let heads = &["measure", "found", "target"];
    Ok(Section { title: "The explorer's page", notes, heads, rows })
}

/// Why it cannot be measured here.
fn missing(web: &Path) -> Option<&'static str> {
    let works = |name: &str| Command::new(name).arg("--version").output().is_ok();
    if !works("npm") {
        return Some("npm is not there");
    }
    if !web.join("node_modules").exists() {
        return Some("the page's packages are not installed (`cargo xtask explorer` does it)");
    }
    let is_there = env::var_os("EVENFALL_CHROMIUM").is_some() || Path::new(CHROMIUM).exists();
    (!is_there).then_some("Chromium is not there")
}

fn asked(web: &Path, program: &Path) -> Result<Vec<Value>, Fault> {
    let told = env::temp_dir().join(format!("evenfall-measured-{}.json", std::process::id()));
    let done = Command::new("npm")
        .args(["run", "--silent", "measure"])
        .current_dir(web)
        .env("EVENFALL_BIN", program)
        .env("EVENFALL_MEASURED", &told)
        .output()?;
    let text = fs::read_to_string(&told);
    // It may never have been written.
    let _ = fs::remove_file(&told);
    match text {
        Ok(text) if done.status.success() => Ok(serde_json::from_str(&text)?),
        _ => Err(format!(
            "the page could not be measured:\n{}{}",
            String::from_utf8_lossy(&done.stdout),
            String::from_utf8_lossy(&done.stderr)
        )
        .into()),
    }
}

fn row(measured: &Value) -> Vec<String> {
    let what = measured["what"].as_str().unwrap_or_default();
    let unit = measured["unit"].as_str().unwrap_or_default();
    let number = |key: &str| measured[key].as_f64().unwrap_or(f64::NAN);
    let (middle, low, high) = (number("middle"), number("low"), number("high"));
    let found = if low == high {
        format!("{middle:.0} {unit}")
    } else {
        format!("{middle:.0} {unit} ({low:.0}–{high:.0})")
    };
    let target = match what {
        what if what.contains("first picture") => within(middle, FIRST_MS, "ms"),
        what if what.contains("changes a stop") => within(middle, CHANGE_MS, "ms"),
        _ => "none".to_owned(),
    };
    vec![what.to_owned(), found, target]
}
