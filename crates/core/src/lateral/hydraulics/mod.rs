//! Pressure along the lateral: what each sprinkler gets, and so delivers, through pipe and slope.
//!
//! From the inlet outwards the pressure in the pipe falls by friction (Hazen–Williams, [`friction`])
//! and changes with height (1 m of water = 9.80665 kPa); a nozzle stands one riser above the pipe
//! and delivers q = q₀ √(P / P₀), or what it is stated to where flow control holds it. Where couplers
//! leak a share λ of the flow into the lateral, that at each sprinkler leaks q λ / (1 − λ): nearly
//! the same all along, and λ of the whole. The network of one pipe is solved by shooting ([`solve()`]): from an assumed pressure at a far end the
//! equations give everything up to the inlet, where pressure (or flow, or the mean of the
//! sprinklers) must be the one that is stated. All three rise with the assumed pressure, so halving
//! finds the one answer there is.
//!
//! Sources: SCS National Engineering Handbook 15-11 (1983) and Keller & Bliesner 1990 for the
//! method and the 20 % rule; see the parts for each equation. Valid for full pipes, water at
//! ordinary temperatures, 50 mm and wider. Neglected: velocity head, losses at outlets, couplers,
//! risers and hose (a lower C stands for couplers), that a leak follows the pipe's pressure and not
//! its nozzle's, and any change of the inlet's pressure from outlet to outlet along the mainline.

mod feed;
pub mod friction;
mod line;
mod pattern;
mod problem;
mod solve;

pub use feed::{FAST_M_S, Feed, Ground, Inlet, PRESSURE_RULE, Pipe};
pub use friction::{Material, PipeSize};
pub use line::{FrictionRule, OutletState, PressureLine};
pub(crate) use pattern::{Blend, at_pressure};
pub use problem::HydraulicsProblem;
pub use solve::{Delivery, solve, solve_each};

#[cfg(test)]
mod leak_tests;
#[cfg(test)]
mod tests;
