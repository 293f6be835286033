//! What a rotation is worth: crop, soil, climate and prices put together, and their cross-checks.

use super::equipment::equipment;
use super::prices::prices;
use super::{climate, crop, ground, pumping};
use crate::document::Node;
use crate::file::{DoubtsName, PrecisionWish, ScenarioFile, WorthFile};
use crate::issue::Issue;
use crate::notes::Notes;
use crate::read::optional;
use evenfall_core::model::Alternative;
use evenfall_core::money::{PerArea, Prices};
use evenfall_core::season::HoursLaid;
use evenfall_core::weather::WeatherSource;
use evenfall_core::worth::{Agronomy, Economics, HalfWidth, Precision};

/// Crop, soil and climate; `None` if they are not given or something about them is bad.
pub(crate) fn agronomy(
    root: &Node,
    file: &ScenarioFile,
    wind: Option<&WeatherSource>,
    notes: &mut Notes<'_>,
) -> Option<Agronomy> {
    check_complete(root, file, notes);
    let crop_file = optional(&file.crop);
    let crop = crop_file.and_then(|given| crop::resolve(given, notes));
    let soil = optional(&file.soil).and_then(|given| ground::soil(given, notes));
    let climate = optional(&file.climate).and_then(|given| climate::climate(given, wind, notes));
    let intake = optional(&file.soil).and_then(|given| given.intake_rate.as_ref());
    let intake_rate_mm_h = intake.map(|rate| rate.value);
    let (crop_file, (soil, start_depletion), climate) = (crop_file?, soil?, climate?);
    Some(Agronomy {
        crop: crop?,
        crop_name: crop::name(crop_file).to_owned(),
        soil,
        planted: crop_file.planted.value,
        et0: climate.et0,
        et0_day_spread: climate.et0_day_spread,
        rain: climate.rain,
        start_depletion,
        intake_rate_mm_h,
    })
}

/// Crop, soil and climate are of use only together, and prices only with them.
fn check_complete(root: &Node, file: &ScenarioFile, notes: &mut Notes<'_>) {
    let is_missing = |key: &&str| root.get(key).is_none();
    let missing: Vec<&str> = ["crop", "soil", "climate"].into_iter().filter(is_missing).collect();
    if missing.is_empty() {
        return;
    }
    let names = missing.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(", ");
    let given = ["worth", "climate", "soil", "crop"].into_iter().find_map(|key| root.get(key));
    if let Some(given) = given {
        let are = if missing.len() > 1 { "are" } else { "is" };
        let problem = format!("{names} {are} missing");
        notes.issues.push(
            Issue::new(&given.at.opening(), problem)
                .allowed("`crop`, `soil` and `climate` together, or none of them")
                .hint("Yield and money need all three."),
        );
        return;
    }
    let alternatives = file.alternatives.0.iter().flat_map(|list| &list.items);
    for alternative in alternatives.filter_map(|item| item.0.as_ref()) {
        if alternative.equipment.is_some() {
            let name = &alternative.name.value;
            notes.warn(format!("{name}: its equipment has no effect without {names}"));
        }
    }
}

/// The currency by its name, or by the one sign that prices are written with.
fn currency(given: Option<&WorthFile>, notes: &mut Notes<'_>) -> Option<String> {
    if let Some(name) = given.and_then(|given| given.currency.as_ref()) {
        return Some(name.value.clone());
    }
    let [sign] = notes.issues.readings.currencies[..] else { return None };
    notes.assume("/worth/currency", sign, "the sign that prices are written with");
    Some(sign.to_owned())
}

/// Prices, equipment and what is asked of the statistics.
pub(crate) fn economics(
    file: &ScenarioFile,
    alternatives: Option<&[Alternative]>,
    notes: &mut Notes<'_>,
) -> Economics {
    let given = optional(&file.worth);
    let mut prices = if let Some(given) = given.and_then(|given| given.prices.as_ref()) {
        prices(given, notes)
    } else {
        notes.assume("/worth/prices", "none", "without prices no net return is computed");
        Prices::default()
    };
    let (seasons, level, worthwhile_gain) = asked(given, notes);
    let precision = given.and_then(|given| precision(given, &prices, notes));
    let kwh_per_m3 = given.map_or_else(Vec::new, |given| {
        pumping::kwh_per_m3(given, alternatives, &mut prices, notes)
    });
    let equipment = equipment(file, alternatives, &mut prices, notes);
    let doubts = WorthFile::doubts.or_start(given.map(|given| &given.doubts), "/worth", notes);
    Economics {
        prices,
        equipment,
        kwh_per_m3,
        currency: currency(given, notes),
        worthwhile_gain,
        confidence_level: level,
        seasons,
        first_season: 0,
        max_seasons: None,
        doubts: doubts == DoubtsName::Drawn,
        hours_laid: HoursLaid::default(),
        precision,
    }
}

/// The precision that is asked for.
fn precision(given: &WorthFile, prices: &Prices, notes: &mut Notes<'_>) -> Option<Precision> {
    let at = &given.at.pointer;
    let Some(wish) = &given.target_precision else {
        if given.max_seasons.is_some() {
            notes.warn("`max_seasons` counts only with `target_precision`".to_owned());
        }
        return None;
    };
    let half_width = match wish {
        PrecisionWish::Yield(share) => HalfWidth::Yield(share.value),
        PrecisionWish::Net(net) if prices.missing_value().is_empty() => {
            HalfWidth::Net(PerArea::of_ha(net.value))
        }
        PrecisionWish::Net(net) => {
            let problem = "a precision of the net return is asked for, but no price of the yield \
                           is given";
            let hint = "Give the prices `crop` and `potential_yield`, or ask for a precision of \
                        the yield such as \"0.2 %\".";
            notes.issues.push(Issue::new(&net.at, problem).hint(hint));
            return None;
        }
    };
    let most = WorthFile::max_seasons.or_start(Some(&given.max_seasons), at, notes);
    Some(Precision { half_width, most: most as usize })
}

/// Seasons, confidence level and worthwhile gain.
fn asked(given: Option<&WorthFile>, notes: &mut Notes<'_>) -> (usize, f64, PerArea) {
    let seasons = WorthFile::seasons.or_start(given.map(|given| &given.seasons), "/worth", notes);
    let level = given.map(|given| &given.confidence_level);
    let level = WorthFile::confidence_level.or_start(level, "/worth", notes);
    let least = given.map(|given| &given.worthwhile_gain);
    let least = WorthFile::worthwhile_gain.or_start(least, "/worth", notes);
    (seasons as usize, level, PerArea::of_ha(least))
}
