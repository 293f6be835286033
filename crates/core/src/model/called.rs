//! Passes that wait until the crop calls for water: by which rule, and on what ground.

use crate::root_zone::ground::Ground;

/// How passes are called, and the ground that calls.
#[derive(Clone, Debug, PartialEq)]
pub struct Called {
    /// Depletion of the mean root zone that calls, as a share of RAW.
    pub share_of_raw: f64,
    /// From the start of one pass to the next at the least, h.
    pub least_every_h: f64,
    /// Crop and soil of the field.
    pub ground: Ground,
}
