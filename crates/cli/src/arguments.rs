//! The command line: its words, and the help that teaches them.

mod catch;
mod page;
mod studies;
mod tables;

pub(crate) use catch::CatchArguments;
pub(crate) use page::{FolderArguments, PageArguments};
pub(crate) use studies::{EdgesArguments, MaintenanceArguments, SheetArguments, TiltArguments};
pub(crate) use tables::{
    ClockArguments, OverlapArguments, PressureArguments, ShapeName, StopsArguments,
};

use crate::failure::EXIT_CODES;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use std::path::PathBuf;

/// What a rotation of stops does to the water of a moved sprinkler lateral, over a season.
///
/// Without a command, simulates the embedded demo and writes a report.
#[derive(Debug, Parser)]
#[command(name = "evenfall", version, about, long_about, after_help = EXIT_CODES)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
    /// No progress and no closing words: only errors, and tables asked for
    #[arg(long, short, global = true)]
    pub(crate) quiet: bool,
    /// No colors (also when `NO_COLOR` is set or the output is no terminal)
    #[arg(long, global = true)]
    pub(crate) no_color: bool,
    /// Threads to compute with; results do not depend on it [default: all cores]
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub(crate) threads: Option<u16>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Simulate a season and write a report (the main job)
    Season(SeasonArguments),
    /// Tell what the alternatives are worth: many seasons, crop, soil, money, a verdict
    ///
    /// Needs a scenario with crop, soil and climate; prices are the user's, or marked placeholders.
    Worth(WorthArguments),
    /// Open the explorer: a local page to set up, watch and compare seasons
    ///
    /// Serves the page on 127.0.0.1 until Ctrl-C and prints its address. Nothing leaves the machine.
    Explore(ExploreArguments),
    /// Try the treatments of the field's edges against each other: water, sets, the strips' depths
    ///
    /// Shifted passes leave an edge short. Runs the rotation of one alternative with every stop
    /// shifted, with the outermost stops held, with an extra set on the opened side and with the
    /// first outlet at another place, all under the same weather, and says which is favored at
    /// the edges and overall, and what it costs.
    Edges(EdgesArguments),
    /// Show what stopping a wheel line off the whole turn does: tilted and blocked sprinklers
    ///
    /// A what-if: the shifted passes of one alternative stand part of a turn off, or hang after half
    /// a turn; the season is compared with whole turns and with the fixed pattern.
    Tilt(TiltArguments),
    /// Seek the rotations worth considering for the scenario's machine, ties shown as ties
    /// Tries the reachable stops in rotations of up to --longest passes, with each edge treatment
    /// and clock that the scenario's section `search` names, under common winds. To compare wheels
    /// and outlet spacings, name them:
    ///     evenfall search --aim dulq --travel "15 ft" --travel "20 ft" --spacing "50 ft" --spacing "60 ft"
    /// Writes a report, every candidate as CSV, and the best as a scenario for `evenfall worth`.
    #[command(verbatim_doc_comment)]
    Search(SearchArguments),
    /// Show where a lateral can stand beside its outlets, and where not and why
    ///
    /// Either for every alternative of a scenario, or for one wheel given on the command line:
    ///
    ///     evenfall stops --travel "20 ft" --spacing "60 ft" --reach "25 ft"
    #[command(verbatim_doc_comment)]
    Stops(StopsArguments),
    /// Show when and where each set of a scenario runs
    Clock(ClockArguments),
    /// Show pressure and discharge of every sprinkler along the pipe, and judge them
    ///
    /// For alternatives whose lateral has its pipe described (the key `pipe` of the lateral).
    Pressure(PressureArguments),
    /// Write the move sheet for the irrigator: a page to print, a table, a calendar
    /// With --log, what really happened is kept and the rest of the season planned anew.
    Sheet(SheetArguments),
    /// Print the maintenance list of the machine, with move times in cold and the crop under the pipe
    Maintenance(MaintenanceArguments),
    /// Overlap one ideal pattern in still air, fixed and rotated
    ///
    ///     evenfall overlap --shape triangular --diameter "90 ft" --along "40 ft" --across "60 ft"
    #[command(verbatim_doc_comment)]
    Overlap(OverlapArguments),
    /// Read catch-can tests: CU and DUlq with limits, overlaps, leg and K1 fitted, the simulated pass
    ///
    /// Takes files, or folders of .csv files; several share each table. With --across (and --along) a
    /// test of one sprinkler, or of one lateral, is laid over itself, fixed and rotated. With --fit leg
    /// and K1 are fitted to tests of one sprinkler. With --scenario cans under laterals are held against
    /// the simulated pass in the wind noted that day.
    ///
    ///     evenfall catch cans.csv
    ///     evenfall catch tests/ --fit --along "40 ft" --across "60 ft" --into report
    ///     evenfall catch tests/ --scenario my-field.json
    #[command(verbatim_doc_comment, after_long_help = catch::catch_layout())]
    Catch(Box<CatchArguments>),
    /// Check a scenario: all problems at once, or what would be assumed
    Check(ScenarioArguments),
    /// Print the embedded demo scenario, to start one's own from
    Demo,
    /// Print the JSON Schema of scenario files
    Schema {
        /// That of the log of a season instead
        #[arg(long)]
        log: bool,
    },
    /// Print shell completions
    Completions {
        /// For which shell
        shell: Shell,
    },
}

#[derive(Debug, Args, Default)]
pub(crate) struct SeasonArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Seed in place of the scenario's
    #[arg(long, value_name = "N")]
    pub(crate) seed: Option<u64>,
    /// What really happened so far (JSON), as one alternative more
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct WorthArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Seed in place of the scenario's
    #[arg(long, value_name = "N")]
    pub(crate) seed: Option<u64>,
    /// Number of seasons in place of the scenario's
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10000))]
    pub(crate) seasons: Option<u16>,
    /// Run until the difference against the first alternative is known this well: half the width of
    /// its interval, in money such as "2 per ac", or as a share of the yield such as "0.2 %"
    #[arg(long, value_name = "HALF-WIDTH")]
    pub(crate) precision: Option<String>,
    /// Seasons at the most, with --precision [default: the scenario's, or 1000]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10000))]
    pub(crate) max_seasons: Option<u16>,
}

#[derive(Debug, Args)]
pub(crate) struct SearchArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Seed in place of the scenario's
    #[arg(long, value_name = "N")]
    pub(crate) seed: Option<u64>,
    /// What to rank by [default: the scenario's, else net return where the yield has a value]
    #[arg(long, value_enum)]
    pub(crate) aim: Option<AimWord>,
    /// Seasons for those that stay in the race, in place of the scenario's
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10000))]
    pub(crate) seasons: Option<u16>,
    /// Least difference worth the name, such as "0.5 %", or "5 per ac" with net: closer ones are ties
    /// [default: the scenario's; where it does not say, half a point, and with net nothing]
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) least: Option<String>,
    /// Most passes in one cycle of a rotation [default: the scenario's, else 3]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=12))]
    pub(crate) longest: Option<u16>,
    /// Try every order of the same stops, not one for each weighting
    #[arg(long)]
    pub(crate) every_order: bool,
    /// A wheel to compare by its travel in one turn, measured, such as "20 ft"; may be repeated
    #[arg(long)]
    pub(crate) travel: Vec<String>,
    /// A wheel to compare by its outside diameter, such as "76 in"; may be repeated
    #[arg(long)]
    pub(crate) diameter: Vec<String>,
    /// Part of a turn lost to sinking in, with --diameter
    #[arg(long, default_value = "0 %", requires = "diameter")]
    pub(crate) sinkage: String,
    /// An outlet spacing to compare, such as "60 ft"; may be repeated
    #[arg(long)]
    pub(crate) spacing: Vec<String>,
    /// How many of the best go into the scenario for `evenfall worth`
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=11))]
    pub(crate) best: u16,
}

/// What candidates are ranked by.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum AimWord {
    /// low quarter of the season's water in the interior
    Dulq,
    /// the same over the whole field
    WholeDulq,
    /// yield of the field's worst tenth
    WorstTenth,
    /// net return against the fixed pattern
    Net,
}

#[derive(Debug, Args)]
pub(crate) struct ExploreArguments {
    /// Scenario file (JSON) to start from; without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Port on 127.0.0.1; 0 takes a free one
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub(crate) port: u16,
    /// Open the page in the browser
    #[arg(long)]
    pub(crate) open: bool,
}

#[derive(Debug, Args)]
pub(crate) struct ScenarioArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
}
