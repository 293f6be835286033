//! How results are computed, for a paper: text to read and JSON for other programs.

use crate::reports::file_json::file_json;
use crate::reports::worth::terminal::folded;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_view::{MethodValue, methods};
use serde_json::json;
use std::fmt::Write as _;

/// Most characters of a line.
const LINE: usize = 96;

/// Every equation with its symbols, values and source, as JSON; `origin` is digest and version.
///
/// # Errors
/// If it cannot be written down.
pub fn methods_json(
    scenario: &Scenario,
    (digest, version): (&str, &str),
) -> Result<String, DrawError> {
    file_json(&json!({
        "title": scenario.title,
        "scenario_sha256": digest,
        "version": version,
        "seed": scenario.seed,
        "methods": methods(scenario),
    }))
}

/// The same as text.
pub fn methods_text(scenario: &Scenario, (digest, version): (&str, &str)) -> String {
    let mut text = format!(
        "How “{}” is computed\nEvenfall {version}, seed {}\nDigest of the scenario: {digest}\n",
        scenario.title, scenario.seed
    );
    for method in methods(scenario) {
        let values: Vec<String> = method.values.iter().map(value).collect();
        let mut parts = vec![method.equation, format!("where: {}", method.symbols)];
        if !values.is_empty() {
            parts.push(format!("here: {}", values.join("; ")));
        }
        let (source, standing) = (method.source, method.standing.words());
        parts.push(format!("source: {source} ({standing}); {}", method.module));
        let parts = parts.iter().map(|part| folded(part, LINE));
        // Writing to a String cannot fail.
        let _ = writeln!(text, "\n{}", method.title);
        for line in parts.collect::<String>().lines() {
            let _ = writeln!(text, "  {line}");
        }
    }
    text
}

fn value(value: &MethodValue) -> String {
    let MethodValue { alternative, symbol, value, unit } = value;
    let of = if alternative.is_empty() { String::new() } else { format!(" ({alternative})") };
    format!("{symbol} = {value} {unit}").trim_end().to_owned() + &of
}
