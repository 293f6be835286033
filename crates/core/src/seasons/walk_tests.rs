//! The walk on a folded field, many cells at once, against the plain way on the real one.

use super::*;
use crate::crop::table::crop_named;
use crate::model::Scenario;
use crate::root_zone::inputs::SeasonInputs;
use crate::root_zone::plain::{CellWater, Watering};
use crate::root_zone::season::SeasonWater;
use crate::season;
use crate::season::prepare::PreparedSeason;
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::season::{HoursLaid, RunControl};
use crate::seasons::run::run_laid;
use crate::soil::Soil;
use crate::sprinkler::footprint::FootprintSettings;
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::Shape;

/// Dry beans; the crop starts on the fourth day of the season, so that some water comes too early.
const FIRST_DAY: i64 = 3;

/// A long lateral (so that the field folds), growing roots, rain every ninth day.
fn season_of_beans() -> (Scenario, SeasonWater, Ground) {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    let stops = [("fixed", &[0.0][..]), ("pair", &[0.0, 30.0])];
    let mut alternatives =
        stops.map(|(name, shifts)| alternative(name, shifts, sprinkler.clone())).to_vec();
    for alternative in &mut alternatives {
        alternative.lateral.sprinklers = 14;
    }
    let mut scenario = scenario(8.0, 9, alternatives);
    scenario.field.grid.cells_along = 70;
    scenario.weather = windy(3.0);
    scenario.losses = Losses::PlayanDayNight;
    scenario.calendar.pass_every_h = Some(8.0 * 24.0);
    let crop = crop_named("beans, dry").unwrap().crop();
    let soil = Soil { field_capacity: 0.25, wilting_point: 0.095 };
    let rain_mm: Vec<f64> = (0..100).map(|day| if day % 9 == 4 { 6.0 } else { 0.0 }).collect();
    let inputs = SeasonInputs {
        crop: &crop,
        soil: &soil,
        et0_mm: &[7.0; 100],
        rain_mm: &rain_mm,
        start_depletion: 0.3,
    };
    let water = SeasonWater::prepare(&inputs).unwrap();
    let ground = Ground {
        first_day: FIRST_DAY,
        days: vec![water.days().to_vec()],
        depletion_mm: water.at_planting().depletion_mm,
        ky: crop.yield_response,
    };
    (scenario, water, ground)
}

/// Every set laid down alone on the real field, then cell by cell through the days.
fn plainly(scenario: &Scenario, water: &SeasonWater, ground: &Ground) -> Vec<Vec<CellWater>> {
    let plans = season::plans_in(scenario, Some(ground), 0).unwrap();
    let prepared = PreparedSeason::of(scenario, plans, 0, None).unwrap();
    let makers = prepared.makers(FootprintSettings::default()).unwrap();
    let (footprints, layouts) = (prepared.footprints(&makers), prepared.layouts());
    let mut waterings: Vec<Vec<Watering>> = vec![Vec::new(); layouts.len()];
    for pass in 0..layouts[0].plan.passes.len() {
        let laid = footprints.of_pass(&layouts, pass).unwrap();
        for (layout, waterings) in layouts.iter().zip(&mut waterings) {
            let plan = &layout.plan.passes[pass];
            for (number, set) in plan.sets.iter().enumerate() {
                let placed = layout.laid(plan, std::slice::from_ref(set), (number, &laid));
                let (mut depth_mm, mut sum_mm) = (layout.grid.zeros(), layout.grid.zeros());
                layout.lay(&layout.grid, layout.pipe(plan), &placed, &mut depth_mm, &mut sum_mm);
                let day = (set.start_h / 24.0).floor() as i64 - ground.first_day + 1;
                if let Ok(day @ 1..) = usize::try_from(day) {
                    let depth_mm = depth_mm.iter().copied().collect();
                    waterings.push(Watering { day, first_cell: 0, depth_mm });
                }
            }
        }
    }
    let cells = scenario.field.grid.cells_along * scenario.field.grid.cells_across;
    waterings.iter().map(|waterings| water.run(cells, ground.ky, waterings)).collect()
}

#[test]
fn reference_a_walked_season_is_the_plain_one_cell_by_cell() {
    let (scenario, water, ground) = season_of_beans();
    let laid = (1, HoursLaid::OwnWind);
    let walked = run_laid(&scenario, &ground, laid, RunControl::default()).unwrap();
    let plain = plainly(&scenario, &water, &ground);
    for (alternative, cells) in plain.iter().enumerate() {
        let (maps, figures) = (&walked.maps[alternative], &walked.figures[0][alternative]);
        // The fold adds up in another order: agreement to rounding, 1e-9 of 1 and of a millimeter.
        for (number, cell) in cells.iter().enumerate() {
            let place = (number / 70, number % 70);
            let (yields, lost_mm) = (maps.yield_fraction[place], maps.percolation_mm[place]);
            assert!((yields - cell.yield_fraction).abs() < 1e-9, "{place:?} {yields} {cell:?}");
            assert!((lost_mm - cell.percolation_mm).abs() < 1e-9, "{place:?} {lost_mm} {cell:?}");
        }
        let mean =
            |of: fn(&CellWater) -> f64| cells.iter().map(of).sum::<f64>() / cells.len() as f64;
        assert!((figures.crop_use_mm - mean(|c| c.et_mm)).abs() < 1e-9);
        let in_season_mm = figures.irrigation_mm - figures.idle_mm;
        assert!((in_season_mm - mean(|c| c.irrigation_mm)).abs() < 1e-9);
        assert!(cells.iter().all(|cell| cell.imbalance_mm.abs() < 1e-9));
        // The comparison is not of nothing: some water came early, some places were short or lost.
        assert!(figures.idle_mm > 1.0 && figures.percolation_mm > 1.0, "{figures:?}");
        assert!(figures.yield_worst_tenth < 0.99, "{figures:?}");
    }
}
