//! Prices and equipment with their defaults.

use crate::file::{EquipmentFile, Price, PricesFile};
use crate::limits::Limited;
use crate::notes::Notes;
use crate::quantity::H_PER_YR;
use evenfall_core::money::{Assumption, Equipment, Item, Prices};
use evenfall_core::worth::Economics;

/// Item with its lowest and highest plausible value.
pub(crate) type Ranges = Vec<(Item, f64, f64)>;

/// The prices, and the ranges of those that have one.
pub(crate) fn prices(given: &PricesFile, notes: &mut Notes<'_>) -> (Prices, Ranges) {
    let section = given.at.pointer.clone();
    let mut taking = Taking { section: &section, ranges: Vec::new(), without_range: false, notes };
    let prices = Prices {
        crop_per_t: taking.take(Item::CropPrice, "crop", given.crop.as_ref(), 1.0),
        potential_yield_t_ha: taking.take(
            Item::PotentialYield,
            "potential_yield",
            given.potential_yield.as_ref(),
            1.0,
        ),
        water_per_m3: taking.take(Item::WaterPrice, "water", given.water.as_ref(), 1.0),
        energy_per_m3: taking.take(Item::EnergyPrice, "energy", given.energy.as_ref(), 1.0),
        labor_per_h: taking.take(Item::LaborPrice, "labor", given.labor.as_ref(), 1.0),
        labor_per_move_h: taking.take(
            Item::LaborPerMove,
            "labor_per_move",
            given.labor_per_move.as_ref(),
            1.0,
        ),
        joint_each: taking.take(Item::JointPrice, "joint_each", given.joint_each.as_ref(), 1.0),
        joint_life_years: taking.take(
            Item::JointLife,
            "joint_life",
            given.joint_life.as_ref(),
            H_PER_YR,
        ),
        outlet_each: taking.take(Item::OutletPrice, "outlet_each", given.outlet_each.as_ref(), 1.0),
        outlet_life_years: taking.take(
            Item::OutletLife,
            "outlet_life",
            given.outlet_life.as_ref(),
            H_PER_YR,
        ),
        discount_rate: taking.take(
            Item::DiscountRate,
            "discount_rate",
            given.discount_rate.as_ref(),
            1.0,
        ),
    };
    let (ranges, without_range) = (taking.ranges, taking.without_range);
    if without_range {
        let swing = format!("± {:.0} %", 100.0 * Economics::DEFAULT_SWING);
        let why = "plausible range of every price that has no low and high; judgment, no source";
        notes.assume(&section, swing, why);
    }
    (prices, ranges)
}

/// What gathers while prices are taken one by one.
struct Taking<'a, 'b> {
    section: &'a str,
    ranges: Ranges,
    /// Whether any price is without a range of its own.
    without_range: bool,
    notes: &'a mut Notes<'b>,
}

impl Taking<'_, '_> {
    /// One price; `unit` is the core's unit in that of the quantity.
    fn take<L: Limited>(
        &mut self,
        item: Item,
        key: &str,
        given: Option<&Price<L>>,
        unit: f64,
    ) -> Option<Assumption> {
        let Some(given) = given else {
            let what = format!("{}/{key}", self.section);
            self.notes.assume(&what, "not known", "counts as nothing; results say so");
            return None;
        };
        let value = given.value.value;
        if let Some((low, high)) = given.range {
            self.ranges.push((item, low / unit, high / unit));
        } else {
            self.without_range = true;
            let (least, most) = L::LIMIT.ends();
            let swing = Economics::DEFAULT_SWING;
            let (low, high) = (value * (1.0 - swing), value * (1.0 + swing));
            // The usual range must not lead to what cannot be, such as a life under a year.
            if low < least || high > most {
                self.ranges.push((item, low.max(least) / unit, high.min(most) / unit));
            }
        }
        if given.is_placeholder {
            let why = "a placeholder until you enter your own";
            self.notes.assume(&given.at.pointer, given.value.text.as_str(), why);
        }
        Some(Assumption { value: value / unit, is_placeholder: given.is_placeholder })
    }
}

/// What an alternative at `pointer` needs beyond the bare machine.
pub(crate) fn equipment(
    given: Option<&EquipmentFile>,
    pointer: &str,
    notes: &mut Notes<'_>,
) -> Equipment {
    let Some(given) = given else {
        let why = "no joints or outlets to buy, no extra sets or labor";
        notes.assume(&format!("{pointer}/equipment"), "joints 0", why);
        return Equipment::default();
    };
    let at = &given.at.pointer;
    let (sets, labor) = (&given.extra_sets_per_pass, &given.extra_labor_per_move);
    Equipment {
        joints: EquipmentFile::joints.or_start(Some(&given.joints), at, notes) as u32,
        outlets: EquipmentFile::outlets.or_start(Some(&given.outlets), at, notes) as u32,
        extra_sets_per_pass: EquipmentFile::extra_sets_per_pass.or_start(Some(sets), at, notes)
            as u32,
        extra_labor_per_move_h: EquipmentFile::extra_labor_per_move.or_start(
            Some(labor),
            at,
            notes,
        ),
    }
}
