//! What can be wrong with the water's way along a lateral, in words that a reader can act on.

use crate::range::OutOfRange;

/// Why pressures along a lateral cannot be found, or cannot be worked with.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum HydraulicsProblem {
    /// A number outside what is taken.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Places of the heights that do not rise.
    #[error("point {point} of the heights does not lie beyond the one before it")]
    ProfileTurnsBack {
        /// Point from 1.
        point: usize,
    },
    /// A lateral without sprinklers, or sprinklers without jets.
    #[error("the lateral has no sprinkler that delivers water")]
    NoOutlets,
    /// The stated flow cannot come out of the sprinklers.
    #[error(
        "a flow of {wanted_l_s:.4} L/s tells no pressure: the flow-control nozzles hold no more than \
         {most_l_s:.4} L/s, leaks included; give the inlet's pressure instead"
    )]
    FlowHeldBack {
        /// The stated flow, L/s.
        wanted_l_s: f64,
        /// What the nozzles pass at most, L/s.
        most_l_s: f64,
    },
    /// No pressure that a pipe could bear gives what is stated.
    #[error("no inlet pressure up to {highest_kpa} kPa gives what is stated")]
    BeyondReach {
        /// Where the search ended, kPa.
        highest_kpa: f64,
    },
    /// A sprinkler that gets too little.
    #[error("{0}")]
    RunsDry(RunsDry),
}

/// A lateral that cannot feed one of its sprinklers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunsDry {
    /// The worst fed sprinkler, counted from 1 from the field's edge.
    pub sprinkler: usize,
    /// Of how many.
    pub sprinklers: usize,
    /// How many get too little.
    pub starved: usize,
    /// Its place, m from the field's edge.
    pub place_m: f64,
    /// Pressure left at its nozzle, kPa; none where negative.
    pub nozzle_kpa: f64,
    /// Least pressure it works at, kPa.
    pub least_kpa: f64,
    /// Inlet pressure found, kPa.
    pub inlet_kpa: f64,
    /// Inlet pressure that would feed it, kPa; `None` if no pressure a pipe bears would.
    pub needed_kpa: Option<f64>,
}

impl std::fmt::Display for RunsDry {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let RunsDry { sprinkler, sprinklers, starved, place_m, least_kpa, inlet_kpa, .. } = self;
        write!(f, "the lateral runs dry: sprinkler {sprinkler} of {sprinklers}, {place_m:.1} m ")?;
        write!(f, "from the field's edge, ")?;
        if self.nozzle_kpa > 0.0 {
            write!(f, "gets {:.1} kPa", self.nozzle_kpa)?;
        } else {
            write!(f, "gets no water")?;
        }
        write!(f, " and needs {least_kpa:.0} kPa ({starved} in all get too little); ")?;
        match self.needed_kpa {
            Some(needed_kpa) => write!(
                f,
                "a wider pipe, fewer or smaller nozzles, or {needed_kpa:.0} kPa at the inlet in \
                 place of {inlet_kpa:.0} would mend it"
            ),
            None => write!(
                f,
                "a wider pipe, or fewer or smaller nozzles, would mend it; more pressure than \
                 {inlet_kpa:.0} kPa at the inlet alone would not"
            ),
        }
    }
}
