//! Logs as JSON text: one to begin with, and what a table says.

use super::ending::Event;
use super::hours::Hours;
use evenfall_core::clock::{STANDARD_TIME, hours_between};
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::Happened;
use serde_json::{Map, Value, json};

/// A log to begin with, for a season of `scenario` under `alternative`: no event yet.
pub fn blank_log(scenario: &Scenario, alternative: &Alternative, plan: &Plan) -> String {
    let now = scenario.calendar_of(alternative).start.max(plan.midnight);
    let now = Hours::of(scenario, Some(plan)).written(hours_between(plan.midnight, now));
    with_events((scenario, alternative), &now, "[]")
}

/// The log of `events` up to `now_h`.
pub(super) fn log_of(
    of: (&Scenario, &Alternative),
    plan: &Plan,
    now_h: f64,
    events: &[Event],
) -> String {
    let hours = Hours::of(of.0, Some(plan));
    let rows: Vec<String> = events
        .iter()
        .filter_map(|event| event.happened)
        .map(|happened| format!("    {}", event_of(&hours, &happened)))
        .collect();
    let list =
        if rows.is_empty() { "[]".to_owned() } else { format!("[\n{}\n  ]", rows.join(",\n")) };
    with_events(of, &hours.written(now_h), &list)
}

fn with_events(
    (scenario, alternative): (&Scenario, &Alternative),
    now: &str,
    events: &str,
) -> String {
    let text = |value: &str| Value::from(value.trim()).to_string();
    format!(
        "{{\n  \"evenfall_log\": 1,\n  \"scenario\": {},\n  \"alternative\": {},\n  \"clock\": {},\n  \"now\": \
         \"{now}\",\n  \"missed\": \"catch up next\",\n  \"events\": {events}\n}}\n",
        text(&scenario.title),
        text(&alternative.name),
        text(scenario.calendar.clock.zone_name().unwrap_or(STANDARD_TIME)),
    )
}

fn event_of(hours: &Hours<'_>, happened: &Happened) -> Value {
    let mut event = Map::new();
    let mut put = |key: &str, value: Value| event.insert(key.to_owned(), value);
    let (what, set, span_h) = match happened {
        Happened::Done { set, span_h, at_m: None } => ("done", Some(set), *span_h),
        Happened::Done { set, span_h, .. } => ("moved by hand", Some(set), *span_h),
        Happened::Missed(set) => ("missed", Some(set), None),
        Happened::Breakdown { from_h, to_h } => ("breakdown", None, Some((*from_h, *to_h))),
    };
    put("what", json!(what));
    if let Some(set) = set {
        put("pass", json!(set.pass + 1));
        put("outlet", json!(set.outlet + 1));
        if set.is_extra {
            put("extra", json!(true));
        }
    }
    if let Some((from_h, to_h)) = span_h {
        put("from", json!(hours.written(from_h)));
        put("to", json!(hours.written(to_h)));
    }
    if let Happened::Done { at_m: Some(at_m), .. } = happened {
        put("stood", json!(format!("{at_m} m")));
    }
    Value::Object(event)
}
