//! Amounts of money that cannot be mixed up: for the whole field, and by area.
//!
//! An amount by area becomes one for the field, or the other way round, only over an [`Area`], which
//! a field alone can make: that inside its boundary. Prices are neither; see [`super::Price`].

use crate::model::Area;
use std::iter::Sum;
use std::ops::{Add, Div, Mul};

/// Money for the whole field, in the currency of the prices.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct FieldTotal(f64);

/// Money by area, in the currency of the prices.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct PerArea {
    per_ha: f64,
}

impl FieldTotal {
    /// So many pieces, hours, tonnes … at `price` each.
    pub(super) fn at(price: f64, quantity: f64) -> Self {
        Self(price * quantity)
    }

    pub(super) fn of(currency: f64) -> Self {
        Self(currency)
    }

    /// In the currency of the prices.
    pub fn currency(self) -> f64 {
        self.0
    }
}

impl PerArea {
    /// So much a hectare.
    pub fn of_ha(per_ha: f64) -> Self {
        Self { per_ha }
    }

    /// Currency a hectare.
    pub fn per_ha(self) -> f64 {
        self.per_ha
    }
}

impl Add for FieldTotal {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sum for FieldTotal {
    fn sum<I: Iterator<Item = Self>>(each: I) -> Self {
        each.fold(Self(0.0), Add::add)
    }
}

impl Div<Area> for FieldTotal {
    type Output = PerArea;
    fn div(self, area: Area) -> PerArea {
        PerArea { per_ha: self.0 / area.ha() }
    }
}

impl Mul<Area> for PerArea {
    type Output = FieldTotal;
    fn mul(self, area: Area) -> FieldTotal {
        FieldTotal(self.per_ha * area.ha())
    }
}
