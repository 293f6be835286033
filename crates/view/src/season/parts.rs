//! Parts of a season: grid, wind, stops, times, day and night, split, water, pressure, rules.

use crate::units::{Quantity, UnitSystem, number};
use crate::value::{Amount, Interval};
use evenfall_core::compare::RuleOfThumb;
use evenfall_core::lateral::hydraulics::PressureLine;
use evenfall_core::model::Field;
use evenfall_core::schedule::{DayNight as Found, PassPlan};
use evenfall_core::season::{Outcome, WaterBalance, WindSummary};
use evenfall_core::unevenness::{UnevenPart, UnevennessSplit};
use jiff::civil::DateTime;
use serde::{Serialize, Serializer};
use utoipa::ToSchema;

/// Cells, and the parts of the field that figures are taken over.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct SeasonGrid {
    /// Cells along the pipe.
    pub cells_along: usize,
    /// Cells across the field.
    pub cells_across: usize,
    /// Side of a cell.
    pub cell: Amount,
    /// What the interior leaves out along each edge.
    pub interior_margin: Amount,
    /// How deep the edge strips are.
    pub edge_strip: Amount,
    /// Direction of travel, degrees clockwise from north.
    pub travel_bearing_deg: f64,
    /// Area of the field, m².
    pub field_m2: f64,
    /// Rings of the field's boundary, m; `null` for the whole rectangle.
    pub boundary_m: Option<Vec<Vec<[f64; 2]>>>,
}

impl SeasonGrid {
    pub(super) fn new(field: &Field, outcome: &Outcome, units: UnitSystem) -> Self {
        Self {
            cells_along: outcome.grid.cells_along,
            cells_across: outcome.grid.cells_across,
            cell: Amount::length(units, outcome.grid.cell_m),
            interior_margin: Amount::length(units, outcome.interior_margin_m),
            edge_strip: Amount::length(units, outcome.edge_strip_m),
            travel_bearing_deg: field.travel_bearing_deg,
            field_m2: field.area().m2(),
            boundary_m: field.boundary.as_ref().map(|boundary| boundary.rings().to_vec()),
        }
    }
}

/// The wind while water ran, at measuring height.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Wind {
    /// Mean by day.
    pub day_mean: Amount,
    /// Mean by night.
    pub night_mean: Amount,
    /// Highest hourly speed.
    pub highest: Amount,
    /// Measuring height.
    pub measured_at: Amount,
    /// Share of calm hours.
    pub calm: Amount,
    /// Shares by where it blew from, north first, clockwise.
    pub rose: Vec<Amount>,
}

impl Wind {
    pub(super) fn new(found: &WindSummary, units: UnitSystem) -> Self {
        let speed = |m_s: f64| Amount::quantity(units, Quantity::Speed, m_s, 1);
        Self {
            day_mean: speed(found.day_mean_m_s),
            night_mean: speed(found.night_mean_m_s),
            highest: speed(found.highest_m_s),
            measured_at: Amount::length(units, found.measured_at_m),
            calm: Amount::percent(found.calm_share, 0),
            rose: found.rose.iter().map(|share| Amount::percent(*share, 0)).collect(),
        }
    }
}

/// A stop of a rotation.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Stop {
    /// Its letter.
    pub letter: char,
    /// Shift from the outlet in the direction of travel.
    pub shift_across: Amount,
    /// Shift along the pipe.
    pub shift_along: Amount,
}

impl Stop {
    pub(super) fn new(pass: &PassPlan, units: UnitSystem) -> Self {
        Self {
            letter: pass.letter,
            shift_across: Amount::length(units, pass.shift.across_m),
            shift_along: Amount::length(units, pass.shift.along_m),
        }
    }
}

/// A time of day on a date, as the field's clock shows it; ISO 8601 when serialized.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ToSchema)]
#[schema(value_type = String)]
pub struct Time(pub DateTime);

impl Time {
    /// "2026-06-01T05:30".
    pub fn iso(&self) -> String {
        self.0.strftime("%Y-%m-%dT%H:%M").to_string()
    }

    /// "01 Jun 05:30".
    pub fn text(&self) -> String {
        self.0.strftime("%d\u{a0}%b\u{a0}%H:%M").to_string()
    }
}

impl Serialize for Time {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.iso())
    }
}

/// How the sets fell by day and night.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct DayNight {
    /// Share of the set hours by day.
    pub day: Amount,
    /// Places that always met the same half of the day.
    pub locked_places: usize,
    /// All places.
    pub places: usize,
    /// Whether that is so of every place.
    pub clock_locked: bool,
}

impl DayNight {
    pub(super) fn new(found: &Found) -> Self {
        Self {
            day: Amount::percent(found.day_share, 0),
            locked_places: found.locked_places,
            places: found.places,
            clock_locked: found.is_locked(),
        }
    }
}

/// The unevenness in its two parts.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Split {
    /// S: what comes back at the same places.
    pub systematic: Amount,
    /// Its likely range; `null` with fewer than three whole cycles.
    pub systematic_range: Option<Interval>,
    /// R: the wind's part in one pass.
    pub random: Amount,
    /// Its likely range.
    pub random_range: Option<Interval>,
    /// How far CU at whole cycles lies from what the split gives; `null` over many seasons.
    pub residual: Option<Amount>,
    /// Whole cycles that it was told from.
    pub cycles: usize,
}

impl Split {
    /// The split `found`, and how far it misses CU, where that is known.
    pub fn new(found: &UnevennessSplit, miss: Option<f64>) -> Self {
        let range = |part: &UnevenPart| {
            part.interval.map(|interval| {
                let (low, high) = (in_points(interval.low, 1), in_points(interval.high, 1));
                let text = format!("{} to {}", low.text, high.text);
                Interval { low, high, text }
            })
        };
        Self {
            systematic: in_points(found.systematic.value(), 1),
            systematic_range: range(&found.systematic),
            random: in_points(found.random.value(), 1),
            random_range: range(&found.random),
            residual: miss.map(|miss| in_points(miss, 2)),
            cycles: found.cycles,
        }
    }

    /// S and R with their ranges, as people read them: "12.3 (11.0 to 13.5)".
    pub fn texts(&self) -> [String; 2] {
        let both = [(&self.systematic, &self.systematic_range), (&self.random, &self.random_range)];
        both.map(|(part, range)| match range {
            Some(range) => format!("{} ({})", part.text, range.text),
            None => part.text.clone(),
        })
    }
}

/// A fraction in points, without a sign.
fn in_points(fraction: f64, decimals: usize) -> Amount {
    Amount::new(100.0 * fraction, "points", number(100.0 * fraction, decimals))
}

/// Where the water went.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Water {
    /// Left the nozzles.
    pub gross: Amount,
    /// Fell on the field.
    pub on_field: Amount,
    /// Fell off the field.
    pub off_field: Amount,
    /// Wind drift and evaporation.
    pub losses: Amount,
    /// Pumped beside that and leaked before it reached a nozzle; absent where nothing leaks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaked: Option<Amount>,
    /// What the parts do not account for, as a fraction of the whole.
    #[serde(skip)]
    pub imbalance: f64,
}

impl Water {
    /// The balance `found`, shown in `units`.
    pub fn new(found: &WaterBalance, units: UnitSystem) -> Self {
        let volume = |m3: f64| Amount::quantity(units, Quantity::Volume, m3, 1);
        Self {
            gross: volume(found.gross_m3),
            on_field: volume(found.on_field_m3),
            off_field: volume(found.off_field_m3),
            losses: volume(found.losses_m3),
            leaked: (found.leaked_m3 > 0.0).then(|| volume(found.leaked_m3)),
            imbalance: found.imbalance().abs(),
        }
    }
}

/// A rule of thumb beside the simulation.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Rule {
    /// What it says, in a few words.
    pub rule: &'static str,
    /// Its source.
    pub source: &'static str,
    /// What it predicts.
    pub predicted: Amount,
    /// What was simulated.
    pub simulated: Amount,
}

impl Rule {
    pub(super) fn new(found: &RuleOfThumb) -> Self {
        Self {
            rule: found.rule,
            source: found.source,
            predicted: Amount::percent(found.predicted, 1),
            simulated: Amount::percent(found.simulated, 1),
        }
    }
}

/// Pressure along a lateral, for other programs: SI units.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Pressure {
    inlet_kpa: f64,
    /// Leaks included.
    inlet_l_s: f64,
    lowest_nozzle_kpa: f64,
    highest_nozzle_kpa: f64,
    mean_nozzle_kpa: f64,
    /// Highest less lowest, percent of the stated pressure.
    variation_percent_of_stated: f64,
    keeps_20_percent_rule: bool,
    /// Friction to the two ends.
    friction_kpa: [f64; 2],
    fastest_m_s: f64,
    sprinklers: Vec<SprinklerPressure>,
}

/// Pressure at a sprinkler.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, ToSchema)]
pub(super) struct SprinklerPressure {
    place_m: f64,
    nozzle_kpa: f64,
    discharge_l_s: f64,
}

impl Pressure {
    pub(super) fn new(line: &PressureLine) -> Self {
        let sprinklers = line.outlets.iter().map(|outlet| SprinklerPressure {
            place_m: outlet.place_m,
            nozzle_kpa: outlet.nozzle_kpa,
            discharge_l_s: outlet.discharge_l_s,
        });
        Self {
            inlet_kpa: line.inlet_kpa,
            inlet_l_s: line.flow_l_s(),
            lowest_nozzle_kpa: line.lowest().1.nozzle_kpa,
            highest_nozzle_kpa: line.highest().1.nozzle_kpa,
            mean_nozzle_kpa: line.mean_kpa(),
            variation_percent_of_stated: 100.0 * line.pressure_variation(),
            keeps_20_percent_rule: line.keeps_rule(),
            friction_kpa: line.friction_kpa(),
            fastest_m_s: line.fastest_m_s(),
            sprinklers: sprinklers.collect(),
        }
    }
}
