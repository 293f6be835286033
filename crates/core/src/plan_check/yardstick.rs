//! A number of the plan beside what it must keep to.

/// On which side of its limit a number must stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// No more than the limit.
    AtMost,
    /// No less than the limit.
    AtLeast,
}

/// A number and its limit, in the same unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Yardstick {
    /// What the plan has.
    pub value: f64,
    /// What it must keep to.
    pub limit: f64,
    /// On which side.
    pub side: Side,
}

/// Share of the limit that round-off may miss it by: 23.5 h that come out as 23.500000000001 h keep to
/// 23.5 h.
const ROUND_OFF: f64 = 1e-9;

impl Yardstick {
    /// At most the limit.
    pub fn at_most(value: f64, limit: f64) -> Self {
        Self { value, limit, side: Side::AtMost }
    }

    /// At least the limit.
    pub fn at_least(value: f64, limit: f64) -> Self {
        Self { value, limit, side: Side::AtLeast }
    }

    /// Whether the number keeps to its limit, which is allowed itself; never where it is no number.
    pub fn is_within(&self) -> bool {
        let slack = ROUND_OFF * self.limit.abs();
        match self.side {
            Side::AtMost => self.value <= self.limit + slack,
            Side::AtLeast => self.value >= self.limit - slack,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_the_limit_itself_is_allowed_and_no_number_never_is() {
        assert!(Yardstick::at_most(2.0, 2.0).is_within());
        assert!(Yardstick::at_most(2.0 + 1e-12, 2.0).is_within());
        assert!(!Yardstick::at_most(2.001, 2.0).is_within());
        assert!(Yardstick::at_least(2.0 - 1e-12, 2.0).is_within());
        // 1.97 beside a threshold of 2.00 does not reach it.
        assert!(!Yardstick::at_least(1.97, 2.0).is_within());
        assert!(!Yardstick::at_most(f64::NAN, 2.0).is_within());
        assert!(!Yardstick::at_least(2.0, f64::NAN).is_within());
    }
}
