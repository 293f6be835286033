//! Hours laid in the nearest wind against hours in their own, over seasons of soil and crop. (`cargo bench`
//! tells how far they are apart over 50 of the demo's seasons.)

use super::run::run_laid;
use crate::boundary::Boundary;
use crate::grid::Grid;
use crate::lateral::{Machine, Wheel};
use crate::model::{Alternative, Scenario};
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::rotation::{Rotation, Shift};
use crate::season::tests::{FT, alternative, scenario, sprinkler, windy};
use crate::season::thinning::Thinning;
use crate::season::{HoursLaid, RunControl};
use crate::seasons::{SeasonFigures, Seasons};
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::Shape;

const SEASONS: usize = 3;
/// Outlets of a quarter-mile field: sets enough that winds even out as they do in a real season.
const OUTLETS: usize = 22;

/// Fixed, two and three stops, a wheel line whose turns never end at the outlets, and a hand-move that
/// shifts both ways, off the cells' corners.
fn alternatives() -> Vec<Alternative> {
    let mut sprinkler = sprinkler(Shape::Triangular, 88.0);
    sprinkler.drag.turbulence = 0.1;
    let stops = |name, shifts: &[f64]| alternative(name, shifts, sprinkler.clone());
    let mut drifting = stops("drifting", &[0.0, 29.8]);
    drifting.lateral.machine = Machine::WheelLine(Wheel::new(14.9 * FT, 20.0));
    let mut carried = stops("carried", &[0.0]);
    carried.lateral.machine = Machine::HandMove;
    let shift = |along: f64, across: f64| Shift { along_m: along * FT, across_m: across * FT };
    carried.rotation = Rotation::new(vec![shift(0.0, 0.0), shift(10.5, 27.7)]).unwrap();
    let mut all = vec![
        stops("fixed", &[0.0]),
        stops("two", &[0.0, 30.0]),
        stops("three", &[0.0, 15.0, 30.0]),
        drifting,
        carried,
    ];
    for alternative in &mut all {
        alternative.outlets.count = OUTLETS;
    }
    all
}

/// Twelve passes of 22 sets, two a day, in a wind that changes by the hour.
fn windy_season() -> Scenario {
    let mut scenario = scenario(2.0, 12, alternatives());
    scenario.field.grid = Grid::over(240.0 * FT, 60.0 * OUTLETS as f64 * FT, 2.0 * FT);
    scenario.weather = windy(3.5);
    scenario.losses = Losses::PlayanDayNight;
    scenario.calendar.pass_every_h = Some(12.0 * 24.0);
    scenario
}

/// 150 days of 5 mm on a root zone of 90 mm: some places go short, others lose water.
fn ground() -> Ground {
    let day = CropDay::new(5.0, 0.0, 0.5, 90.0, 90.0);
    Ground { first_day: 0, days: vec![vec![day; 150]], depletion_mm: 20.0, ky: 1.1 }
}

/// Largest difference of a figure between the two ways, over all seasons and alternatives.
fn apart(
    ways: &[Seasons; 2],
    of: impl Fn(&[SeasonFigures], usize) -> f64,
    alternatives: std::ops::Range<usize>,
) -> f64 {
    let pairs = ways[0].figures.iter().zip(&ways[1].figures);
    let found = pairs.flat_map(|(nearest, own)| {
        alternatives.clone().map(|at| (of(nearest, at) - of(own, at)).abs()).collect::<Vec<_>>()
    });
    found.fold(0.0, f64::max)
}

#[test]
fn reference_the_nearest_wind_gives_the_figures_of_every_hours_own() {
    let (scenario, ground) = (windy_season(), ground());
    let ways = [HoursLaid::NearestWind, HoursLaid::OwnWind]
        .map(|laid| run_laid(&scenario, &ground, (SEASONS, laid), RunControl::default()).unwrap());
    let all = 0..5;
    let cu = apart(&ways, |season, at| season[at].cu, all.clone());
    let du_lq = apart(&ways, |season, at| season[at].du_lq, all.clone());
    let gain = |of: fn(&SeasonFigures) -> f64| {
        apart(&ways, move |season, at| of(&season[at]) - of(&season[0]), 1..5)
    };
    let (cu_gain, du_lq_gain) = (gain(|f| f.cu), gain(|f| f.du_lq));
    let yields = apart(&ways, |season, at| season[at].yield_fraction, all.clone());
    let worst = apart(&ways, |season, at| season[at].yield_worst_tenth, all);
    assert!(cu <= 2e-4 && du_lq <= 2e-4, "{cu} {du_lq}");
    assert!(cu_gain <= 1e-4 && du_lq_gain <= 1e-4, "{cu_gain} {du_lq_gain}");
    assert!(yields <= 1e-4, "{yields} {worst}");
}

#[test]
fn reference_on_small_cells_fewer_places_give_the_figures_of_all() {
    // Cells of a foot: one of two columns and of three rows is looked at.
    let mut scenario = windy_season();
    scenario.alternatives.truncate(2);
    for alternative in &mut scenario.alternatives {
        alternative.outlets.count = 8;
    }
    scenario.field.grid = Grid::over(240.0 * FT, 60.0 * 8.0 * FT, FT);
    scenario.smoothing_m = 0.3;
    let ground = ground();
    let ways = [HoursLaid::NearestWind, HoursLaid::OwnWind]
        .map(|laid| run_laid(&scenario, &ground, (1, laid), RunControl::default()).unwrap());
    let (first, grid) = (&scenario.alternatives[0], &scenario.field.grid);
    assert_eq!(Thinning::of(first, grid, false), Thinning::test(2, 3));
    let cu = apart(&ways, |season, at| season[at].cu, 0..2);
    let du_lq = apart(&ways, |season, at| season[at].du_lq, 0..2);
    let cu_gain = apart(&ways, |season, at| season[at].cu - season[0].cu, 1..2);
    let du_lq_gain = apart(&ways, |season, at| season[at].du_lq - season[0].du_lq, 1..2);
    assert!(cu <= 2e-4 && du_lq <= 2e-4, "{cu} {du_lq}");
    assert!(cu_gain <= 1e-4 && du_lq_gain <= 1e-4, "{cu_gain} {du_lq_gain}");
    // On a field this small its edges are a tenth of it; widened water crosses them by a foot.
    let yields = apart(&ways, |season, at| season[at].yield_fraction, 0..2);
    let maps = ways.each_ref().map(|seasons| seasons.maps[1].yield_fraction.clone());
    let map_apart = (&maps[0] - &maps[1]).iter().fold(0.0, |most: f64, miss| most.max(miss.abs()));
    assert!(yields <= 3e-4, "{yields}");
    assert!(maps[0].dim() == maps[1].dim() && map_apart <= 0.02, "{map_apart}");
}

#[test]
fn invariant_water_balances_in_fewer_places_within_a_boundary_that_cuts_them() {
    let mut scenario = windy_season();
    scenario.alternatives.truncate(2);
    for alternative in &mut scenario.alternatives {
        alternative.outlets.count = 4;
        // A pipe on which every sprinkler lays its own.
        alternative.discharges.scatter = 0.05;
    }
    // No whole number of places, and a slanting edge.
    let grid = Grid::over(241.0 * FT, 239.0 * FT, FT);
    let ring = [[3.3, 4.0], [231.0, 12.0], [215.5, 236.0], [20.0, 228.7]];
    let ring = ring.map(|corner: [f64; 2]| corner.map(|feet| feet * FT)).to_vec();
    scenario.field.grid = grid;
    scenario.field.boundary = Boundary::new(vec![ring], &grid);
    let thinning = Thinning::of(&scenario.alternatives[0], &grid, true);
    assert_eq!(thinning, Thinning::test(2, 3));
    for smoothing_m in [0.0, 0.2, 1.5] {
        scenario.smoothing_m = smoothing_m;
        // A season whose water goes missing is an error.
        let ways = [HoursLaid::NearestWind, HoursLaid::OwnWind]
            .map(|laid| run_laid(&scenario, &ground(), (1, laid), RunControl::default()).unwrap());
        let cu = apart(&ways, |season, at| season[at].cu, 0..2);
        let yields = apart(&ways, |season, at| season[at].yield_fraction, 0..2);
        let off = apart(&ways, |season, at| season[at].off_field_mm / season[at].gross_mm, 0..2);
        assert!(cu <= 3e-4 && yields <= 1e-3 && off <= 1e-3, "{smoothing_m}: {cu} {yields} {off}");
    }
}
