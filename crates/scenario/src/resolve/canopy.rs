//! Height of the canopy over which wind blows and on which water lands.

use crate::file::{CropFile, ScenarioFile};
use crate::issue::Issue;
use crate::notes::{Notes, length};
use crate::read::optional;
use evenfall_core::crop::table::CROPS;
use evenfall_core::machine::Stand;
use evenfall_core::machine::clearance::mean_height_m;
use evenfall_core::model::Alternative;
use evenfall_core::worth::Agronomy;

/// Least room from the canopy to a nozzle, m: judgment; closer by, jets strike the plants.
const ROOM_M: f64 = 0.3;
/// Grass, m: no canopy is lower.
const GRASS_M: f64 = 0.12;

/// As given, or the mean over the season; `None` for grass. What is given has to stay under the
/// nozzles, a mean is lowered to that.
pub(crate) fn height_m(
    file: &ScenarioFile,
    agronomy: &Agronomy,
    stand: Option<&Stand>,
    alternatives: &[Alternative],
    notes: &mut Notes<'_>,
) -> Option<f64> {
    let crop_file = optional(&file.crop)?;
    let jets = alternatives.iter().flat_map(|alternative| &alternative.sprinkler.jets);
    let nozzle_m = jets.map(|jet| jet.launch.nozzle_height_m).fold(f64::INFINITY, f64::min);
    let most_m = nozzle_m - ROOM_M;
    if let Some(given) = &crop_file.canopy_height {
        if given.value > most_m {
            let problem =
                format!("a canopy of {} reaches the nozzles at {}", given.text, length(nozzle_m));
            let allowed = format!("at most {}, 0.3 m (1 ft) below the nozzles", length(most_m));
            notes.issues.push(Issue::new(&given.at, problem).allowed(allowed));
        }
        return Some(given.value);
    }
    let Some(stand) = stand else {
        let what = format!("{}/canopy_height", crop_file.at.pointer);
        notes.assume(&what, length(GRASS_M), "that of grass: the height of this crop is not known");
        notes.warn(
            "the height of the crop is not known: wind blows as over grass, and water lands on the \
             ground; give `canopy_height` if the crop is higher"
                .to_owned(),
        );
        return None;
    };
    let named = CROPS.iter().find(|entry| entry.name.eq_ignore_ascii_case(&agronomy.crop_name));
    let averages_cuts = named.is_some_and(|entry| entry.averages_cuts);
    let mean_m = mean_height_m(&agronomy.crop, stand.greatest_m, averages_cuts);
    let height_m = mean_m.min(most_m);
    if height_m < mean_m {
        notes.warn(format!(
            "the crop, {} on average, reaches the nozzles at {}: pattern and wind are those over a \
             canopy of {}, and jets that strike plants are not modeled",
            length(mean_m),
            length(nozzle_m),
            length(height_m.max(GRASS_M))
        ));
    }
    CropFile::canopy_height.assume(&crop_file.at.pointer, length(height_m.max(GRASS_M)), notes);
    (height_m > GRASS_M).then_some(height_m)
}
