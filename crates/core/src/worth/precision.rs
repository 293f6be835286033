//! A precision that is asked for, and how far it has been reached.

use crate::money::PerArea;

/// A precision that is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precision {
    /// Half-width of the interval of the difference against the baseline.
    pub half_width: HalfWidth,
    /// Maximum seasons.
    pub most: usize,
}

/// What is to be known how well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HalfWidth {
    /// Net return a year.
    Net(PerArea),
    /// Yield, as a fraction of that without stress.
    Yield(f64),
}

impl HalfWidth {
    /// The number: currency a hectare, or a fraction.
    pub fn value(self) -> f64 {
        match self {
            Self::Net(net) => net.per_ha(),
            Self::Yield(value) => value,
        }
    }
}

/// How far a precision that was asked for has been reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// What was asked.
    pub asked: Precision,
    /// Seasons of the first stage.
    pub first: usize,
    /// Half-width of the widest two-stage interval, in the unit asked in.
    pub half_width: f64,
}

impl Reached {
    /// Whether it is as narrow as asked.
    pub fn is_reached(&self) -> bool {
        // The number of seasons was made for just this; rounding must not undo it.
        self.half_width <= self.asked.half_width.value() * (1.0 + 1e-12)
    }
}
