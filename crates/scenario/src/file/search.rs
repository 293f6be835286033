//! What a search for rotations tries, as written.

use super::{Across, EdgesName};
use crate::declare::{choice, section};
use crate::limits;
use crate::read::Count;
use crate::read_plain::List;
use crate::read_quantity::Quantity;
use evenfall_core::search::{Aim, ClockChange};

choice! {
    /// What candidates are ranked by.
    pub(crate) AimName {
        /// Low quarter of the season's water, interior.
        DuLq = "DUlq",
        /// The same over the whole field.
        DuLqWhole = "DUlq of the whole field",
        /// Yield of the field's worst tenth.
        WorstTenth = "worst tenth",
        /// Net return against the fixed pattern.
        NetReturn = "net return",
    }
}

impl From<AimName> for Aim {
    fn from(name: AimName) -> Self {
        match name {
            AimName::DuLq => Self::DuLqInterior,
            AimName::DuLqWhole => Self::DuLqWhole,
            AimName::WorstTenth => Self::WorstTenth,
            AimName::NetReturn => Self::NetReturn,
        }
    }
}

choice! {
    /// Which orders of the same stops are tried.
    pub(crate) OrdersName {
        /// One for each weighting of the stops.
        One = "one",
        /// Every order.
        Every = "every",
    }
}

choice! {
    /// A change of the calendar.
    pub(crate) ClockName {
        /// None.
        AsGiven = "as given",
        /// Half a day more without water between passes.
        Idle = "half a day idle",
        /// Started twelve hours later or earlier on the same day.
        Other = "other half of the day",
        /// Both.
        Both = "half a day idle and other half of the day",
    }
}

impl From<ClockName> for ClockChange {
    fn from(name: ClockName) -> Self {
        match name {
            ClockName::AsGiven => Self::AsGiven,
            ClockName::Idle => Self::IdleHalfDay,
            ClockName::Other => Self::OtherHalf,
            ClockName::Both => Self::IdleAndOtherHalf,
        }
    }
}

section! {
    /// The search for rotations worth considering: what is tried, and what it is ranked by.
    SearchFile {
        /// What candidates are ranked by.
        aim: Option<AimName>,
        /// Least difference of DUlq worth the name: candidates that are closer are ties.
        worthwhile_gain_du_lq: Option<Quantity<limits::LeastShare>>,
        /// Least difference of the worst tenth’s yield worth the name; that of the net return is
        /// `worthwhile_gain` of `worth`.
        worthwhile_gain_worst_tenth: Option<Quantity<limits::LeastShare>>,
        /// Most passes in one cycle of a rotation.
        longest_cycle: Option<Count<limits::LongestCycle>>,
        /// Whether a stop may come more than once in a cycle.
        repeat_stops: Option<bool>,
        /// Which orders of the same stops are tried.
        stop_orders: Option<OrdersName>,
        /// Edge treatments that are tried.
        edges: Option<List<EdgesName, 3>>,
        /// Clocks that are tried.
        schedules: Option<List<ClockName, 4>>,
        /// Distances by which the first outlet is moved into the field; a change of the mainline.
        first_outlet_shifts: Option<List<Across, { limits::MOST_CHOICES }>>,
        /// Numbers of outlets beside the field's own; a change of the mainline.
        outlet_counts: Option<List<Count<limits::OutletCount>, { limits::MOST_CHOICES }>>,
        /// Parts of the outlet spacing in which a hand-moved lateral is shifted.
        stops_per_spacing: Option<Count<limits::PartsAcross>>,
        /// Whether a hand-moved lateral is shifted half a sprinkler spacing along the pipe too.
        half_joint_shifts: Option<bool>,
        /// Travels of the wheel in one turn that are compared, as measured in the field.
        travels_per_turn: Option<List<Quantity<limits::TravelPerTurn>, { limits::MOST_CHOICES }>>,
        /// Outlet spacings that are compared.
        outlet_spacings: Option<List<Quantity<limits::OutletSpacing>, { limits::MOST_CHOICES }>>,
        /// Seasons for the candidates that stay in the race.
        seasons: Option<Count<limits::Seasons>>,
        /// Seasons before the first look at who is beaten; the number above for no race.
        screening_seasons: Option<Count<limits::Seasons>>,
        /// Level of intervals and of the ranking as a whole.
        confidence_level: Option<Quantity<limits::ConfidenceLevel>>,
        /// Swing joints or hoses that a shifted rotation needs for the lateral.
        joints: Option<Count<limits::Pieces>>,
        /// Those that it needs for each outlet.
        joints_per_outlet: Option<Count<limits::Pieces>>,
        /// Labor for one move of a shifted rotation beyond the common one.
        extra_labor_per_move: Option<Quantity<limits::LaborPerMove>>,
    }
}
