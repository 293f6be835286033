//! The pipe with its defaults, its pressures solved once to see that no sprinkler runs dry.

use super::discharges::State;
use super::refused::Refused;
use super::survey;
use crate::file::{HeightFile, InletFile, LateralFile, PipeFile};
use crate::issue::Issue;
use crate::limits;
use crate::notes::{Notes, decimals, length};
use crate::read::Number;
use crate::row::Row;
use evenfall_core::lateral::hydraulics::{
    Delivery, FAST_M_S, Feed, Ground, HydraulicsProblem, Inlet, Material, Pipe, PipeSize,
    PressureLine, solve_each,
};
use evenfall_core::lateral::{Lateral, Machine};
use evenfall_core::sprinkler::Sprinkler;
use evenfall_core::units::{KPA_PER_PSI, L_S_PER_GPM, M_PER_FT};
use std::f64::consts::PI;

/// A change of size closer to the inlet than this is a slip, m.
const NO_LENGTH_M: f64 = 1e-6;

/// The sprinklers that a pipe serves.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Served<'a> {
    pub(crate) lateral: &'a Lateral,
    pub(crate) state: &'a State,
}

/// How water gets to the sprinklers; told where the file does not say.
pub(crate) fn feed(
    given: Option<&PipeFile>,
    section: &str,
    served: Served<'_>,
    notes: &mut Notes<'_>,
) -> Result<Option<Feed>, Refused> {
    let Served { lateral, state } = served;
    let sprinkler = &state.sprinkler;
    let Some(given) = given else {
        let survey = state.condition.survey.as_ref();
        if survey.is_some_and(|survey| !survey.pressures_kpa.is_empty()) {
            let why =
                "read at the nozzles; describe the pipe to calculate it and hold the two together";
            notes.assume(&format!("{section}/pipe"), "pressure as surveyed", why);
        } else {
            LateralFile::pipe.assume(section, "no losses", notes);
        }
        return Ok(None);
    };
    let (pipe, ground) = (pipe(given, notes), ground(given, notes));
    let inlet = inlet(given, sprinkler, notes);
    let inlet_m = inlet_m(given, lateral, notes);
    let riser_m = riser_m(given, lateral, sprinkler, notes);
    let radius_exponent = radius_exponent(given, notes);
    let (Some(pipe), Some(ground)) = (pipe, ground) else { return Err(Refused) };
    let feed = Feed { pipe, inlet, inlet_m, ground, riser_m, radius_exponent };
    let factors = state.discharges.factors(lateral.sprinklers).unwrap_or_default();
    let delivery = Delivery { factors: &factors, leaks: state.condition.leaked_share() };
    match solve_each(lateral, sprinkler, &feed, delivery) {
        Ok(line) => {
            warn(given, &line, notes);
            if let Some(found) = &state.condition.survey {
                survey::beside_pipe(found, &line, &format!("{section}/survey"), notes);
            }
            Ok(Some(feed))
        }
        Err(problem) => {
            notes.issues.push(told(given, &problem));
            Err(Refused)
        }
    }
}

/// The sizes; `None` if they do not make a pipe.
fn pipe(given: &PipeFile, notes: &mut Notes<'_>) -> Option<Pipe> {
    let near_m = given.inside_diameter.value;
    let c = roughness(given, &PipeFile::roughness_c, near_m, notes);
    let near = PipeSize { inside_diameter_m: near_m, roughness_c: c };
    let (at, problem, hint) = match (&given.inside_diameter_beyond, &given.change_at) {
        (None, None) if given.roughness_c_beyond.is_none() => return Some(Pipe::of(near)),
        (Some(diameter), Some(change)) if change.value > NO_LENGTH_M => {
            let c = match &given.roughness_c_beyond {
                Some(c) => c.value,
                None if given.roughness_c.is_some() => c,
                None => roughness(given, &PipeFile::roughness_c_beyond, diameter.value, notes),
            };
            let size = PipeSize { inside_diameter_m: diameter.value, roughness_c: c };
            return Some(Pipe { near, far: Some((change.value, size)) });
        }
        (Some(_), Some(change)) => (
            change.at.clone(),
            "the size changes at the inlet itself",
            "Give the distance from the inlet to the change, or one diameter only.",
        ),
        (Some(diameter), None) => (
            diameter.at.clone(),
            "a second diameter needs the key `change_at`",
            "Add \"change_at\": \"660 ft\", the distance from the inlet.",
        ),
        (None, Some(change)) => (
            change.at.clone(),
            "`change_at` needs a second diameter",
            "Add \"inside_diameter_beyond\": \"3.9 in\", or remove `change_at`.",
        ),
        (None, None) => {
            (given.at.opening(), "`roughness_c_beyond` needs a second diameter", "Remove it.")
        }
    };
    notes.issues.push(Issue::new(&at, problem).hint(hint));
    None
}

/// C as given, or by material; told where it is not given.
fn roughness(
    given: &PipeFile,
    row: &Row<Option<Number<limits::RoughnessC>>>,
    diameter_m: f64,
    notes: &mut Notes<'_>,
) -> f64 {
    if let Some(c) = &given.roughness_c {
        return c.value;
    }
    let at = &given.at.pointer;
    let material = PipeFile::material.or_start(Some(&given.material), at, notes);
    let c = Material::from(material).roughness_c(diameter_m);
    row.assume(at, decimals(c, 0), notes);
    c
}

fn inlet(given: &PipeFile, sprinkler: &Sprinkler, notes: &mut Notes<'_>) -> Inlet {
    match &given.inlet {
        Some(InletFile { pressure: Some(pressure), .. }) => Inlet::Pressure(pressure.value),
        Some(InletFile { flow: Some(flow), .. }) => Inlet::Flow(flow.value),
        Some(InletFile { mean_sprinkler_pressure: Some(mean), .. }) => {
            Inlet::MeanSprinkler(mean.value)
        }
        // The reader has seen to it that an inlet holds one of the three.
        _ => {
            let kpa = sprinkler.jets.first().map_or(f64::NAN, |jet| jet.launch.pressure_kpa);
            let what = format!("{}/inlet/mean_sprinkler_pressure", given.at.pointer);
            notes.assume(&what, pressure(kpa), "the stated pressure of the sprinklers");
            Inlet::MeanSprinkler(kpa)
        }
    }
}

/// On both sides of a mainline the pipe of the right side is described; the left one mirrors it.
fn inlet_m(given: &PipeFile, lateral: &Lateral, notes: &mut Notes<'_>) -> f64 {
    if let Some(inlet_m) = lateral.mainline_m() {
        if let Some(inlet) = &given.inlet_at {
            let problem = "on both sides of a mainline the inlet is at the mainline";
            let hint = "Remove `inlet_at`; `mainline_at` of the lateral says where it is.";
            notes.issues.push(Issue::new(&inlet.at, problem).hint(hint));
        }
        let why = "the mainline; the left side is the mirror image of the right, slope included";
        notes.assume(&format!("{}/inlet_at", given.at.pointer), length(inlet_m), why);
        return inlet_m;
    }
    PipeFile::inlet_at.or_start(Some(&given.inlet_at), &given.at.pointer, notes)
}

/// Where it is not given: from the axle of a wheel line (half a wheel above ground), or from the
/// ground, up to the nozzle.
fn riser_m(
    given: &PipeFile,
    lateral: &Lateral,
    sprinkler: &Sprinkler,
    notes: &mut Notes<'_>,
) -> f64 {
    if let Some(riser) = &given.riser {
        return riser.value;
    }
    let nozzle_m = sprinkler.jets.first().map_or(0.0, |jet| jet.launch.nozzle_height_m);
    let (pipe_m, why) = match &lateral.machine {
        Machine::WheelLine(wheel) => (
            wheel.travel_per_turn_m / (2.0 * PI),
            "nozzle height less the axle's, half of a wheel's diameter by its travel per turn",
        ),
        Machine::HandMove => (0.0, "nozzle height; the pipe lies on the ground"),
    };
    let riser_m = (nozzle_m - pipe_m).max(0.0);
    notes.assume(&format!("{}/riser", given.at.pointer), length(riser_m), why);
    riser_m
}

/// The heights along the pipe; `None` if they make no ground.
fn ground(given: &PipeFile, notes: &mut Notes<'_>) -> Option<Ground> {
    match (&given.slope, &given.heights) {
        (None, None) => {
            PipeFile::slope.or_start(None, &given.at.pointer, notes);
            Some(Ground::LEVEL)
        }
        (Some(slope), None) => Some(Ground::Slope(slope.value)),
        (Some(slope), Some(_)) => {
            let problem = "slope and heights are both given";
            notes.issues.push(Issue::new(&slope.at, problem).hint("Remove one of the two."));
            None
        }
        (None, Some(heights)) => profile(&heights.items, notes),
    }
}

fn profile(points: &[HeightFile], notes: &mut Notes<'_>) -> Option<Ground> {
    let falls = points.windows(2).find(|pair| pair[1].place.value <= pair[0].place.value);
    if let Some([_, second]) = falls {
        let problem = "the places of the heights must rise from one to the next";
        notes.issues.push(Issue::new(&second.place.at, problem));
        return None;
    }
    let pairs = points.iter().map(|point| (point.place.value, point.height.value));
    Some(Ground::Profile(pairs.collect()))
}

fn radius_exponent(given: &PipeFile, notes: &mut Notes<'_>) -> f64 {
    PipeFile::radius_exponent.or_start(Some(&given.radius_exponent), &given.at.pointer, notes)
}

/// Why no pressures were found, at the key that would mend it.
fn told(given: &PipeFile, problem: &HydraulicsProblem) -> Issue {
    let inlet = given.inlet.as_ref().map_or_else(|| given.at.opening(), |inlet| inlet.at.opening());
    match problem {
        HydraulicsProblem::RunsDry(dry) => {
            let got = if dry.nozzle_kpa > 0.0 { pressure(dry.nozzle_kpa) } else { "none".into() };
            let words = format!(
                "the lateral runs dry: sprinkler {} of {}, {} from the field's edge, has {got} and \
                 needs {} ({} in all have too little)",
                dry.sprinkler,
                dry.sprinklers,
                length(dry.place_m),
                pressure(dry.least_kpa),
                dry.starved
            );
            let more = dry.needed_kpa.map_or_else(
                || "more pressure alone would not do".to_owned(),
                |needed_kpa| {
                    format!(
                        "or {} at the inlet in place of {}",
                        pressure(needed_kpa),
                        pressure(dry.inlet_kpa)
                    )
                },
            );
            Issue::new(&inlet, words)
                .hint(format!("A wider pipe, fewer or smaller nozzles, {more}."))
        }
        other => Issue::new(&inlet, other.to_string()),
    }
}

/// What the reader should know of a lateral that works.
fn warn(given: &PipeFile, line: &PressureLine, notes: &mut Notes<'_>) {
    let at = &given.at.pointer;
    if line.fastest_m_s() > FAST_M_S {
        notes.warn(format!(
            "the pipe at {at} carries water at up to {} ft/s ({} m/s); beyond {} m/s water hammer \
             is a worry (common practice)",
            decimals(line.fastest_m_s() / M_PER_FT, 1),
            decimals(line.fastest_m_s(), 2),
            decimals(FAST_M_S, 1)
        ));
    }
    if !line.keeps_rule() {
        notes.warn(format!(
            "pressures along the pipe at {at} differ by {} % of the sprinklers' stated pressure, \
             more than the 20 % that laterals are laid out to; inlet {}, {} gpm ({} L/s)",
            decimals(100.0 * line.pressure_variation(), 0),
            pressure(line.inlet_kpa),
            decimals(line.flow_l_s() / L_S_PER_GPM, 0),
            decimals(line.flow_l_s(), 2)
        ));
    }
    if let Some((change_m, _)) = line.feed.pipe.far {
        let farthest_m = line.outlets.iter().map(|o| (o.place_m - line.feed.inlet_m).abs());
        if farthest_m.fold(0.0, f64::max) <= change_m {
            notes.warn(format!(
                "the pipe at {at} ends before its size changes, {} from the inlet",
                length(change_m)
            ));
        }
    }
}

fn pressure(kpa: f64) -> String {
    format!("{} psi ({} kPa)", decimals(kpa / KPA_PER_PSI, 1), decimals(kpa, 0))
}
