//! The command line: its words, and the help that teaches them.

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
    /// No colours (also when `NO_COLOR` is set or the output is no terminal)
    #[arg(long, global = true)]
    pub(crate) no_colour: bool,
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
    /// Show where a lateral can stand beside its outlets, and where not and why
    ///
    /// Either for every alternative of a scenario, or for one wheel given on the command line:
    ///
    ///     evenfall stops --travel "20 ft" --spacing "60 ft" --reach "25 ft"
    #[command(verbatim_doc_comment)]
    Stops(StopsArguments),
    /// Show when and where each set of a scenario runs
    Clock(ClockArguments),
    /// Overlap one ideal pattern in still air, fixed and rotated
    ///
    ///     evenfall overlap --shape triangular --diameter "90 ft" --along "40 ft" --across "60 ft"
    #[command(verbatim_doc_comment)]
    Overlap(OverlapArguments),
    /// Check a scenario: all problems at once, or what would be assumed
    Check(ScenarioArguments),
    /// Print the embedded demo scenario, to start one's own from
    Demo,
    /// Print the JSON Schema of scenario files
    Schema,
    /// Print shell completions
    Completions {
        /// For which shell
        shell: Shell,
    },
}

#[derive(Debug, Args, Default)]
pub(crate) struct SeasonArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Folder to write the report to [default: evenfall-report, or the next free number]
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
    /// Replace an earlier report at that folder
    #[arg(long)]
    pub(crate) replace: bool,
    /// Seed in place of the scenario's
    #[arg(long, value_name = "N")]
    pub(crate) seed: Option<u64>,
}

#[derive(Debug, Args)]
pub(crate) struct WorthArguments {
    #[command(flatten)]
    pub(crate) season: SeasonArguments,
    /// Number of seasons in place of the scenario's
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10000))]
    pub(crate) seasons: Option<u16>,
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

#[derive(Debug, Args)]
pub(crate) struct ClockArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// List every set, not only every pass
    #[arg(long)]
    pub(crate) sets: bool,
}

#[derive(Debug, Args)]
pub(crate) struct StopsArguments {
    /// Scenario file (JSON); without it and without --travel, the embedded demo
    #[arg(conflicts_with_all = ["travel", "diameter"])]
    pub(crate) scenario: Option<PathBuf>,
    /// Distance the wheel rolls in one turn, measured, such as "20 ft"
    #[arg(long, conflicts_with = "diameter", requires = "spacing", requires = "reach")]
    pub(crate) travel: Option<String>,
    /// Or its outside diameter, such as "76 in"
    #[arg(long, requires = "spacing", requires = "reach")]
    pub(crate) diameter: Option<String>,
    /// Part of a turn lost to sinking in, with --diameter
    #[arg(long, default_value = "0 %", requires = "diameter")]
    pub(crate) sinkage: String,
    /// Distance between outlets, such as "60 ft"
    #[arg(long)]
    pub(crate) spacing: Option<String>,
    /// Reach of the hose or swing joint from the outlet, such as "25 ft"
    #[arg(long)]
    pub(crate) reach: Option<String>,
    /// Number of outlets of a pass
    #[arg(long, default_value_t = 22, value_parser = clap::value_parser!(u16).range(1..=2000))]
    pub(crate) outlets: u16,
    /// Tilt that the levelers still take up
    #[arg(long, default_value = "15 deg")]
    pub(crate) levelers: String,
}

#[derive(Debug, Args)]
pub(crate) struct OverlapArguments {
    /// Shape of the pattern along its radius
    #[arg(long, value_enum)]
    pub(crate) shape: ShapeName,
    /// Wetted diameter, such as "90 ft"
    #[arg(long)]
    pub(crate) diameter: String,
    /// Distance between sprinklers along the pipe
    #[arg(long, default_value = "40 ft")]
    pub(crate) along: String,
    /// Distance between outlets across the field
    #[arg(long, default_value = "60 ft")]
    pub(crate) across: String,
    /// Cells between two sprinklers along the pipe: the finer, the closer
    #[arg(long, default_value_t = 90, value_parser = clap::value_parser!(u16).range(4..=400))]
    pub(crate) cells: u16,
}

/// Ideal shapes of a pattern.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum ShapeName {
    /// 1 − s, with s = distance / radius
    Triangular,
    /// √(1 − s²)
    Elliptical,
    /// 1 − s²
    Parabolic,
    /// the same everywhere
    Uniform,
}
