//! Dormand & Prince 1980, J. Comp. Appl. Math. 6: an explicit Runge–Kutta pair of orders 5 and 4
//! with step control and dense output, for small autonomous systems without allocation.
//!
//! Coefficients and the continuous extension as in Hairer, Nørsett & Wanner 1993, *Solving
//! Ordinary Differential Equations I*, II.5 and II.6 (from memory, confidence high; the tests hold
//! the orders and the dense output to closed solutions). Not for stiff systems.

/// A system's rate of change.
pub(super) trait System<const N: usize> {
    /// d(state)/dt.
    fn slope(&self, state: &[f64; N]) -> [f64; N];
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
struct Step<const N: usize> {
    start: [f64; N],
    end: [f64; N],
    length_s: f64,
    slopes: [[f64; N]; 7],
}

/// Follow `system` from `start` until component `watched` falls below zero, and return the time and
/// state at which it is zero; `None` if that does not happen within the limits.
pub(super) fn follow_to_zero<const N: usize>(
    system: &impl System<N>,
    start: [f64; N],
    watched: usize,
    control: &Control,
) -> Option<(f64, [f64; N])> {
    let (mut time_s, mut state, mut length_s) = (0.0, start, control.first_step_s);
    let mut first_slope = system.slope(&state);
    for _ in 0..control.most_steps {
        let step = try_step(system, state, first_slope, length_s);
        let error = step.error(control.tolerance);
        if error <= 1.0 {
            if step.end[watched] < 0.0 {
                let share = step.zero_of(watched);
                return Some((time_s + share * length_s, step.at(share)));
            }
            time_s += length_s;
            state = step.end;
            first_slope = step.slopes[6];
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

fn try_step<const N: usize>(
    system: &impl System<N>,
    start: [f64; N],
    first_slope: [f64; N],
    length_s: f64,
) -> Step<N> {
    let mut slopes = [first_slope; 7];
    let mut end = start;
    for (stage, row) in A.iter().enumerate() {
        end = std::array::from_fn(|i| {
            let sum: f64 = row.iter().zip(&slopes).map(|(a, slope)| a * slope[i]).sum();
            start[i] + length_s * sum
        });
        slopes[stage + 1] = system.slope(&end);
    }
    Step { start, end, length_s, slopes }
}

impl<const N: usize> Step<N> {
    /// Root mean square of the error estimate over what is allowed.
    fn error(&self, tolerance: f64) -> f64 {
        let mut sum = 0.0;
        for i in 0..N {
            let allowed = tolerance * (1.0 + self.start[i].abs().max(self.end[i].abs()));
            let found = self.length_s * self.mixed(&ERROR, i);
            sum += (found / allowed) * (found / allowed);
        }
        (sum / N as f64).sqrt()
    }

    fn mixed(&self, weights: &[f64; 7], i: usize) -> f64 {
        weights.iter().zip(&self.slopes).map(|(weight, slope)| weight * slope[i]).sum()
    }

    /// Coefficients of the continuous extension for component `i`.
    fn dense(&self, i: usize) -> [f64; 5] {
        let rise = self.end[i] - self.start[i];
        let bend = self.length_s * self.slopes[0][i] - rise;
        let last = rise - self.length_s * self.slopes[6][i] - bend;
        [self.start[i], rise, bend, last, self.length_s * self.mixed(&DENSE, i)]
    }

    /// State at a share of the step.
    fn at(&self, share: f64) -> [f64; N] {
        std::array::from_fn(|i| dense_at(&self.dense(i), share))
    }

    /// Share of the step at which component `i`, ≥ 0 at the start and < 0 at the end, is zero.
    fn zero_of(&self, i: usize) -> f64 {
        let dense = self.dense(i);
        let (mut above, mut below) = (0.0, 1.0);
        for _ in 0..40 {
            let middle = 0.5 * (above + below);
            if dense_at(&dense, middle) >= 0.0 {
                above = middle;
            } else {
                below = middle;
            }
        }
        0.5 * (above + below)
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
    impl System<2> for Spring {
        fn slope(&self, [x, v]: &[f64; 2]) -> [f64; 2] {
            [*v, -x]
        }
    }

    /// Something that never comes down.
    struct Rising;
    impl System<1> for Rising {
        fn slope(&self, _: &[f64; 1]) -> [f64; 1] {
            [1.0]
        }
    }

    fn control(tolerance: f64) -> Control {
        Control { tolerance, first_step_s: 0.01, most_steps: 10_000, longest_s: 100.0 }
    }

    #[test]
    fn closed_spring_first_zero_is_at_half_pi() {
        let miss = |tolerance| {
            let (time_s, state) =
                follow_to_zero(&Spring, [1.0, 0.0], 0, &control(tolerance)).unwrap();
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
            let start = [0.6, 0.8];
            let step = try_step(&Spring, start, Spring.slope(&start), length_s);
            let exact = |t: f64| 0.6 * t.cos() + 0.8 * t.sin();
            let inside = (step.at(0.3)[0] - exact(0.3 * length_s)).abs();
            ((step.end[0] - exact(length_s)).abs(), inside)
        };
        let (coarse, fine) = (errors(0.1), errors(0.05));
        assert!((coarse.0 / fine.0).log2() > 5.7, "{}", (coarse.0 / fine.0).log2());
        assert!((coarse.1 / fine.1).log2() > 4.7, "{}", (coarse.1 / fine.1).log2());
    }

    #[test]
    fn invariant_what_never_comes_down_ends_all_the_same() {
        assert!(follow_to_zero(&Rising, [1.0], 0, &control(1e-4)).is_none());
        assert!(follow_to_zero(&Rising, [f64::NAN], 0, &control(1e-4)).is_none());
    }
}
