//! Every season a row: the figures of one alternative in one season, a column each, with unit and words.
//!
//! Tables of seasons (CSV, JSON, Parquet) are made of these columns and of no others; a new figure is
//! one row here. Numbers are whole, in SI and percent, not rounded.

use evenfall_core::seasons::SeasonFigures;
use evenfall_core::unevenness::{UnevenPart, UnevennessSplit};

/// A column.
#[derive(Clone, Copy, Debug)]
pub struct SeasonColumn {
    /// Its name, the unit last.
    pub key: &'static str,
    /// Symbol of the unit; `1` for a bare number.
    pub unit: &'static str,
    /// What it is, in a sentence.
    pub about: &'static str,
    of: fn(&SeasonFigures) -> Option<f64>,
}

impl SeasonColumn {
    /// The figure; `None` where there is none.
    pub fn value(&self, figures: &SeasonFigures) -> Option<f64> {
        (self.of)(figures).filter(|value| value.is_finite())
    }
}

/// Columns of one kind: key, unit, what it is, and where it comes from.
macro_rules! columns {
    ($($key:literal, $unit:literal, $about:literal, $of:expr;)+) => {
        /// All columns, in order.
        pub const SEASON_COLUMNS: &[SeasonColumn] =
            &[$(SeasonColumn { key: $key, unit: $unit, about: $about, of: $of }),+];
    };
}

columns! {
    "cu_percent", "%", "Christiansen's uniformity of the season's depth in the interior",
        |f| Some(100.0 * f.cu);
    "du_lq_percent", "%", "Low-quarter distribution uniformity of the same",
        |f| Some(100.0 * f.du_lq);
    "systematic_points", "points",
        "S: systematic unevenness, in points of CU of normal depths; 0 where its square is below 0",
        |f| part(f, |s| Some(100.0 * s.systematic.value()));
    "systematic_low_points", "points", "Lower end of the 90 % range of S",
        |f| part(f, |s| Some(100.0 * s.systematic.interval?.low));
    "systematic_high_points", "points", "Upper end of the 90 % range of S",
        |f| part(f, |s| Some(100.0 * s.systematic.interval?.high));
    "systematic_square_points2", "points²",
        "Square of S without bias, which may be below 0: take means over seasons of this",
        |f| part(f, |s| square(&s.systematic));
    "random_points", "points", "R: random (wind) unevenness of one pass, in points of CU of normal depths",
        |f| part(f, |s| Some(100.0 * s.random.value()));
    "random_low_points", "points", "Lower end of the 90 % range of R",
        |f| part(f, |s| Some(100.0 * s.random.interval?.low));
    "random_high_points", "points", "Upper end of the 90 % range of R",
        |f| part(f, |s| Some(100.0 * s.random.interval?.high));
    "random_square_points2", "points²", "Square of R: take means over seasons of this",
        |f| part(f, |s| square(&s.random));
    "yield_percent", "%", "Yield, of that without stress, mean of the field",
        |f| Some(100.0 * f.yield_fraction);
    "yield_worst_tenth_percent", "%", "The same of the tenth of the field with the least",
        |f| Some(100.0 * f.yield_worst_tenth);
    "yield_interior_percent", "%", "Yield, mean of the interior",
        |f| Some(100.0 * f.yield_interior);
    "yield_interior_worst_tenth_percent", "%", "The same of the interior's worst tenth",
        |f| Some(100.0 * f.yield_interior_worst_tenth);
    "yield_promised_percent", "%", "Yield of the interior that the season's depth map alone would promise",
        |f| Some(100.0 * f.yield_promised);
    "passes", "1", "Passes that ran", |f| Some(f64::from(f.passes));
    "moves", "1", "Sets that ran, each a move of the lateral", |f| Some(f64::from(f.moves));
    "dry_way_h", "h", "Time in which the lateral was moved without water beyond the usual moves",
        |f| Some(f.dry_way_h);
    "gross_mm", "mm", "Water that left the nozzles, over the field", |f| Some(f.gross_mm);
    "leaked_mm", "mm", "Water pumped beside that and leaked before a nozzle", |f| Some(f.leaked_mm);
    "losses_mm", "mm", "Wind drift and evaporation", |f| Some(f.losses_mm);
    "off_field_mm", "mm", "Water that fell off the field", |f| Some(f.off_field_mm);
    "irrigation_mm", "mm", "Net irrigation that reached the field", |f| Some(f.irrigation_mm);
    "rain_mm", "mm", "Rain on the crop's days", |f| Some(f.rain_mm);
    "rooted_mm", "mm", "Water gained by roots that reached new soil", |f| Some(f.rooted_mm);
    "crop_use_mm", "mm", "Water that the crop used", |f| Some(f.crop_use_mm);
    "percolation_mm", "mm", "Water lost below the roots", |f| Some(f.percolation_mm);
    "storage_rise_mm", "mm", "Rise of the water that roots can draw on", |f| Some(f.storage_rise_mm);
    "idle_mm", "mm", "Net irrigation on days without a crop", |f| Some(f.idle_mm);
    "imbalance_mm", "mm", "What the water balance does not account for: round-off",
        |f| Some(f.imbalance_mm());
}

fn part(f: &SeasonFigures, of: impl Fn(&UnevennessSplit) -> Option<f64>) -> Option<f64> {
    f.split.as_ref().and_then(of)
}

#[expect(clippy::unnecessary_wraps, reason = "as the other columns of a part")]
fn square(part: &UnevenPart) -> Option<f64> {
    Some(10_000.0 * part.square)
}

/// Commit that the program was built from, where the build was told (`EVENFALL_COMMIT`), else empty:
/// asked for by itself it would make two builds of the same files differ.
pub const COMMIT: &str = match option_env!("EVENFALL_COMMIT") {
    Some(commit) => commit,
    None => "",
};

/// Where the rows of a table of seasons come from: the same in all of its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowOrigin {
    /// Seed of the weather.
    pub seed: u64,
    /// Digest of the scenario, the seed in it.
    pub scenario_sha256: String,
    /// Version of the program.
    pub version: String,
    /// Commit that it was built from; empty where that was not told to the build.
    pub commit: String,
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn closed_every_column_has_a_name_of_its_own_with_its_unit_last() {
        let keys: BTreeSet<&str> = SEASON_COLUMNS.iter().map(|column| column.key).collect();
        assert_eq!(keys.len(), SEASON_COLUMNS.len());
        for column in SEASON_COLUMNS {
            let ending = match column.unit {
                "%" => "_percent",
                "points" => "_points",
                "points²" => "_points2",
                "mm" => "_mm",
                "h" => "_h",
                unit => {
                    assert_eq!(unit, "1", "{}", column.key);
                    ""
                }
            };
            assert!(column.key.ends_with(ending), "{}", column.key);
            assert!(!column.about.ends_with('.'), "{}", column.key);
        }
    }
}
