//! What was found in the tests of a run, and words for it that text, page and pictures share.

use evenfall_core::catch::calibrate::Calibrated;
use evenfall_core::catch::compare::Comparison;
use evenfall_core::catch::confidence::Limits;
use evenfall_core::catch::fit::Fit;
use evenfall_core::catch::judge::Judgment;
use evenfall_core::catch::outliers::Outlier;
use evenfall_core::catch::overlap::Overlapped;
use evenfall_core::catch::procedure::Requirement;
use evenfall_core::catch::volume::VolumeCheck;
use evenfall_core::catch::{CatchTest, Kind};
use evenfall_view::units::{COMPASS, Quantity, UnitSystem, number};

/// What was found in one test.
#[derive(Clone, Debug)]
pub struct CatchEntry {
    /// Name of its file.
    pub file: String,
    /// The test.
    pub test: CatchTest,
    /// CU and DUlq; tests under laterals only.
    pub limits: Option<Limits>,
    /// Cans to look at.
    pub outliers: Vec<Outlier>,
    /// The procedure's requirements.
    pub requirements: Vec<Requirement>,
    /// Caught against delivered.
    pub volume: Option<VolumeCheck>,
    /// Overlaps, in the order asked for.
    pub overlaps: Vec<CatchOverlap>,
    /// Leg and K1.
    pub fit: Option<Fit>,
    /// Against the simulated pass.
    pub comparison: Option<Comparison>,
    /// Whether the model passes this test.
    pub judgment: Option<Judgment>,
    /// What was taken for granted, could not be done, or has to be known, in plain words.
    pub notes: Vec<String>,
}

/// One overlap of a test.
#[derive(Clone, Debug)]
pub struct CatchOverlap {
    /// Which, in words: spacings and stops.
    pub words: String,
    /// Its figures and depths.
    pub overlapped: Overlapped,
}

/// All tests of a run.
#[derive(Clone, Debug)]
pub struct CatchBook {
    /// The tests.
    pub entries: Vec<CatchEntry>,
    /// Units to show.
    pub units: UnitSystem,
    /// Level of the limits, fraction.
    pub level: f64,
    /// What the tests leave of the doubts about the sprinkler, if that was asked for.
    pub calibration: Option<CatchCalibration>,
    /// The command that gives this again.
    pub command: String,
    /// Version of the program.
    pub version: String,
}

/// What tests leave of the doubts about a sprinkler.
#[derive(Clone, Debug)]
pub struct CatchCalibration {
    /// What was found.
    pub found: Calibrated,
    /// Alternative whose sprinkler it is.
    pub alternative: String,
    /// Per test, whether the model passes with the point used; `None` where that cannot be judged.
    pub judged: Vec<Option<Judgment>>,
    /// The scenario that was written.
    pub saved: Option<String>,
}

/// "laterals", "one sprinkler", "leg".
pub(super) fn kind_word(kind: &Kind) -> &'static str {
    match kind {
        Kind::Lines(_) => "laterals",
        Kind::Single { .. } => "one sprinkler",
        Kind::Leg => "leg",
    }
}

/// "3.2 m/s from W", "calm", or "not noted".
pub(super) fn wind_words(test: &CatchTest, units: UnitSystem) -> String {
    match test.mean_wind() {
        None => "not noted".to_owned(),
        Some((speed, _)) if speed < 0.05 => "calm".to_owned(),
        Some((speed, from_deg)) => {
            let sector = ((from_deg / 22.5).round() as usize) % 16;
            format!("{} from {}", units.text(Quantity::Speed, speed, 1), COMPASS[sector])
        }
    }
}

/// A depth in the shown unit, without it.
pub(super) fn depth(units: UnitSystem, depth_mm: f64) -> String {
    number(units.shown(Quantity::Depth, depth_mm), units.depth_decimals() + 1)
}

/// A rate with its unit.
pub(super) fn rate_symbol(units: UnitSystem) -> String {
    format!("{}/h", units.symbol(Quantity::Depth))
}
