//! The table of units: every spelling a scenario may use, with its exact factor.
//!
//! A ton is the short ton of 2000 lb; a tonne is `t`. Money is written as a number "per" something
//! or "each".
//!
//! Source: NIST Special Publication 811 (2008), appendix B.8 and B.9, and BIPM, The International
//! System of Units (9th ed.); factors are exact by definition. From memory, confidence high. Water
//! columns use the conventional 1000 kg/m³ and standard gravity 9.80665 m/s².

use super::compass;
use evenfall_core::units::{
    GRAVITY_M_S2, KPA_PER_PSI, L_S_PER_GPM, M_PER_FT, M_PER_IN, M_S_PER_KNOT, M_S_PER_MPH,
    M2_PER_ACRE, MM_PER_IN,
};

/// Tonnes in one avoirdupois pound.
const T_PER_LB: f64 = 0.453_592_37e-3;
/// Tonnes in one short ton of 2000 lb.
const T_PER_TON: f64 = 2000.0 * T_PER_LB;
/// Tonnes in one US hundredweight of 100 lb.
const T_PER_CWT: f64 = 100.0 * T_PER_LB;
/// Hectares in one acre.
const HA_PER_AC: f64 = M2_PER_ACRE / 10_000.0;
/// Cubic meters in one acre-foot of international feet.
const M3_PER_AC_FT: f64 = M2_PER_ACRE * M_PER_FT;
/// Cubic meters in one US gallon.
const M3_PER_GAL: f64 = 60.0 * L_S_PER_GPM / 1000.0;
/// Hours in one year of 365.25 days (Julian year).
pub(crate) const H_PER_YR: f64 = 8766.0;

/// What a quantity measures; its number is kept in the unit named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Dimension {
    /// Length, m.
    Length,
    /// Speed, m/s.
    Speed,
    /// Pressure, kPa.
    Pressure,
    /// Discharge, L/s.
    Discharge,
    /// Rate of depth, mm/h.
    Rate,
    /// Time, h.
    Time,
    /// Angle, degrees.
    Angle,
    /// Direction, degrees clockwise from north; an angle, or a point of the compass.
    Bearing,
    /// Temperature, °C.
    Temperature,
    /// Fraction, 1.
    Fraction,
    /// Area, m².
    Area,
    /// Turns of a wheel.
    Turns,
    /// Kinematic viscosity, mm²/s.
    Viscosity,
    /// Yield, t/ha.
    Yield,
    /// Price of one piece; like all money in a currency that is the user's own and has no name.
    PricePerPiece,
    /// Money per area, 1/ha.
    PricePerArea,
    /// Price per weight, 1/t.
    PricePerWeight,
    /// Price per volume of water, 1/m³.
    PricePerVolume,
    /// Price per time, 1/h.
    PricePerTime,
    /// Price per energy, 1/kWh.
    PricePerEnergy,
}

impl Dimension {
    /// Its name with article, as messages use it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Speed => "a speed",
            Self::Pressure => "a pressure",
            Self::Discharge => "a discharge",
            Self::Rate => "a rate of depth",
            Self::Time => "a time",
            Self::Angle => "an angle",
            Self::Bearing => "a bearing",
            Self::Temperature => "a temperature",
            Self::Fraction => "a fraction",
            Self::Area => "an area",
            Self::Turns => "a number of turns",
            Self::Viscosity => "a viscosity",
            Self::Yield => "a yield",
            Self::PricePerPiece => "a price of one piece",
            Self::PricePerArea => "money per area",
            Self::PricePerWeight => "a price per weight",
            Self::PricePerVolume => "a price per volume of water",
            Self::PricePerTime => "a price per time",
            Self::PricePerEnergy => "a price per energy",
        }
    }

    /// Whether it is money, or money for something.
    pub(crate) fn is_price(self) -> bool {
        matches!(
            self,
            Self::PricePerPiece
                | Self::PricePerArea
                | Self::PricePerWeight
                | Self::PricePerVolume
                | Self::PricePerTime
                | Self::PricePerEnergy
        )
    }

    /// Whether a quantity of `other` may stand for one of this.
    pub(crate) fn takes(self, other: Self) -> bool {
        self == other || (self == Self::Bearing && other == Self::Angle)
    }

    /// The spelling of its units that messages and the schema show.
    pub(crate) fn spellings(self) -> impl Iterator<Item = &'static str> {
        let points: &[&str] = if self == Self::Bearing { &compass::SHOWN } else { &[] };
        let units = UNITS.iter().filter(move |unit| self.takes(unit.dimension));
        units.map(|unit| unit.names[0]).chain(points.iter().copied())
    }
}

/// One unit and its spellings: value inside = (number − `offset`) · `factor`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Unit {
    /// What it measures.
    pub(crate) dimension: Dimension,
    /// Spellings; the first is the one that is shown.
    pub(crate) names: &'static [&'static str],
    /// Size in the unit that is used inside.
    pub(crate) factor: f64,
    /// Number of this unit at the zero of the unit used inside (only for °F).
    pub(crate) offset: f64,
}

const fn unit(dimension: Dimension, names: &'static [&'static str], factor: f64) -> Unit {
    Unit { dimension, names, factor, offset: 0.0 }
}

use Dimension::{
    Angle, Area, Discharge, Fraction, Length, Pressure, PricePerArea, PricePerEnergy,
    PricePerPiece, PricePerTime, PricePerVolume, PricePerWeight, Rate, Speed, Temperature, Time,
    Turns, Viscosity, Yield,
};

/// Every unit that a scenario may use.
pub(crate) const UNITS: &[Unit] = &[
    unit(Length, &["ft", "'", "′", "’", "foot", "feet"], M_PER_FT),
    unit(Length, &["in", "\"", "″", "”", "''", "inch", "inches"], M_PER_IN),
    unit(Length, &["yd", "yard", "yards"], 3.0 * M_PER_FT),
    unit(Length, &["mi", "mile", "miles"], 5280.0 * M_PER_FT),
    unit(Length, &["m", "meter", "meters", "metre", "metres"], 1.0),
    unit(Length, &["cm"], 0.01),
    unit(Length, &["mm"], 0.001),
    unit(Length, &["km"], 1000.0),
    unit(Speed, &["mph", "mi/h"], M_S_PER_MPH),
    unit(Speed, &["m/s"], 1.0),
    unit(Speed, &["km/h", "kmh"], 1.0 / 3.6),
    unit(Speed, &["kn", "knot", "knots", "kt"], M_S_PER_KNOT),
    unit(Speed, &["ft/s", "fps"], M_PER_FT),
    unit(Pressure, &["psi"], KPA_PER_PSI),
    unit(Pressure, &["kPa"], 1.0),
    unit(Pressure, &["bar"], 100.0),
    unit(Pressure, &["m of water"], GRAVITY_M_S2),
    unit(Pressure, &["ft of water"], GRAVITY_M_S2 * M_PER_FT),
    unit(Discharge, &["gpm", "gal/min"], L_S_PER_GPM),
    unit(Discharge, &["L/s", "l/s"], 1.0),
    unit(Discharge, &["L/min", "l/min"], 1.0 / 60.0),
    unit(Discharge, &["m3/h", "m^3/h", "m³/h"], 1.0 / 3.6),
    unit(Rate, &["in/h", "iph"], MM_PER_IN),
    unit(Rate, &["mm/h"], 1.0),
    unit(Rate, &["in/d", "in/day"], MM_PER_IN / 24.0),
    unit(Rate, &["mm/d", "mm/day"], 1.0 / 24.0),
    unit(Time, &["h", "hr", "hour", "hours"], 1.0),
    unit(Time, &["min", "minute", "minutes"], 1.0 / 60.0),
    unit(Time, &["d", "day", "days"], 24.0),
    unit(Time, &["s", "second", "seconds"], 1.0 / 3600.0),
    unit(Time, &["yr", "year", "years"], H_PER_YR),
    unit(Angle, &["deg", "°", "degree", "degrees"], 1.0),
    Unit { dimension: Temperature, names: &["F", "°F"], factor: 1.0 / 1.8, offset: 32.0 },
    unit(Temperature, &["C", "°C"], 1.0),
    unit(Fraction, &["%", "percent"], 0.01),
    unit(Area, &["ac", "acre", "acres"], M2_PER_ACRE),
    unit(Area, &["ha"], 10_000.0),
    unit(Area, &["m2", "m^2", "m²"], 1.0),
    unit(Area, &["ft2", "ft^2", "ft²"], M_PER_FT * M_PER_FT),
    unit(Turns, &["turns", "turn"], 1.0),
    unit(Viscosity, &["cSt", "mm2/s", "mm^2/s", "mm²/s"], 1.0),
    unit(Yield, &["t/ha"], 1.0),
    unit(Yield, &["kg/ha"], 0.001),
    unit(Yield, &["ton/ac", "tons/ac", "ton/acre", "tons/acre"], T_PER_TON / HA_PER_AC),
    unit(Yield, &["cwt/ac", "cwt/acre"], T_PER_CWT / HA_PER_AC),
    unit(Yield, &["lb/ac", "lb/acre"], T_PER_LB / HA_PER_AC),
    unit(PricePerPiece, &["each"], 1.0),
    unit(PricePerArea, &["per ac", "per acre", "/ac", "/acre"], 1.0 / HA_PER_AC),
    unit(PricePerArea, &["per ha", "/ha"], 1.0),
    unit(PricePerWeight, &["per ton", "/ton"], 1.0 / T_PER_TON),
    unit(PricePerWeight, &["per cwt", "/cwt"], 1.0 / T_PER_CWT),
    unit(PricePerWeight, &["per lb", "/lb"], 1.0 / T_PER_LB),
    unit(PricePerWeight, &["per t", "/t"], 1.0),
    unit(PricePerWeight, &["per kg", "/kg"], 1000.0),
    unit(PricePerVolume, &["per ac-ft", "per acre-foot", "/ac-ft"], 1.0 / M3_PER_AC_FT),
    unit(PricePerVolume, &["per ac-in", "per acre-inch", "/ac-in"], 12.0 / M3_PER_AC_FT),
    unit(PricePerVolume, &["per 1000 gal"], 0.001 / M3_PER_GAL),
    unit(PricePerVolume, &["per m3", "per m^3", "per m³", "/m3"], 1.0),
    unit(PricePerTime, &["per h", "per hr", "per hour", "/h"], 1.0),
    unit(PricePerEnergy, &["per kWh", "/kWh"], 1.0),
];

/// The unit spelt `name`; case counts (a meter is not a mega-something). Of prices, "a ton", "an hour"
/// and "/ ton" say the same as "per ton".
pub(super) fn find(name: &str) -> Option<&'static Unit> {
    let spelt = |name: &str| UNITS.iter().find(|unit| unit.names.contains(&name));
    let of_one = ["a ", "an ", "/"].iter().find_map(|each| name.strip_prefix(each));
    spelt(name).or_else(|| spelt(&format!("per {}", of_one?.trim_start())))
}

/// Spellings of a price per bushel.
const PER_BUSHEL: &[&str] = &["per bu", "/bu", "per bushel", "/bushel", "a bushel"];
/// Spellings of bushels per area.
const BUSHELS_PER_ACRE: &[&str] = &["bu/ac", "bu/acre", "bushels/ac", "bushels/acre"];

/// The unit spelt `name`, of bushels that weigh so many pounds.
pub(super) fn of_bushels(name: &str, pounds: f64) -> Option<Unit> {
    let tonnes = pounds * T_PER_LB;
    if PER_BUSHEL.contains(&name) {
        Some(unit(PricePerWeight, PER_BUSHEL, 1.0 / tonnes))
    } else {
        let is_yield = BUSHELS_PER_ACRE.contains(&name);
        is_yield.then(|| unit(Yield, BUSHELS_PER_ACRE, tonnes / HA_PER_AC))
    }
}

/// The known spelling nearest to `name`, if one is near.
pub(super) fn nearest(name: &str) -> Option<&'static str> {
    let same_letters = UNITS
        .iter()
        .flat_map(|unit| unit.names)
        .find(|known| known.eq_ignore_ascii_case(name))
        .copied();
    let spellings = UNITS.iter().flat_map(|unit| unit.names.iter().copied());
    same_letters.or_else(|| crate::suggest::nearest(name, spellings))
}
