//! Options of the wheels that a command is asked about: by name, as measured, by diameter.

use clap::Args;
use evenfall_scenario::options::start;

#[derive(Debug, Args)]
pub(crate) struct WheelArguments {
    /// A wheel by the trade's name: 5-foot (rolls 15 ft a turn), 7-foot (20 ft) or 9-foot (30 ft); may
    /// be repeated
    #[arg(long, value_name = "SIZE")]
    pub(crate) wheel: Vec<String>,
    /// The three trade sizes side by side
    #[arg(long, conflicts_with = "wheel")]
    pub(crate) wheel_sizes: bool,
    /// A wheel that rolls this far in one turn, as measured, such as "19.8 ft"; may be repeated
    #[arg(long, value_name = "LENGTH")]
    pub(crate) travel_per_turn: Vec<String>,
    /// A wheel of this outside diameter as measured over the lugs, such as "76 in"; may be repeated
    #[arg(long, value_name = "LENGTH")]
    pub(crate) outside_diameter: Vec<String>,
    /// Share of each turn lost to wheel slip and sinkage, with --outside-diameter
    #[arg(long, value_name = "SHARE", default_value = start::SLIP_AND_SINKAGE, requires = "outside_diameter")]
    pub(crate) slip_and_sinkage: String,
}
