//! `evenfall tilt`: what a line stopped off the whole turn does to a season.

use crate::arguments::TiltArguments;
use crate::edges::chosen;
use crate::failure::Failure;
use crate::notes::study_notes;
use crate::report::{display_units, write_study};
use crate::season::{begin, say_where};
use crate::stopping;
use crate::terminal::{PASSES, Voice};
use evenfall_core::lateral::{Machine, Wheel};
use evenfall_core::model::Alternative;
use evenfall_core::rotation::{Rotation, Shift};
use evenfall_core::season::RunControl;
use evenfall_core::sprinkler::attitude::{Attitude, roll_deg};
use evenfall_core::tilt_trial::{self, Case, still_rate};
use evenfall_figures::{HalfSpacing, Standing, TiltStudy, tilt_study};

/// Rolls that are shown where none are asked for, degrees; the levelers' range comes beside them.
const ROLLS_DEG: [f64; 5] = [30.0, 60.0, 90.0, 135.0, 180.0];
/// Cells on which one sprinkler is shown, m.
const STANDING_CELL_M: f64 = 0.3;

pub(crate) fn run(options: &TiltArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    options.on_pipe.check()?;
    let (loaded, mut draft) = begin(&options.page, "evenfall-tilt", None, voice)?;
    let scenario = &loaded.resolved.scenario;
    let index = chosen(scenario, options.alternative.as_deref())?;
    let asked = &scenario.alternatives[index];
    let Machine::WheelLine(wheel) = asked.lateral.machine else {
        return Err(Failure::Usage(format!(
            "\"{}\" is moved by hand: it does not roll, so its sprinklers do not tilt",
            asked.name
        )));
    };
    let (on_pipe, on_pipe_words) = options.on_pipe.of(&loaded.resolved, asked)?;
    let upright = Attitude {
        roll_deg: 0.0,
        leveler_range_deg: wheel.leveler_range_deg,
        pipe_diameter_m: on_pipe.pipe_diameter_m,
        riser_m: on_pipe.riser_m,
    };
    let plan = Plan::of(asked, &wheel, upright);
    let trial = voice.watched(PASSES, &stop, |go_on| {
        tilt_trial::run(scenario, index, &plan.cases, &RunControl::new(go_on))
    })?;
    let study = TiltStudy {
        trial: &trial,
        cases: &plan.cases,
        alternative: &asked.name,
        rolls: plan.rolls.clone(),
        free: plan.free,
        half_spacing: plan.half_spacing,
        leveler_range_deg: wheel.leveler_range_deg,
        standing: standing(asked, upright)?,
        standing_cell_m: STANDING_CELL_M,
    };
    let command = format!("tilt --alternative \"{}\"{on_pipe_words}", asked.name);
    let units = display_units(loaded.resolved.units);
    let page = tilt_study(&study, &study_notes(&loaded, &command), units)?;
    write_study(&mut draft, "tilt.html", &page, &stop)?;
    say_where(&loaded, &page.text, &draft.finish()?.join("tilt.html"), voice)
}

/// The cases of the what-if, and which is which.
struct Plan {
    cases: Vec<Case>,
    rolls: Vec<usize>,
    free: usize,
    half_spacing: Option<HalfSpacing>,
}

impl Plan {
    fn of(asked: &Alternative, wheel: &Wheel, upright: Attitude) -> Self {
        let case = |name: String, rotation: &Rotation, attitude: Option<Attitude>| Case {
            name,
            rotation: rotation.clone(),
            attitude,
        };
        let own = &asked.rotation;
        let mut cases = vec![
            case("Fixed, upright".to_owned(), &Rotation::fixed(), None),
            case(format!("{}, whole turns", asked.name), own, None),
        ];
        let mut rolls = vec![1];
        let levelers_deg = upright.leveler_range_deg;
        let mut asked_deg = vec![levelers_deg];
        asked_deg.extend(ROLLS_DEG.iter().filter(|roll| **roll > levelers_deg));
        for roll_deg in asked_deg.into_iter().filter(|roll| *roll > 0.0) {
            let words = if roll_deg == 180.0 {
                "Half a turn off".to_owned()
            } else {
                format!("{roll_deg:.0}° off")
            };
            rolls.push(cases.len());
            cases.push(case(words, own, Some(Attitude { roll_deg, ..upright })));
        }
        let free = cases.len();
        let swinging = Attitude { roll_deg: 180.0, leveler_range_deg: 180.0, ..upright };
        cases.push(case(
            "Half a turn off, levelers free to swing all the way".to_owned(),
            own,
            Some(swinging),
        ));
        let shift_m = 0.5 * asked.outlets.spacing_m;
        let turns = shift_m / wheel.travel_per_turn_m;
        let stood = Attitude { roll_deg: roll_deg(turns), ..upright };
        let half_spacing = (stood.tilt_deg() != 0.0).then(|| {
            let ahead = Shift { across_m: shift_m, along_m: 0.0 };
            let rotation = Rotation::new(vec![Shift::NONE, ahead]).unwrap_or_else(Rotation::fixed);
            let place = cases.len();
            cases.push(case("Half a spacing, if it stood upright".to_owned(), &rotation, None));
            cases.push(case("Half a spacing, as it stands".to_owned(), &rotation, Some(stood)));
            HalfSpacing {
                shift_m,
                turns,
                upright: place,
                stood: place + 1,
                beyond_reach: shift_m > asked.outlets.reach_m + 1e-6,
            }
        });
        Self { cases, rolls, free, half_spacing }
    }
}

/// One sprinkler of the alternative, by how it stands.
fn standing(asked: &Alternative, upright: Attitude) -> Result<Vec<Standing>, Failure> {
    let swinging = Attitude { roll_deg: 180.0, leveler_range_deg: 180.0, ..upright };
    let at = |roll_deg: f64| Attitude { roll_deg, ..upright };
    let shown = [
        ("Upright", upright),
        ("30° off", at(30.0)),
        ("60° off", at(60.0)),
        ("90° off", at(90.0)),
        ("Half a turn off", at(180.0)),
        ("Half a turn off, levelers free", swinging),
    ];
    let trajectory_angle_deg =
        asked.sprinkler.jets.first().map_or(0.0, |jet| jet.launch.trajectory_angle_deg);
    shown
        .into_iter()
        .map(|(name, attitude)| {
            let rate = still_rate(&asked.sprinkler, attitude, STANDING_CELL_M)
                .map_err(|error| Failure::Season(format!("sprinkler, {name}: {error}")))?;
            Ok(Standing { name: name.to_owned(), attitude, trajectory_angle_deg, rate })
        })
        .collect()
}
