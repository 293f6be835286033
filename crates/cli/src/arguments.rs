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
    /// Try the treatments of the field's edges against each other: water, sets, the strips' depths
    ///
    /// Shifted passes leave an edge short. Runs the rotation of one alternative with every stop
    /// shifted, with the outermost stops held, with an extra set on the opened side and with the
    /// first outlet at another place, all under the same weather, and says which is favoured at
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
    ///     evenfall seek --aim dulq --travel "15 ft" --travel "20 ft" --spacing "50 ft" --spacing "60 ft"
    /// Writes a report, every candidate as CSV, and the best as a scenario for `evenfall worth`.
    #[command(verbatim_doc_comment)]
    Seek(SeekArguments),
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
    /// Print the care list of the machine, with move times in cold and the crop under the pipe
    Care(CareArguments),
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
    #[command(verbatim_doc_comment, after_long_help = catch_layout())]
    Catch(Box<CatchArguments>),
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
    /// What really happened so far (JSON), as one alternative more
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct WorthArguments {
    #[command(flatten)]
    pub(crate) season: SeasonArguments,
    /// Number of seasons in place of the scenario's
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10000))]
    pub(crate) seasons: Option<u16>,
    /// Run until the difference against the first alternative is known this well: half the width of
    /// its interval, in money such as "2 per ac", or as a share of the yield such as "0.2 %"
    #[arg(long, value_name = "HALF-WIDTH")]
    pub(crate) precision: Option<String>,
    /// Seasons at the most, with --precision [default: the scenario's, or 1000]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10000))]
    pub(crate) most_seasons: Option<u16>,
}

/// Where a page of its own comes from and goes to.
#[derive(Debug, Args)]
pub(crate) struct PageArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Folder to write the page to [default: named for the command, or the next free number]
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
    /// Replace an earlier page at that folder
    #[arg(long)]
    pub(crate) replace: bool,
}

#[derive(Debug, Args)]
pub(crate) struct EdgesArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first that shifts across the field]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Seasons of weather, where the wind is drawn
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=200))]
    pub(crate) seasons: u16,
    /// Try the first outlet at this place too, such as "20 ft"; may be given again
    #[arg(long, value_name = "LENGTH")]
    pub(crate) first: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct TiltArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first that shifts across the field]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Outside diameter of the pipe (default: common practice, no source)
    #[arg(long, value_name = "LENGTH", default_value = "4 in")]
    pub(crate) pipe: String,
    /// Nozzle above the top of the pipe when upright (default: common practice, no source)
    #[arg(long, value_name = "LENGTH", default_value = "8 in")]
    pub(crate) riser: String,
}

#[derive(Debug, Args)]
pub(crate) struct SheetArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Name of the alternative that is run; not needed where there is only one
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// What really happened so far (JSON); a `log.json` to begin with lies beside every sheet
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// Folder to write the sheet to [default: evenfall-sheet, or the next free number]
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
    /// Replace an earlier sheet at that folder
    #[arg(long)]
    pub(crate) replace: bool,
    /// A reminder so many minutes before each set in the calendar
    #[arg(long, value_name = "MINUTES", value_parser = clap::value_parser!(u32).range(0..=1440))]
    pub(crate) alarm: Option<u32>,
}

#[derive(Debug, Args)]
pub(crate) struct CareArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Name of the alternative whose machine is meant [default: the first]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct SeekArguments {
    #[command(flatten)]
    pub(crate) season: SeasonArguments,
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
pub(crate) struct ScenarioArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct PressureArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Draw them into this new file as well: .svg or .png
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
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

#[derive(Debug, Args)]
pub(crate) struct CatchArguments {
    /// Catch-can files (CSV, layout below), or folders of them
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Lay tests over themselves: distance between outlets across the field, such as "60 ft"
    #[arg(long)]
    pub(crate) across: Option<String>,
    /// Distance between sprinklers along the pipe, such as "40 ft" (not for a test of a lateral)
    #[arg(long, requires = "across")]
    pub(crate) along: Option<String>,
    /// Numbers of equally spaced stops, with commas [default: 1,2,3,4]
    #[arg(long, requires = "across", conflicts_with = "shift", value_delimiter = ',',
          value_parser = clap::value_parser!(u16).range(1..=100))]
    pub(crate) stops: Vec<u16>,
    /// A stop of a rotation of one's own: "ACROSS" or "ACROSS, ALONG"; once for each stop
    #[arg(long, requires = "across", allow_hyphen_values = true)]
    pub(crate) shift: Vec<String>,
    /// Fit the leg, and in wind K1, to tests of one sprinkler
    #[arg(long)]
    pub(crate) fit: bool,
    /// Still-air radius of the leg, with --fit [default: the file's, or from the farthest wet can]
    #[arg(long, requires = "fit")]
    pub(crate) radius: Option<String>,
    /// K2 of the drag correction, told and not fitted
    #[arg(long, default_value = "20 %", requires = "fit")]
    pub(crate) k2: String,
    /// Spread by turbulence, told and not fitted
    #[arg(long, default_value = "10 %", requires = "fit")]
    pub(crate) turbulence: String,
    /// Scenario (JSON): its pass is simulated under the wind noted, its rotations are laid down
    #[arg(long, value_name = "FILE")]
    pub(crate) scenario: Option<PathBuf>,
    /// Which of its alternatives is simulated, from 1
    #[arg(long, default_value_t = 1, requires = "scenario", value_parser = clap::value_parser!(u16).range(1..))]
    pub(crate) alternative: u16,
    /// Rate at which limits are to hold the truth
    #[arg(long, default_value = "90 %")]
    pub(crate) level: String,
    /// Units to show [default: those of the first file]
    #[arg(long, value_enum)]
    pub(crate) units: Option<UnitsName>,
    /// Folder to write page, pictures and JSON to
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
    /// Replace an earlier report at that folder
    #[arg(long, requires = "into")]
    pub(crate) replace: bool,
}

/// Units in which results are shown.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum UnitsName {
    /// ft, in, mph
    Us,
    /// m, mm, m/s
    Si,
}

impl From<UnitsName> for evenfall_figures::UnitSystem {
    fn from(name: UnitsName) -> Self {
        match name {
            UnitsName::Us => Self::Us,
            UnitsName::Si => Self::Si,
        }
    }
}

/// How a catch-can file is laid out, for the help.
fn catch_layout() -> String {
    let keys = evenfall_scenario::catch::keys();
    let keys: Vec<String> = keys.iter().map(|(key, what)| format!("    {key}: {what}")).collect();
    format!(
        "Catch-can files are plain tables whose columns name their units; a can a row:

    # test: lateral
    # duration: 90 min
    # laterals at: 0 ft, 60 ft
    # wind: 15 min, 4 mph, 270 deg
    x_ft,y_ft,depth_in
    5,5,0.42
    15,5,0.38

x runs along the pipe, y across it. Readings: depth_in, depth_mm, depth_cm, volume_ml, volume_cm3,
volume_l, volume_floz. A leg has distance_ft (or _m) in place of x and y, and azimuth_deg where there
are several radii. A matrix has y_ft/x_ft (or _m) in its first cell, x along the top, y down the side.

Notes stand in lines `# key: value` above the table; test and duration are needed:
{}",
        keys.join("\n")
    )
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
