//! What must be known beside the water: crop, soil, climate, prices.

use super::precision::Precision;
use super::rain::Rain;
use crate::crop::Crop;
use crate::ensemble::StatisticsError;
use crate::evapotranspiration::ReferenceEt;
use crate::money::{Equipment, MoneyProblems, PerArea, Prices};
use crate::root_zone::inputs::WaterProblem;
use crate::season::{HoursLaid, SeasonError};
use crate::soil::Soil;
use crate::verdict::SensitivityError;
use crate::weather::daily::Gaps;
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
    pub et0: ReferenceEt,
    /// How much a day's evapotranspiration differs from its mean beside the wind's part, as a
    /// fraction (coefficient of variation); where the wind is drawn from a climate.
    pub et0_day_spread: f64,
    /// Rain.
    pub rain: Rain,
    /// Depletion at planting as a share of what the soil holds for the roots, 0–1.
    pub start_depletion: f64,
    /// The rate at which the soil takes water in without runoff, mm/h, where it is given.
    pub intake_rate_mm_h: Option<f64>,
}

/// Prices and what is asked of the statistics.
#[derive(Clone, Debug, PartialEq)]
pub struct Economics {
    /// Prices, those unknown left out.
    pub prices: Prices,
    /// What each alternative needs, in the scenario's order.
    pub equipment: Vec<Equipment>,
    /// Energy that a cubic meter of each alternative's water takes, kWh, where it is worked out of
    /// lift and pressure; the price of energy is then that of the baseline's cubic meter. Empty where
    /// the price is by volume.
    pub kwh_per_m3: Vec<f64>,
    /// Name of the prices' currency, such as "USD", where it was told.
    pub currency: Option<String>,
    /// Smallest net return a year that is worth the effort.
    pub worthwhile_gain: PerArea,
    /// Level of intervals, a fraction.
    pub confidence_level: f64,
    /// Seasons to run.
    pub seasons: usize,
    /// Number of the first of them, from 0.
    pub first_season: usize,
    /// Seasons that there are, where each is a year of a record.
    pub max_seasons: Option<usize>,
    /// Whether pattern, losses, soil and crop are drawn from their ranges, season by season.
    pub doubts: bool,
    /// How the water of every hour is laid.
    pub hours_laid: HoursLaid,
    /// A precision that is asked for; the seasons above are then its first stage.
    pub precision: Option<Precision>,
}

impl Economics {
    /// What alternative `index` needs.
    pub fn equipment_of(&self, index: usize) -> Equipment {
        self.equipment.get(index).cloned().unwrap_or_default()
    }

    /// Energy that a cubic meter of alternative `index` takes, as a share of the baseline's.
    pub fn energy_ratio(&self, index: usize) -> f64 {
        match (self.kwh_per_m3.get(index), self.kwh_per_m3.first()) {
            (Some(own), Some(other)) if *other > 0.0 => own / other,
            _ => 1.0,
        }
    }
}

/// Days of the crop of which a record says nothing.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{quantity} is missing on {gaps}")]
pub struct ClimateProblem {
    /// What is missing.
    pub quantity: &'static str,
    /// When.
    pub gaps: Gaps,
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
    /// Records of the climate have gaps on days of the crop; all of them.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Climate(Vec<ClimateProblem>),
    /// The record holds too few seasons for a spread.
    #[error(
        "the weather record holds {seasons} season(s), and whether it pays is told from two or more. Set \
         \"typical_year\": true in the record, so that its days stand for any year and seasons are drawn \
         from it, or give a record of more years"
    )]
    TooFewYears {
        /// How many it holds.
        seasons: usize,
    },
    /// A first season beyond the record.
    #[error(
        "the first season is number {first}, and the weather record holds {seasons} season(s). Set \
         \"typical_year\": true in the record to draw seasons from it, or begin earlier"
    )]
    BeyondRecord {
        /// The season to begin with, from 1.
        first: usize,
        /// How many it holds.
        seasons: usize,
    },
    /// A first season that would part two that share what is drawn.
    #[error(
        "the first season is number {first}. With doubts drawn it must be odd: seasons 1 and 2, 3 and 4 \
         … share a draw of pattern, losses, soil and crop. Begin at {}, or set \"doubts\": \"left out\"",
        first - 1
    )]
    PartsPair {
        /// The season to begin with, from 1.
        first: usize,
    },
    /// Prices or equipment make no sense; all problems.
    #[error(transparent)]
    Money(#[from] MoneyProblems),
    /// The statistics cannot be drawn (too few seasons, a level outside 0–1 …).
    #[error(transparent)]
    Statistics(#[from] StatisticsError),
    /// A range of prices makes no sense.
    #[error(transparent)]
    Sensitivity(#[from] SensitivityError),
}
