//! Patterns read turned against patterns laid turned.

use super::*;
use crate::sprinkler::atlas::tests::{DRAG, half_ellipse, maker, measured, misplaced};
use crate::sprinkler::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use crate::sprinkler::nodes::{MEAN, TENT};
use crate::sprinkler::places::Places;
use crate::sprinkler::reading::{Hour, Reading};
use ndarray::Array2;
use std::sync::Arc;

/// So fine that lumps leave no grain.
const FINE: FootprintSettings =
    FootprintSettings { rings_per_cell: 8.0, samples_per_cell: 8.0, subsamples: 4 };

/// An hour of the wind that was laid, blowing to a direction, on cells with the sprinkler on a corner.
fn footprint(own: &Arc<OwnWind>, towards_rad: f64) -> Footprint {
    let towards = (towards_rad.cos(), towards_rad.sin());
    let hour = Hour { own: Arc::clone(own), towards, farther_cells: 0.0, net_hours: 1.0 };
    read(&hour, &Places::cells_about(Phase::CORNER))
}

/// What is read of an hour at the places.
fn read(hour: &Hour, places: &Places) -> Footprint {
    let mut reading = Reading::of(std::slice::from_ref(hour), places);
    reading.add(hour);
    let (window, rates) = reading.finish();
    let shape = (window.rows.len(), window.columns.len());
    let values = Array2::from_shape_vec(shape, rates).unwrap();
    Footprint { first_row: window.rows.start, first_column: window.columns.start, values }
}

#[test]
fn closed_the_weights_are_a_wider_tent_drawn_together() {
    let tent = |apart: isize| (4 - apart.abs()).max(0) as f64 / 4.0;
    let drawn_together = |of: &dyn Fn(isize) -> f64, apart: isize| {
        (14.0 * of(apart) - of(apart - 1) - of(apart + 1)) / 12.0
    };
    for (apart, weight) in (0..).zip(TENT) {
        assert!((weight - drawn_together(&tent, apart)).abs() < 1e-15, "{apart}");
    }
    // Of rates, the trapezoidal rule over a cell.
    let mean = |apart: isize| [0.25, 0.25, 0.125].get(apart.unsigned_abs()).map_or(0.0, |w| *w);
    for (apart, weight) in (0..).zip(MEAN) {
        assert!((weight - drawn_together(&mean, apart)).abs() < 1e-15, "{apart}");
    }
    // Tents add up to the wider one: at any place between nodes.
    for place in [0.0, 0.3, 1.7, 3.25, 4.0] {
        let narrow = |node: isize| (1.0 - (place - node as f64).abs()).max(0.0);
        let found: f64 = (-4..=4).map(|node| tent(node) * narrow(node)).sum();
        assert!((found - (1.0_f64 - place / 4.0).max(0.0)).abs() < 1e-15, "{place}");
    }
    // Variance, node²: a sixth each for laying and reading, and the weights' own make up a cell²/6.
    let own: f64 = (0..).zip(TENT).map(|(k, w)| 2.0 * w * f64::from(k * k)).sum();
    assert!((own / 4.0 + 2.0 / 6.0 - 16.0 / 6.0).abs() < 1e-14);
}

#[test]
fn closed_water_and_its_place_are_kept_in_every_direction() {
    // A round hill, 4 cells wide, down the wind and to its side; with its mirror image it holds 1.
    let mut laying = OwnWindLaying::new(14.0, Nodes::new(1));
    let places = || (-40..=40).map(|k| f64::from(k) * 0.1);
    let hill = |(a, c): (f64, f64)| (1.0 - (a * a + c * c) / 16.0).max(0.0).powi(2);
    let all = || places().flat_map(|a| places().map(move |c| (a, c)));
    let water: f64 = all().map(hill).sum();
    all().for_each(|(a, c)| laying.lay(5.3 + a, 6.1 + c, 0.5 * hill((a, c)) / water));
    let own = Arc::new(laying.finish());
    assert!((own.drift_cells - 5.3).abs() < 1e-12, "{own:?}");
    for turn in [0.0, 0.4, 2.0, 4.4] {
        let found = footprint(&own, turn);
        let mut sums = [0.0; 3];
        for ((row, column), value) in found.values.indexed_iter() {
            let y = (found.first_row + row as isize) as f64 + 0.5;
            let x = (found.first_column + column as isize) as f64 + 0.5;
            sums = [sums[0] + value, sums[1] + value * x, sums[2] + value * y];
        }
        let [water, x, y] = sums;
        assert!((water - 1.0).abs() < 3e-4, "{turn}: {water}");
        let miss = (x / water - 5.3 * turn.cos()).hypot(y / water - 5.3 * turn.sin());
        assert!(miss < 1e-3, "{turn}: {miss}");
    }
}

#[test]
fn closed_each_rate_stands_beside_that_of_the_node_above() {
    let own = maker(&measured(), &DRAG, FINE).own_wind(2.0, Nodes::new(1)).unwrap();
    let most = own.rates.iter().map(|[rate, _]| rate.unsigned_abs()).max();
    assert_eq!(most, Some(i16::MAX.unsigned_abs()), "all steps are used");
    let above = own.rates[own.columns..].iter().map(|[rate, _]| *rate);
    let last = std::iter::repeat_n(0, own.columns);
    assert!(own.rates.iter().map(|[_, above]| *above).eq(above.chain(last)));
    // As if onto one cell: what a cell's nodes hold together is sixteen times what falls. Both sides of
    // the axis count.
    let rows = own.rates.chunks(own.columns).zip(0..);
    let factor = |row: i32| match row.cmp(&(own.center.1 as i32)) {
        std::cmp::Ordering::Less => 0.0,
        std::cmp::Ordering::Equal => 1.0,
        std::cmp::Ordering::Greater => 2.0,
    };
    let sum = |row: &[[i16; 2]]| row.iter().map(|[rate, _]| f64::from(*rate)).sum::<f64>();
    let steps: f64 = rows.map(|(row, at)| factor(at) * sum(row)).sum();
    let wanted = maker(&measured(), &DRAG, FINE).upright_mm_h().unwrap();
    let found = own.step * steps / 16.0;
    assert!((found / wanted - 1.0).abs() < 1e-4, "{found} {wanted}");
}

#[test]
fn reference_read_turned_is_laid_turned() {
    for leg in [measured(), half_ellipse()] {
        let maker = maker(&leg, &DRAG, FINE);
        for speed_m_s in [0.25, 1.5, 4.0, 9.75] {
            let own = Arc::new(maker.own_wind(speed_m_s, Nodes::new(1)).unwrap());
            for towards_rad in [0.0, 0.2, 0.5, 0.785] {
                let hour = WindSlice { hours: 1.0, net: 1.0, speed_m_s, towards_rad };
                let laid = maker.set_footprint(&[hour], Phase::CORNER).unwrap();
                let read = footprint(&own, towards_rad);
                let water = read.values.sum() / laid.values.sum() - 1.0;
                // A third of what moving within a cell misplaces.
                let share = misplaced(&laid, &read);
                let told = format!("{speed_m_s} {towards_rad}: {share} {water}");
                assert!(share < 6e-4 && water.abs() < 1e-4, "{told}");
            }
        }
    }
}

#[test]
fn reference_places_farther_apart_read_what_is_made_wider_on_cells() {
    for (speed_m_s, apart) in [(2.0, 2), (2.0, 3), (0.0, 2)] {
        let maker = maker(&measured(), &DRAG, FINE);
        let (_, _, places) = Places::about((apart, apart), 40.3, 31.6);
        let hour = WindSlice { hours: 1.0, net: 1.0, speed_m_s, towards_rad: 0.4 };
        let laid = places.of(&maker.set_footprint(&[hour], places.phase()).unwrap());
        let hour = Hour {
            own: Arc::new(maker.own_wind(speed_m_s, Nodes::new(apart)).unwrap()),
            towards: (0.4_f64.cos(), 0.4_f64.sin()),
            farther_cells: 0.0,
            net_hours: 1.0,
        };
        let read = read(&hour, &places);
        // Sharing among cells and among nodes differ in their fourth moments.
        let share = misplaced(&laid, &read);
        assert!(share < 2e-3, "{speed_m_s} {apart}: {share}");
    }
}
