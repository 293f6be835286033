//! How wind speed changes with height above the ground.
//!
//! Two tools. `speed_at_2_m` is FAO-56 equation 47 (Allen et al. 1998, FAO Irrigation and Drainage
//! Paper 56), u2 = uz · 4.87 / ln(67.8 z − 5.42). [`LogProfile`] is the log law behind it,
//! u(z) ∝ ln((z − d) / z0), for any ground. Over FAO-56's clipped grass 0.12 m high
//! (d = 2/3 of the height, z0 = 0.123 of it: box 4 there) it is equation 47 to 0.1 %.
//!
//! Valid for near-neutral air over even ground, well above the plants. Neglected: the stability of
//! the air (calm nights shear more), shelter, and the slow air inside a tall crop.

use libm::log;

/// Wind at 2 m above grass from the wind at `measured_at_m`, m/s; FAO-56 equation 47.
///
/// `None` where the equation has no meaning: a height under 0.5 m or not finite, or a speed that
/// is negative or not finite.
pub(crate) fn speed_at_2_m(speed_m_s: f64, measured_at_m: f64) -> Option<f64> {
    let sound = speed_m_s >= 0.0
        && speed_m_s.is_finite()
        && measured_at_m >= LogProfile::LOWEST_M
        && measured_at_m.is_finite();
    sound.then(|| speed_m_s * 4.87 / log(67.8 * measured_at_m - 5.42))
}

/// What the wind blows over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// Roughness length z0, m.
    pub roughness_m: f64,
    /// Height of the zero plane d, m.
    pub zero_plane_m: f64,
}

impl Surface {
    /// FAO-56's reference grass, 0.12 m high: z0 = 0.123 · 0.12 m, d = 2/3 · 0.12 m.
    pub const SHORT_GRASS: Self = Self { roughness_m: 0.123 * 0.12, zero_plane_m: 0.08 };

    /// An even crop so high, by the same two ratios (FAO-56, box 4).
    pub fn crop(height_m: f64) -> Self {
        Self { roughness_m: 0.123 * height_m, zero_plane_m: height_m * 2.0 / 3.0 }
    }
}

/// From here up, winds over grass and over a crop beside it are taken to be the same, m; judgment.
const ALIKE_M: f64 = 10.0;

/// The log law, as a ratio to the speed at the measuring height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogProfile {
    surface: Surface,
    measured_at_m: f64,
    /// Height above the ground from which heights are counted, m.
    datum_m: f64,
    /// 1 / ln((measured − d) / z0).
    scale: f64,
}

impl LogProfile {
    /// Lowest measuring height that is taken, m.
    const LOWEST_M: f64 = 0.5;

    /// The profile over `surface` of a wind measured at `measured_at_m`.
    ///
    /// `None` if the height is under 0.5 m or not above the plants' zero plane, or if
    /// the surface makes no sense (z0 ≤ 0, d < 0, not finite).
    pub fn new(surface: Surface, measured_at_m: f64) -> Option<Self> {
        let Surface { roughness_m, zero_plane_m } = surface;
        let sound = roughness_m > 0.0
            && roughness_m.is_finite()
            && zero_plane_m >= 0.0
            && measured_at_m.is_finite()
            && measured_at_m >= Self::LOWEST_M
            && measured_at_m > zero_plane_m + roughness_m;
        sound.then(|| {
            let scale = 1.0 / log((measured_at_m - zero_plane_m) / roughness_m);
            Self { surface, measured_at_m, datum_m: 0.0, scale }
        })
    }

    /// The profile over a crop `canopy_m` high, for heights counted from the crop's top, of a wind
    /// measured over grass: at 10 m, or at the measuring height where that is higher, the wind is
    /// taken to be the same over both (judgment: the crop slows the air below only).
    ///
    /// `None` as for [`Self::new`], or if the crop is higher than 10 m or not above 0.
    pub fn over_crop(canopy_m: f64, measured_at_m: f64) -> Option<Self> {
        let grass = Self::new(Surface::SHORT_GRASS, measured_at_m)?;
        let alike_m = measured_at_m.max(ALIKE_M);
        let over = Self::new(Surface::crop(canopy_m), alike_m)?;
        let scale = over.scale * grass.ratio_at(alike_m);
        (canopy_m <= ALIKE_M).then_some(Self { measured_at_m, datum_m: canopy_m, scale, ..over })
    }

    /// The profile over a crop, heights counted from its top; over short grass where there is none.
    pub(crate) fn over(canopy_m: Option<f64>, measured_at_m: f64) -> Option<Self> {
        match canopy_m {
            None => Self::new(Surface::SHORT_GRASS, measured_at_m),
            Some(canopy_m) => Self::over_crop(canopy_m, measured_at_m),
        }
    }

    /// Height of the measurement, m.
    pub fn measured_at_m(&self) -> f64 {
        self.measured_at_m
    }

    /// Speed at `height_m` over the speed measured; 0 at and below z = d + z0, never negative.
    pub(crate) fn ratio_at(&self, height_m: f64) -> f64 {
        let above =
            (height_m + self.datum_m - self.surface.zero_plane_m) / self.surface.roughness_m;
        if above > 1.0 { log(above) * self.scale } else { 0.0 }
    }

    /// Speed at `height_m`, m/s, when `measured_m_s` was measured.
    pub fn speed_m_s(&self, height_m: f64, measured_m_s: f64) -> f64 {
        measured_m_s * self.ratio_at(height_m)
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;

    #[test]
    fn published_fao_56_example_14() {
        // Allen et al. 1998, Example 14: 3.2 m/s at 10 m is 2.4 m/s at 2 m (factor 0.75).
        let at_2_m = speed_at_2_m(3.2, 10.0).unwrap();
        assert!((at_2_m - 2.4).abs() <= 0.05, "{at_2_m}");
        assert!((at_2_m / 3.2 - 0.75).abs() <= 0.005);
    }

    #[test]
    fn closed_factors_of_equation_47() {
        let factors =
            [(1.0, 1.178), (1.5, 1.066), (2.0, 1.0), (3.0, 0.921), (4.0, 0.872), (10.0, 0.748)];
        for (height_m, factor) in factors {
            let found = speed_at_2_m(1.0, height_m).unwrap();
            assert!((found - factor).abs() <= 0.0005, "{height_m} m: {found}");
        }
    }

    #[test]
    fn reference_log_law_over_short_grass_is_equation_47() {
        for height_m in [0.5, 1.0, 1.5, 3.0, 4.0, 10.0, 30.0] {
            let profile = LogProfile::new(Surface::SHORT_GRASS, height_m).unwrap();
            let miss = profile.ratio_at(2.0) / speed_at_2_m(1.0, height_m).unwrap() - 1.0;
            assert!(miss.abs() < 1e-3, "{height_m} m: {miss}");
        }
    }

    #[test]
    fn closed_no_wind_at_the_ground_and_one_at_the_anemometer() {
        let profile = LogProfile::new(Surface::SHORT_GRASS, 10.0).unwrap();
        assert_eq!(profile.ratio_at(0.0), 0.0);
        assert_eq!(profile.ratio_at(0.0947), 0.0);
        assert!((profile.speed_m_s(10.0, 5.0) - 5.0).abs() < 1e-12);
        // A crop 0.12 m high is the reference grass.
        let grass = Surface::crop(0.12);
        assert!((grass.roughness_m - Surface::SHORT_GRASS.roughness_m).abs() < 1e-15);
        assert!((grass.zero_plane_m - 0.08).abs() < 1e-15);
    }

    #[test]
    fn closed_a_crop_slows_the_wind_that_is_measured_over_grass() {
        // 0.6 m high: d = 0.4 m, z0 = 0.0738 m. Measured at 10 m, 2 m above the ground, which is 1.4 m
        // above the crop: ln(1.6/0.0738)/ln(9.6/0.0738) = 0.6319; grass has 0.748.
        let crop = LogProfile::over_crop(0.6, 10.0).unwrap();
        assert!((crop.ratio_at(1.4) - 0.6319).abs() < 5e-5, "{}", crop.ratio_at(1.4));
        // Measured at 2 m over grass, it is 1/0.748 of that at 10 m over both.
        let low = LogProfile::over_crop(0.6, 2.0).unwrap();
        assert!((low.ratio_at(9.4) * 0.748 - 1.0).abs() < 1e-3, "{}", low.ratio_at(9.4));
        assert!((low.ratio_at(1.4) / low.ratio_at(9.4) - crop.ratio_at(1.4)).abs() < 1e-12);
        // A crop as high as grass is grass.
        let (grass, same) =
            (LogProfile::new(Surface::SHORT_GRASS, 3.0), LogProfile::over_crop(0.12, 3.0));
        let apart = grass.unwrap().ratio_at(1.12) - same.unwrap().ratio_at(1.0);
        assert!(apart.abs() < 1e-12);
    }

    #[test]
    fn invariant_senseless_heights_and_speeds_are_refused() {
        assert!(speed_at_2_m(3.0, 0.08).is_none());
        assert!(speed_at_2_m(-1.0, 2.0).is_none());
        assert!(speed_at_2_m(f64::NAN, 2.0).is_none());
        assert!(speed_at_2_m(1.0, f64::INFINITY).is_none());
        assert!(LogProfile::new(Surface::SHORT_GRASS, 0.05).is_none());
        assert!(LogProfile::new(Surface::crop(3.0), 2.0).is_none());
        assert!(LogProfile::over_crop(0.0, 2.0).is_none());
        assert!(LogProfile::over_crop(11.0, 2.0).is_none());
        assert!(LogProfile::new(Surface { roughness_m: 0.0, zero_plane_m: 0.0 }, 2.0).is_none());
    }
}
