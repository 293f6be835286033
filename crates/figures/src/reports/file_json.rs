//! A view as JSON for other programs: a value becomes its bare number, under its key with the unit
//! last, so `"mean_depth": {"number": 25.4, "unit": "mm", …}` is written `"mean_depth_mm": 25.4`.

use evenfall_canvas::DrawError;
use serde::Serialize;
use serde_json::{Map, Value};

/// `view` as indented JSON; `null` where there is no number.
pub(crate) fn file_json(view: &impl Serialize) -> Result<String, DrawError> {
    let plain = file_value(view)?;
    let mut text = serde_json::to_string_pretty(&plain).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

/// `view` as JSON for other programs, as a part of more.
pub(crate) fn file_value(view: &impl Serialize) -> Result<Value, DrawError> {
    Ok(plain(serde_json::to_value(view).map_err(DrawError::library)?).0)
}

/// The same with bare numbers, and the unit that its key must carry.
fn plain(json: Value) -> (Value, String) {
    match json {
        Value::Object(map) => match value_of(&map) {
            Some(found) => found,
            None => (Value::Object(map.into_iter().map(member).collect()), String::new()),
        },
        Value::Array(list) => {
            let mut unit = String::new();
            let item = |item| {
                let (item, own) = plain(item);
                unit = own;
                item
            };
            (Value::Array(list.into_iter().map(item).collect()), unit)
        }
        other => (other, String::new()),
    }
}

fn member((key, json): (String, Value)) -> (String, Value) {
    let (json, unit) = plain(json);
    (if unit.is_empty() { key } else { format!("{key}_{unit}") }, json)
}

/// Number and unit, if `map` is a value with number, unit and text.
fn value_of(map: &Map<String, Value>) -> Option<(Value, String)> {
    let (number, unit, _) = (map.get("number")?, map.get("unit")?.as_str()?, map.get("text")?);
    let whole = number.as_f64().filter(|n| unit.is_empty() && n.fract() == 0.0 && n.abs() < 1e15);
    let number = whole.map_or_else(|| number.clone(), |whole| Value::from(whole as i64));
    let unit = match unit {
        "%" => "percent".to_owned(),
        "°" => "deg".to_owned(),
        other => other.to_lowercase().replace(['/', ' '], "_").replace('³', "3").replace('²', "2"),
    };
    Some((number, unit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn closed_a_value_is_its_number_under_its_key_with_the_unit() {
        let value = |number: Value, unit: &str| json!({"number": number, "unit": unit, "text": ""});
        let view = json!({
            "depth": value(json!(25.4), "mm"),
            "wind": [value(json!(3.0), "m/s"), value(Value::Null, "m/s")],
            "cells": value(json!(9.0), ""),
            "inside": { "share": value(json!(84.25), "%"), "water": value(json!(2.0), "m³") },
            "name": "Fixed",
        });
        let expected = json!({
            "depth_mm": 25.4,
            "wind_m_s": [3.0, null],
            "cells": 9,
            "inside": { "share_percent": 84.25, "water_m3": 2.0 },
            "name": "Fixed",
        });
        assert_eq!(plain(view).0, expected);
    }
}
