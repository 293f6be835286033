//! How much of the footprint made at each node of pressure every sprinkler of a lateral lays.

use crate::lateral::hydraulics::{Blend, PressureLine};
use crate::model::Alternative;

/// Per node of pressure, per sprinkler: its share of that footprint in the blend, times its own
/// discharge over the stated one. `None` where all sprinklers lay the same. Exact: a footprint is
/// scaled, so what lies on the ground is what left the nozzles.
pub(super) fn portions(
    alternative: &Alternative,
    pressures: Option<&PressureLine>,
) -> Option<Vec<Vec<f64>>> {
    let factors = alternative.factors();
    let Some(line) = pressures else { return factors.map(|factors| vec![factors]) };
    let mut portions = Blend::of(line).portions;
    for node in &mut portions {
        for (portion, factor) in node.iter_mut().zip(factors.iter().flatten()) {
            *portion *= factor;
        }
    }
    Some(portions)
}
