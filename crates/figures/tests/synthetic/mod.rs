//! A made-up season for tests and the gallery: no physics, only a plausible 40 × 60 ft pattern.
#![allow(dead_code)] // each test file uses its own part

pub(crate) mod notes;
pub(crate) mod worth;

use evenfall_core::clock::FieldClock;
use evenfall_core::ensemble::Interval;
use evenfall_core::grid::{DepthGrid, Grid, Window};
use evenfall_core::lateral::stops::{self, WheelReach};
use evenfall_core::lateral::{
    Condition, Discharges, EdgeTreatment, Lateral, Lines, Machine, Outlets, SetOrder, Side, Wheel,
};
use evenfall_core::model::{Alternative, Field, Scenario};
use evenfall_core::rotation::{Rotation, Shift};
use evenfall_core::schedule::{
    Calendar, DayNight, Openings, PassPlan, Plan, SeasonLength, SetPlan,
};
use evenfall_core::season::{
    AlternativeOutcome, Outcome, PassOutcome, RegionFigures, Snapshot, WaterBalance, WindSummary,
};
use evenfall_core::sprinkler::losses::Losses;
use evenfall_core::sprinkler::{DragCorrection, DragForm, Jet, Launch, Leg, Sprinkler};
use evenfall_core::unevenness::{UnevenPart, UnevennessSplit};
use evenfall_core::uniformity::Uniformity;
use evenfall_core::weather::{AssumedAir, KeptWinds, WeatherSource, WindClimate};
use jiff::civil::date;
use std::f64::consts::TAU;
use std::sync::Arc;

const FT: f64 = 0.3048;

/// What to make up.
pub(crate) struct Recipe {
    /// Names and shifts across, ft.
    pub(crate) alternatives: Vec<(String, Vec<f64>)>,
    pub(crate) passes: usize,
    /// Length along and width across, ft.
    pub(crate) field_ft: (f64, f64),
    pub(crate) bearing_deg: f64,
    pub(crate) dry: bool,
}

impl Recipe {
    pub(crate) fn demo() -> Self {
        let named = |name: &str, shifts: &[f64]| (name.to_owned(), shifts.to_vec());
        Self {
            alternatives: vec![
                named("Fixed", &[0.0]),
                named("Three-stop rotation", &[0.0, 20.0, -20.0]),
                named("Two-stop rotation", &[0.0, 20.0]),
            ],
            passes: 12,
            field_ft: (1320.0, 1320.0),
            bearing_deg: 20.0,
            dry: false,
        }
    }
}

fn sprinkler() -> Sprinkler {
    let leg = Leg { distance_m: vec![0.0, 14.0], rate_mm_h: vec![8.0, 0.0] };
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
    let drag = DragCorrection {
        form: DragForm::AirAndWind,
        k1: 0.5,
        k2: 0.2,
        turbulence: 0.0,
        ..DragCorrection::NONE
    };
    Sprinkler { jets: vec![Jet::new(leg, launch)], drag, flow_control: None }
}

pub(crate) fn build(recipe: &Recipe) -> (Scenario, Outcome) {
    let (along, across) = recipe.field_ft;
    let grid = Grid::over(along * FT, across * FT, 2.0 * FT);
    let wheel = Wheel::new(20.0 * FT, 30.0);
    let alternatives = recipe.alternatives.iter().map(|(name, shifts)| {
        let shifts = shifts.iter().map(|y| Shift { across_m: y * FT, along_m: 0.0 }).collect();
        Alternative {
            name: name.clone(),
            lateral: Lateral {
                machine: Machine::WheelLine(wheel),
                sprinklers: ((along / 40.0) as usize).max(1),
                sprinkler_spacing_m: 40.0 * FT,
                first_sprinkler_m: 20.0 * FT,
                lines: Lines::default(),
            },
            outlets: Outlets {
                spacing_m: 60.0 * FT,
                first_m: 30.0 * FT,
                count: ((across / 60.0) as usize).max(1),
                reach_m: 22.0 * FT,
                field_width_m: f64::INFINITY,
            },
            rotation: Rotation::new(shifts).unwrap_or_else(Rotation::fixed),
            sprinkler: sprinkler(),
            edges: EdgeTreatment::Shift,
            calendar: None,
            feed: None,
            discharges: Discharges::default(),
            condition: Condition::default(),
        }
    });
    let scenario = Scenario {
        title: "A quarter section of potatoes".to_owned(),
        field: Field { grid, travel_bearing_deg: recipe.bearing_deg, boundary: None },
        calendar: Calendar {
            start: date(2026, 5, 20).at(6, 0, 0, 0),
            length: SeasonLength::Passes(recipe.passes),
            set_time_h: 11.5,
            move_gap_h: 0.5,
            sets_a_day: Some(2),
            return_time_h: 2.0,
            idle_h: 0.0,
            pass_every_h: None,
            order: SetOrder::DryReturn,
            openings: Openings::default(),
            clock: FieldClock::default(),
        },
        weather: WeatherSource::Generated(WindClimate {
            day_mean_m_s: 3.5,
            night_mean_m_s: 2.0,
            weibull_shape: 2.0,
            prevailing_from_deg: 240.0,
            night_prevailing_from_deg: 240.0,
            direction_spread_deg: 40.0,
            speed_persistence: 0.6,
            direction_persistence: 0.7,
            spell_share: 0.5,
            spell_length_h: 18.0,
            measured_at_m: 2.0,
            kept: KeptWinds::default(),
        }),
        assumed_air: AssumedAir { temperature_c: 25.0, relative_humidity: 0.4 },
        losses: Losses::Fraction(0.08),
        alternatives: alternatives.collect(),
        seed: 7,
        canopy_height_m: None,
        smoothing_m: 0.0,
        interior_margin_given_m: None,
        called: None,
        calibration: None,
    };
    let made = scenario.alternatives.iter().map(|a| made_up(a, &grid, recipe)).collect();
    let outcome = Outcome {
        grid,
        interior_margin_m: 60.0 * FT,
        edge_strip_m: 20.0 * FT,
        alternatives: made,
        wind: wind(),
        notices: vec!["A made-up season for trying the pictures.".to_owned()],
    };
    (scenario, outcome)
}

pub(crate) fn wind() -> WindSummary {
    let raw = [1., 1., 2., 2., 3., 2., 3., 5., 9., 14., 18., 15., 8., 4., 2., 1.];
    let sum: f64 = raw.iter().sum();
    WindSummary {
        day_mean_m_s: 4.1,
        night_mean_m_s: 1.9,
        highest_m_s: 11.3,
        measured_at_m: 10.0,
        rose: raw.map(|v| 0.9 * v / sum),
        calm_share: 0.1,
    }
}

/// One pass: rows of sprinklers as waves, sets with their own wind, edges without neighbors.
fn one_pass(a: &Alternative, grid: &Grid, pass: usize, dry: bool) -> DepthGrid {
    let (_, shift) = a.rotation.at(pass);
    let mut depth = grid.zeros();
    if dry {
        return depth;
    }
    for ((row, column), cell) in depth.indexed_iter_mut() {
        let y = (row as f64 + 0.5) * grid.cell_m - shift.across_m - a.outlets.first_m;
        let x = (column as f64 + 0.5) * grid.cell_m - a.lateral.first_sprinkler_m;
        let set = (y / a.outlets.spacing_m).round();
        let wobble = (set * 12.9898 + pass as f64 * 78.233).sin();
        let across = (TAU * y / a.outlets.spacing_m + 0.7 * wobble).cos();
        let along = (TAU * x / a.lateral.sprinkler_spacing_m + 0.5 * wobble).cos();
        let edge = |d: f64| (0.45 + d / (12.0 * FT * 4.0)).min(1.0);
        let whole = grid.width_across_m();
        let at = (row as f64 + 0.5) * grid.cell_m;
        let edges = edge(at.max(0.0)) * edge((whole - at).max(0.0));
        *cell = 50.0 * edges * (1.0 + 0.3 * across + 0.12 * along + 0.05 * wobble).max(0.0);
    }
    depth
}

fn figures(depth: &DepthGrid, window: &Window) -> Option<Uniformity> {
    let mut v: Vec<f64> = window.of(depth).iter().copied().collect();
    let n = v.len() as f64;
    let mean = v.iter().sum::<f64>() / n;
    if v.is_empty() || mean <= 0.0 {
        return None;
    }
    v.sort_by(f64::total_cmp);
    let quarter = (v.len() / 4).max(1);
    let share = |test: &dyn Fn(f64) -> bool| v.iter().filter(|d| test(**d)).count() as f64 / n;
    Some(Uniformity {
        cu: 1.0 - v.iter().map(|d| (d - mean).abs()).sum::<f64>() / n / mean,
        du_lq: v[..quarter].iter().sum::<f64>() / quarter as f64 / mean,
        cv: (v.iter().map(|d| (d - mean).powi(2)).sum::<f64>() / n).sqrt() / mean,
        mean_depth_mm: mean,
        lowest_depth_mm: v[0],
        highest_depth_mm: v[v.len() - 1],
        share_under_75: share(&|d| d < 0.75 * mean),
        share_over_125: share(&|d| d > 1.25 * mean),
        cells: v.len(),
    })
}

fn regions(depth: &DepthGrid, grid: &Grid) -> RegionFigures {
    RegionFigures {
        whole: figures(depth, &grid.whole()),
        interior: figures(depth, &grid.inset(60.0 * FT)),
        first_strip: figures(depth, &grid.edge_strip(20.0 * FT, false)),
        last_strip: figures(depth, &grid.edge_strip(20.0 * FT, true)),
    }
}

fn made_up(a: &Alternative, grid: &Grid, recipe: &Recipe) -> AlternativeOutcome {
    let mut sum = grid.zeros();
    let (mut passes, mut snapshots) = (Vec::new(), Vec::new());
    for pass in 0..recipe.passes {
        let depth = one_pass(a, grid, pass, recipe.dry);
        sum += &depth;
        let cumulative = regions(&sum, grid);
        let profile_mm = depth.rows().into_iter().map(|row| row.sum() / row.len() as f64).collect();
        passes.push(PassOutcome { alone: regions(&depth, grid), cumulative, profile_mm });
        if pass < 3 && pass + 1 < recipe.passes {
            snapshots.push(Snapshot::of(pass + 1, &sum));
        }
    }
    let on_field_m3 = sum.sum() * grid.cell_area_m2() / 1000.0;
    let gross_m3 = on_field_m3 / 0.9;
    let cycle = a.rotation.cycle();
    let told = recipe.passes / cycle >= 2;
    let part = |value: f64| UnevenPart {
        square: value * value,
        interval: Some(Interval { low: 0.9 * value, high: 1.1 * value, level: 0.9 }),
    };
    let split = UnevennessSplit {
        systematic: part(if cycle == 1 { 0.145 } else { 0.145 / 5.0 }),
        random: part(0.11),
        cycles: 4,
    };
    AlternativeOutcome {
        pressures: None,
        plan: plan(a, recipe.passes),
        passes,
        season_mm: Arc::new(sum),
        snapshots,
        water: WaterBalance {
            gross_m3,
            on_field_m3,
            off_field_m3: 0.02 * gross_m3,
            losses_m3: 0.08 * gross_m3,
            leaked_m3: 0.0,
        },
        split: told.then_some(split),
        split_miss: told.then_some(0.002),
    }
}

fn plan(a: &Alternative, passes: usize) -> Plan {
    let midnight = date(2026, 5, 20).at(0, 0, 0, 0);
    let pass_h = a.outlets.count as f64 * 12.0;
    let one = |pass: usize| {
        let (_, shift) = a.rotation.at(pass);
        let start = 6.0 + pass as f64 * (pass_h + 12.0);
        let sets = (0..a.outlets.count).map(|outlet| SetPlan {
            line: 0,
            side: Side::Right,
            shift,
            outlet,
            place_across_m: a.outlets.place_m(outlet) + shift.across_m,
            drift_m: 0.0,
            start_h: start + outlet as f64 * 12.0,
            end_h: start + outlet as f64 * 12.0 + 11.5,
        });
        PassPlan { shift, letter: a.rotation.letter(pass), sets: sets.collect() }
    };
    Plan {
        midnight,
        clock: FieldClock::default(),
        passes: (0..passes).map(one).collect(),
        cycle: a.rotation.cycle(),
        passes_into_cycle: passes % a.rotation.cycle(),
        day_night: DayNight { day_share: 0.51, locked_places: 0, places: a.outlets.count },
        dry_way_h: 0.0,
    }
}

/// A wheel that rolls 19.89 ft a turn, 60 ft outlets, 22 ft reach.
pub(crate) fn wheel_reach() -> WheelReach {
    let outlets = Outlets {
        spacing_m: 60.0 * FT,
        first_m: 0.0,
        count: 22,
        reach_m: 22.0 * FT,
        field_width_m: f64::INFINITY,
    };
    stops::wheel_reach(&Wheel::new(19.89 * FT, 15.0), &outlets)
}
