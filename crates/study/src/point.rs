//! A point: the base scenario with every factor set.

use serde_json::Value;

/// `base` with `pointer` set to `value`; the last key may be new, the way to it must be there.
///
/// # Errors
/// How far the way goes.
pub(crate) fn set(base: &mut Value, pointer: &str, value: Value) -> Result<(), String> {
    let (way, last) = pointer.rsplit_once('/').unwrap_or(("", pointer));
    let last = last.replace("~1", "/").replace("~0", "~");
    let parent = base.pointer_mut(way);
    match parent {
        Some(Value::Object(object)) => {
            object.insert(last, value);
            Ok(())
        }
        Some(Value::Array(list)) => {
            match last.parse::<usize>().ok().and_then(|at| list.get_mut(at)) {
                Some(place) => {
                    *place = value;
                    Ok(())
                }
                None => Err(format!("{way} is a list of {} items", list.len())),
            }
        }
        Some(_) => Err(format!("{way} holds no keys")),
        None => Err(format!("the base scenario has no {way}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn closed_a_key_is_set_where_its_way_is_there() {
        let mut base = json!({"a": {"b": 1}, "list": [{"c": 2}]});
        set(&mut base, "/a/b", json!(5)).unwrap();
        set(&mut base, "/a/new", json!("x")).unwrap();
        set(&mut base, "/list/0/c", json!(3)).unwrap();
        assert_eq!(base, json!({"a": {"b": 5, "new": "x"}, "list": [{"c": 3}]}));
        assert!(set(&mut base, "/z/b", json!(1)).unwrap_err().contains("no /z"));
        assert!(set(&mut base, "/list/4", json!(1)).unwrap_err().contains("1 items"));
        assert!(set(&mut base, "/a/b/c", json!(1)).unwrap_err().contains("no keys"));
    }
}
