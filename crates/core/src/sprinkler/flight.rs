//! The flight of one drop from the nozzle to the ground.
//!
//! Each drop leaves with the jet's speed, 0.97 √(2P/ρ) (Torricelli with a velocity coefficient of
//! common practice, no source), and flies alone from there: sphere drag of [`drag`], weight less
//! buoyancy, wind level and along +x. Real jets hold together for some meters and throw farther;
//! the landing map makes up for that by choosing the drop that lands where the leg says.
//!
//! In wind the drag coefficient is C′ = C (1 + K1 sin β − K2 cos α) as in the published ballistic
//! models (Tarjuelo, Carrión et al. 2001; Playán et al. 2006; from memory). Which angles these are
//! could not be settled without the papers, so both readings are here ([`DragForm`]) and are judged
//! by what has been published on uniformity in wind ([`crate::wind_evidence`]):
//!
//! * air and ground: β between the drop's velocities through the air and over the ground, α between
//!   its velocity through the air and the wind. β is 0 in still air, so K1 needs no ramp.
//! * air and wind: β between the drop's velocity through the air and the wind, α between its
//!   velocities through the air and over the ground. As written, both terms jump at zero wind; so
//!   K1 is scaled by W/√(W² + 3²) (W the wind at the drop, m/s). **That scale is ours.**
//!
//! In both, K2 is scaled by min(1, W / speed over the ground), ours too: without it the pattern
//! jumps as soon as there is a wind. K1 and K2 are fitted numbers.
//!
//! Over the jet length drag grows in proportion to the distance from the nozzle: the jet holds
//! together there and drops fly in air that it has set in motion (Murzabaev & Yarin 1985 say that
//! lone drops fall far too short). The straight line is ours.
//!
//! Numerics: Dormand–Prince, tolerance 1e-4, first step 0.01 s, landing by dense output. The forces are
//! written without branches: drops that fly abreast, in several directions from one jet, go as vectors.
//! Neglected: break-up and collision of drops, evaporation in flight, upward and gusty air.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::dormand_prince::{Abreast, Control, System, follow_to_zero};
use super::drag;
use super::launch::{DragCorrection, DragForm, Launch};
use super::problem::SprinklerProblem;
use crate::range::within;
use libm::{cos, sin};
use pulp::{Arch, Simd, WithSimd};

/// Speed of the jet over that of frictionless outflow.
const VELOCITY_COEFFICIENT: f64 = 0.97;
/// Wind at which the K1 term has reached 1/√2 of itself, m/s.
const K1_RAMP_M_S: f64 = 3.0;
const CONTROL: Control =
    Control { tolerance: 1e-4, first_step_s: 0.01, most_steps: 2000, longest_s: 120.0 };

/// Where and how a drop came down; x along the wind, y to the left of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Landing {
    /// Distance from the nozzle along the wind, m.
    pub(super) along_m: f64,
    /// Distance across it, m.
    pub(super) cross_m: f64,
    /// Time in the air, s.
    pub(super) flight_s: f64,
    /// Speed on landing, m/s.
    pub(super) impact_m_s: f64,
}

impl Launch {
    /// Speed at which water leaves the nozzle, m/s.
    pub(super) fn speed_m_s(&self) -> f64 {
        let pressure_pa = self.pressure_kpa * 1000.0;
        VELOCITY_COEFFICIENT * (2.0 * pressure_pa / drag::WATER_DENSITY_KG_M3).sqrt()
    }
}

impl DragCorrection {
    /// C′/C for velocities through the air and over the ground, wind `wind_m_s` along +x; 1 without wind.
    #[inline(always)]
    fn factor(
        &self,
        through_air: ([f64; 3], f64),
        over_ground: ([f64; 3], f64),
        wind_m_s: f64,
    ) -> f64 {
        let ([x, y, z], air_m_s) = (through_air.0, through_air.1.max(1e-9));
        let (ground, ground_m_s) = (over_ground.0, over_ground.1.max(1e-9));
        let (per_air, per_ground) = (1.0 / air_m_s, 1.0 / ground_m_s);
        let beside_m_s = (y * y + z * z).sqrt();
        let k2 = self.k2 * (wind_m_s * per_ground).min(1.0);
        match self.form {
            DragForm::AirAndGround => {
                // The two velocities differ by the wind along x, so their cross product is short.
                let sin_to_ground = wind_m_s * beside_m_s * per_air * per_ground;
                1.0 + self.k1 * sin_to_ground - k2 * (x * per_air)
            }
            DragForm::AirAndWind => {
                let dot = x * ground[0] + y * ground[1] + z * ground[2];
                let cos_to_ground = dot * per_air * per_ground;
                let ramp = wind_m_s / (wind_m_s * wind_m_s + K1_RAMP_M_S * K1_RAMP_M_S).sqrt();
                1.0 + self.k1 * ramp * (beside_m_s * per_air) - k2 * cos_to_ground
            }
        }
    }
}

/// Drops of one size in the air; state = place x, y, z (m) and velocity (m/s).
struct Drops<'a, W> {
    sphere: drag::Sphere,
    /// Drag over that of a sphere.
    flattening: f64,
    nozzle_height_m: f64,
    correction: &'a DragCorrection,
    /// 1 over the length over which the jet holds together, and the least share of its drag that a
    /// drop meets: 0 and 1 without such a length.
    per_whole_m: f64,
    least_parted: f64,
    wind_at: &'a W,
}

impl<'a, W: Fn(f64) -> f64> Drops<'a, W> {
    fn new(
        diameter_m: f64,
        nozzle_height_m: f64,
        correction: &'a DragCorrection,
        wind_at: &'a W,
    ) -> Self {
        let whole_m = correction.jet_length_m;
        let (per_whole_m, least_parted) =
            if whole_m > 0.0 { (1.0 / whole_m, 0.0) } else { (0.0, 1.0) };
        let flattening = if correction.flattens { drag::flattening(diameter_m) } else { 1.0 };
        let sphere = drag::Sphere::of(diameter_m);
        Self { sphere, flattening, nozzle_height_m, correction, per_whole_m, least_parted, wind_at }
    }

    #[inline(always)]
    fn gains(&self, [x, y, z]: [f64; 3], over_ground: [f64; 3], wind_m_s: f64) -> [f64; 3] {
        let [vx, vy, vz] = over_ground;
        let through_air = [vx - wind_m_s, vy, vz];
        let (air_m_s, ground_m_s) = (norm(through_air), norm(over_ground));
        let flown_m = norm([x, y, z - self.nozzle_height_m]);
        let parted = (flown_m * self.per_whole_m).min(1.0).max(self.least_parted);
        let factor =
            self.correction.factor((through_air, air_m_s), (over_ground, ground_m_s), wind_m_s);
        let rate = factor * self.flattening * parted * self.sphere.rate_per_s(air_m_s);
        let [ax, ay, az] = through_air.map(|speed| -rate * speed);
        [ax, ay, az - drag::net_gravity_m_s2()]
    }
}

impl<W: Fn(f64) -> f64, const L: usize> System<6, L> for Drops<'_, W> {
    #[inline(always)]
    fn slopes(&self, states: &Abreast<6, L>) -> Abreast<6, L> {
        let winds_m_s = states[2].map(self.wind_at);
        let [x, y, z, vx, vy, vz] = states;
        let (mut ax, mut ay, mut az) = ([0.0; L], [0.0; L], [0.0; L]);
        for lane in 0..L {
            let place = [x[lane], y[lane], z[lane]];
            let velocity = [vx[lane], vy[lane], vz[lane]];
            [ax[lane], ay[lane], az[lane]] = self.gains(place, velocity, winds_m_s[lane]);
        }
        [*vx, *vy, *vz, ax, ay, az]
    }
}

#[inline(always)]
fn norm([x, y, z]: [f64; 3]) -> f64 {
    (x * x + y * y + z * z).sqrt()
}

/// Follow a drop of `diameter_mm` to the ground.
///
/// `azimuth_rad` is the direction of the jet, counter-clockwise from where the wind blows to;
/// `wind_at` gives the wind (m/s, ≥ 0) at a height above ground (m).
///
/// # Errors
/// A diameter outside 0.05–10 mm, a launch or correction that is not sound, or a drop that is still
/// in the air after 120 s or 2000 steps.
pub(super) fn fly(
    diameter_mm: f64,
    azimuth_rad: f64,
    launch: &Launch,
    correction: &DragCorrection,
    wind_at: &impl Fn(f64) -> f64,
) -> Result<Landing, SprinklerProblem> {
    launch.check()?;
    correction.check()?;
    let elevation_rad = launch.trajectory_angle_deg.to_radians();
    fly_at(diameter_mm, (azimuth_rad, elevation_rad), launch, correction, wind_at)
}

/// The same for a jet that leaves in any direction (azimuth, and elevation above the horizontal),
/// whatever the launch's trajectory; launch and correction are taken as checked.
///
/// # Errors
/// A diameter or direction out of range, or a drop that is still in the air after 120 s.
pub(super) fn fly_at(
    diameter_mm: f64,
    (azimuth_rad, elevation_rad): (f64, f64),
    launch: &Launch,
    correction: &DragCorrection,
    wind_at: &impl Fn(f64) -> f64,
) -> Result<Landing, SprinklerProblem> {
    within("diameter_mm", diameter_mm, 0.05, 10.0)?;
    within("azimuth_rad", azimuth_rad, -100.0, 100.0)?;
    within("elevation_rad", elevation_rad, -1.6, 1.6)?;
    let drops = Drops::new(diameter_mm * 1e-3, launch.nozzle_height_m, correction, wind_at);
    let [landing] = follow(&drops, &start(launch, [azimuth_rad], elevation_rad), &CONTROL)
        .ok_or(SprinklerProblem::NeverLands { diameter_mm, limit: LIMIT })?;
    Ok(landing)
}

/// Limits of [`CONTROL`].
const LIMIT: &str = "120 s or 2000 steps";

/// [`fly_at`] to the last micrometer, to judge what is less exact; all taken as checked.
#[cfg(test)]
pub(super) fn fly_finely(
    diameter_mm: f64,
    (azimuth_rad, elevation_rad): (f64, f64),
    launch: &Launch,
    correction: &DragCorrection,
    wind_at: &impl Fn(f64) -> f64,
) -> Landing {
    let fine = Control { tolerance: 1e-8, ..CONTROL };
    let drops = Drops::new(diameter_mm * 1e-3, launch.nozzle_height_m, correction, wind_at);
    let [landing] = follow(&drops, &start(launch, [azimuth_rad], elevation_rad), &fine).unwrap();
    landing
}

/// Drops that fly abreast.
pub(super) const ABREAST: usize = 16;

/// Follows drops of one size that leave abreast in several directions, one a lane; launch and
/// correction are taken as checked.
///
/// # Errors
/// A diameter or elevation out of range, or a drop that is still in the air after 120 s.
pub(super) fn fly_abreast(
    diameter_mm: f64,
    (azimuths_rad, elevation_rad): ([f64; ABREAST], f64),
    launch: &Launch,
    correction: &DragCorrection,
    wind_at: &impl Fn(f64) -> f64,
) -> Result<[Landing; ABREAST], SprinklerProblem> {
    within("diameter_mm", diameter_mm, 0.05, 10.0)?;
    within("elevation_rad", elevation_rad, -1.6, 1.6)?;
    let drops = Drops::new(diameter_mm * 1e-3, launch.nozzle_height_m, correction, wind_at);
    let starts = start(launch, azimuths_rad, elevation_rad);
    Arch::new()
        .dispatch(Flight { drops: &drops, starts })
        .ok_or(SprinklerProblem::NeverLands { diameter_mm, limit: LIMIT })
}

/// [`follow`] for whichever vectors the processor has: the same operations, so the same bits.
struct Flight<'a, W> {
    drops: &'a Drops<'a, W>,
    starts: Abreast<6, ABREAST>,
}

impl<W: Fn(f64) -> f64> WithSimd for Flight<'_, W> {
    type Output = Option<[Landing; ABREAST]>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Self::Output {
        follow(self.drops, &self.starts, &CONTROL)
    }
}

/// How drops leave the nozzle.
fn start<const L: usize>(
    launch: &Launch,
    azimuths_rad: [f64; L],
    elevation_rad: f64,
) -> Abreast<6, L> {
    let level_m_s = launch.speed_m_s() * cos(elevation_rad);
    let mut starts = [[0.0; L]; 6];
    starts[2] = [launch.nozzle_height_m; L];
    starts[3] = azimuths_rad.map(|azimuth_rad| level_m_s * cos(azimuth_rad));
    starts[4] = azimuths_rad.map(|azimuth_rad| level_m_s * sin(azimuth_rad));
    starts[5] = [launch.speed_m_s() * sin(elevation_rad); L];
    starts
}

/// To the ground.
#[inline(always)]
fn follow<W: Fn(f64) -> f64, const L: usize>(
    drops: &Drops<'_, W>,
    starts: &Abreast<6, L>,
    control: &Control,
) -> Option<[Landing; L]> {
    let landed = follow_to_zero(drops, *starts, 2, control)?;
    Some(landed.map(|(flight_s, [along_m, cross_m, _, vx, vy, vz])| Landing {
        along_m,
        cross_m,
        flight_s,
        impact_m_s: norm([vx, vy, vz]),
    }))
}

#[cfg(test)]
mod tests;
