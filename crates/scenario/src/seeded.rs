//! A scenario's text with another seed.

use serde_json::Value;

/// `text` with `seed` as its seed, laid out anew; `None` where it is no JSON object or has that seed
/// already.
pub fn with_seed(text: &str, seed: u64) -> Option<String> {
    let mut value: Value = serde_json::from_str(text.trim_start_matches('\u{feff}')).ok()?;
    let object = value.as_object_mut()?;
    let seed = Value::from(seed);
    if object.get("seed") == Some(&seed) {
        return None;
    }
    object.insert("seed".to_owned(), seed);
    serde_json::to_string_pretty(&value).ok().map(|text| text + "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_only_the_seed_is_another() {
        let text = "{\"title\": \"North\", \"seed\": 3, \"x\": 0.1}";
        let other = with_seed(text, 5).unwrap();
        let value: Value = serde_json::from_str(&other).unwrap();
        assert_eq!(value, serde_json::json!({"title": "North", "seed": 5, "x": 0.1}));
        assert!(other.find("title") < other.find("seed"));
        assert_eq!((with_seed(text, 3), with_seed("no", 3)), (None, None));
        assert!(with_seed("{}", 3).unwrap().contains("\"seed\": 3"));
    }
}
