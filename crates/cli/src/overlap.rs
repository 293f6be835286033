//! `evenfall overlap`: one ideal pattern overlapped in still air, fixed and with rotated stops.
//!
//! The same engine as a season: a small field, still air, no losses; the interior is judged.

use crate::arguments::{OverlapArguments, ShapeName};
use crate::failure::Failure;
use crate::inputs::option;
use evenfall_core::clock::FieldClock;
use evenfall_core::grid::Grid;
use evenfall_core::lateral::{
    Condition, Discharges, EdgeTreatment, Lateral, Lines, Machine, Outlets, SetOrder,
};
use evenfall_core::model::{Alternative, Field, Scenario};
use evenfall_core::rotation::{Rotation, Shift};
use evenfall_core::schedule::{Calendar, Openings, SeasonLength};
use evenfall_core::season::{self, RunControl};
use evenfall_core::sprinkler::losses::Losses;
use evenfall_core::sprinkler::shape::{IdealPattern, Shape};
use evenfall_core::sprinkler::{DragCorrection, Jet, Launch, Sprinkler};
use evenfall_core::weather::{AssumedAir, WeatherSource};
use evenfall_scenario::options as keys;
use jiff::civil::date;
use std::fmt::Write as _;

/// Stops of one cycle that are shown: fixed, and so many equally spaced.
const STOPS_SHOWN: [usize; 4] = [1, 2, 3, 4];

/// The finest cells that footprints are laid on, m.
const FINEST_CELL_M: f64 = 0.02;

pub(crate) fn table(options: &OverlapArguments) -> Result<String, Failure> {
    let radius_m =
        0.5 * option("wetted-diameter", &options.wetted_diameter, keys::wetted_diameter)?;
    let (along, across) = (&options.sprinkler_spacing, &options.outlet_spacing);
    let along_m = option("sprinkler-spacing", along, keys::sprinkler_spacing)?;
    let across_m = option("outlet-spacing", across, keys::outlet_spacing)?;
    let cell_m = along_m / f64::from(options.cells);
    if cell_m < FINEST_CELL_M {
        let most = (along_m / FINEST_CELL_M).floor();
        return Err(Failure::Usage(format!(
            "--cells {}: use at most {most} at a sprinkler spacing of {}, so that cells are 2 cm or more",
            options.cells, options.sprinkler_spacing
        )));
    }
    let mut text = format!(
        "{:?} pattern, wetted diameter {}, sprinkler spacing {}, outlet spacing {}, still air\n",
        options.shape, options.wetted_diameter, options.sprinkler_spacing, options.outlet_spacing
    );
    text.push_str("stops  CU %    DUlq %  10 √CU of one stop\n");
    let mut fixed_cu = None;
    for stops in STOPS_SHOWN {
        let scenario = scenario(options, radius_m, (along_m, across_m), cell_m, stops)?;
        let outcome = season::run(&scenario, RunControl::default())?;
        let figures = outcome.alternatives[0].season_figures().interior;
        let figures = figures.ok_or_else(|| {
            Failure::Season("no water falls on the interior of the field".to_owned())
        })?;
        let fixed = *fixed_cu.get_or_insert(figures.cu);
        let rule = if stops == 2 {
            format!("{:.2}", 100.0 * fixed.max(0.0).sqrt())
        } else {
            String::new()
        };
        let (cu, du) = (100.0 * figures.cu, 100.0 * figures.du_lq);
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{stops:>5}  {cu:6.2}  {du:6.2}  {rule}");
    }
    text.push_str(
        "10 √CU is a rule of thumb for two stops (SCS NEH 15-11); compare it with the CU above.\n",
    );
    Ok(text)
}

/// A field whose interior (less one outlet spacing at each edge) holds one whole period of the
/// pattern each way, with enough sprinklers and outlets around it to overlap fully.
fn scenario(
    options: &OverlapArguments,
    radius_m: f64,
    (along_m, across_m): (f64, f64),
    cell_m: f64,
    stops: usize,
) -> Result<Scenario, Failure> {
    let shape = match options.shape {
        ShapeName::Triangular => Shape::Triangular,
        ShapeName::Elliptical => Shape::Elliptical,
        ShapeName::Parabolic => Shape::Parabolic,
        ShapeName::Uniform => Shape::Uniform,
    };
    let usage =
        |error: evenfall_core::sprinkler::SprinklerProblem| Failure::Usage(error.to_string());
    let pattern = IdealPattern::new(shape, radius_m, 0.3).map_err(usage)?;
    let beyond = |spacing_m: f64| (radius_m / spacing_m).ceil() as usize + 1;
    // The interior must be a whole number of periods wide: take the margin off in both directions
    // by making the field two margins and one period wide.
    let (length_m, width_m) = (2.0 * across_m + along_m, 3.0 * across_m);
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
    let shift =
        |stop: usize| Shift { across_m: stop as f64 * across_m / stops as f64, along_m: 0.0 };
    let first = |margin_m: f64, spacing_m: f64| {
        margin_m + 0.5 * spacing_m - beyond(spacing_m) as f64 * spacing_m
    };
    Ok(Scenario {
        title: String::new(),
        field: Field {
            grid: Grid::over(length_m, width_m, cell_m),
            travel_bearing_deg: 0.0,
            boundary: None,
        },
        calendar: Calendar {
            start: date(2026, 1, 1).at(0, 0, 0, 0),
            length: SeasonLength::Passes(stops),
            set_time_h: 1.0,
            move_gap_h: 0.0,
            sets_a_day: None,
            return_time_h: 0.0,
            idle_h: 0.0,
            pass_every_h: None,
            order: SetOrder::DryReturn,
            openings: Openings::default(),
            clock: FieldClock::default(),
        },
        weather: WeatherSource::Still,
        assumed_air: AssumedAir { temperature_c: 20.0, relative_humidity: 0.5 },
        losses: Losses::Fraction(0.0),
        alternatives: vec![Alternative {
            name: String::new(),
            lateral: Lateral {
                machine: Machine::HandMove,
                sprinklers: 2 * beyond(along_m) + 1,
                sprinkler_spacing_m: along_m,
                first_sprinkler_m: first(across_m, along_m),
                lines: Lines::default(),
            },
            outlets: Outlets {
                spacing_m: across_m,
                first_m: first(across_m, across_m) - across_m,
                count: 2 * beyond(across_m) + 2,
                reach_m: across_m,
                field_width_m: f64::INFINITY,
            },
            rotation: Rotation::new((0..stops).map(shift).collect())
                .ok_or_else(|| Failure::Fault("a rotation without stops".to_owned()))?,
            sprinkler: Sprinkler {
                jets: vec![Jet::new(pattern, launch)],
                drag: DragCorrection::NONE,
                flow_control: None,
            },
            edges: EdgeTreatment::Shift,
            calendar: None,
            feed: None,
            discharges: Discharges::default(),
            condition: Condition::default(),
        }],
        seed: 0,
        canopy_height_m: None,
        smoothing_m: 0.0,
        interior_margin_given_m: None,
        called: None,
        calibration: None,
    })
}
