//! Dormand & Prince 1980, J. Comp. Appl. Math. 6: an explicit Runge–Kutta pair of orders 5 and 4
//! with step control and dense output, for small autonomous systems without allocation.
//!
//! Coefficients and the continuous extension as in Hairer, Nørsett & Wanner 1993, *Solving
//! Ordinary Differential Equations I*, II.5 and II.6 (from memory, confidence high; the tests hold
//! the orders and the dense output to closed solutions). Not for stiff systems.
//!
//! Several starts of a system are followed abreast, one a lane, so that compilers make vectors of
//! them. All take the same steps: those that the lane with the greatest error allows, among those not
//! yet at zero.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::falling_zero::falling_zero;
use std::convert::Infallible;

/// States abreast, `[component][lane]`.
pub(super) type Abreast<const N: usize, const L: usize> = [[f64; L]; N];

/// A system's rate of change.
pub(super) trait System<const N: usize, const L: usize> {
    /// d(state)/dt of every lane.
    fn slopes(&self, states: &Abreast<N, L>) -> Abreast<N, L>;
}

/// How closely and how long to integrate.
#[derive(Clone, Copy, Debug)]
pub(super) struct Control {
    /// Error allowed in a step, absolute and relative to the state alike.
    pub(super) tolerance: f64,
    /// First step, s.
    pub(super) first_step_s: f64,
    /// Most steps, taken or tried.
    pub(super) most_steps: usize,
    /// Longest time, s.
    pub(super) longest_s: f64,
}

/// Rows of the tableau; the last one is the fifth-order solution itself.
const A: [&[f64]; 6] = [
    &[1.0 / 5.0],
    &[3.0 / 40.0, 9.0 / 40.0],
    &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
    &[19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0],
    &[9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0],
    &[35.0 / 384.0, 0.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0],
];
/// Fifth order less fourth.
const ERROR: [f64; 7] = [
    71.0 / 57600.0,
    0.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
/// Last term of the continuous extension.
const DENSE: [f64; 7] = [
    -12715105075.0 / 11282082432.0,
    0.0,
    87487479700.0 / 32700410799.0,
    -10690763975.0 / 1880347072.0,
    701980252875.0 / 199316789632.0,
    -1453857185.0 / 822651844.0,
    69997945.0 / 29380423.0,
];

/// One step with its seven slopes.
struct Step<const N: usize, const L: usize> {
    start: Abreast<N, L>,
    end: Abreast<N, L>,
    length_s: f64,
    slopes: [Abreast<N, L>; 7],
}

/// Follow `system` in every lane from its start until component `watched` falls below zero, and return
/// the times and states at which it is zero; `None` if that does not happen within the limits.
#[inline(always)]
pub(super) fn follow_to_zero<const N: usize, const L: usize>(
    system: &impl System<N, L>,
    starts: Abreast<N, L>,
    watched: usize,
    control: &Control,
) -> Option<[(f64, [f64; N]); L]> {
    let (mut time_s, mut length_s) = (0.0, control.first_step_s);
    let mut found = [None; L];
    let mut step = Step::at_start(starts, system.slopes(&starts));
    for _ in 0..control.most_steps {
        step.take(system, length_s);
        let error = step.error(&found.map(|found| found.is_none()), control.tolerance);
        if error <= 1.0 {
            for (lane, found) in found.iter_mut().enumerate() {
                if found.is_none() && step.end[watched][lane] < 0.0 {
                    let share = step.zero_of(watched, lane);
                    *found = Some((time_s + share * length_s, step.at(share, lane)));
                }
            }
            if found.iter().all(Option::is_some) {
                return Some(found.map(|found| found.unwrap_or((0.0, [0.0; N]))));
            }
            time_s += length_s;
            step.go_on();
            if time_s > control.longest_s {
                return None;
            }
        }
        // Hairer's safety factor and bounds; an error that is not a number shrinks the step.
        let factor = 0.9 * libm::pow(error.max(1e-10), -0.2);
        length_s *= if factor.is_finite() { factor.clamp(0.2, 5.0) } else { 0.2 };
    }
    None
}

impl<const N: usize, const L: usize> Step<N, L> {
    fn at_start(start: Abreast<N, L>, first_slopes: Abreast<N, L>) -> Self {
        Self { start, end: start, length_s: 0.0, slopes: [first_slopes; 7] }
    }

    /// From the same start, with the same first slopes.
    #[inline(always)]
    fn take(&mut self, system: &impl System<N, L>, length_s: f64) {
        self.length_s = length_s;
        for (stage, row) in A.iter().enumerate() {
            for i in 0..N {
                let mut sum = [0.0; L];
                for (a, slopes) in row.iter().zip(&self.slopes) {
                    for (sum, slope) in sum.iter_mut().zip(&slopes[i]) {
                        *sum += a * slope;
                    }
                }
                for ((end, start), sum) in self.end[i].iter_mut().zip(&self.start[i]).zip(&sum) {
                    *end = start + length_s * sum;
                }
            }
            self.slopes[stage + 1] = system.slopes(&self.end);
        }
    }

    /// Starts from where it ended.
    #[inline(always)]
    fn go_on(&mut self) {
        self.start = self.end;
        self.slopes[0] = self.slopes[6];
    }

    /// Root mean square of the error estimate over what is allowed, in the worst of the lanes that
    /// count; not a number if it is so in one of them.
    #[inline(always)]
    fn error(&self, counts: &[bool; L], tolerance: f64) -> f64 {
        let mut sums = [0.0; L];
        for i in 0..N {
            let mut mixed = [0.0; L];
            for (weight, slopes) in ERROR.iter().zip(&self.slopes) {
                for (mixed, slope) in mixed.iter_mut().zip(&slopes[i]) {
                    *mixed += weight * slope;
                }
            }
            for (lane, sum) in sums.iter_mut().enumerate() {
                let largest = self.start[i][lane].abs().max(self.end[i][lane].abs());
                let found = self.length_s * mixed[lane] / (tolerance * (1.0 + largest));
                *sum += found * found;
            }
        }
        let worst = |worst: f64, (sum, counts): (&f64, &bool)| {
            if *counts && (*sum > worst || sum.is_nan()) { *sum } else { worst }
        };
        (sums.iter().zip(counts).fold(0.0, worst) / N as f64).sqrt()
    }

    /// Coefficients of the continuous extension for component `i` of a lane.
    fn dense(&self, i: usize, lane: usize) -> [f64; 5] {
        let rise = self.end[i][lane] - self.start[i][lane];
        let bend = self.length_s * self.slopes[0][i][lane] - rise;
        let last = rise - self.length_s * self.slopes[6][i][lane] - bend;
        let mixed: f64 =
            DENSE.iter().zip(&self.slopes).map(|(w, slopes)| w * slopes[i][lane]).sum();
        [self.start[i][lane], rise, bend, last, self.length_s * mixed]
    }

    /// State of a lane at a share of the step.
    fn at(&self, share: f64, lane: usize) -> [f64; N] {
        std::array::from_fn(|i| dense_at(&self.dense(i, lane), share))
    }

    /// Share of the step at which component `i` of a lane, ≥ 0 at the start and < 0 at the end, is
    /// zero: by the secant where it lies inside the bracket, which it halves where it does not
    /// (Illinois).
    fn zero_of(&self, i: usize, lane: usize) -> f64 {
        let dense = self.dense(i, lane);
        let at = |share: f64| dense_at(&dense, share);
        let sure = |share: f64| Ok::<f64, Infallible>(at(share));
        let Ok(zero) = falling_zero(sure, (0.0, at(0.0)), (1.0, at(1.0)), 1e-13);
        zero
    }
}

fn dense_at([c0, c1, c2, c3, c4]: &[f64; 5], share: f64) -> f64 {
    let left = 1.0 - share;
    c0 + share * (c1 + left * (c2 + share * (c3 + left * c4)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// x″ = −x as (x, x′).
    struct Spring;
    impl<const L: usize> System<2, L> for Spring {
        fn slopes(&self, [x, v]: &Abreast<2, L>) -> Abreast<2, L> {
            [*v, x.map(|x| -x)]
        }
    }

    /// Something that never comes down.
    struct Rising;
    impl System<1, 1> for Rising {
        fn slopes(&self, _: &Abreast<1, 1>) -> Abreast<1, 1> {
            [[1.0]]
        }
    }

    fn control(tolerance: f64) -> Control {
        Control { tolerance, first_step_s: 0.01, most_steps: 10_000, longest_s: 100.0 }
    }

    #[test]
    fn closed_spring_first_zero_is_at_half_pi() {
        let miss = |tolerance| {
            let found = follow_to_zero(&Spring, [[1.0], [0.0]], 0, &control(tolerance));
            let [(time_s, state)] = found.unwrap();
            assert!((state[1] + 1.0).abs() < 10.0 * tolerance);
            (time_s - std::f64::consts::FRAC_PI_2).abs()
        };
        assert!(miss(1e-4) < 1e-3);
        assert!(miss(1e-10) < 1e-9);
    }

    #[test]
    fn closed_one_step_is_of_fifth_order_and_its_inside_of_fourth() {
        // Halving a step divides its error by 2⁶, and that of the dense output inside by 2⁵.
        let errors = |length_s: f64| {
            let start = [[0.6], [0.8]];
            let mut step = Step::at_start(start, Spring.slopes(&start));
            step.take(&Spring, length_s);
            let exact = |t: f64| 0.6 * t.cos() + 0.8 * t.sin();
            let inside = (step.at(0.3, 0)[0] - exact(0.3 * length_s)).abs();
            ((step.end[0][0] - exact(length_s)).abs(), inside)
        };
        let (coarse, fine) = (errors(0.1), errors(0.05));
        assert!((coarse.0 / fine.0).log2() > 5.7, "{}", (coarse.0 / fine.0).log2());
        assert!((coarse.1 / fine.1).log2() > 4.7, "{}", (coarse.1 / fine.1).log2());
    }

    #[test]
    fn closed_lanes_abreast_come_to_zero_each_at_its_time() {
        // cos(t + φ) from four phases, one of which is nearly there.
        let phases = [0.0, 0.4, 0.9, 1.55_f64];
        let starts = [phases.map(f64::cos), phases.map(|phase| -phase.sin())];
        let found = follow_to_zero(&Spring, starts, 0, &control(1e-9)).unwrap();
        for ((time_s, state), phase) in found.iter().zip(phases) {
            assert!((time_s - (std::f64::consts::FRAC_PI_2 - phase)).abs() < 1e-8);
            assert!(state[0].abs() < 1e-12 && (state[1] + 1.0).abs() < 1e-7);
        }
    }

    #[test]
    fn invariant_what_never_comes_down_ends_all_the_same() {
        assert!(follow_to_zero(&Rising, [[1.0]], 0, &control(1e-4)).is_none());
        assert!(follow_to_zero(&Rising, [[f64::NAN]], 0, &control(1e-4)).is_none());
    }
}
