//! What a search for rotations tries, as written.

use super::machine::{EdgesName, WheelSizeName};
use super::season::SetOrderName;
use super::shift::Across;
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
            "Rank by",
            else "net return where the yield has a value, else the worst tenth, else DUlq";
        /// Smallest gain in DUlq worth the effort: candidates that are closer are ties.
        worthwhile_gain_du_lq: Option<Quantity<limits::LeastShare>>,
            "Worthwhile gain in DUlq",
            else "0.5 %" because "half a point, less than a can test could show; judgment";
        /// Smallest gain in the yield of the worst tenth worth the effort; that of the net return
        /// is `worthwhile_gain` of `worth`.
        worthwhile_gain_worst_tenth: Option<Quantity<limits::LeastShare>>,
            "Worthwhile gain of the worst tenth",
            else "0.5 %" because "half a point, less than a can test could show; judgment";
        /// Most passes in one cycle of a rotation.
        longest_cycle: Option<Count<limits::LongestCycle>>,
            "Longest cycle", else "3" because "longer cycles seldom gain more";
        /// Whether a stop may come more than once in a cycle.
        repeat_stops: Option<bool>, "Repeat stops in a cycle", else "true";
        /// Which orders of the same stops are tried.
        stop_orders: Option<OrdersName>, "Orders of stops", else "one";
        /// Edge treatments that are tried.
        edges: Option<List<EdgesName, 3>>, "Edge treatments", else "all three";
        /// Schedules that are tried.
        schedules: Option<List<ClockName, 4>>,
            "Schedules", else "as given, half a day idle, other half of the day";
        /// Orders of sets that are tried.
        set_orders: Option<List<SetOrderName, 3>>, "Orders of sets", else "the scenario’s";
        /// Distances by which the first outlet is moved into the field; a change of the mainline.
        first_outlet_shifts: Option<List<Across, { limits::MOST_CHOICES }>>,
            "Shifts of the first outlet", else "none";
        /// Numbers of outlets beside the field’s own; a change of the mainline.
        outlet_counts: Option<List<Count<limits::OutletCount>, { limits::MOST_CHOICES }>>,
            "Numbers of outlets", else "the field’s own";
        /// Equal parts of the outlet spacing by which a hand-moved lateral is shifted.
        stops_per_spacing: Option<Count<limits::StopsPerSpacing>>,
            "Stops per outlet spacing",
            else "4" because "as fine as a hand-moved line is usually set; judgment";
        /// Whether a hand-moved lateral is shifted half a sprinkler spacing along the pipe too.
        half_joint_shifts: Option<bool>, "Half-joint shifts", else "true";
        /// Wheels that are compared, by the trade’s name for them; those of `travels_per_turn` are
        /// compared with them.
        wheel_sizes: Option<List<WheelSizeName, 3>>, "Wheel sizes", else "the scenario’s wheel";
        /// Wheels that are compared, by their travel per turn as measured in the field.
        travels_per_turn: Option<List<Quantity<limits::TravelPerTurn>, { limits::MOST_CHOICES }>>,
            "Travels per turn", else "the scenario’s wheel";
        /// Outlet spacings that are compared.
        outlet_spacings: Option<List<Quantity<limits::OutletSpacing>, { limits::MOST_CHOICES }>>,
            "Outlet spacings", else "the scenario’s";
        /// Seasons for the candidates that stay to the end.
        seasons: Option<Count<limits::Seasons>>,
            "Number of seasons", else "the number of `worth`, else 50";
        /// Seasons before clearly beaten candidates are dropped; `seasons` for no screening.
        screening_seasons: Option<Count<limits::Seasons>>,
            "Screening seasons", else "8" because "enough to drop what is clearly beaten; judgment";
        /// Confidence level of intervals and of the ranking as a whole.
        confidence_level: Option<Quantity<limits::ConfidenceLevel>>,
            "Confidence level", else "the level of `worth`, else 90 %";
        /// Swing joints or hoses that a shifted rotation needs for the lateral.
        joints: Option<Count<limits::Pieces>>,
            "Number of joints",
            else "as the first shifted alternative that says it; asked for where none does";
        /// Swing joints or hoses that it needs for each outlet.
        joints_per_outlet: Option<Count<limits::Pieces>>, "Joints per outlet", else "0";
        /// Labor for one move of a shifted rotation beyond the common one.
        extra_labor_per_move: Option<Quantity<limits::LaborPerMove>>,
            "Extra labor per move", else "as the first shifted alternative";
    }
}
