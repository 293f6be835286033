//! The wind profile on equal steps of height, so that a drop's wind is read and not worked out anew.
//!
//! Linear between 2,048 steps: 4 mm where a jet rises to 8 m, so that the logarithm's bend costs less than
//! a thousandth of the wind from 4 cm over the roughness on; a drop passes what is below in a hundredth
//! of a second.

use crate::weather::profile::LogProfile;

/// Steps, and one value more than that.
const STEPS: usize = 2048;

/// Ratios of the wind at a height to that measured.
#[derive(Debug)]
pub(super) struct WindAloft {
    ratios: Box<[f64; STEPS + 1]>,
    per_m: f64,
}

impl WindAloft {
    /// Up to `highest_m` above the ground; higher up it is as there.
    pub(super) fn of(profile: &LogProfile, highest_m: f64) -> Self {
        let step_m = highest_m / STEPS as f64;
        let ratios = std::array::from_fn(|k| profile.ratio_at(k as f64 * step_m));
        Self { ratios: Box::new(ratios), per_m: 1.0 / step_m }
    }

    /// At a height, m; at the ground's below it.
    #[inline]
    pub(super) fn ratio_at(&self, height_m: f64) -> f64 {
        let place = (height_m * self.per_m).max(0.0).min(STEPS as f64);
        let step = (place as usize).min(STEPS - 1);
        let (low, high) = (self.ratios[step], self.ratios[step + 1]);
        low + (high - low) * (place - step as f64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::profile::Surface;

    #[test]
    fn reference_ratios_are_those_of_the_profile() {
        let profile = LogProfile::new(Surface::SHORT_GRASS, 10.0).unwrap();
        let aloft = WindAloft::of(&profile, 8.0);
        for k in 0..1000 {
            let height_m = f64::from(k) * 0.008;
            let apart = aloft.ratio_at(height_m) - profile.ratio_at(height_m);
            let most = if height_m < 0.14 { 0.01 } else { 1e-3 * profile.ratio_at(height_m) };
            assert!(apart.abs() <= most, "{height_m} m: {apart}");
        }
        assert_eq!(aloft.ratio_at(-1.0), 0.0);
        assert_eq!(aloft.ratio_at(9.0), profile.ratio_at(8.0));
    }
}
