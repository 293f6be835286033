//! The date that results may tell: `SOURCE_DATE_EPOCH`, as those who build things again to the bit set it
//! (<https://reproducible-builds.org/specs/source-date-epoch/>). Without it results hold no date, so that the
//! same run gives the same bytes.

use crate::failure::Failure;
use jiff::Timestamp;
use std::env;

const NAME: &str = "SOURCE_DATE_EPOCH";

/// That date, ISO 8601 in UTC; none where it is not set.
pub(crate) fn made_at() -> Result<Option<String>, Failure> {
    match env::var_os(NAME) {
        None => Ok(None),
        Some(told) => read(&told.to_string_lossy()).map(Some),
    }
}

fn read(told: &str) -> Result<String, Failure> {
    let date = told.trim().parse().ok().and_then(|second| Timestamp::from_second(second).ok());
    date.map(|date| date.to_string()).ok_or_else(|| {
        Failure::Usage(format!(
            "the environment variable {NAME} is “{told}”. Expected whole seconds since the start of 1970, or \
             that it is not set"
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_seconds_are_a_date_and_anything_else_is_refused() {
        // 31 days of 86,400 s are the whole of January 1970.
        assert_eq!(read("2678400").unwrap(), "1970-02-01T00:00:00Z");
        for told in ["", "today", "1.5", "99999999999999999"] {
            assert!(matches!(read(told), Err(Failure::Usage(_))), "{told}");
        }
    }
}
