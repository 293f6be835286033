//! All yardsticks of all alternatives at once.

use super::air::AirMet;
use super::application::Application;
use super::capacity::Capacity;
use super::condition::{self, NozzleState};
use super::interval::Interval;
use super::peak::{PeakUse, peak_use};
use super::pressure::PressureSpread;
use super::root_zone::SetBesideRootZone;
use super::spacing::Spacing;
use super::span::SeasonSpan;
use super::yardstick::Yardstick;
use crate::model::{Alternative, Scenario};
use crate::root_zone::ground::Ground;
use crate::schedule::Plan;
use crate::season::SeasonError;
use crate::season::hours::SeasonHours;

/// What lies under the water, for the check of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanGround {
    /// Crop and soil, without anything drawn.
    pub ground: Ground,
    /// Name of the crop.
    pub crop_name: String,
    /// The soil's intake rate, mm/h, where it is given.
    pub intake_rate_mm_h: Option<f64>,
}

/// The plan of every alternative beside its yardsticks.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanCheck {
    /// In the scenario's order.
    pub alternatives: Vec<AlternativeCheck>,
    /// The crop's peak use; `None` without crop, soil and climate.
    pub peak: Option<PeakUse>,
    /// Name of the crop.
    pub crop_name: Option<String>,
    /// The plans that were checked.
    pub plans: Vec<Plan>,
    /// Passes wait until the crop calls for water.
    pub is_called: bool,
}

/// One alternative's plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AlternativeCheck {
    /// What the air does.
    pub air: AirMet,
    /// What a set puts on.
    pub application: Application,
    /// A set beside the root zone.
    pub root_zone: Option<SetBesideRootZone>,
    /// Application rate against the soil's intake, mm/h.
    pub intake: Option<Yardstick>,
    /// Days between irrigations.
    pub interval: Option<Interval>,
    /// Flow per area.
    pub capacity: Option<Capacity>,
    /// Spacing.
    pub spacing: Spacing,
    /// Pressure along the pipe, where one is described or pressures were read.
    pub pressure: Option<PressureSpread>,
    /// Wear of the nozzles, where anybody has looked.
    pub nozzles: Option<NozzleState>,
    /// Share of the flow that leaks, where anybody has looked.
    pub leaks: Option<Yardstick>,
    /// Crop days without water.
    pub span: Option<SeasonSpan>,
}

/// Checks `plans`, one for each alternative of `scenario`.
///
/// # Errors
/// Weather or pressures that cannot be had; a plan without sets.
pub fn check(
    scenario: &Scenario,
    plans: Vec<Plan>,
    ground: Option<&PlanGround>,
) -> Result<PlanCheck, SeasonError> {
    let hours = SeasonHours::of(scenario, &plans, 0)?;
    let peak = ground.and_then(|given| peak_use(&given.ground));
    let alternatives = scenario.alternatives.iter().zip(&plans);
    let alternatives = alternatives
        .map(|(alternative, plan)| one(alternative, plan, &hours, (ground, peak.as_ref())))
        .collect::<Result<_, _>>()?;
    Ok(PlanCheck {
        alternatives,
        peak,
        crop_name: ground.map(|given| given.crop_name.clone()),
        plans,
        is_called: scenario.called.is_some(),
    })
}

fn one(
    alternative: &Alternative,
    plan: &Plan,
    hours: &SeasonHours,
    (ground, peak): (Option<&PlanGround>, Option<&PeakUse>),
) -> Result<AlternativeCheck, SeasonError> {
    let air = AirMet::of(hours, plan).ok_or(SeasonError::NoAlternatives)?;
    let named = |problem| SeasonError::Pressure { alternative: alternative.name.clone(), problem };
    let pressures = alternative.pressures().map_err(named)?;
    let application = Application::of(alternative, pressures.as_ref(), plan, air.net_share)
        .ok_or(SeasonError::NoAlternatives)?;
    let interval = Interval::of(plan, peak);
    let capacity = interval.as_ref().map(|interval| {
        Capacity::of(alternative, plan, (&application, interval), (peak, air.net_share))
    });
    let intake = ground.and_then(|given| given.intake_rate_mm_h);
    Ok(AlternativeCheck {
        air,
        application,
        root_zone: peak.map(|peak| SetBesideRootZone::of(&application, peak, interval.as_ref())),
        intake: intake.map(|takes| Yardstick::at_most(application.rate_mm_h, takes)),
        interval,
        capacity,
        spacing: Spacing::of(alternative, air.wind_2_m_s),
        pressure: PressureSpread::of(alternative, pressures.as_ref()),
        nozzles: NozzleState::of(&alternative.condition),
        leaks: condition::leaks(&alternative.condition),
        span: ground.and_then(|given| SeasonSpan::of(plan, &given.ground)),
    })
}
