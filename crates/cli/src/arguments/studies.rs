//! Options of the commands beside the season: edges, tilt, sheet, maintenance.

use super::page::PageArguments;
use clap::Args;
use evenfall_scenario::{ClockFace, SheetLanguage, options as keys};
use jiff::civil::DateTime;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct EdgesArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first that shifts across the field]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Number of seasons, if the wind is drawn from a climate
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = keys::trial_seasons)]
    pub(crate) seasons: u16,
    /// Also try the first outlet this far from the edge, such as "20 ft"; may be repeated
    #[arg(long, value_name = "LENGTH")]
    pub(crate) first_outlet: Vec<String>,
}

/// What stands on the pipe of a line that is stopped at part of a turn.
#[derive(Debug, Args)]
pub(crate) struct OnPipeArguments {
    /// Outside diameter of the pipe [default: the scenario's]
    #[arg(long, value_name = "LENGTH")]
    pub(crate) pipe_diameter: Option<String>,
    /// Height of the nozzle above the top of the pipe, upright [default: the scenario's, else 8 in;
    /// common practice, no source]
    #[arg(long, value_name = "LENGTH")]
    pub(crate) riser_height: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct FitArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first on wheels whose whole turns do not end at its outlets]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Number of seasons, if the wind is drawn from a climate
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = keys::trial_seasons)]
    pub(crate) seasons: u16,
    #[command(flatten)]
    pub(crate) on_pipe: OnPipeArguments,
}

#[derive(Debug, Args)]
pub(crate) struct TiltArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first that shifts across the field]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    #[command(flatten)]
    pub(crate) on_pipe: OnPipeArguments,
}

#[derive(Debug, Args)]
pub(crate) struct SheetArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative you run; not needed if there is only one
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Log of what really happened so far: the sheet's `sheet.csv`, filled in, or a `log.json`
    ///
    /// Every sheet comes with both. Fill in the last columns of sheet.csv for the sets you know
    /// about: `done` (yes, no or missed), `really_on` and `really_off` (2027-05-10 06:00, or 6:00 am on the
    /// row's own day, as the clock of the sheet shows it), `really_at` where the line stood elsewhere ("-1 turn", "20 ft"). A time in which
    /// nothing could run is a row of its own: breakdown under `done`, and both times.
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// Up to when a filled-in table goes [default: its latest time]
    #[arg(long, value_name = "TIME", requires = "log", value_parser = keys::moment)]
    pub(crate) now: Option<DateTime>,
    /// Add a calendar reminder this many minutes before each set
    #[arg(long, value_name = "MINUTES", value_parser = keys::alarm_minutes)]
    pub(crate) alarm: Option<u32>,
    /// Language of the sheet: en (English) or es (Spanish) [default: the scenario's]
    ///
    /// The Spanish is from memory and not reviewed by a native speaker: have somebody who speaks it
    /// read a sheet before it goes out. Names and notes that you wrote stay as you wrote them.
    #[arg(long, value_name = "LANGUAGE", value_parser = keys::sheet_language)]
    pub(crate) language: Option<SheetLanguage>,
    /// How the clock is written: "12-hour" or "24-hour" [default: the scenario's, else by its units]
    #[arg(long, value_name = "CLOCK", value_parser = keys::clock_face)]
    pub(crate) clock: Option<ClockFace>,
}

#[derive(Debug, Args)]
pub(crate) struct MaintenanceArguments {
    /// Scenario file (JSON) [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    /// Name of the alternative whose machine you mean [default: the first]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
}
