//! How water gets to a lateral's sprinklers: pipe, inlet, heights, and the limits they are judged by.

use super::friction::PipeSize;
use super::problem::HydraulicsProblem;
use crate::range::within;

/// Largest variation of pressure along a lateral, as a share of the nominal sprinkler pressure:
/// SCS NEH 15-11 (1983); Merkley & Allen, Utah State University lectures, lecture 7.
pub const PRESSURE_RULE: f64 = 0.20;
/// Velocity in the pipe beyond which water hammer and losses become a worry, m/s; common practice
/// (5 ft/s), no source.
pub const FAST_M_S: f64 = 1.5;
/// Least pressure at which a sprinkler is taken to work, kPa; or half of its nominal pressure where
/// that is less. Judgment: below it a jet neither breaks up nor drives the sprinkler.
pub(super) const LEAST_WORKING_KPA: f64 = 50.0;

/// How water gets to the sprinklers of a lateral.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// The pipe.
    pub pipe: Pipe,
    /// What is known of the water.
    pub inlet: Inlet,
    /// x of the inlet, m from the field's edge, like the sprinklers' places; anywhere along the
    /// pipe or beyond its ends.
    pub inlet_m: f64,
    /// Heights of the ground along the pipe.
    pub ground: Ground,
    /// Height of the nozzle above the pipe's axis, m.
    pub riser_m: f64,
    /// m of R ∝ Pᵐ, the growth of the radius of throw with pressure.
    pub radius_exponent: f64,
}

/// The pipe: one size, or two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Size from the inlet on.
    pub near: PipeSize,
    /// Size beyond a distance from the inlet, m, on either side of it.
    pub far: Option<(f64, PipeSize)>,
}

/// What is known of the water that comes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Inlet {
    /// Pressure in the pipe at the inlet, kPa.
    Pressure(f64),
    /// Flow at the inlet, L/s.
    Flow(f64),
    /// Mean pressure of all nozzles, kPa.
    MeanSprinkler(f64),
}

/// Heights of the ground along the pipe, above any datum.
#[derive(Clone, Debug, PartialEq)]
pub enum Ground {
    /// Rises by this share of the distance towards +x; negative falls.
    Slope(f64),
    /// Places (m from the field's edge, rising) and heights there, m; straight between them, level
    /// beyond the ends.
    Profile(Vec<(f64, f64)>),
}

impl Ground {
    /// Level ground.
    pub const LEVEL: Self = Self::Slope(0.0);

    /// Height at a place along the pipe, m.
    pub fn height_m(&self, x_m: f64) -> f64 {
        match self {
            Self::Slope(slope) => slope * x_m,
            Self::Profile(points) => {
                let next = points.partition_point(|(at_m, _)| *at_m < x_m);
                match (next.checked_sub(1).and_then(|i| points.get(i)), points.get(next)) {
                    (Some((x0, h0)), Some((x1, h1))) => h0 + (h1 - h0) * (x_m - x0) / (x1 - x0),
                    (Some((_, height_m)), None) | (None, Some((_, height_m))) => *height_m,
                    (None, None) => 0.0,
                }
            }
        }
    }
}

impl Pipe {
    /// One size from end to end.
    pub fn of(size: PipeSize) -> Self {
        Self { near: size, far: None }
    }

    /// The pieces of the stretch between two distances from the inlet: length, m, and size.
    pub(super) fn pieces(&self, from_m: f64, to_m: f64) -> impl Iterator<Item = (f64, PipeSize)> {
        let change_m = self.far.map_or(f64::INFINITY, |(change_m, _)| change_m);
        let near = (change_m.min(to_m) - from_m.min(change_m), self.near);
        let far = self.far.map(|(_, size)| (to_m.max(change_m) - from_m.max(change_m), size));
        [Some(near), far].into_iter().flatten().filter(|(length_m, _)| *length_m > 0.0)
    }
}

impl Feed {
    /// Whether the numbers can be computed with.
    ///
    /// # Errors
    /// The first that lies outside its range.
    pub fn check(&self) -> Result<(), HydraulicsProblem> {
        self.pipe.near.check()?;
        if let Some((change_m, size)) = self.pipe.far {
            within("change_at_m", change_m, 0.0, 10_000.0)?;
            size.check()?;
        }
        match self.inlet {
            Inlet::Pressure(kpa) => within("inlet pressure (kPa)", kpa, 1.0, 5000.0)?,
            Inlet::Flow(l_s) => within("inlet flow (L/s)", l_s, 1e-4, 10_000.0)?,
            Inlet::MeanSprinkler(kpa) => within("mean sprinkler pressure (kPa)", kpa, 1.0, 5000.0)?,
        }
        within("inlet_m", self.inlet_m, -10_000.0, 10_000.0)?;
        within("riser_m", self.riser_m, 0.0, 20.0)?;
        within("radius_exponent", self.radius_exponent, 0.0, 1.0)?;
        match &self.ground {
            Ground::Slope(slope) => Ok(within("slope", *slope, -1.0, 1.0)?),
            Ground::Profile(points) => check_profile(points),
        }
    }
}

fn check_profile(points: &[(f64, f64)]) -> Result<(), HydraulicsProblem> {
    for (at_m, height_m) in points {
        within("place of a height (m)", *at_m, -10_000.0, 10_000.0)?;
        within("height (m)", *height_m, -10_000.0, 10_000.0)?;
    }
    let falls = points.windows(2).position(|pair| pair[1].0 <= pair[0].0);
    falls.map_or(Ok(()), |point| Err(HydraulicsProblem::ProfileTurnsBack { point: point + 2 }))
}
