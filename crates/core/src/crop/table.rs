//! Crops as tabulated in FAO-56 (Allen et al. 1998): Kc and height from Table 12, root depth and p
//! from Table 22, stage lengths from Table 11, Ky from Table 24 (after FAO-33, Doorenbos & Kassam
//! 1979).
//!
//! Where the tables print a range, the entry keeps it or its note says which end was taken. Full
//! root depth is the smaller end of Table 22's range, which the table means for scheduling (from
//! memory, confidence high); pass the larger for rain-fed crops. Depth at planting is not tabulated:
//! 0.20 m for sown and 0.30 m for planted crops are assumptions, and crops that stay for years have
//! full depth all season. Further crops stand in `more`, with what of them is from memory.

mod entry;
mod more;

pub use entry::CropEntry;

use super::StageLengths;
use entry::{kc, stages};

/// The crop of that name in [`CROPS`].
pub fn crop_named(name: &str) -> Option<&'static CropEntry> {
    CROPS.iter().find(|entry| entry.name == name)
}

/// Alfalfa in Idaho: the first cut and three more.
const ALFALFA_CUTS: [StageLengths; 4] =
    [stages(10, 30, 25, 10), stages(5, 20, 10, 10), stages(5, 20, 10, 10), stages(5, 20, 10, 10)];

/// Crops grown under moved laterals, as tabulated: those read in the tables, then those recalled.
pub const CROPS: [CropEntry; SEEN.len() + more::MORE.len()] = {
    let mut all = [SEEN[0]; SEEN.len() + more::MORE.len()];
    let mut i = 0;
    while i < all.len() {
        all[i] = if i < SEEN.len() { SEEN[i] } else { more::MORE[i - SEEN.len()] };
        i += 1;
    }
    all
};

/// Crops whose rows were read in the tables.
const SEEN: [CropEntry; 12] = [
    CropEntry {
        name: "alfalfa, cut by cut",
        kc: kc(0.40, 1.20, 1.15),
        height_m: 0.7,
        averages_cuts: false,
        full_root_depth_m: (1.0, 2.0),
        root_depth_at_planting_m: 1.0,
        depletion_fraction: 0.55,
        cycles: &ALFALFA_CUTS,
        region: "Idaho",
        yield_response: 1.1,
        note: "four cuts assumed; an established stand with full roots all season",
    },
    CropEntry {
        name: "alfalfa, mean over cuts",
        kc: kc(0.40, 0.95, 0.90),
        height_m: 0.7,
        averages_cuts: true,
        full_root_depth_m: (1.0, 2.0),
        root_depth_at_planting_m: 1.0,
        depletion_fraction: 0.55,
        cycles: &[stages(10, 30, 160, 10)],
        region: "the days of the first cut in Idaho, mid-season stretched",
        yield_response: 1.1,
        note: "length of mid-season assumed; an established stand with full roots all season",
    },
    CropEntry {
        name: "potato",
        kc: kc(0.5, 1.15, 0.75),
        height_m: 0.6,
        averages_cuts: false,
        full_root_depth_m: (0.4, 0.6),
        root_depth_at_planting_m: 0.30,
        depletion_fraction: 0.35,
        cycles: &[stages(45, 30, 70, 20)],
        region: "Idaho",
        yield_response: 1.1,
        note: "Kc end 0.40 where the vines are killed",
    },
    CropEntry {
        name: "sugar beet",
        kc: kc(0.35, 1.20, 0.70),
        height_m: 0.5,
        averages_cuts: false,
        full_root_depth_m: (0.7, 1.2),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.55,
        cycles: &[stages(50, 40, 50, 40)],
        region: "Idaho",
        yield_response: 1.0,
        note: "",
    },
    CropEntry {
        name: "onion, dry",
        kc: kc(0.7, 1.05, 0.75),
        height_m: 0.4,
        averages_cuts: false,
        full_root_depth_m: (0.3, 0.6),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.30,
        cycles: &[stages(15, 25, 70, 40)],
        region: "Mediterranean",
        yield_response: 1.1,
        note: "",
    },
    CropEntry {
        name: "maize, grain",
        kc: kc(0.3, 1.20, 0.35),
        height_m: 2.0,
        averages_cuts: false,
        full_root_depth_m: (1.0, 1.7),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.55,
        cycles: &[stages(30, 40, 50, 50)],
        region: "Idaho",
        yield_response: 1.25,
        note: "Kc end for grain dried on the field; 0.60 where it is harvested moist",
    },
    CropEntry {
        name: "soybean",
        kc: kc(0.4, 1.15, 0.50),
        height_m: 0.75,
        averages_cuts: false,
        full_root_depth_m: (0.6, 1.3),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.50,
        cycles: &[stages(20, 35, 60, 25)],
        region: "central USA",
        yield_response: 0.85,
        note: "middle of the height 0.5-1.0 m; development 35 of 30-35 days (the printed total of 140)",
    },
    CropEntry {
        name: "beans, dry",
        kc: kc(0.4, 1.15, 0.35),
        height_m: 0.4,
        averages_cuts: false,
        full_root_depth_m: (0.6, 0.9),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.45,
        cycles: &[stages(25, 25, 30, 20)],
        region: "Idaho",
        yield_response: 1.15,
        note: "",
    },
    CropEntry {
        name: "spring wheat",
        kc: kc(0.3, 1.15, 0.25),
        height_m: 1.0,
        averages_cuts: false,
        full_root_depth_m: (1.0, 1.5),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.55,
        cycles: &[stages(20, 25, 60, 30)],
        region: "35-45 degrees of latitude",
        yield_response: 1.15,
        note: "Kc end 0.25 of 0.25-0.4 (dry at harvest)",
    },
    CropEntry {
        name: "winter wheat",
        kc: kc(0.4, 1.15, 0.25),
        height_m: 1.0,
        averages_cuts: false,
        full_root_depth_m: (1.5, 1.8),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.55,
        cycles: &[stages(160, 75, 75, 25)],
        region: "Idaho",
        yield_response: 1.05,
        note: "Kc ini where the soil freezes; Kc end 0.25 of 0.25-0.4 (dry at harvest)",
    },
    CropEntry {
        name: "barley",
        kc: kc(0.3, 1.15, 0.25),
        height_m: 1.0,
        averages_cuts: false,
        full_root_depth_m: (1.0, 1.5),
        root_depth_at_planting_m: 0.20,
        depletion_fraction: 0.55,
        cycles: &[stages(20, 25, 60, 30)],
        region: "35-45 degrees of latitude",
        yield_response: 1.15,
        note: "Ky is not tabulated: that of spring wheat is assumed",
    },
    CropEntry {
        name: "pasture, rotated",
        kc: kc(0.40, 0.95, 0.85),
        height_m: 0.225,
        averages_cuts: false,
        full_root_depth_m: (0.5, 1.5),
        root_depth_at_planting_m: 0.5,
        depletion_fraction: 0.60,
        cycles: &[stages(10, 20, 130, 20)],
        region: "assumed; no lengths are tabulated for a whole season",
        yield_response: 1.1,
        note: "middle of Kc mid 0.85-1.05 and of the height 0.15-0.30 m; Ky of alfalfa assumed",
    },
];
