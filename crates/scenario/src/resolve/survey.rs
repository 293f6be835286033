//! The survey of a lateral's sprinklers, read and told; its pressures beside those of a pipe.

use super::refused::Refused;
use crate::file::{LateralFile, SprinklerFile, SurveyFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use crate::survey_table::{self, Surveyed, Table};
use evenfall_core::lateral::hydraulics::PressureLine;
use evenfall_core::lateral::survey::{Survey, SurveyFound};
use evenfall_core::units::KPA_PER_PSI;

/// The survey of `lateral`; everything wrong with it is told.
pub(crate) fn resolve(
    lateral: &LateralFile,
    sprinkler: &SprinklerFile,
    notes: &mut Notes<'_>,
) -> Result<Option<Survey>, Refused> {
    let Some(given) = &lateral.survey else { return Ok(None) };
    let name = &given.file.value;
    let bytes = notes.file_once(name, &given.file.at).ok_or(Refused)?;
    let first = sprinkler.jets.items.first().and_then(|jet| jet.nozzle.as_ref());
    let nominal_bore_m = given.nominal_bore.as_ref().or(first).map(|bore| bore.value);
    let sprinklers = lateral.sprinklers.value;
    let table = survey_table::read(&bytes, Surveyed { sprinklers, nominal_bore_m });
    if !table.problems.is_empty() {
        for problem in table.problems {
            let what = format!("{name}: {}", problem.what);
            notes.issues.push(Issue::new(&given.file.at, what).hint(problem.hint));
        }
        return Err(Refused);
    }
    let at = &given.at.pointer;
    let gauge_error_kpa = SurveyFile::gauge_error.or_start(Some(&given.gauge_error), at, notes);
    tell(given, &table, lateral, sprinkler.jets.items.len(), notes);
    let sprinklers = sprinklers as usize;
    Ok(Some(Survey { readings: table.readings, sprinklers, gauge_error_kpa }))
}

/// Tells what was taken for granted, and what was not used.
fn tell(
    given: &SurveyFile,
    table: &Table,
    lateral: &LateralFile,
    jets: usize,
    notes: &mut Notes<'_>,
) {
    let (name, at) = (&given.file.value, &given.at.pointer);
    let source = format!("Survey of the sprinklers: {name}");
    if !notes.sources.contains(&source) {
        notes.sources.push(source);
    }
    let has =
        |is: fn(&evenfall_core::lateral::survey::Reading) -> bool| table.readings.iter().any(is);
    let surveyed = table.readings.len() as u64;
    notes.assume(
        &format!("{at}/discharge"),
        format!("{surveyed} of {} sprinklers surveyed", lateral.sprinklers.value),
        "nozzles by q = stated · (bore/nominal)² · √(pressure/stated), or by the flow caught; their pattern \
         keeps its shape",
    );
    if surveyed < lateral.sprinklers.value {
        let left = lateral.sprinklers.value - surveyed;
        notes.assume(
            &format!("{at}/others"),
            format!("{left} not surveyed"),
            "mean nozzle of those surveyed, plugged ones left out; pressure between the readings along the \
             pipe, by place",
        );
    }
    if !has(|reading| reading.pressure_kpa.is_some()) {
        notes.assume(&format!("{at}/pressure"), "as stated", "no pressure was read");
    }
    if jets > 1 && has(|reading| reading.bore.is_some()) {
        notes.assume(
            &format!("{at}/bore"),
            "that of the first jet",
            "the sprinkler has several; the others deliver as stated",
        );
    }
    for (number, words) in &table.other_notes {
        notes.warn(format!(
            "{name} notes at sprinkler {number}: {words}; nothing is computed from it"
        ));
    }
    for column in &table.other_columns {
        notes.warn_planner(format!("{name}: the column `{column}` is not read"));
    }
}

/// Tells how far the readings are from the pressures calculated along the pipe; warns where that is
/// more than the gauge may be off.
pub(crate) fn beside_pipe(
    found: &SurveyFound,
    line: &PressureLine,
    section: &str,
    notes: &mut Notes<'_>,
) {
    let Some(beside) = found.beside(line) else { return };
    let named = |index: usize| match index {
        0 => "first",
        last if last + 1 == beside.at.len() => "last",
        _ => "middle",
    };
    let each = beside.at.iter().enumerate().map(|(index, (sprinkler, kpa))| {
        format!("{} read (sprinkler {}) {}", named(index), sprinkler + 1, signed(*kpa))
    });
    let differ = each.collect::<Vec<_>>().join("; ");
    notes.assume(
        &format!("{section}/pressure"),
        differ.clone(),
        "read less calculated; pressure is calculated along the pipe, and only nozzles are taken from the \
         survey",
    );
    if !beside.agrees(found.gauge_error_kpa) {
        notes.warn_planner(format!(
            "the pitot readings and the pressures calculated along the pipe differ by {} (root of the mean \
             square), more than the gauge may be off ({}): {differ}. Check the inlet’s pressure, the pipe’s \
             size and heights, or the gauge",
            plain(beside.off_kpa),
            plain(found.gauge_error_kpa)
        ));
    }
}

fn plain(kpa: f64) -> String {
    format!("{} psi ({} kPa)", decimals(kpa / KPA_PER_PSI, 1), decimals(kpa, 0))
}

fn signed(kpa: f64) -> String {
    let sign = if kpa < 0.0 { "−" } else { "+" };
    format!("{sign}{}", plain(kpa.abs()))
}
