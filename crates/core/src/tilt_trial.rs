//! A line that is stopped off the whole turn: what tilted or blocked sprinklers do to a season.
//!
//! A what-if beside the season: every case is a rotation whose shifted passes stand at a given roll
//! (all passes, where none is shifted); at the outlets the sprinklers stand upright. Cases share
//! the hours of weather, so they differ in nothing else. Upright passes are laid as in
//! [`crate::season`], tilted ones by the same maker turn by turn; neglected is what that
//! neglects, pipe that twists, so that sprinklers along it tilt unequally, and pressure that changes
//! along the pipe, and sprinklers that differ: all deliver what is stated here.

use crate::grid::DepthGrid;
use crate::lateral::Discharges;
use crate::model::{Alternative, Region, Scenario};
use crate::overlay::{self, LaidSet};
use crate::rotation::Rotation;
use crate::season::hours::{SeasonHours, WindRange};
use crate::season::laid_pass::LaidPass;
use crate::season::layout::Layout;
use crate::season::prepare::PreparedSeason;
use crate::season::sprinklers::FOOTPRINTS;
use crate::season::{self, RunControl, SeasonError, WATER_TOLERANCE};
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::footprint::{Footprint, FootprintSettings, Phase};
use crate::sprinkler::landing::Winds;
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::{Jet, Sprinkler, SprinklerProblem};
use crate::uniformity::Uniformity;
use crate::weather::profile::{LogProfile, Surface};
use rayon::prelude::*;

/// One case of a what-if.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its name in tables.
    pub name: String,
    /// The shifts taken.
    pub rotation: Rotation,
    /// How the sprinklers stand in shifted passes; `None` for upright.
    pub attitude: Option<Attitude>,
}

/// What a case did.
#[derive(Clone, Debug)]
pub struct CaseOutcome {
    /// Figures of the interior over the season.
    pub season: Option<Uniformity>,
    /// Mean CU of the interior over the tilted passes, each alone, fraction; over the same passes
    /// of an upright case.
    pub pass_cu: f64,
    /// Likewise `DUlq`.
    pub pass_du_lq: f64,
    /// Share of the water of a tilted pass that meets the pipe.
    pub blocked_share: f64,
    /// Depth over the season, mm.
    pub season_mm: DepthGrid,
}

/// Cases side by side.
#[derive(Clone, Debug)]
pub struct TiltTrial {
    /// The scenario that was run: one alternative a case.
    pub scenario: Scenario,
    /// In the order of the cases.
    pub outcomes: Vec<CaseOutcome>,
    /// Margin of the interior, m.
    pub margin_m: f64,
}

/// Runs `cases` of alternative `index` of `scenario`, one season each.
///
/// # Errors
/// What the season cannot compute; an attitude that makes no sense.
pub fn run(
    scenario: &Scenario,
    index: usize,
    cases: &[Case],
    control: &RunControl<'_>,
) -> Result<TiltTrial, SeasonError> {
    let asked = scenario.alternatives.get(index).ok_or(SeasonError::NoAlternatives)?;
    let alternatives: Vec<Alternative> = cases
        .iter()
        .map(|case| Alternative {
            name: case.name.clone(),
            rotation: case.rotation.clone(),
            feed: None,
            discharges: Discharges::default(),
            ..asked.clone()
        })
        .collect();
    let scenario = Scenario { alternatives, ..scenario.clone() };
    let prepared = PreparedSeason::of(&scenario, season::plans(&scenario)?, 0, control.maps())?;
    let WindRange { fastest_m_s, measured_at_m } = prepared.hours.wind_range();
    let cell_m = scenario.field.grid.cell_m;
    let makers = prepared.makers(FOOTPRINTS)?;
    let footprints = prepared.footprints(&makers);
    let canopy_m = scenario.canopy_height_m;
    let profile = LogProfile::over(canopy_m, measured_at_m)
        .ok_or(SeasonError::MeasuringHeight { measured_at_m })?;
    let above = asked.sprinkler.above(canopy_m)?;
    let winds = Winds { profile, fastest_m_s };
    let tilted: Vec<Option<FootprintMaker>> = cases
        .iter()
        .map(|case| {
            let maker =
                |attitude| FootprintMaker::standing(&above, attitude, &winds, cell_m, FOOTPRINTS);
            case.attitude.map(maker).transpose()
        })
        .collect::<Result<_, _>>()?;
    let layouts = prepared.layouts();
    let interior = scenario.field.interior_or_whole(asked.outlets.spacing_m);
    let mut runs: Vec<CaseRun<'_>> = layouts
        .iter()
        .zip(cases)
        .zip(&tilted)
        .map(|((layout, case), tilted)| CaseRun::new(layout, case, tilted.as_ref()))
        .collect();
    let total = prepared.passes();
    for pass in 0..total {
        let laid = footprints.of_pass(&layouts, pass)?;
        runs.par_iter_mut()
            .map(|run| run.pass(pass, &laid, &prepared.hours, &interior))
            .collect::<Result<(), SeasonError>>()?;
        if !control.goes_on(pass + 1, total) && pass + 1 < total {
            return Err(SeasonError::Stopped { done: pass + 1, total });
        }
    }
    let outcomes = runs.into_iter().map(|run| run.close(&interior)).collect::<Result<_, _>>()?;
    Ok(TiltTrial { scenario, outcomes, margin_m: asked.outlets.spacing_m })
}

/// Rate of one sprinkler in still air on cells of `cell_m`, standing so, mm/h.
///
/// # Errors
/// An unsound sprinkler or attitude.
pub fn still_rate(
    sprinkler: &Sprinkler,
    attitude: Attitude,
    cell_m: f64,
) -> Result<Footprint, SprinklerProblem> {
    // Any height will do where there is no wind.
    let profile = LogProfile::new(Surface::SHORT_GRASS, 2.0).ok_or(SprinklerProblem::NoJets)?;
    let winds = Winds { profile, fastest_m_s: 0.0 };
    let settings = FootprintSettings { rings_per_cell: 3.0, ..FOOTPRINTS };
    FootprintMaker::standing(sprinkler, attitude, &winds, cell_m, settings)?
        .still_footprint(Phase::CORNER)
}

/// One case while its season is laid down.
struct CaseRun<'a> {
    layout: &'a Layout<'a>,
    case: &'a Case,
    tilted: Option<&'a FootprintMaker>,
    pass_mm: DepthGrid,
    season_mm: DepthGrid,
    /// Figures of the passes that are, or in a tilted case would be, tilted.
    passes: Vec<Uniformity>,
    /// Gross, and what of it is on the field, off it, and lost: mm · cells.
    water: [f64; 4],
}

impl<'a> CaseRun<'a> {
    fn new(layout: &'a Layout<'a>, case: &'a Case, tilted: Option<&'a FootprintMaker>) -> Self {
        let zeros = layout.grid.zeros();
        let (pass_mm, season_mm) = (zeros.clone(), zeros);
        Self { layout, case, tilted, pass_mm, season_mm, passes: Vec::new(), water: [0.0; 4] }
    }

    /// Whether the line stands off the outlet in this pass; in every pass of a rotation that never
    /// does.
    fn is_shifted(&self, pass: usize) -> bool {
        let shifts = self.case.rotation.shifts();
        let never = shifts.iter().all(|shift| shift.across_m == 0.0);
        never || self.case.rotation.at(pass).1.across_m != 0.0
    }

    fn pass(
        &mut self,
        pass: usize,
        laid: &LaidPass,
        hours: &SeasonHours,
        interior: &Region,
    ) -> Result<(), SeasonError> {
        let layout = self.layout;
        let Some(plan) = layout.plan.passes.get(pass) else { return Ok(()) };
        let (grid, pipe) = (&layout.grid, layout.pipe(plan));
        let upright = layout.laid(plan, &plan.sets, (0, laid));
        let shifted = self.is_shifted(pass);
        let tilted: Vec<Footprint> = match self.tilted.filter(|_| shifted) {
            None => Vec::new(),
            Some(maker) => plan
                .sets
                .iter()
                .map(|set| maker.set_footprint(&hours.slices_of(set), layout.places(set).phase()))
                .collect::<Result<_, _>>()?,
        };
        // Without a feed there is one list of sets.
        let sets: Vec<LaidSet<'_>> = upright
            .iter()
            .flatten()
            .enumerate()
            .map(|(at, set)| LaidSet {
                footprint: tilted.get(at).unwrap_or(set.footprint),
                row: set.row,
                column: set.column,
            })
            .collect();
        let on_grid = overlay::lay(grid, pipe, &sets, &mut self.pass_mm, &mut self.season_mm);
        let beside: f64 = sets.iter().map(|set| overlay::off_grid(grid, pipe, set)).sum();
        let per_hour = layout.discharge_m3_h() * 1000.0 / grid.cell_area_m2();
        let set_hours: f64 = plan.sets.iter().map(|set| set.end_h - set.start_h).sum();
        self.water[0] += set_hours * per_hour;
        self.water[1] += on_grid;
        self.water[2] += beside;
        self.water[3] += laid.lost_hours(layout.index) * per_hour;
        if shifted {
            self.passes.extend(interior.figures(&self.pass_mm));
        }
        Ok(())
    }

    fn close(self, interior: &Region) -> Result<CaseOutcome, SeasonError> {
        let [gross, on_grid, beside, lost] = self.water;
        let imbalance = (gross - on_grid - beside - lost) / gross;
        if imbalance.abs() > WATER_TOLERANCE || imbalance.is_nan() {
            let alternative = self.case.name.clone();
            return Err(SeasonError::WaterLost { alternative, imbalance });
        }
        let mean = |of: fn(&Uniformity) -> f64| {
            self.passes.iter().map(of).sum::<f64>() / self.passes.len() as f64
        };
        let blocked = |attitude: Attitude| {
            let jets = &self.layout.alternative.sprinkler.jets;
            let share = |jet: &Jet| {
                attitude.blocked_share(jet.launch.trajectory_angle_deg) * jet.leg().discharge_l_s()
            };
            jets.iter().map(share).sum::<f64>() / self.layout.alternative.sprinkler.discharge_l_s()
        };
        Ok(CaseOutcome {
            season: interior.figures(&self.season_mm),
            pass_cu: mean(|figures| figures.cu),
            pass_du_lq: mean(|figures| figures.du_lq),
            blocked_share: self.case.attitude.map_or(0.0, blocked),
            season_mm: self.season_mm,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::tests::{alternative, scenario, sprinkler, windy};
    use crate::sprinkler::shape::Shape;

    fn windy_pair() -> Scenario {
        let sprinkler = sprinkler(Shape::Triangular, 88.0);
        let mut scenario = scenario(4.0, 4, vec![alternative("pair", &[0.0, 30.0], sprinkler)]);
        scenario.weather = windy(3.0);
        scenario
    }

    fn case(name: &str, stood: Option<(f64, f64)>, scenario: &Scenario) -> Case {
        let attitude = stood.map(|(roll_deg, leveler_range_deg)| Attitude {
            roll_deg,
            leveler_range_deg,
            pipe_diameter_m: 0.1016,
            riser_m: 0.2032,
        });
        let rotation = scenario.alternatives[0].rotation.clone();
        Case { name: name.into(), rotation, attitude }
    }

    #[test]
    fn reference_upright_is_the_season_and_tilt_loses_evenness_from_there() {
        let scenario = windy_pair();
        let cases = [
            case("upright", None, &scenario),
            case("within the levelers", Some((10.0, 15.0)), &scenario),
            case("a sixth of a turn", Some((60.0, 15.0)), &scenario),
            case("half a turn", Some((180.0, 15.0)), &scenario),
        ];
        let trial = run(&scenario, 0, &cases, &RunControl::default()).unwrap();
        let plain = season::run(&scenario, RunControl::default()).unwrap();
        let wanted = plain.alternatives[0].season_figures().interior.unwrap();
        let cu = |at: usize| trial.outcomes[at].season.unwrap().cu;
        // Coarser footprints: 0.05 points of CU.
        assert!((cu(0) - wanted.cu).abs() < 5e-4, "{} {}", cu(0), wanted.cu);
        assert!((cu(1) - cu(0)).abs() < 5e-3, "{} {}", cu(1), cu(0));
        assert!(cu(2) < cu(0) - 0.005 && cu(3) < cu(2), "{} {} {}", cu(0), cu(2), cu(3));
        assert!(trial.outcomes[3].pass_cu < trial.outcomes[0].pass_cu - 0.3);
    }

    #[test]
    fn closed_a_rotation_that_never_shifts_is_tilted_in_every_pass() {
        let mut scenario = windy_pair();
        scenario.alternatives[0].rotation = Rotation::fixed();
        let hanging = case("hanging", Some((180.0, 15.0)), &scenario);
        let trial = run(&scenario, 0, &[hanging], &RunControl::default()).unwrap();
        let only = &trial.outcomes[0];
        assert!(only.season.unwrap().cu < 0.5 && only.pass_cu < 0.5, "{only:?}");
    }
}
