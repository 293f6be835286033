//! Which share of the blocks this run does, told by numbers or by environment variables.

use crate::failure::Failure;
use evenfall_study::Shard;

/// Reads `K/N` where the first share is numbered `lowest`.
pub(super) fn shard(
    text: &str,
    lowest: &str,
    variable: &dyn Fn(&str) -> Option<String>,
) -> Result<Shard, Failure> {
    let usage = |why: String| Failure::Usage(why);
    let (which, count) = text.split_once('/').ok_or_else(|| {
        usage(format!("--shard: “{text}” is no share. Expected K/N, such as 3/40"))
    })?;
    let which = number("--shard", which, variable).map_err(usage)?;
    let count = number("--shard", count, variable).map_err(usage)?;
    let lowest = number("--lowest", lowest, variable).map_err(usage)?;
    if count == 0 || which < lowest || which - lowest >= count {
        let last = lowest + count.max(1) - 1;
        return Err(usage(format!(
            "--shard: share {which} of {count} is none. Expected {lowest} to {last}; --lowest says what \
             the first one is numbered"
        )));
    }
    Ok(Shard { number: which - lowest + 1, count })
}

fn number(
    option: &str,
    word: &str,
    variable: &dyn Fn(&str) -> Option<String>,
) -> Result<usize, String> {
    let word = word.trim();
    if let Ok(number) = word.parse() {
        return Ok(number);
    }
    let Some(value) = variable(word) else {
        return Err(format!(
            "{option}: “{word}” is neither a number nor an environment variable that is set here"
        ));
    };
    value.trim().parse().map_err(|_| {
        format!("{option}: the environment variable {word} is “{value}”. Expected a number")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_shares_are_numbers_or_variables() {
        let set = |name: &str| match name {
            "TASK" => Some("0".to_owned()),
            "TASKS" => Some("40".to_owned()),
            "ODD" => Some("x".to_owned()),
            _ => None,
        };
        let read = |text: &str, lowest: &str| shard(text, lowest, &set);
        assert_eq!(read("3/40", "1").unwrap(), Shard { number: 3, count: 40 });
        assert_eq!(read("TASK/TASKS", "TASK").unwrap(), Shard { number: 1, count: 40 });
        for (text, lowest) in [
            ("3", "1"),
            ("0/4", "1"),
            ("5/4", "1"),
            ("4/4", "0"),
            ("NO/4", "1"),
            ("ODD/4", "1"),
            ("1/0", "1"),
        ] {
            assert!(matches!(read(text, lowest), Err(Failure::Usage(_))), "{text}");
        }
    }
}
