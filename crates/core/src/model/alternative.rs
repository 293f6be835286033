//! One alternative: a lateral with its outlets, its rotation and its sprinklers.

use crate::lateral::hydraulics::{self, Delivery, Feed, HydraulicsProblem, PressureLine};
use crate::lateral::{Condition, Discharges, EdgeTreatment, Lateral, Outlets};
use crate::rotation::Rotation;
use crate::schedule::{Calendar, Stops};
use crate::sprinkler::Sprinkler;

/// One of the alternatives that are compared.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// Name in pictures and tables.
    pub name: String,
    /// The pipe.
    pub lateral: Lateral,
    /// The outlets.
    pub outlets: Outlets,
    /// The rotation of shifts.
    pub rotation: Rotation,
    /// The sprinklers.
    pub sprinkler: Sprinkler,
    /// What its shifted passes do at the field's edges.
    pub edges: EdgeTreatment,
    /// Its own clock, where it differs from the scenario's; it starts on the same day.
    pub calendar: Option<Calendar>,
    /// How water gets to its sprinklers; `None` takes all at their stated pressure.
    pub feed: Option<Feed>,
    /// How the discharges of its sprinklers differ.
    pub discharges: Discharges,
    /// What is known of the state of its nozzles and couplers.
    pub condition: Condition,
}

impl Alternative {
    /// Pressures along its lateral; `None` where all sprinklers have their stated pressure.
    ///
    /// # Errors
    /// If they cannot be found, or the lateral runs dry.
    pub fn pressures(&self) -> Result<Option<PressureLine>, HydraulicsProblem> {
        let factors = self.factors();
        let factors = factors.as_deref().unwrap_or(&[]);
        let delivery = Delivery { factors, leaks: self.condition.leaked_share() };
        let solve = |feed| hydraulics::solve_each(&self.lateral, &self.sprinkler, feed, delivery);
        self.feed.as_ref().map(solve).transpose()
    }

    /// Discharge of each sprinkler over the stated one; `None` where all deliver that.
    pub fn factors(&self) -> Option<Vec<f64>> {
        self.discharges.factors(self.lateral.sprinklers)
    }

    /// As many sprinklers of the stated discharge deliver what all of its own do together.
    pub fn stated_sprinklers(&self) -> f64 {
        let sprinklers = self.lateral.sprinklers as f64;
        self.factors().map_or(sprinklers, |factors| factors.iter().sum())
    }

    /// The outlets of one of its lines: how far whole turns miss adds up over these alone.
    pub fn line_outlets(&self) -> Outlets {
        Outlets { count: self.lateral.lines.outlets_a_line(self.outlets.count), ..self.outlets }
    }

    /// Where its lateral stands, pass by pass.
    pub fn stops(&self) -> Stops<'_> {
        Stops {
            machine: &self.lateral.machine,
            outlets: &self.outlets,
            rotation: &self.rotation,
            edges: self.edges,
            lines: self.lateral.lines,
        }
    }
}
