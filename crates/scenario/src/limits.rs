//! The one table of what each value of a scenario, and each option of a command, may be.
//!
//! The readers check against it, messages quote it and the schema prints it. Rows of keys name their
//! limits by the types declared here; several keys may share one. Limits are there to
//! catch slips (feet for meters, a wrong decimal point), not to tell anybody how to irrigate; they
//! are judgment, wide on purpose, and both ends are allowed.

use crate::quantity::{self, Dimension};

/// What a quantity may be; the ends are written as in a scenario.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limit {
    /// What it measures.
    pub dimension: Dimension,
    /// Least value.
    pub least: &'static str,
    /// Greatest value.
    pub most: &'static str,
    /// A value as one would write it.
    pub example: &'static str,
    /// What it usually is, where values beyond are taken and asked about; judgment, no source.
    pub usual: Option<(&'static str, &'static str)>,
}

impl Limit {
    /// In words: `a length from 1 m to 60 m (3.281 to 196.9 ft)`.
    pub(crate) fn words(&self) -> String {
        let words = format!("{} from {} to {}", self.dimension.name(), self.least, self.most);
        // Readers who write feet should not have to convert the ends.
        let other = self.example.split_once(' ').map_or("", |(_, unit)| unit);
        let ends = [self.least, self.most].map(|end| quantity::in_unit(end, other));
        match ends {
            [Some(least), Some(most)] if !self.least.ends_with(other) => {
                format!("{words} ({least} to {most} {other})")
            }
            _ => words,
        }
    }

    /// Whether `value` (in the unit used inside) is as far from the example as writing slips leave it:
    /// within half and twice of it.
    pub(crate) fn is_typical(&self, value: f64) -> bool {
        let example = quantity::parse(self.example).map_or(f64::NAN, |parsed| parsed.value);
        (0.5..=2.0).contains(&(value / example))
    }

    /// Whether `value` lies beyond what it usually is.
    pub(crate) fn is_unusual(&self, value: f64) -> bool {
        self.usual.is_some_and(|(least, most)| !Self { least, most, ..*self }.holds(value))
    }

    /// Both ends, in the unit used inside.
    pub(crate) fn ends(&self) -> (f64, f64) {
        let end = |text| quantity::parse(text).map_or(f64::NAN, |parsed| parsed.value);
        (end(self.least), end(self.most))
    }

    /// Whether `value` (in the unit used inside) lies within.
    pub(crate) fn holds(&self, value: f64) -> bool {
        let (least, most) = self.ends();
        // A limit given in another unit than the value must not refuse its own round-off; an end
        // of 0 has none, and nothing below it may pass.
        let slack = |end: f64| 1e-9 * end.abs();
        value >= least - slack(least) && value <= most + slack(most)
    }
}

/// What a whole number may be.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CountLimit {
    /// Least value.
    pub least: u64,
    /// Greatest value.
    pub most: u64,
}

/// What a plain number may be.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NumberLimit {
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
}

/// A row of the table of quantities.
pub(crate) trait Limited: Clone + std::fmt::Debug {
    const LIMIT: Limit;
}
/// A row of the table of whole numbers.
pub(crate) trait Counted: Clone + std::fmt::Debug {
    const LIMIT: CountLimit;
}
/// A row of the table of plain numbers.
pub(crate) trait Numbered: Clone + std::fmt::Debug {
    const LIMIT: NumberLimit;
}

/// The usual range of a row, if it has one.
macro_rules! usual {
    () => {
        None
    };
    ($low:literal, $high:literal) => {
        Some(($low, $high))
    };
}

macro_rules! quantities {
    ($($name:ident: $dimension:ident, $least:literal, $most:literal, $example:literal
        $(, usually $low:literal to $high:literal)?;)*) => {$(
        #[derive(Clone, Debug)]
        pub(crate) struct $name;
        impl Limited for $name {
            const LIMIT: Limit = Limit {
                dimension: Dimension::$dimension, least: $least, most: $most, example: $example,
                usual: usual!($($low, $high)?),
            };
        }
    )*
    /// Every row, for tests.
    #[cfg(test)]
    pub(crate) const QUANTITIES: &[(&str, Limit)] = &[$((stringify!($name), $name::LIMIT)),*];
    };
}

macro_rules! counts {
    ($($name:ident: $least:literal, $most:literal;)*) => {$(
        #[derive(Clone, Debug)]
        pub(crate) struct $name;
        impl Counted for $name {
            const LIMIT: CountLimit = CountLimit { least: $least, most: $most };
        }
    )*};
}

macro_rules! numbers {
    ($($name:ident: $least:literal, $most:literal;)*) => {$(
        #[derive(Clone, Debug)]
        pub(crate) struct $name;
        impl Numbered for $name {
            const LIMIT: NumberLimit = NumberLimit { least: $least, most: $most };
        }
    )*};
}

quantities! {
    FieldSide: Length, "20 m", "5 km", "1320 ft";
    Cell: Length, "5 cm", "10 m", "2 ft";
    Bearing: Bearing, "0 deg", "360 deg", "90 deg";
    SprinklerSpacing: Length, "1 m", "60 m", "40 ft", usually "15 ft" to "80 ft";
    InsideDiameter: Length, "20 mm", "0.6 m", "3.9 in";
    Riser: Length, "0 m", "5 m", "1 ft";
    NozzleAbovePipe: Length, "0 m", "3 m", "8 in";
    PipeSlope: Fraction, "-20 %", "20 %", "0.5 %";
    GroundHeight: Length, "-500 m", "9 km", "12 ft";
    InletPressure: Pressure, "10 kPa", "2000 kPa", "58 psi";
    InletFlow: Discharge, "0.01 L/s", "1000 L/s", "165 gpm";
    InteriorMargin: Length, "1 m", "200 m", "60 ft";
    PlaceInField: Length, "0 m", "5 km", "20 ft";
    OutletSpacing: Length, "1 m", "150 m", "60 ft", usually "20 ft" to "120 ft";
    Reach: Length, "0 m", "150 m", "25 ft";
    TravelPerTurn: Length, "1 m", "15 m", "20 ft";
    WheelDiameter: Length, "0.4 m", "4 m", "76 in";
    SlipAndSinkage: Fraction, "0 %", "30 %", "3 %";
    LevelerRange: Angle, "0 deg", "180 deg", "15 deg";
    Pressure: Pressure, "50 kPa", "1000 kPa", "50 psi", usually "20 psi" to "125 psi";
    TrajectoryAngle: Angle, "0 deg", "60 deg", "25 deg";
    NozzleHeight: Length, "0.1 m", "6 m", "4 ft";
    NozzleDiameter: Length, "1 mm", "30 mm", "5/32 in", usually "2 mm" to "14 mm";
    Radius: Length, "1 m", "60 m", "44 ft";
    WettedDiameter: Length, "2 m", "120 m", "88 ft";
    Discharge: Discharge, "0.005 L/s", "20 L/s", "4.98 gpm";
    DischargeVariation: Fraction, "0 %", "25 %", "10 %";
    NozzleWear: Fraction, "-20 %", "50 %", "5 %";
    Leaks: Fraction, "0 %", "60 %", "5 %";
    GaugeError: Pressure, "0.1 kPa", "100 kPa", "2 psi";
    SurveyPressure: Pressure, "10 kPa", "1500 kPa", "48 psi";
    ShareOfDischarge: Fraction, "0 %", "300 %", "0 %";
    JetLength: Length, "0 m", "15 m", "5 ft";
    LegDistance: Length, "0 m", "60 m", "10 ft";
    LegRate: Rate, "0 mm/h", "300 mm/h", "0.2 in/h";
    LossFraction: Fraction, "0 %", "60 %", "8 %";
    IntakeRate: Rate, "0.5 mm/h", "500 mm/h", "0.3 in/h";
    ReferenceEt: Rate, "0.1 mm/d", "20 mm/d", "7 mm/d";
    AirTemperature: Temperature, "-20 C", "55 C", "77 F";
    Humidity: Fraction, "1 %", "100 %", "50 %";
    SetTime: Time, "0.25 h", "72 h", "11.5 h", usually "1 h" to "48 h";
    MoveGap: Time, "0 h", "24 h", "0.5 h";
    ReturnTime: Time, "0 h", "240 h", "1 h";
    Idle: Time, "0 h", "2400 h", "3 days";
    PassEvery: Time, "1 h", "4800 h", "14 days";
    ClosedTime: Time, "1 h", "2400 h", "8 days";
    ClosedEvery: Time, "2 h", "4800 h", "30 days";
    HourOfDay: Time, "0 h", "24 h", "6 h";
    ShareOfRaw: Fraction, "5 %", "200 %", "80 %";
    WindSpeed: Speed, "0 m/s", "30 m/s", "8 mph";
    MeanWindSpeed: Speed, "0.1 m/s", "20 m/s", "8 mph";
    WindFrom: Bearing, "0 deg", "360 deg", "225 deg";
    DirectionSpread: Angle, "0 deg", "120 deg", "40 deg";
    AnemometerHeight: Length, "1 m", "150 m", "10 m";
    LongestGap: Time, "1 h", "24 h", "3 h";
    BlockLength: Time, "1 day", "30 days", "5 days";
    BlockWindow: Time, "0 days", "60 days", "20 days";
    SpellLength: Time, "3 h", "240 h", "18 h";
    DaySpread: Fraction, "0 %", "60 %", "24 %";
    ShiftLength: Length, "-150 m", "150 m", "20 ft";
    ShiftTurns: Turns, "-30 turns", "30 turns", "1 turn";
    StageLength: Time, "0 days", "366 days", "30 days";
    RootDepth: Length, "0.05 m", "5 m", "3 ft";
    DepletionFraction: Fraction, "10 %", "80 %", "55 %";
    FieldCapacity: Fraction, "3 %", "80 %", "26 %";
    WiltingPoint: Fraction, "0.5 %", "60 %", "12 %";
    Smoothing: Length, "0 m", "2 m", "2 ft";
    StartDepletion: Fraction, "0 %", "100 %", "20 %";
    DailyEt: Rate, "0 mm/d", "20 mm/d", "6 mm/d";
    Latitude: Angle, "-65 deg", "65 deg", "43.6 deg";
    Elevation: Length, "-450 m", "6000 m", "2700 ft";
    RainDepth: Length, "0 mm", "1000 mm", "0.5 in";
    ConfidenceLevel: Fraction, "50 %", "99.9 %", "90 %";
    WorthwhileGain: PricePerArea, "0 per ha", "1000000000 per ha", "5 per ac";
    LeastShare: Fraction, "0 %", "20 %", "0.5 %";
    NetPrecision: PricePerArea, "0.001 per ha", "1000000000 per ha", "2 per ac";
    YieldPrecision: Fraction, "0.001 %", "50 %", "0.2 %";
    CropPrice: PricePerWeight, "0 per t", "1000000000 per t", "150 per t";
    PotentialYield: Yield, "0.01 t/ha", "500 t/ha", "20 ton/ac";
    WaterPrice: PricePerVolume, "0 per m3", "1000000 per m3", "0.05 per m3";
    EnergyPrice: PricePerEnergy, "0 per kWh", "1000000 per kWh", "0.12 per kWh";
    Lift: Length, "0 m", "1000 m", "80 ft";
    PressureLost: Pressure, "0 kPa", "1000 kPa", "5 psi";
    PumpEfficiency: Fraction, "10 %", "95 %", "66 %";
    LaborPrice: PricePerTime, "0 per h", "1000000 per h", "20 per h";
    LaborPerMove: Time, "0 h", "24 h", "30 min";
    PiecePrice: PricePerPiece, "0 each", "1000000000 each", "60 each";
    Life: Time, "1 yr", "100 yr", "10 yr";
    DiscountRate: Fraction, "0 %", "100 %", "5 %";
    PipeDiameter: Length, "2 cm", "40 cm", "5 in";
    AxleHeight: Length, "0.2 m", "2 m", "38 in";
    CanopyHeight: Length, "0.12 m", "6 m", "1 ft";
    CropHeight: Length, "1 cm", "6 m", "28 in";
    ViscosityWarm: Viscosity, "10 cSt", "300 cSt", "32 cSt";
    ViscosityHot: Viscosity, "2 cSt", "60 cSt", "5.4 cSt";
    TimedMove: Time, "1 min", "12 h", "20 min";
    TestDuration: Time, "3 min", "48 h", "90 min";
    CanDiameter: Length, "2 cm", "1 m", "4 in";
    CanHeight: Length, "2 cm", "2 m", "6 in";
    CanEvaporation: Length, "0 mm", "20 mm", "1 mm";
    NotedPlace: Length, "-1000 m", "1000 m", "60 ft";
    NotedWindTime: Time, "1 min", "48 h", "15 min";
    CanError: Fraction, "0.5 %", "50 %", "5 %";
    RadiusFactor: Fraction, "50 %", "200 %", "98 %";
    LossesFactor: Fraction, "1 %", "500 %", "110 %";
    NotedWindHeight: Length, "0.5 m", "30 m", "2 m";
}

counts! {
    Version: 1, 1;
    PassNumber: 1, 100_000;
    OutletNumber: 1, 100_000;
    PolygonNumber: 1, 100_000;
    Seed: 0, 9_007_199_254_740_991;
    Sprinklers: 1, 500;
    SprinklerNumber: 1, 500;
    OutletCount: 1, 2000;
    SharingLines: 1, 12;
    SetsADay: 1, 48;
    ClosedTimes: 1, 200;
    Passes: 1, 2000;
    Seasons: 2, 10_000;
    FirstSeason: 1, 1_000_000;
    TimedBlocks: 1, 1000;
    Pieces: 0, 2000;
    ExtraSets: 0, 200;
    LongestCycle: 1, 12;
    StopsPerSpacing: 1, 12;
    TrialSeasons: 1, 200;
    EqualStops: 1, 100;
    BestRotations: 1, 59;
    AlternativeNumber: 1, 60;
    CellsPerSpacing: 4, 400;
    AlarmMinutes: 0, 1440;
    Threads: 1, 256;
}

numbers! {
    WeibullShape: 0.8, 10.0;
    Persistence: 0.0, 0.99;
    SpellShare: 0.0, 0.95;
    RoughnessC: 60.0, 160.0;
    RadiusExponent: 0.0, 0.7;
    DragK1: 0.0, 5.0;
    DragK2: 0.0, 0.95;
    Turbulence: 0.0, 0.5;
    CropCoefficient: 0.0, 1.6;
    MidCropCoefficient: 0.05, 1.6;
    YieldResponse: 0.0, 3.0;
}

/// Most places in the list of starting values.
pub(crate) const MOST_STARTING: usize = 200;

/// Most cells of the grid: 20 million are 160 MB for each array of depths.
pub(crate) const MOST_CELLS: usize = 20_000_000;
/// Most alternatives of one scenario.
pub(crate) const MOST_ALTERNATIVES: usize = 60;
/// Most corners of a boundary typed one by one.
pub(crate) const MOST_FIELD_CORNERS: usize = 200;
/// Most times without water named one by one.
pub(crate) const MOST_CLOSED: usize = 100;
/// Most outlets named one by one.
pub(crate) const MOST_OUTLETS: usize = 2000;
/// Most sprinklers named one by one.
pub(crate) const MOST_ODD_SPRINKLERS: usize = 500;
/// Most heights along the pipe.
pub(crate) const MOST_HEIGHTS: usize = 400;
/// Most cuts of one crop.
pub(crate) const MOST_CUTS: usize = 12;
/// Most days with rain.
pub(crate) const MOST_RAIN_DAYS: usize = 366;
/// Most timed moves.
pub(crate) const MOST_TIMED_MOVES: usize = 40;
/// Most events of one log.
pub(crate) const MOST_EVENTS: usize = 20_000;
/// Most purchases of one alternative beside joints and outlets.
pub(crate) const MOST_PURCHASES: usize = 12;
/// Most choices of one kind in a search.
pub(crate) const MOST_CHOICES: usize = 12;
/// Most lines of whom to call.
pub(crate) const MOST_CONTACTS: usize = 6;
/// Most shifts of one rotation.
pub(crate) const MOST_SHIFTS: usize = 26;
/// Most catch tests of one calibration.
pub(crate) const MOST_TESTS: usize = 40;
/// Most points of one calibration.
pub(crate) const MOST_POINTS: usize = 1000;
/// Largest scenario text, bytes.
pub(crate) const MOST_BYTES: usize = 4 << 20;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn invariant_every_row_holds_its_own_ends_and_example() {
        for (name, limit) in QUANTITIES {
            for text in [limit.least, limit.most, limit.example] {
                let parsed = quantity::parse(text).unwrap();
                assert!(limit.dimension.takes(parsed.dimension), "{name}: {text}");
                assert!(limit.holds(parsed.value), "{name}: {text}");
            }
            let (least, most) = (
                quantity::parse(limit.least).unwrap().value,
                quantity::parse(limit.most).unwrap().value,
            );
            assert!(least < most, "{name}");
            assert!(!limit.holds(least - 0.01 * (most - least)), "{name}");
            assert!(!limit.holds(most + 0.01 * (most - least)), "{name}");
            assert!(!limit.holds(f64::NAN) && !limit.holds(f64::INFINITY), "{name}");
            if let Some((low, high)) = limit.usual {
                let [low, high] = [low, high].map(|end| quantity::parse(end).unwrap());
                assert!(low.dimension == limit.dimension && high.dimension == limit.dimension);
                assert!(least <= low.value && low.value < high.value && high.value <= most);
                let example = quantity::parse(limit.example).unwrap().value;
                assert!(!limit.is_unusual(example) && limit.is_typical(example), "{name}");
            }
        }
    }
}
