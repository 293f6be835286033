//! The command line: its commands and options, and their help.

mod catch;
mod page;
mod studies;
mod study;
mod tables;
mod wheels;

pub(crate) use catch::CatchArguments;
pub(crate) use page::{FolderArguments, PageArguments};
pub(crate) use studies::{
    EdgesArguments, FitArguments, MaintenanceArguments, OnPipeArguments, SheetArguments,
    TiltArguments,
};
pub(crate) use study::{
    StudyArguments, StudyFolderArguments, StudyGatherArguments, StudyPlanArguments,
    StudyRunArguments, StudyStep,
};
pub(crate) use tables::{
    ClockArguments, OverlapArguments, PressureArguments, ShapeName, StopsArguments,
};
pub(crate) use wheels::WheelArguments;

use crate::failure::EXIT_CODES;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use evenfall_scenario::options as keys;
use jiff::civil::DateTime;
use std::path::PathBuf;

/// Simulates a season of moved sprinkler laterals, and compares a fixed pattern with rotated stops.
///
/// Without a command, runs the built-in demo and writes a report.
#[derive(Debug, Parser)]
#[command(name = "evenfall", version, about, long_about, after_help = EXIT_CODES)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
    /// Print errors and the tables you ask for, nothing else
    #[arg(long, short, global = true)]
    pub(crate) quiet: bool,
    /// No colors (also off when `NO_COLOR` is set or the output is not a terminal)
    #[arg(long, global = true)]
    pub(crate) no_color: bool,
    /// Number of threads; the results are the same with any number [default: all cores]
    #[arg(long, global = true, value_name = "N", value_parser = keys::threads)]
    pub(crate) threads: Option<u16>,
}

#[derive(Debug, Subcommand)]
#[allow(rustdoc::invalid_rust_codeblocks, reason = "the examples are commands")]
pub(crate) enum Command {
    /// Simulate a season and write a report
    Season(SeasonArguments),
    /// Find out whether a rotation pays: yield, water and money over many seasons
    ///
    /// Needs crop, soil and climate in the scenario. Enter your own prices: those left at their
    /// placeholders are marked as placeholders wherever they count.
    Worth(WorthArguments),
    /// Set up, watch and compare seasons in your own browser
    ///
    /// Serves a page on 127.0.0.1, prints its address, and runs until Ctrl-C. Nothing leaves this
    /// machine. Farms that you keep stay in a folder of yours, with versions to go back to; a file
    /// that you name is opened and kept where it lies.
    Explore(ExploreArguments),
    /// Write one page to give to somebody else: report, scenario and its files in it
    ///
    /// The page opens in any browser, without Evenfall and without the internet. Evenfall opens it
    /// again: wherever a command takes a scenario file, it takes such a page.
    ///
    ///     evenfall give my-field.json --into for-my-neighbor.html
    #[command(verbatim_doc_comment)]
    Give(GiveArguments),
    /// Compare what you can do about the dry edge that shifted passes leave
    ///
    /// Runs one rotation in the same weather with different edges: every stop shifted, the outermost stops
    /// held, an extra set on the opened side, and the first outlet at another place. Says which is
    /// best at the edges and overall, and what it costs in sets, water and labor.
    Edges(EdgesArguments),
    /// Compare what you can do where whole turns of the wheels do not end at the outlets
    ///
    /// Runs one rotation in the same weather with a turn more or less now and then, with outlets that fit
    /// the wheels, and with stops at part of a turn on levelers that swing all the way. Says what each does
    /// to the water and to the work.
    Fit(FitArguments),
    /// Show what happens when a wheel line stops between whole turns and its sprinklers tilt
    ///
    /// A what-if: the shifted passes of one alternative stop part of a turn off, up to half a turn,
    /// where the sprinklers hang down. The season is compared with stops at whole turns and with the
    /// fixed pattern.
    Tilt(TiltArguments),
    /// Search for the rotations worth considering on your machine
    ///
    /// Tries every rotation of the stops within reach, up to --longest-cycle passes a cycle, with each
    /// edge treatment and schedule named in the scenario's section `search`, all under the same
    /// weather. Candidates too close to call are shown as ties. To compare wheels and outlet spacings,
    /// name them; --wheel-sizes compares the trade's three wheels:
    ///
    ///     evenfall search --aim dulq --wheel-sizes
    ///     evenfall search --aim dulq --wheel 5-foot --wheel 7-foot \
    ///         --outlet-spacing "50 ft" --outlet-spacing "60 ft"
    ///
    /// Writes a report, a CSV of all candidates, and a scenario of the best for `evenfall worth`.
    #[command(verbatim_doc_comment)]
    Search(SearchArguments),
    /// Run a study: many scenarios made of one, every season of each a row of one open table
    ///
    /// A plan (JSON) names a base scenario, the keys that vary in it (by levels or over a range), a design
    /// (full, a list in CSV, Latin hypercube, Sobol sequence) and the number of seasons. Steps:
    ///
    ///     evenfall study plan plan.json                  # rows, core-hours and bytes, from a few blocks
    ///     evenfall study run plan.json --into wheels     # can be ended and gone on with at any time
    ///     evenfall study state plan.json --into wheels
    ///     evenfall study gather plan.json --into wheels  # wheels/study.parquet and wheels/study.csv
    #[command(verbatim_doc_comment)]
    Study(StudyArguments),
    /// Show where a lateral can stop, and why it cannot stop elsewhere
    ///
    /// Takes a scenario, or wheels given on the command line; several are shown side by side:
    ///
    ///     evenfall stops --wheel 7-foot --outlet-spacing "60 ft" --reach "25 ft"
    ///     evenfall stops my-field.json --wheel-sizes
    #[command(verbatim_doc_comment)]
    Stops(StopsArguments),
    /// Show when each pass runs, and where the line stands
    Clock(ClockArguments),
    /// Show the pressure and discharge of every sprinkler along the pipe
    ///
    /// Needs the pipe in the scenario (the key `pipe` of the lateral).
    Pressure(PressureArguments),
    /// Write the irrigator's move sheet: a page to print, a table, a calendar
    ///
    /// With --log, keeps what really happened and plans the rest of the season again.
    Sheet(SheetArguments),
    /// Print the maintenance list, move times in the cold, and crop clearance
    Maintenance(MaintenanceArguments),
    /// Overlap an ideal pattern in still air, fixed and rotated
    ///
    ///     evenfall overlap --shape triangular --wetted-diameter "90 ft" \
    ///         --sprinkler-spacing "40 ft" --outlet-spacing "60 ft"
    #[command(verbatim_doc_comment)]
    Overlap(OverlapArguments),
    /// Work up catch-can tests: CU, DUlq, overlaps, fitted patterns
    ///
    /// Takes files, or folders of .csv files; tests given together share each table.
    /// --outlet-spacing and --sprinkler-spacing overlap a test of one sprinkler (or of one lateral)
    /// at these spacings, fixed and rotated. --fit fits the leg, and in wind K1, to tests of one
    /// sprinkler. --scenario compares cans between laterals with the simulated pass, in the wind
    /// noted that day.
    ///
    ///     evenfall catch cans.csv
    ///     evenfall catch tests/ --fit --sprinkler-spacing "40 ft" --outlet-spacing "60 ft" --into report
    ///     evenfall catch tests/ --scenario my-field.json
    #[command(verbatim_doc_comment, after_long_help = catch::catch_layout())]
    Catch(Box<CatchArguments>),
    /// Check a scenario: list its problems, or the starting values it relies on
    Check(CheckArguments),
    /// Print how results are computed: equations, their values, sources
    ///
    /// For the methods section of a paper. Values are SI; what is from memory or our own says so.
    Methods(CheckArguments),
    /// Find out what an entry, a key or an option means
    ///
    /// Prints how things are done, every key of a scenario with its range and what holds without it, every
    /// command with its options, how to read the figures, and how well all of it is known. --find prints
    /// only what holds a word; --open shows it all as a page with a search box:
    ///
    ///     evenfall reference --find depletion
    ///     evenfall reference --open
    #[command(verbatim_doc_comment)]
    Reference(ReferenceArguments),
    /// Print the demo scenario, to start your own from
    Demo,
    /// Print the licenses of the libraries and fonts that Evenfall is built with
    Notices,
    /// Print the JSON Schema of scenario files
    Schema {
        /// The schema of season logs instead
        #[arg(long)]
        log: bool,
    },
    /// Print completions for your shell
    Completions {
        /// Your shell
        shell: Shell,
    },
}

#[derive(Debug, Args, Default)]
pub(crate) struct SeasonArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Random seed, instead of the scenario's
    #[arg(long, value_name = "N", value_parser = keys::seed)]
    pub(crate) seed: Option<u64>,
    /// Log of what really happened so far, shown as one more alternative: a sheet's `sheet.csv`,
    /// filled in, or its `log.json`; adds the page as-it-was.html, plan against actual
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// Up to when a filled-in table goes [default: its latest time]
    #[arg(long, value_name = "TIME", requires = "log", value_parser = keys::moment)]
    pub(crate) now: Option<DateTime>,
}

#[derive(Debug, Args)]
pub(crate) struct WorthArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Random seed, instead of the scenario's
    #[arg(long, value_name = "N", value_parser = keys::seed)]
    pub(crate) seed: Option<u64>,
    /// Number of seasons, instead of the scenario's
    #[arg(long, value_name = "N", value_parser = keys::seasons)]
    pub(crate) seasons: Option<u16>,
    /// Number of the first season, so that an ensemble can be run in parts: every season has its own
    /// number and weather, whatever is run before it
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = keys::first_season)]
    pub(crate) first_season: u32,
    /// Run seasons until the difference from the baseline is known this closely: the half-width of its
    /// confidence interval, as money ("2 per ac") or as a share of the yield ("0.2 %")
    #[arg(long, value_name = "HALF-WIDTH")]
    pub(crate) target_precision: Option<String>,
    /// Maximum number of seasons with --target-precision [default: the scenario's, or 1000]
    #[arg(long, value_name = "N", value_parser = keys::max_seasons)]
    pub(crate) max_seasons: Option<u16>,
    /// Lay every hour of water in its own wind, as one season does it, not in the nearest of winds 0.25
    /// m/s apart (takes some ten times as long)
    #[arg(long)]
    pub(crate) own_wind: bool,
    /// Also find the shortest set under each alternative that keeps the baseline's yield (takes as
    /// long as some 15 seasons more)
    #[arg(long)]
    pub(crate) shortest_set: bool,
}

#[derive(Debug, Args)]
pub(crate) struct SearchArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Random seed, instead of the scenario's
    #[arg(long, value_name = "N", value_parser = keys::seed)]
    pub(crate) seed: Option<u64>,
    /// What to rank by [default: the scenario's; else net return if the crop has a price]
    #[arg(long, value_enum)]
    pub(crate) aim: Option<AimWord>,
    /// Seasons for each candidate not ruled out earlier, instead of the scenario's
    #[arg(long, value_name = "N", value_parser = keys::seasons)]
    pub(crate) seasons: Option<u16>,
    /// Smallest gain worth the effort, such as "0.5 %" (with --aim net, "5 per ac"); closer candidates
    /// are ties [default: the scenario's; else half a point, or 0 with --aim net]
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) worthwhile_gain: Option<String>,
    /// Most passes in one cycle of a rotation [default: the scenario's, or 3]
    #[arg(long, value_name = "N", value_parser = keys::longest_cycle)]
    pub(crate) longest_cycle: Option<u16>,
    /// Try the same stops in every order, not in one order only
    #[arg(long)]
    pub(crate) every_order: bool,
    /// Try every order of sets too: down and back dry, both ways, every second outlet down and the others
    /// back
    #[arg(long)]
    pub(crate) every_set_order: bool,
    #[command(flatten)]
    pub(crate) wheels: WheelArguments,
    /// Compare this outlet spacing, such as "60 ft"; may be repeated
    #[arg(long, value_name = "LENGTH")]
    pub(crate) outlet_spacing: Vec<String>,
    /// How many of the best rotations go into the scenario for `evenfall worth`
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = keys::best_rotations)]
    pub(crate) best: u16,
}

/// What candidates are ranked by.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum AimWord {
    /// DUlq of the season's water in the interior
    Dulq,
    /// DUlq of the season's water over the whole field
    WholeDulq,
    /// yield of the worst tenth of the field
    WorstTenth,
    /// net return over the fixed pattern
    Net,
}

#[derive(Debug, Args)]
pub(crate) struct ExploreArguments {
    /// Scenario file (JSON) to open, and to keep in place when you ask for it; or a page that
    /// somebody gave you [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    /// Port on 127.0.0.1; 0 picks a free one [default: 21743, or one of the nine after it]
    #[arg(long, value_name = "N")]
    pub(crate) port: Option<u16>,
    /// Folder in which farms are kept [default: `evenfall/farms` in your folder for programs' data]
    #[arg(long, value_name = "FOLDER", env = "EVENFALL_FARMS")]
    pub(crate) farms: Option<PathBuf>,
    /// Open the page in your browser
    #[arg(long)]
    pub(crate) open: bool,
}

#[derive(Debug, Args)]
pub(crate) struct ReferenceArguments {
    /// Only what holds this word; with several, what holds every one of them
    #[arg(long, value_name = "WORD", conflicts_with_all = ["page", "open"])]
    pub(crate) find: Vec<String>,
    /// Write it as a page with a search box to this file
    #[arg(long, value_name = "FILE")]
    pub(crate) page: Option<PathBuf>,
    /// Open that page in your browser
    #[arg(long)]
    pub(crate) open: bool,
}

#[derive(Debug, Args)]
pub(crate) struct GiveArguments {
    /// Scenario file (JSON) [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    /// The page to write
    #[arg(long, value_name = "FILE.html")]
    pub(crate) into: PathBuf,
    /// Replace that file if it is there already
    #[arg(long)]
    pub(crate) replace: bool,
}

#[derive(Debug, Args)]
pub(crate) struct CheckArguments {
    /// Scenario file (JSON) [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    /// Print it as JSON, in SI units
    #[arg(long)]
    pub(crate) json: bool,
}
