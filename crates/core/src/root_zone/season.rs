//! The days of a crop season: what all cells share (need, rain, TAW, RAW by day).
//!
//! Cells are run through them by [`crate::seasons`]; a plain way to the same, cell by cell, is the
//! tests' baseline.
//!
//! Equations and what they neglect: [`super`] and [`super::yields`].

use super::inputs::{SeasonInputs, WaterProblem};
use super::{CropDay, RootZone};

/// A crop season, ready to be run for any irrigation.
#[derive(Clone, Debug, PartialEq)]
pub struct SeasonWater {
    days: Vec<CropDay>,
    start_mm: f64,
}

impl SeasonWater {
    /// Prepares the days of a season.
    ///
    /// # Errors
    /// Everything that is wrong with the inputs, at once.
    pub(crate) fn prepare(inputs: &SeasonInputs<'_>) -> Result<Self, Vec<WaterProblem>> {
        let problems = inputs.problems();
        if !problems.is_empty() {
            return Err(problems);
        }
        let SeasonInputs { crop, soil, et0_mm, rain_mm, start_depletion } = *inputs;
        let taw_on = |day: usize| soil.taw_mm(crop.root_depth_m(day));
        let mut days = Vec::with_capacity(et0_mm.len());
        for (i, (et0_mm, &rain_mm)) in et0_mm.iter().zip(rain_mm).enumerate() {
            let day = i + 1;
            let etc_mm = crop.kc_on(day).unwrap_or(0.0) * et0_mm;
            let before_mm = taw_on(day.saturating_sub(1).max(1));
            days.push(CropDay::new(
                etc_mm,
                rain_mm,
                crop.depletion_fraction,
                taw_on(day),
                before_mm,
            ));
        }
        Ok(Self { days, start_mm: start_depletion * taw_on(1) })
    }

    /// The days, from planting on.
    pub fn days(&self) -> &[CropDay] {
        &self.days
    }

    /// A root zone as it is at planting.
    pub(crate) fn at_planting(&self) -> RootZone {
        RootZone { depletion_mm: self.start_mm }
    }
}

#[cfg(test)]
#[path = "season_tests.rs"]
mod tests;
