//! What a soil can hold for roots: total and readily available water.
//!
//! TAW = 1000 (`θ_FC` − `θ_WP`) Zr and RAW = p TAW (Allen et al. 1998, FAO-56, equations 82 and 83), in
//! millimeters, with water contents in m³ of water per m³ of soil and the root depth in meters.
//!
//! Valid for one even layer. Neglected: layers, stones, salts, capillary rise, and that field
//! capacity is a convention rather than a threshold.

use crate::range::{OutOfRange, within};
use std::fmt;

/// A soil, the same at every depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soil {
    /// Water content at field capacity, m³/m³.
    pub field_capacity: f64,
    /// Water content at wilting point, m³/m³.
    pub wilting_point: f64,
}

/// What can be wrong with a soil.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum SoilProblem {
    /// A water content that no soil has.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Nothing between the two is left for the plants.
    #[error("the wilting point ({wilting_point}) is not below field capacity ({field_capacity})")]
    NothingAvailable {
        /// Wilting point, m³/m³.
        wilting_point: f64,
        /// Field capacity, m³/m³.
        field_capacity: f64,
    },
}

impl Soil {
    /// Water contents that are taken as field capacity, m³/m³: Table 19's widest and room for
    /// organic soils.
    const FIELD_CAPACITY_RANGE: (f64, f64) = (0.03, 0.80);
    /// Water contents that are taken as wilting point, m³/m³.
    const WILTING_POINT_RANGE: (f64, f64) = (0.005, 0.60);

    /// Everything that is wrong with the soil; empty if it can be computed with.
    pub fn problems(&self) -> Vec<SoilProblem> {
        let &Self { field_capacity, wilting_point } = self;
        let mut problems = Vec::new();
        let ranges = [
            ("water content at field capacity (m³/m³)", field_capacity, Self::FIELD_CAPACITY_RANGE),
            ("water content at wilting point (m³/m³)", wilting_point, Self::WILTING_POINT_RANGE),
        ];
        for (quantity, value, (lowest, highest)) in ranges {
            problems.extend(within(quantity, value, lowest, highest).err().map(SoilProblem::from));
        }
        if wilting_point >= field_capacity {
            problems.push(SoilProblem::NothingAvailable { wilting_point, field_capacity });
        }
        problems
    }

    /// Water between field capacity and wilting point in a meter of soil, mm/m.
    pub fn available_mm_per_m(&self) -> f64 {
        1000.0 * (self.field_capacity - self.wilting_point)
    }

    /// TAW of a root zone so deep, mm (FAO-56 equation 82).
    pub fn taw_mm(&self, root_depth_m: f64) -> f64 {
        self.available_mm_per_m() * root_depth_m
    }
}

/// A texture class with the ranges of FAO-56 Table 19, m³/m³.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Texture {
    /// Class of the USDA triangle.
    pub name: &'static str,
    /// Water content at field capacity, lowest and highest.
    pub field_capacity: (f64, f64),
    /// Water content at wilting point, lowest and highest.
    pub wilting_point: (f64, f64),
    /// Difference of the two, lowest and highest.
    pub available: (f64, f64),
}

impl Texture {
    /// A soil with the middle of the ranges of field capacity and of available water. Its wilting
    /// point follows from the two and lies in the table's range for every class; the middle of that
    /// range itself would leave silt less available water than the table's least (0.15 of 0.16).
    pub fn soil(&self) -> Soil {
        let middle = |(lowest, highest): (f64, f64)| f64::midpoint(lowest, highest);
        let field_capacity = middle(self.field_capacity);
        Soil { field_capacity, wilting_point: field_capacity - middle(self.available) }
    }
}

impl fmt::Display for Texture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

const fn texture(
    name: &'static str,
    field_capacity: (f64, f64),
    wilting_point: (f64, f64),
    available: (f64, f64),
) -> Texture {
    Texture { name, field_capacity, wilting_point, available }
}

/// FAO-56 Table 19, from sand to clay.
pub const TEXTURES: [Texture; 9] = [
    texture("sand", (0.07, 0.17), (0.02, 0.07), (0.05, 0.11)),
    texture("loamy sand", (0.11, 0.19), (0.03, 0.10), (0.06, 0.12)),
    texture("sandy loam", (0.18, 0.28), (0.06, 0.16), (0.11, 0.15)),
    texture("loam", (0.20, 0.30), (0.07, 0.17), (0.13, 0.18)),
    texture("silt loam", (0.22, 0.36), (0.09, 0.21), (0.13, 0.19)),
    texture("silt", (0.28, 0.36), (0.12, 0.22), (0.16, 0.20)),
    texture("silt clay loam", (0.30, 0.37), (0.17, 0.24), (0.13, 0.18)),
    texture("silty clay", (0.30, 0.42), (0.17, 0.29), (0.13, 0.19)),
    texture("clay", (0.32, 0.40), (0.20, 0.24), (0.12, 0.20)),
];

/// The texture class of that name in [`TEXTURES`].
pub fn texture_named(name: &str) -> Option<&'static Texture> {
    TEXTURES.iter().find(|texture| texture.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_fao_56_example_36() {
        // Allen et al. 1998, Example 36: mm/m of three soils, then Zr, p and (TAW, RAW) in whole
        // mm for onion, tomato and maize. The water contents that give the mm/m are from memory
        // (high); only their difference enters.
        let soils = [(0.15, 0.06, 90.0), (0.32, 0.15, 170.0), (0.35, 0.23, 120.0)];
        let crops = [
            (0.4, 0.30, [(36.0, 11.0), (68.0, 20.0), (48.0, 14.0)]),
            (0.8, 0.40, [(72.0, 29.0), (136.0, 54.0), (96.0, 38.0)]),
            (1.2, 0.55, [(108.0, 59.0), (204.0, 112.0), (144.0, 79.0)]),
        ];
        for (i, (field_capacity, wilting_point, per_m)) in soils.into_iter().enumerate() {
            let soil = Soil { field_capacity, wilting_point };
            assert!(soil.problems().is_empty());
            assert!((soil.available_mm_per_m() - per_m).abs() < 1e-9);
            for (root_depth_m, p, published) in crops {
                let (taw, raw) = published[i];
                assert!((soil.taw_mm(root_depth_m) - taw).abs() < 1e-9);
                assert!((p * soil.taw_mm(root_depth_m) - raw).abs() <= 0.5);
            }
        }
    }

    #[test]
    fn invariant_every_texture_makes_a_soil_inside_its_ranges() {
        for texture in TEXTURES {
            let soil = texture.soil();
            assert!(soil.problems().is_empty(), "{texture}");
            let inside = |value: f64, (lowest, highest): (f64, f64)| {
                assert!(value > lowest - 1e-12 && value < highest + 1e-12, "{texture}: {value}");
            };
            inside(soil.field_capacity, texture.field_capacity);
            inside(soil.wilting_point, texture.wilting_point);
            inside(soil.available_mm_per_m() / 1000.0, texture.available);
            assert_eq!(texture_named(texture.name), Some(&texture));
        }
        assert_eq!(texture_named("gravel"), None);
    }

    #[test]
    fn closed_all_problems_are_told_at_once() {
        let soil = Soil { field_capacity: 0.9, wilting_point: f64::NAN };
        assert_eq!(soil.problems().len(), 2);
        let upside_down = Soil { field_capacity: 0.10, wilting_point: 0.23 };
        let told = upside_down.problems();
        assert!(matches!(told.as_slice(), [SoilProblem::NothingAvailable { .. }]), "{told:?}");
        let same = Soil { field_capacity: 0.2, wilting_point: 0.2 };
        assert_eq!(same.problems().len(), 1);
    }
}
