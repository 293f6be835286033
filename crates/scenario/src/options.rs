//! Options of commands, read with the limits and the messages of the table.
//!
//! An option that is the same quantity as a key of the scenario file is read through that key's row;
//! the others have rows of their own at the end. The command line holds no limit itself.

use crate::document::{At, Json, Node};
use crate::file::{
    ClockFace, DragFile, JetFile, LateralFile, MaintenanceFile, OutletsFile, PipeFile,
    ScenarioFile, SearchFile, SheetFile, SheetLanguage, WheelFile, WorthFile,
};
use crate::issue::Issues;
use crate::limits;
use crate::quantity::{self, Dimension};
use crate::read::{Count, Number, Read as _};
use crate::read_plain::Moment;
use crate::read_quantity::Quantity;
use crate::resolve::wheel;
use crate::row::Row;
use evenfall_core::lateral::WheelSize;
use evenfall_core::sprinkler::DragCorrection;
use jiff::civil::DateTime;

/// Up to when a filled-in table goes: a date with clock time.
///
/// # Errors
/// A text that is none, in sentences.
pub fn moment(text: &str) -> Result<DateTime, String> {
    let mut issues = Issues::default();
    let node = Node { at: At::default(), json: Json::Text(text.trim().to_owned()) };
    match issues.about("The time", |issues| Moment::read(&node, issues)) {
        Some(moment) => Ok(moment.value),
        None => Err(issues.sentences()),
    }
}

/// Options that are read as `$type` through `$row`.
macro_rules! options {
    ($($(#[$doc:meta])+ $name:ident: $type:ty = $row:expr;)+) => {$(
        $(#[$doc])+
        ///
        /// # Errors
        /// A text that is no such value, or one beyond its limits: what is wrong, in sentences.
        pub fn $name(text: &str) -> Result<$type, String> {
            let value = $row.parse(text)?;
            <$type>::try_from(value).map_err(|error| error.to_string())
        }
    )+};
}

options! {
    /// The trade's name for a wheel.
    wheel_size: WheelSize = WheelFile::size;
    /// Travel of the wheel in one turn, m.
    travel_per_turn: f64 = WheelFile::travel_per_turn;
    /// Outside diameter of the wheel, m.
    outside_diameter: f64 = WheelFile::outside_diameter;
    /// Wheel slip and sinkage, as a fraction.
    slip_and_sinkage: f64 = WheelFile::slip_and_sinkage;
    /// Tilt that the levelers take up, degrees.
    leveler_range: f64 = WheelFile::leveler_range;
    /// Outlet spacing, m.
    outlet_spacing: f64 = OutletsFile::spacing;
    /// Place of the first outlet, m.
    first_outlet: f64 = OutletsFile::first;
    /// Number of outlets.
    outlets: u16 = OutletsFile::count;
    /// Reach of hose or swing joint, m.
    reach: f64 = OutletsFile::reach;
    /// Sprinkler spacing, m.
    sprinkler_spacing: f64 = LateralFile::sprinkler_spacing;
    /// Wetted diameter, m.
    wetted_diameter: f64 = JetFile::wetted_diameter;
    /// Radius of throw, m.
    radius: f64 = JetFile::radius;
    /// Distance over which the jet holds together, m.
    jet_length: f64 = DragFile::jet_length;
    /// Outside diameter of the pipe, m.
    pipe_diameter: f64 = MaintenanceFile::pipe_diameter;
    /// Height of the nozzle above the pipe, m.
    riser: f64 = PipeFile::riser;
    /// Seed of everything drawn at random.
    seed: u64 = ScenarioFile::seed;
    /// Number of seasons.
    seasons: u16 = WorthFile::seasons;
    /// Most seasons, where a precision is asked for.
    max_seasons: u16 = WorthFile::max_seasons;
    /// Number of the first season, from 1.
    first_season: u32 = Row::<Count<limits::FirstSeason>>::option("First season");
    /// Blocks of a study that are timed.
    timed_blocks: u16 = Row::<Count<limits::TimedBlocks>>::option("Number of blocks");
    /// Confidence level, as a fraction.
    confidence_level: f64 = WorthFile::confidence_level;
    /// Smallest gain in net return worth the effort, currency per ha and year.
    worthwhile_gain: f64 = WorthFile::worthwhile_gain;
    /// Smallest gain in DUlq or in yield worth the effort, as a fraction.
    worthwhile_share: f64 = SearchFile::worthwhile_gain_du_lq;
    /// Most passes in one cycle.
    longest_cycle: u16 = SearchFile::longest_cycle;
    /// Half the width of the interval of the net return, currency per ha and year.
    net_precision: f64 = Row::<Quantity<limits::NetPrecision>>::option("Target precision");
    /// Half the width of the interval of the yield, as a fraction.
    yield_precision: f64 = Row::<Quantity<limits::YieldPrecision>>::option("Target precision");
    /// Shift from the outlet, m.
    shift: f64 = Row::<Quantity<limits::ShiftLength>>::option("Shift");
    /// Seasons of a trial of edge treatments.
    trial_seasons: u16 = Row::<Count<limits::TrialSeasons>>::option("Number of seasons");
    /// Stops that are equally spaced between two outlets.
    equal_stops: u16 = Row::<Count<limits::EqualStops>>::option("Number of stops");
    /// How many of the best rotations are handed on.
    best_rotations: u16 = Row::<Count<limits::BestRotations>>::option("Number of rotations");
    /// Number of an alternative, from 1.
    alternative: u16 = Row::<Count<limits::AlternativeNumber>>::option("Number of the alternative");
    /// Coefficient of variation of a can's reading.
    can_error: f64 = Row::<Quantity<limits::CanError>>::option("Error of a can");
    /// Cells between two sprinklers.
    cells: u16 = Row::<Count<limits::CellsPerSpacing>>::option("Number of cells");
    /// How the clock is written.
    clock_face: ClockFace = SheetFile::clock;
    /// Language of the move sheet.
    sheet_language: SheetLanguage = SheetFile::language;
    /// Minutes before a set.
    alarm_minutes: u32 = Row::<Count<limits::AlarmMinutes>>::option("Number of minutes");
    /// Threads to compute with.
    threads: u16 = Row::<Count<limits::Threads>>::option("Number of threads");
}

/// Starting values of options, as the rows of their keys have them.
pub mod start {
    use crate::file::{DragFile, WheelFile, WorthFile};

    /// Wheel slip and sinkage.
    pub const SLIP_AND_SINKAGE: &str = WheelFile::slip_and_sinkage.text();
    /// Tilt that the levelers take up.
    pub const LEVELER_RANGE: &str = WheelFile::leveler_range.text();
    /// Height of the nozzle above the pipe.
    pub const RISER: &str = WheelFile::riser.text();
    /// K2 of the drag correction.
    pub const K2: &str = DragFile::k2.text();
    /// Spread by turbulence.
    pub const TURBULENCE: &str = DragFile::turbulence.text();
    /// Distance over which the jet holds together.
    pub const JET_LENGTH: &str = DragFile::jet_length.text();
    /// Confidence level.
    pub const CONFIDENCE_LEVEL: &str = WorthFile::confidence_level.text();
}

/// Maximum seasons for a target precision where the scenario gives none.
pub fn starting_max_seasons() -> usize {
    WorthFile::max_seasons.start() as usize
}

/// The drag correction that holds where none is given.
pub fn starting_drag() -> DragCorrection {
    crate::resolve::sprinkler::starting_drag()
}

/// What to ask where a diameter given to a command is probably the trade's name for a wheel;
/// `travel_per_turn_m` is what it is taken to roll meanwhile.
pub fn wheel_question(outside_diameter: &str, travel_per_turn_m: f64) -> Option<String> {
    let size = wheel::named_instead(outside_diameter)?;
    let ways = format!(
        "give --wheel {} for that wheel, or the diameter in inches or millimeters if you measured \
         it; a measured --travel-per-turn beats both",
        size.name()
    );
    Some(wheel::question(outside_diameter, size, travel_per_turn_m, &ways))
}

/// What to ask where a travel given to a command is probably what the wheel is across.
pub fn travel_question(travel: &str, travel_m: f64) -> Option<String> {
    let question = wheel::travel_question(travel, travel_m)?;
    Some(format!("{question}; if so, give it as --outside-diameter, or the wheel by --wheel"))
}

/// K2 of the drag correction, as a number or in percent.
///
/// # Errors
/// A text that is no such value, or one beyond its limits: what is wrong, in sentences.
pub fn k2(text: &str) -> Result<f64, String> {
    number(&DragFile::k2, text)
}

/// Spread by turbulence, as a number or in percent.
///
/// # Errors
/// A text that is no such value, or one beyond its limits: what is wrong, in sentences.
pub fn turbulence(text: &str) -> Result<f64, String> {
    number(&DragFile::turbulence, text)
}

/// A plain number, which the command line takes in percent too.
fn number<L: limits::Numbered>(row: &Row<Option<Number<L>>>, text: &str) -> Result<f64, String> {
    match quantity::parse(text) {
        Ok(parsed) if parsed.dimension == Dimension::Fraction => {
            row.parse(&parsed.value.to_string())
        }
        _ => row.parse(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_an_option_out_of_its_limits_says_what_was_probably_meant() {
        assert_eq!(outlet_spacing("60 ft").map(|m| (m * 1e4).round()), Ok(182_880.0));
        assert_eq!(
            outlet_spacing("600 ft").unwrap_err(),
            "Outlet spacing is 600 ft. Expected 3.281 to 492.1 ft. Did you mean 60 ft?"
        );
        assert!(slip_and_sinkage("31 %").is_err() && slip_and_sinkage("30 %").is_ok());
    }

    #[test]
    fn closed_counts_and_numbers_have_the_limits_of_their_keys() {
        assert_eq!(seasons("50"), Ok(50));
        assert!(seasons("1").unwrap_err().starts_with("Number of seasons is 1. Expected "));
        assert!(seasons("10001").is_err() && seasons("many").is_err() && seasons("2.5").is_err());
        assert_eq!((k2("20 %"), k2("0.2")), (Ok(0.2), Ok(0.2)));
        assert!(k2("96 %").is_err() && turbulence("-1 %").is_err());
    }
}
