//! Tables of results as Markdown, and the facts of the machine that belong to them.

use crate::Fault;
use crate::machine::{vector_bits, widest_vectors};
use std::fmt::Write as _;
use std::process::Command;
use std::{fs, thread};

/// One group of measurements.
#[derive(Clone, Debug)]
pub struct Section {
    /// What is measured.
    pub title: &'static str,
    /// How, and what to make of it.
    pub notes: Vec<String>,
    /// Heads of the columns.
    pub heads: &'static [&'static str],
    /// Cells, row by row.
    pub rows: Vec<Vec<String>>,
}

impl Section {
    /// The section as Markdown.
    pub fn markdown(&self) -> String {
        let line = |cells: &[String]| format!("| {} |\n", cells.join(" | "));
        let heads: Vec<String> = self.heads.iter().map(|&head| head.to_owned()).collect();
        let rule = vec!["---".to_owned(); heads.len()];
        let mut text = format!("## {}\n\n", self.title);
        for note in &self.notes {
            let _ = writeln!(text, "{note}\n");
        }
        text += &line(&heads);
        text += &line(&rule);
        for row in &self.rows {
            text += &line(row);
        }
        text
    }
}

/// Whether a ratio reaches its target, in words: `at least 8: met`.
pub fn judged(ratio: f64, at_least: f64) -> String {
    if ratio >= at_least {
        format!("at least {at_least}: met")
    } else {
        format!("at least {at_least}: short by {:.0} %", 100.0 * (1.0 - ratio / at_least))
    }
}

/// Whether a value keeps to its limit, in words.
pub fn within(value: f64, at_most: f64, unit: &str) -> String {
    let word = if value <= at_most { "met" } else { "not met" };
    format!("at most {at_most} {unit}: {word}")
}

/// Processor, cores and versions, as a Markdown list.
///
/// # Errors
/// If the compiler cannot be asked for its version.
pub fn machine(baseline: &str) -> Result<String, Fault> {
    let rustc = std::env::var("RUSTC").unwrap_or_else(|_| "rustc".to_owned());
    let rustc = String::from_utf8(Command::new(rustc).arg("--version").output()?.stdout)?;
    let cores = thread::available_parallelism()?;
    let system = format!("{} {}", std::env::consts::OS, std::env::consts::ARCH);
    Ok(format!(
        "- Processor: {}, {cores} cores, {system}; vectors of {} bits are used, it has {}\n- Compiler: {}, profile `bench` (as `release`)\n\
         - Baseline: {baseline}, one thread\n",
        processor(),
        vector_bits(),
        widest_vectors(),
        rustc.trim()
    ))
}

/// The processor's name where the system tells it in a file.
fn processor() -> String {
    let facts = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let fact = |name: &str| {
        let line = facts.lines().find(|line| line.starts_with(name))?;
        Some(line.split_once(':')?.1.trim().to_owned())
    };
    match (fact("model name"), fact("cache size")) {
        (Some(model), Some(cache)) => format!("{model} (second-level cache {cache})"),
        (Some(model), None) => model,
        _ => "unknown".to_owned(),
    }
}
