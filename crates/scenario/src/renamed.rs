//! Keys and words that had other names in earlier versions: refused, with the new name as the hint.

/// Keys: old name, new name. A name counts only where the new one is a key.
const KEYS: &[(&str, &str)] = &[
    ("allowance", "slip_and_sinkage"),
    ("called_at", "irrigate_at_depletion"),
    ("called_every", "min_pass_interval"),
    ("care", "maintenance"),
    ("clocks", "schedules"),
    ("depletion_fraction", "allowable_depletion"),
    ("extra_labour_per_move", "extra_labor_per_move"),
    ("first_seasons", "screening_seasons"),
    ("half_along", "half_joint_shifts"),
    ("idle", "idle_between_passes"),
    ("insets", "first_outlet_shifts"),
    ("labour", "labor"),
    ("labour_per_move", "labor_per_move"),
    ("least_du_lq", "worthwhile_gain_du_lq"),
    ("least_worst_tenth", "worthwhile_gain_worst_tenth"),
    ("level", "confidence_level"),
    ("longest", "longest_cycle"),
    ("most_seasons", "max_seasons"),
    ("move_gap", "move_time"),
    ("orders", "stop_orders"),
    ("outfit", "equipment"),
    ("parts_across", "stops_per_spacing"),
    ("pass_every", "pass_interval"),
    ("precision", "target_precision"),
    ("repeats", "repeat_stops"),
    ("seek", "search"),
    ("sets_a_day", "sets_per_day"),
    ("sinkage_allowance", "slip_and_sinkage"),
    ("spacings", "outlet_spacings"),
    ("trajectory", "trajectory_angle"),
    ("travels", "travels_per_turn"),
    ("worth_the_name", "worthwhile_gain"),
];

/// Words to choose from: old word, new word.
const WORDS: &[(&str, &str)] = &[
    ("aluminium", "aluminum"),
    ("ellipse", "elliptical"),
    ("parabola", "parabolic"),
    ("triangle", "triangular"),
];

/// Keys that stand in another section now, and what to do.
const MOVED: &[(&str, &str)] = &[(
    "flow_control",
    "It is a key of `sprinkler` now: \"flow_control\": { \"from\": \"45 psi\", \"to\": \"80 psi\" }.",
)];

/// What to do with a key that stands in another section now.
pub(crate) fn moved(key: &str) -> Option<&'static str> {
    MOVED.iter().find_map(|(moved, hint)| (*moved == key).then_some(*hint))
}

/// The new name of `old` among the keys that are `known` at its place.
pub(crate) fn key(old: &str, known: &[&'static str]) -> Option<&'static str> {
    find(KEYS, old, known)
}

/// The new spelling of `old` among the words to choose from.
pub(crate) fn word(old: &str, known: &[&'static str]) -> Option<&'static str> {
    find(WORDS, old, known)
}

fn find(table: &[(&str, &str)], old: &str, known: &[&'static str]) -> Option<&'static str> {
    let new = table.iter().find_map(|(before, now)| (*before == old).then_some(*now))?;
    known.iter().copied().find(|name| *name == new)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::helpers::{demo_with, only_problem};
    use serde_json::{Value, json};

    /// Every key and every word to choose from of the scenario file.
    fn names_of_the_file() -> Vec<String> {
        fn gather(node: &Value, names: &mut Vec<String>) {
            match node {
                Value::Object(object) => {
                    if let Some(Value::Object(keys)) = object.get("properties") {
                        names.extend(keys.keys().cloned());
                    }
                    let words = object.get("enum").and_then(Value::as_array);
                    names.extend(
                        words.into_iter().flatten().filter_map(Value::as_str).map(Into::into),
                    );
                    object.values().for_each(|inner| gather(inner, names));
                }
                Value::Array(items) => items.iter().for_each(|inner| gather(inner, names)),
                _ => {}
            }
        }
        let mut names = Vec::new();
        gather(&serde_json::from_str(&crate::schema()).unwrap(), &mut names);
        names
    }

    #[test]
    fn invariant_new_names_are_names_of_the_file_and_old_keys_are_not() {
        let names = names_of_the_file();
        for (_, new) in KEYS.iter().chain(WORDS) {
            assert!(names.iter().any(|name| name == new), "{new}");
        }
        // `precision` and others could come back as keys of another section, never of the same.
        for (old, _) in KEYS.iter().chain(WORDS) {
            assert!(!names.iter().any(|name| name == old), "{old} is a name of the file again");
        }
    }

    #[test]
    fn an_old_key_is_refused_with_the_new_one_as_the_hint() {
        for (section, old, new) in [
            ("season", "called_at", "irrigate_at_depletion"),
            ("worth", "worth_the_name", "worthwhile_gain"),
            ("crop", "depletion_fraction", "allowable_depletion"),
        ] {
            let text = demo_with(|demo| demo[section][old] = json!("5 %"));
            let (pointer, said) = only_problem(&text);
            assert_eq!(pointer, format!("/{section}/{old}"));
            assert!(said.contains(&format!("It is now called `{new}`.")), "{said}");
        }
    }

    #[test]
    fn an_old_word_is_refused_with_the_new_one_as_the_hint() {
        let (_, said) = only_problem(&demo_with(|demo| {
            demo["sprinkler"]["jets"] =
                json!([{ "shape": "triangle", "radius": "44 ft", "discharge": "5 gpm" }]);
        }));
        assert!(said.contains("It is now called \"triangular\"."), "{said}");
    }
}
