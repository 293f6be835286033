//! Comparing alternatives: what the handbook's rules of thumb would have said.
//!
//! - CU = 1 − 0.63 (1 − DU), DU = 1 − 1.59 (1 − CU): SCS NEH 15-11 (1983); from memory, high.
//! - Two alternating stops: CUa = √CU, DUa = √DU with fractions (10 √CU in percent): SCS NEH 15-11;
//!   Keller & Bliesner 1990; from memory, high.
//! - Depths normally distributed: CV = (1 − CU) √(π/2) (Hart 1961; from memory, high); a share a of
//!   the area gets at least 1 + CV · Φ⁻¹(1 − a) of the mean.
//!
//! The rules are printed beside the simulation with their miss; nothing is computed from them.

use crate::grid::DepthGrid;
use crate::lateral::hydraulics::PressureLine;
use crate::model::Region;
use crate::statistics::normal_quantile;
use crate::uniformity::Uniformity;

/// A handbook rule beside what the simulation found; fractions.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleOfThumb {
    /// What the rule says, in a few words.
    pub rule: &'static str,
    /// Its source.
    pub source: &'static str,
    /// What the rule predicts.
    pub predicted: f64,
    /// What was simulated.
    pub simulated: f64,
}

impl RuleOfThumb {
    /// Predicted less simulated.
    pub fn miss(&self) -> f64 {
        self.predicted - self.simulated
    }
}

const NEH: &str = "SCS National Engineering Handbook 15-11 (1983), from memory";

/// CU predicted from DUlq and DUlq from CU, for one set of figures.
pub fn rules_within(figures: &Uniformity) -> [RuleOfThumb; 2] {
    [
        RuleOfThumb {
            rule: "CU = 100 − 0.63 (100 − DUlq)",
            source: NEH,
            predicted: 1.0 - 0.63 * (1.0 - figures.du_lq),
            simulated: figures.cu,
        },
        RuleOfThumb {
            rule: "DUlq = 100 − 1.59 (100 − CU)",
            source: NEH,
            predicted: 1.0 - 1.59 * (1.0 - figures.cu),
            simulated: figures.du_lq,
        },
    ]
}

/// The alternate-set rule: two alternating stops predicted from the fixed pattern's first pass,
/// beside what two passes of the rotation gave.
pub fn rules_of_alternation(fixed_pass: &Uniformity, two_stops: &Uniformity) -> [RuleOfThumb; 2] {
    [
        RuleOfThumb {
            rule: "two alternating stops: CU = 10 √CU of one",
            source: NEH,
            predicted: fixed_pass.cu.max(0.0).sqrt(),
            simulated: two_stops.cu,
        },
        RuleOfThumb {
            rule: "two alternating stops: DUlq = 10 √DUlq of one",
            source: NEH,
            predicted: fixed_pass.du_lq.max(0.0).sqrt(),
            simulated: two_stops.du_lq,
        },
    ]
}

/// The handbook's system uniformity: that of the pattern at one pressure, times what the pressures
/// of `line` make of it, beside what was simulated with them.
pub fn rules_of_pressure(
    even: &Uniformity,
    found: &Uniformity,
    line: &PressureLine,
) -> [RuleOfThumb; 2] {
    const SOURCE: &str = "SCS NEH 15-11 (1983); Keller & Bliesner 1990; from memory";
    [
        RuleOfThumb {
            rule: "pressure along the pipe: CU (1 + √(Pn/Pa)) / 2",
            source: SOURCE,
            predicted: even.cu * line.system_cu_factor(),
            simulated: found.cu,
        },
        RuleOfThumb {
            rule: "pressure along the pipe: DUlq (1 + 3 √(Pn/Pa)) / 4",
            source: SOURCE,
            predicted: even.du_lq * line.system_du_factor(),
            simulated: found.du_lq,
        },
    ]
}

/// Depth that a share of the area gets or exceeds, as a fraction of the mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AreaDepth {
    /// Share of the area, fraction.
    pub area_share: f64,
    /// Under a normal distribution with the same CU.
    pub normal: f64,
    /// Simulated.
    pub simulated: f64,
}

/// The shares of the handbook's table of distribution efficiency.
const AREA_SHARES: [f64; 10] = [0.95, 0.90, 0.85, 0.80, 0.75, 0.70, 0.65, 0.60, 0.55, 0.50];

/// Depth (fraction of the mean) that `area_share` of the area gets or exceeds if depths are
/// normally distributed with coefficient of uniformity `cu`.
fn normal_area_depth(cu: f64, area_share: f64) -> f64 {
    let cv = (1.0 - cu) * (std::f64::consts::PI / 2.0).sqrt();
    1.0 + cv * normal_quantile(1.0 - area_share)
}

/// The table of area and depth for the cells of `depth_mm` in `region`.
pub fn area_table(depth_mm: &DepthGrid, region: &Region, figures: &Uniformity) -> Vec<AreaDepth> {
    let mut depths: Vec<f64> = region.of(depth_mm).iter().copied().collect();
    let cells = depths.len();
    // From the highest rank down, each among those below the one before: far less than sorting.
    let (mut below, mut depth) = (&mut depths[..], 0.0);
    let mut reached = [0.0; AREA_SHARES.len()];
    for (reached, area_share) in reached.iter_mut().zip(AREA_SHARES).rev() {
        let rank = ((1.0 - area_share) * cells as f64).floor() as usize;
        let rank = rank.min(cells.saturating_sub(1));
        if rank < below.len() {
            let found = below.select_nth_unstable_by(rank, f64::total_cmp);
            (below, depth) = (found.0, *found.1);
        }
        *reached = depth;
    }
    let row = |(area_share, reached): (f64, f64)| AreaDepth {
        area_share,
        normal: normal_area_depth(figures.cu, area_share),
        simulated: reached / figures.mean_depth_mm,
    };
    AREA_SHARES.into_iter().zip(reached).map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::Window;
    use ndarray::Array2;

    #[test]
    fn published_alternate_sets_and_the_link_of_cu_and_du() {
        // SCS NEH 15-11; derived digits of 10 √x: 64 → 80.00, 70 → 83.67, 81 → 90.00.
        let figures = |cu: f64, du_lq: f64| Uniformity {
            cu,
            du_lq,
            cv: 0.0,
            mean_depth_mm: 1.0,
            lowest_depth_mm: 0.0,
            highest_depth_mm: 0.0,
            share_under_75: 0.0,
            share_over_125: 0.0,
            cells: 1,
        };
        let [cu, du] = rules_of_alternation(&figures(0.81, 0.70), &figures(0.88, 0.85));
        assert!((cu.predicted - 0.9).abs() < 1e-12 && (cu.miss() - 0.02).abs() < 1e-12);
        assert!((du.predicted - 0.8367).abs() < 5e-5);
        let [from_du, from_cu] = rules_within(&figures(0.84, 0.745));
        assert!((from_du.predicted - 0.83935).abs() < 1e-9);
        assert!((from_cu.predicted - 0.7456).abs() < 1e-9);
    }

    #[test]
    fn published_normal_area_table() {
        // Keller & Bliesner 1990, distribution efficiency (from memory, medium), row CU 90, and
        // derived rows for 84 and 70: percent of the mean on 95, 90, 85, 80, 75 % of the area.
        for (cu, row) in [
            (0.90, [79.0, 84.0, 87.0, 89.0, 92.0]),
            (0.84, [67.0, 74.0, 79.0, 83.0, 86.0]),
            (0.70, [38.0, 52.0, 61.0, 68.0, 75.0]),
        ] {
            for (share, percent) in AREA_SHARES.iter().zip(row) {
                let found = 100.0 * normal_area_depth(cu, *share);
                assert!((found - percent).abs() <= 0.5, "CU {cu}, {share}: {found}");
            }
        }
    }

    #[test]
    fn closed_area_table_of_a_ramp() {
        // Depths 1 … 1000: 95 % of the area gets at least 51 of a mean of 500.5.
        let depth = Array2::from_shape_fn((10, 100), |(r, c)| (r * 100 + c + 1) as f64);
        let region = Region::Window(Window { rows: 0..10, columns: 0..100 });
        let figures = crate::uniformity::figures(&depth.view()).unwrap();
        let table = area_table(&depth, &region, &figures);
        assert!((table[0].simulated - 51.0 / 500.5).abs() < 2e-3);
        assert!((table[9].simulated - 501.0 / 500.5).abs() < 2e-3);
    }
}
