//! What growers call the crops of the table, and what a bushel of them weighs.
//!
//! Names are common usage in US trade, no source.

use crate::document::{Json, Node};
use crate::file::CropFile;
use crate::readings::Bushel;
use crate::suggest;
use evenfall_core::crop::table::{CROPS, CropEntry};
use jiff::civil::Date;

/// Other names: what is written, the table's name for it, and what to say of the choice.
const OTHER_NAMES: &[(&[&str], &str, &str)] = &[
    (&["alfalfa", "alfalfa hay", "lucerne"], "alfalfa, mean over cuts", ALFALFA),
    (&["corn", "field corn", "grain corn", "maize", "field maize"], "maize, grain", MAIZE),
    (&["silage corn", "corn silage", "silage maize", "green chop corn"], "maize, silage", ""),
    (&["sweet corn", "sweetcorn", "sweet maize"], "maize, sweet", ""),
    (&["potatoes", "spuds", "seed potatoes"], "potato", ""),
    (&["onion", "onions", "dry onions", "bulb onions"], "onion, dry", ""),
    (&["sugar beets", "sugarbeet", "sugarbeets"], "sugar beet", ""),
    (&["soybeans", "soya", "soy", "soy beans"], "soybean", ""),
    (&["beans", "bean", "dry beans", "dry bean", "pinto beans", "navy beans"], "beans, dry", ""),
    (&["dry peas", "field peas", "dry edible peas"], "peas, dry", ""),
    (&["green peas", "fresh peas", "processing peas"], "peas, fresh", ""),
    (&["oat"], "oats", ""),
    (&["malt barley", "malting barley", "feed barley"], "barley", ""),
    (&["pasture", "irrigated pasture", "grass pasture", "grass"], "pasture, rotated", ""),
    (&["grass hay", "meadow hay", "ryegrass hay", "rye grass hay"], RYE_GRASS, GRASS_HAY),
    (&["bermuda", "bermuda hay", "bermudagrass", "bermuda grass hay"], BERMUDA, ""),
    (&["clover", "clover hay"], "clover hay, mean over cuts", ""),
    (&["sudan grass", "sudangrass", "sudan hay", "sudan grass hay"], SUDAN, ""),
    (&["sod", "turf", "turf grass", "turfgrass", "lawn"], "turf, cool season", SOD),
    (&["peppermint", "spearmint"], "mint", ""),
    (&["carrot"], "carrots", ""),
    (&["sunflowers"], "sunflower", ""),
    (&["sorghum", "grain sorghum", "milo"], "sorghum, grain", ""),
];

const RYE_GRASS: &str = "rye grass hay, mean over cuts";
const BERMUDA: &str = "Bermuda hay, mean over cuts";
const SUDAN: &str = "Sudan grass hay, mean over cuts";
const ALFALFA: &str = "write \"alfalfa, cut by cut\" to follow each cut";
const MAIZE: &str = "write \"maize, silage\" or \"maize, sweet\" if it is not harvested for grain";
const GRASS_HAY: &str = "the table has no other hay of cool-season grass";
const SOD: &str = "write \"turf, warm season\" for Bermuda and other warm-season grass";

/// Wheat is sown in two seasons.
const WHEAT: &str = "wheat";
/// Months in which wheat that is sown is spring wheat, north of the equator.
const SPRING: std::ops::RangeInclusive<i8> = 2..=6;

/// Pounds in one bushel, as US trade counts them; from memory, confidence high.
const BUSHELS: &[(&str, f64)] = &[
    ("maize, grain", 56.0),
    ("spring wheat", 60.0),
    ("winter wheat", 60.0),
    ("soybean", 60.0),
    ("beans, dry", 60.0),
    ("peas, dry", 60.0),
    ("potato", 60.0),
    ("barley", 48.0),
    ("oats", 32.0),
    ("sorghum, grain", 56.0),
];

/// A crop of the table.
pub(crate) struct Named {
    pub(crate) entry: &'static CropEntry,
    /// Why that one, where the table calls it otherwise.
    pub(crate) why: Option<String>,
}

fn entry(name: &str) -> Option<&'static CropEntry> {
    CROPS.iter().find(|entry| entry.name.eq_ignore_ascii_case(name))
}

/// A name as it is compared: small letters, one space between words.
fn plain(name: &str) -> String {
    let words = name.to_lowercase().replace(['-', '_'], " ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The crop of the table that goes by `name`; wheat by the day it is planted on.
pub(super) fn find(name: &str, planted: Option<Date>) -> Option<Named> {
    if let Some(entry) = entry(name) {
        return Some(Named { entry, why: None });
    }
    let plain = plain(name);
    let because = |choice: &str| {
        let dash = if choice.is_empty() { "" } else { "; " };
        Some(format!("the table’s crop for \"{name}\"{dash}{choice}"))
    };
    if plain == WHEAT {
        let is_spring = planted.is_some_and(|day| SPRING.contains(&day.month()));
        let (found, other, when) = if is_spring {
            ("spring wheat", "winter wheat", "in spring")
        } else {
            ("winter wheat", "spring wheat", "in fall or winter")
        };
        let choice = format!("by its planting {when}; write \"{other}\" if it is that");
        return Some(Named { entry: entry(found)?, why: because(&choice) });
    }
    let row = OTHER_NAMES.iter().find(|(names, ..)| names.contains(&plain.as_str()))?;
    Some(Named { entry: entry(row.1)?, why: because(row.2) })
}

/// The crop of the table that a scenario's own keys are laid over; `None` for a crop of one's own,
/// which has all of them, unless the table has its very name.
pub(super) fn of(given: &CropFile) -> Option<Named> {
    let name = &given.name.value;
    let found = find(name, Some(given.planted.value))?;
    let is_own = missing_keys(given).is_empty();
    (found.why.is_none() || !is_own).then_some(found)
}

/// Keys of a crop of one's own that are not given.
pub(super) fn missing_keys(given: &CropFile) -> Vec<&'static str> {
    [
        ("kc", given.kc.is_none()),
        ("stages", given.stages.is_none()),
        ("roots", given.roots.is_none()),
        ("allowable_depletion", given.allowable_depletion.is_none()),
        ("yield_response", given.yield_response.is_none()),
    ]
    .into_iter()
    .filter_map(|(key, is_missing)| is_missing.then_some(key))
    .collect()
}

/// What a bushel of the scenario's crop weighs, where it is known.
pub(super) fn bushel(root: &Node) -> Option<Bushel> {
    let Json::Text(name) = &root.get("crop")?.get("name")?.json else { return None };
    let crop = find(name.trim(), None)?.entry.name;
    let (_, pounds) = BUSHELS.iter().find(|(known, _)| *known == crop)?;
    Some(Bushel { crop, pounds: *pounds })
}

/// Names of the table that may be meant by one it does not know, the likeliest first.
pub(super) fn near(name: &str) -> Vec<&'static str> {
    const MOST: usize = 3;
    let plain = plain(name);
    let has = |text: &str, other: &str| {
        let mut words = text.split([' ', ',']).filter(|word| word.len() > 2);
        words.any(|word| other.contains(word))
    };
    let says =
        |known: &str| has(&plain, &known.to_lowercase()) || has(&known.to_lowercase(), &plain);
    let others =
        || OTHER_NAMES.iter().flat_map(|(names, table, _)| names.iter().map(move |n| (*n, *table)));
    let all = || CROPS.iter().map(|entry| (entry.name, entry.name)).chain(others());
    let misspelt = suggest::nearest(name, all().map(|(known, _)| known));
    let misspelt = all().filter(|(known, _)| Some(*known) == misspelt);
    let mut found: Vec<&'static str> = Vec::new();
    for (_, table) in misspelt.chain(all().filter(|(known, _)| says(known))) {
        if !found.contains(&table) && found.len() < MOST {
            found.push(table);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn invariant_every_other_name_is_one_crop_of_the_table() {
        let mut seen: Vec<&str> = CROPS.iter().map(|entry| entry.name).collect();
        for (names, table, _) in OTHER_NAMES {
            assert!(entry(table).is_some(), "{table}");
            for name in *names {
                assert_eq!(*name, plain(name));
                assert!(!seen.contains(name), "{name}");
                seen.push(name);
                assert_eq!(find(&name.to_uppercase(), None).unwrap().entry.name, *table);
            }
        }
        assert!(BUSHELS.iter().all(|(crop, _)| entry(crop).is_some()));
    }

    #[test]
    fn closed_wheat_is_told_by_its_planting() {
        let planted = |date: &str| find("Wheat", Some(date.parse().unwrap())).unwrap();
        assert_eq!(planted("2027-04-01").entry.name, "spring wheat");
        let winter = planted("2026-10-01");
        assert_eq!(winter.entry.name, "winter wheat");
        assert!(winter.why.unwrap().contains("write \"spring wheat\""));
    }

    #[test]
    fn closed_names_that_are_near() {
        assert_eq!(near("potatoe"), ["potato"]);
        assert_eq!(near("peas"), ["peas, dry", "peas, fresh"]);
        assert_eq!(near("popcorn"), ["maize, grain", "maize, silage", "maize, sweet"]);
        assert_eq!(near("teff"), [""; 0]);
    }
}
