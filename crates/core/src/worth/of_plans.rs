//! What a season came to in yield and money beside its plan: the scenario's own season, everything
//! taken as it stands, once along each plan.
//!
//! Only differences that the plans make are counted: yield by the daily water balance, water and
//! energy pumped, labor of the sets that ran. Nothing is bought between the two, so equipment is
//! none.

use super::against::season_use;
use super::inputs::{Agronomy, Economics, WorthError};
use crate::model::Scenario;
use crate::money::{Balance, Equipment, Ledger};
use crate::schedule::Plan;
use crate::season::SeasonError;
use crate::seasons::{self, SeasonFigures};

/// Yield of a season beside its plan.
#[derive(Clone, Copy, Debug)]
pub struct CropBeside {
    /// As planned.
    pub planned: SeasonFigures,
    /// As it was.
    pub real: SeasonFigures,
    /// Gain over the plan; `None` where the price of the crop or its full yield is missing, or that of
    /// anything in which the two differ.
    pub balance: Option<Balance>,
}

/// The season of `scenario` along `plans`, one an alternative: that at the first of `places` as it was
/// planned, at the second as it was.
///
/// # Errors
/// What the scenario asks for cannot be computed, or prices make no sense.
pub fn crop_beside(
    scenario: &Scenario,
    (agronomy, economics): (&Agronomy, &Economics),
    plans: Vec<Plan>,
    places: [usize; 2],
) -> Result<CropBeside, WorthError> {
    let first = plans.first().ok_or(SeasonError::NoAlternatives)?;
    let ground = agronomy.ground(first.midnight.date(), 1, Some(scenario.drawn_weather()))?;
    let figures = seasons::run_plans(scenario, &ground, plans)?;
    let of = |place: usize| figures.get(place).copied().ok_or(SeasonError::NoAlternatives);
    let (planned, real) = (of(places[0])?, of(places[1])?);
    let own = economics.equipment.get(places[0]).cloned().unwrap_or_default();
    let own = Equipment { is_reach_open: false, ..own };
    let ledger = Ledger::new(&economics.prices, scenario.field.area(), own.clone(), own)?;
    let uses = [season_use(&real), season_use(&planned)];
    let is_known =
        ledger.missing(&[uses]).is_empty() && economics.prices.missing_value().is_empty();
    let balance = is_known.then(|| ledger.season(&uses[0], &uses[1])).transpose()?;
    Ok(CropBeside { planned, real, balance })
}
