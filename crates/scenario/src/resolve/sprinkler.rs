//! The sprinkler: its jets as legs, with defaults.
//!
//! Shapes and nozzles become legs in the core; here they only get their sizes.

use crate::document::At;
use crate::file::{
    DragFile, DragFormName, FlowControlFile, JetFile, LegFile, ShapeName, SprinklerFile,
};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use evenfall_core::sprinkler::nozzle::{DISCHARGE_COEFFICIENT, Nozzle, NozzlePattern};
use evenfall_core::sprinkler::shape::{IdealPattern, Shape};
use evenfall_core::sprinkler::{
    DragCorrection, DragForm, FlowControl, Jet, Launch, Leg, Pattern, Sprinkler, SprinklerProblem,
};
use evenfall_core::units::L_S_PER_GPM;

/// Dry inner part of the ideal ring.
const RING_INNER_FRACTION: f64 = 0.3;
/// A leg whose own discharge differs from the stated one by more than this share gets a warning.
const LEG_DIFFERENCE: f64 = 0.25;

/// The sprinkler; `None` if a jet is bad.
pub(crate) fn resolve(given: &SprinklerFile, notes: &mut Notes<'_>) -> Option<Sprinkler> {
    let at = &given.at.pointer;
    let trajectory_angle_deg =
        SprinklerFile::trajectory_angle.or_start(Some(&given.trajectory_angle), at, notes);
    let launch = Launch {
        pressure_kpa: given.pressure.value,
        trajectory_angle_deg,
        nozzle_height_m: given.nozzle_height.value,
    };
    let drag = drag(given.drag.as_ref(), at, notes);
    let jets: Vec<Option<Jet>> =
        given.jets.items.iter().map(|item| jet(item, launch, notes)).collect();
    let flow_control =
        given.flow_control.as_ref().map(|control| flow_control(control, given, notes));
    let jets = jets.into_iter().collect::<Option<_>>()?;
    Some(Sprinkler {
        jets,
        drag,
        flow_control: flow_control.map_or(Some(None), |it| it.map(Some))?,
    })
}

/// Where nozzles hold their discharge; `None` where the range makes no sense.
fn flow_control(
    given: &FlowControlFile,
    sprinkler: &SprinklerFile,
    notes: &mut Notes<'_>,
) -> Option<FlowControl> {
    let control = FlowControl {
        from_kpa: given.from.value,
        to_kpa: given.to.as_ref().map(|pressure| pressure.value),
    };
    let to = given.to.as_ref().map_or("any higher pressure", |to| &to.text);
    let issue = if let Some(to) = given.to.as_ref().filter(|to| to.value <= given.from.value) {
        let problem = format!("the range ends at {} and begins at {}", to.text, given.from.text);
        Issue::new(&to.at, problem).hint("Give the lowest pressure in `from`, the highest in `to`.")
    } else if control.check(sprinkler.pressure.value).is_err() {
        let problem = format!(
            "the stated pressure of {} lies outside the range in which the nozzles hold their discharge",
            sprinkler.pressure.text
        );
        Issue::new(&given.from.at, problem)
            .allowed(format!("a range that holds it, not {} to {to}", given.from.text))
            .hint("Give `pressure` and discharge from the maker’s table for that range.")
    } else {
        if given.to.is_none() {
            let what = format!("{}/to", given.at.pointer);
            notes.assume(&what, "any higher pressure", "held from the lowest pressure on");
        } else {
            let what = format!("{}/beyond", given.at.pointer);
            let why = "outside the range discharge goes with the root of pressure: below it by the \
                       orifice equation, above it an extrapolation";
            notes.assume(&what, "√P", why);
        }
        return Some(control);
    };
    notes.issues.push(issue);
    None
}

/// The drag correction of a sprinkler of which nothing is known.
pub(crate) fn starting_drag() -> DragCorrection {
    DragCorrection {
        form: form(DragFile::form.start()),
        k1: DragFile::k1.start(),
        k2: DragFile::k2.start(),
        turbulence: DragFile::turbulence.start(),
        jet_length_m: DragFile::jet_length.start(),
        flattens: true,
    }
}

fn form(name: DragFormName) -> DragForm {
    match name {
        DragFormName::AirAndGround => DragForm::AirAndGround,
        DragFormName::AirAndWind => DragForm::AirAndWind,
    }
}

fn drag(given: Option<&DragFile>, section: &str, notes: &mut Notes<'_>) -> DragCorrection {
    let at = &format!("{section}/drag");
    let correction = DragCorrection {
        form: form(DragFile::form.or_start(given.map(|drag| &drag.form), at, notes)),
        k1: DragFile::k1.or_start(given.map(|drag| &drag.k1), at, notes),
        k2: DragFile::k2.or_start(given.map(|drag| &drag.k2), at, notes),
        turbulence: DragFile::turbulence.or_start(given.map(|drag| &drag.turbulence), at, notes),
        jet_length_m: DragFile::jet_length.or_start(given.map(|drag| &drag.jet_length), at, notes),
        ..starting_drag()
    };
    if let Some(k1) = given.and_then(|drag| drag.k1.as_ref()).filter(|k1| k1.value > 0.0) {
        let why = "as the scenario gives it; a fitted number, not physics";
        notes.assume(&format!("{at}/k1"), k1.value.to_string(), why);
    }
    correction
}

fn jet(given: &JetFile, launch: Launch, notes: &mut Notes<'_>) -> Option<Jet> {
    let launch = Launch {
        trajectory_angle_deg: given
            .trajectory_angle
            .as_ref()
            .map_or(launch.trajectory_angle_deg, |trajectory| trajectory.value),
        ..launch
    };
    match (&given.leg, given.shape, &given.nozzle) {
        (Some(leg), ..) => Some(Jet::new(measured(given, leg, notes)?, launch)),
        (None, Some(shape), _) => Some(Jet::new(ideal(given, shape, notes)?, launch)),
        (None, None, Some(nozzle)) => {
            Some(Jet::new(from_nozzle(given, nozzle.value, launch, notes)?, launch))
        }
        // The reader has seen to it that one of the three is there.
        (None, None, None) => None,
    }
}

/// Says why the core made no pattern of a jet.
fn made<T>(pattern: Result<T, SprinklerProblem>, at: &At, notes: &mut Notes<'_>) -> Option<T> {
    pattern.map_err(|problem| notes.issues.push(Issue::new(at, problem.to_string()))).ok()
}

fn measured(given: &JetFile, file: &LegFile, notes: &mut Notes<'_>) -> Option<Leg> {
    for (key, at) in [
        ("radius", given.radius.as_ref().map(|radius| &radius.at)),
        ("wetted_diameter", given.wetted_diameter.as_ref().map(|diameter| &diameter.at)),
    ] {
        if let Some(at) = at {
            let problem =
                format!("`{key}` does not go with a leg: its last distance is the radius");
            notes.issues.push(Issue::new(at, problem).hint(format!("Remove `{key}`.")));
        }
    }
    let distance_m: Vec<f64> = file.distance.items.iter().map(|d| d.value).collect();
    let rate_mm_h: Vec<f64> = file.rate.items.iter().map(|rate| rate.value).collect();
    let falls = file.distance.items.windows(2).find(|pair| pair[1].value <= pair[0].value);
    if let Some([_, second]) = falls {
        let problem = "the distances of a leg must rise from one to the next";
        notes.issues.push(Issue::new(&second.at, problem));
        return None;
    }
    if distance_m.len() != rate_mm_h.len() {
        let problem =
            format!("the leg has {} distances and {} rates", distance_m.len(), rate_mm_h.len());
        notes.issues.push(
            Issue::new(&file.rate.at.opening(), problem).allowed("one rate for each distance"),
        );
        return None;
    }
    if rate_mm_h.last().is_some_and(|rate| *rate > 0.0) {
        notes.warn(format!(
            "the leg at {} ends with water: nothing falls beyond its last distance",
            file.at.pointer
        ));
    }
    let leg = made(Leg::new(distance_m, rate_mm_h), &file.at.opening(), notes)?;
    let own_l_s = leg.discharge_l_s();
    let Some(stated) = &given.discharge else {
        let what = format!("{}/discharge", given.at.pointer);
        notes.assume(&what, discharge(own_l_s), "what the leg adds up to");
        return Some(leg);
    };
    let factor = stated.value / own_l_s;
    let what = format!("{}/rate", file.at.pointer);
    notes.assume(
        &what,
        format!("times {}", decimals(factor, 4)),
        format!("the leg adds up to {} and is scaled to {}", discharge(own_l_s), stated.text),
    );
    if (factor - 1.0).abs() > LEG_DIFFERENCE {
        notes.warn(format!(
            "the leg at {} adds up to {}, far from the stated {}",
            file.at.pointer,
            discharge(own_l_s),
            stated.text
        ));
    }
    made(leg.with_discharge(stated.value), &stated.at, notes)
}

fn discharge(l_s: f64) -> String {
    format!("{} gpm ({} L/s)", decimals(l_s / L_S_PER_GPM, 3), decimals(l_s, 4))
}

fn ideal(given: &JetFile, shape: ShapeName, notes: &mut Notes<'_>) -> Option<IdealPattern> {
    let radius_m = radius(given, notes);
    let Some(discharge) = &given.discharge else {
        let problem = "a jet with a shape needs the key `discharge`";
        let hint = "Add \"discharge\": \"4.98 gpm\", as measured or from the nozzle's table.";
        notes.issues.push(Issue::new(&given.at.opening(), problem).hint(hint));
        return None;
    };
    let shape = match shape {
        ShapeName::Triangle => Shape::Triangular,
        ShapeName::Ellipse => Shape::Elliptical,
        ShapeName::Parabola => Shape::Parabolic,
        ShapeName::Uniform => Shape::Uniform,
        ShapeName::Ring => {
            let what = format!("{}/shape", given.at.pointer);
            let value = format!("dry within {RING_INNER_FRACTION} of the radius");
            notes.assume(&what, value, "a ring of our own, as when the pressure is too low");
            Shape::Ring { inner_fraction: RING_INNER_FRACTION }
        }
    };
    let pattern = IdealPattern::new(shape, radius_m?, discharge.value);
    made(pattern, &given.at.opening(), notes)
}

fn from_nozzle(
    given: &JetFile,
    diameter_m: f64,
    launch: Launch,
    notes: &mut Notes<'_>,
) -> Option<NozzlePattern> {
    let radius_m = radius(given, notes)?;
    let nozzle = Nozzle { diameter_mm: diameter_m * 1000.0, coefficient: DISCHARGE_COEFFICIENT };
    let at = given.nozzle.as_ref().map_or(&given.at, |nozzle| &nozzle.at);
    let pattern = made(NozzlePattern::new(nozzle, &launch, radius_m), at, notes)?;
    notes.assume(
        &format!("{}/nozzle", given.at.pointer),
        "drop sizes after Kincaid et al. 1996",
        "shape of the leg from drop sizes and flight, drawn out to the stated radius",
    );
    let Some(stated) = &given.discharge else {
        let what = format!("{}/discharge", given.at.pointer);
        let why = format!("from bore and pressure with a coefficient of {DISCHARGE_COEFFICIENT}");
        notes.assume(&what, discharge(pattern.leg().discharge_l_s()), why);
        return Some(pattern);
    };
    made(pattern.with_discharge(stated.value), &stated.at, notes)
}

/// The radius that a shape or nozzle needs.
fn radius(given: &JetFile, notes: &mut Notes<'_>) -> Option<f64> {
    match (&given.radius, &given.wetted_diameter) {
        (Some(radius), None) => Some(radius.value),
        (None, Some(diameter)) => Some(0.5 * diameter.value),
        (Some(_), Some(diameter)) => {
            let problem = "radius and wetted diameter are both given";
            notes.issues.push(Issue::new(&diameter.at, problem).hint("Remove one of the two."));
            None
        }
        (None, None) => {
            let problem = "this jet needs the key `radius` or `wetted_diameter`";
            let hint = format!(
                "Add \"radius\": \"44 ft\" ({}), measured in still air or from a catalog.",
                length(13.4112)
            );
            notes.issues.push(Issue::new(&given.at.opening(), problem).hint(hint));
            None
        }
    }
}
