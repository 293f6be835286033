//! What must be known beside the water: crop, soil, climate, prices.

use crate::crop::Crop;
use crate::ensemble::StatisticsError;
use crate::money::{Item, MoneyProblems, Outfit, Prices};
use crate::root_zone::inputs::{SeasonInputs, WaterProblem};
use crate::root_zone::season::SeasonWater;
use crate::season::SeasonError;
use crate::seasons::Ground;
use crate::soil::Soil;
use crate::verdict::SensitivityError;
use jiff::ToSpan;
use jiff::civil::Date;

/// Crop, soil and climate of the field.
#[derive(Clone, Debug, PartialEq)]
pub struct Agronomy {
    /// The crop.
    pub crop: Crop,
    /// Its name, for the report.
    pub crop_name: String,
    /// The soil.
    pub soil: Soil,
    /// Day of planting (or of the start of growth).
    pub planted: Date,
    /// Reference evapotranspiration.
    pub et0: Et0,
    /// Days with rain; none for a dry season.
    pub rain: Vec<RainDay>,
    /// Depletion at planting as a share of what the soil holds for the roots, 0–1.
    pub start_depletion: f64,
}

/// Where the reference evapotranspiration comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Et0 {
    /// The same every day, mm a day.
    Constant(f64),
    /// By month, January first, mm a day.
    Monthly([f64; 12]),
}

/// Rain on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RainDay {
    /// The day.
    pub date: Date,
    /// Depth, mm.
    pub depth_mm: f64,
}

/// Prices and what is asked of the statistics.
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    /// Prices, those unknown left out.
    pub prices: Prices,
    /// What each alternative needs, in the scenario's order.
    pub outfits: Vec<Outfit>,
    /// Plausible ranges of prices, low and high; where there is none, ± [`Terms::DEFAULT_SWING`].
    pub ranges: Vec<(Item, f64, f64)>,
    /// Net return a hectare and year that is worth the name, currency.
    pub worth_the_name_per_ha: f64,
    /// Level of intervals, a fraction.
    pub level: f64,
    /// Seasons to run.
    pub seasons: usize,
}

impl Terms {
    /// Half-width of a price's range where the scenario gives none: ± 30 % (judgement).
    pub const DEFAULT_SWING: f64 = 0.3;
}

/// Why the worth cannot be told.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum WorthError {
    /// The season of water cannot be computed.
    #[error(transparent)]
    Season(#[from] SeasonError),
    /// Crop, soil or climate make no sense; all problems.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Water(Vec<WaterProblem>),
    /// Prices or outfits make no sense; all problems.
    #[error(transparent)]
    Money(#[from] MoneyProblems),
    /// The statistics cannot be drawn (too few seasons, a level outside 0–1 …).
    #[error(transparent)]
    Statistics(#[from] StatisticsError),
    /// A range of prices makes no sense.
    #[error(transparent)]
    Sensitivity(#[from] SensitivityError),
}

impl Agronomy {
    /// The ground for seasons whose first set starts on `first_set`.
    ///
    /// # Errors
    /// Everything that is wrong with crop, soil or climate.
    pub fn ground(&self, first_set: Date) -> Result<Ground, WorthError> {
        let days = self.crop.season_days();
        let dates: Vec<Date> =
            (0..days).map(|day| self.planted.saturating_add((day as i64).days())).collect();
        let et0_mm: Vec<f64> = dates.iter().map(|date| self.et0.on(*date)).collect();
        let rain_on = |date: &Date| -> f64 {
            self.rain.iter().filter(|rain| rain.date == *date).map(|rain| rain.depth_mm).sum()
        };
        let rain_mm: Vec<f64> = dates.iter().map(rain_on).collect();
        let season = SeasonWater::prepare(&SeasonInputs {
            crop: &self.crop,
            soil: &self.soil,
            et0_mm: &et0_mm,
            rain_mm: &rain_mm,
            start_depletion: self.start_depletion,
        })
        .map_err(WorthError::Water)?;
        let first_day = self.planted.duration_since(first_set).as_hours() / 24;
        Ok(Ground {
            first_day,
            depletion_mm: season.at_planting().depletion_mm,
            days: vec![season.days().to_vec()],
            ky: self.crop.yield_response,
        })
    }
}

impl Et0 {
    /// Reference evapotranspiration on `date`, mm.
    pub fn on(&self, date: Date) -> f64 {
        match self {
            Self::Constant(mm) => *mm,
            Self::Monthly(mm) => mm[usize::from(date.month().unsigned_abs()) - 1],
        }
    }
}
