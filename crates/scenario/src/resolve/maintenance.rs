//! The machine's maintenance with its defaults and cross-checks.

use crate::file::{MaintenanceFile, OilFile, ScenarioFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use crate::read::optional;
use evenfall_core::crop::table::{CROPS, CropEntry};
use evenfall_core::machine::drive::{Drive, TimedMove};
use evenfall_core::machine::oil::{Grade, Oil};
use evenfall_core::machine::{Maintenance, Stand};
use evenfall_core::money::{Price, PriceEntry, Prices};
use evenfall_core::worth::{Agronomy, Economics};

/// What is known of the machine; bad parts are told and left out.
pub(crate) fn resolve(
    file: &ScenarioFile,
    agronomy: Option<&Agronomy>,
    notes: &mut Notes<'_>,
) -> Maintenance {
    let stand = |greatest_m: Option<f64>| {
        let agronomy = agronomy?;
        let named = |entry: &&CropEntry| entry.name.eq_ignore_ascii_case(&agronomy.crop_name);
        let tabulated = CROPS.iter().find(named).map(|entry| entry.height_m);
        Some(Stand {
            name: agronomy.crop_name.clone(),
            crop: agronomy.crop.clone(),
            planted: agronomy.planted,
            greatest_m: greatest_m.or(tabulated)?,
        })
    };
    let Some(given) = optional(&file.maintenance) else {
        let pipe_diameter_m = MaintenanceFile::pipe_diameter.start();
        return Maintenance {
            pipe_diameter_m,
            axle_height_m: None,
            stand: stand(None),
            drive: None,
        };
    };
    let at = &given.at.pointer;
    let pipe_diameter_m =
        MaintenanceFile::pipe_diameter.or_start(Some(&given.pipe_diameter), at, notes);
    let axle_height_m = given.axle_height.as_ref().map(|height| height.value);
    if let (Some(axle), Some(axle_m)) = (&given.axle_height, axle_height_m)
        && axle_m <= 0.5 * pipe_diameter_m
    {
        let problem = "the pipe would lie on the ground: the axle is no higher than half the pipe";
        notes.issues.push(Issue::new(&axle.at, problem));
    }
    Maintenance {
        pipe_diameter_m,
        axle_height_m,
        stand: stand(given.crop_height.as_ref().map(|height| height.value)),
        drive: drive(given, notes),
    }
}

fn drive(given: &MaintenanceFile, notes: &mut Notes<'_>) -> Option<Drive> {
    let oil = given.oil.as_ref().and_then(|oil| self::oil(oil, notes));
    let timed = given.timed_moves.as_ref()?;
    if given.oil.is_none() {
        let problem = "timed moves need the key `oil`";
        let hint = "Add \"oil\": { \"grade\": \"ISO VG 32\" }, as on the can or in the manual.";
        notes.issues.push(Issue::new(&timed.at.opening(), problem).hint(hint));
    }
    let moves: Vec<TimedMove> = timed
        .items
        .iter()
        .map(|one| TimedMove { temperature_c: one.temperature.value, time_h: one.time.value })
        .collect();
    match Drive::fit(oil?, &moves) {
        Ok(drive) => Some(drive),
        Err(error) => {
            notes.issues.push(Issue::new(&timed.at.opening(), error.to_string()));
            None
        }
    }
}

fn oil(given: &OilFile, notes: &mut Notes<'_>) -> Option<Oil> {
    let grade = Grade::from(given.grade);
    let at = &given.at.pointer;
    let (least, most) = grade.limits_mm2_s();
    let warm = given.viscosity_at_40_c.as_ref();
    if let Some(warm) = warm.filter(|warm| !(least..=most).contains(&warm.value)) {
        let problem = format!("{} at 40 °C is not of this grade", warm.text);
        let (least, most) = (decimals(least, 2), decimals(most, 2));
        notes.issues.push(
            Issue::new(&warm.at, problem)
                .allowed(format!("{least} to {most} cSt (ISO 3448: the grade ± 10 %)")),
        );
        return None;
    }
    let shown = |mm2_s: f64| format!("{} cSt", decimals(mm2_s, 1));
    let warm_mm2_s = warm.map_or_else(
        || {
            let usual = grade.at_40_c_mm2_s();
            OilFile::viscosity_at_40_c.assume(at, shown(usual), notes);
            usual
        },
        |warm| warm.value,
    );
    let hot_mm2_s = given.viscosity_at_100_c.as_ref().map_or_else(
        || {
            let usual = grade.typical_at_100_c_mm2_s();
            OilFile::viscosity_at_100_c.assume(at, shown(usual), notes);
            usual
        },
        |hot| hot.value,
    );
    match Oil::new(warm_mm2_s, hot_mm2_s) {
        Ok(oil) => Some(oil),
        Err(error) => {
            notes.issues.push(Issue::new(&given.at.opening(), error.to_string()));
            None
        }
    }
}

/// Labor of a move, where no price says it: the timed moves' time in the season's assumed air.
pub(crate) fn labor(
    maintenance: &Maintenance,
    air_c: f64,
    economics: &mut Economics,
    notes: &mut Notes<'_>,
) {
    // Without any price there is no net return, and nothing is gained by one.
    let no_money = economics.prices == Prices::default();
    if let (Some(drive), None, false) =
        (&maintenance.drive, economics.prices.of(Price::LaborPerMove), no_money)
    {
        let hours = drive.move_time_h(air_c);
        let why = format!("one person, by the timed moves, at {} °C", decimals(air_c, 1));
        let minutes = format!("{} min", decimals(60.0 * hours, 0));
        // It is known now.
        let what = "/worth/prices/labor_per_move";
        notes.assumptions.retain(|assumption| assumption.what != what);
        notes.assume(what, minutes, why);
        economics.prices.set(Price::LaborPerMove, Some(PriceEntry::own(hours)));
    }
}
