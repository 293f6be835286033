//! Conversion constants for the edges; inside, everything is SI (meters, millimeters of depth,
//! hours of set time, kilopascals, litres per second).
//!
//! Source: NIST Special Publication 811 (2008), appendix B.8; all factors here are exact by
//! definition. From memory, confidence high.

/// Meters in one international foot.
pub const M_PER_FT: f64 = 0.3048;
/// Meters in one inch.
pub const M_PER_IN: f64 = 0.0254;
/// Millimeters in one inch.
pub const MM_PER_IN: f64 = 25.4;
/// Meters per second in one mile per hour.
pub const M_S_PER_MPH: f64 = 0.44704;
/// Meters per second in one knot (1852 m an hour).
pub const M_S_PER_KNOT: f64 = 1852.0 / 3600.0;
/// Kilopascals in one pound-force per square inch.
pub const KPA_PER_PSI: f64 = 6.894757293168361;
/// Litres per second in one US gallon per minute.
pub const L_S_PER_GPM: f64 = 3.785411784 / 60.0;
/// Tonnes in one short ton of 2000 lb (a pound is 0.45359237 kg).
pub const T_PER_SHORT_TON: f64 = 2000.0 * 0.45359237e-3;
/// Square meters in one international acre.
pub const M2_PER_ACRE: f64 = 4046.8564224;
/// Standard gravity, m/s² (exact by convention, CGPM 1901).
pub const GRAVITY_M_S2: f64 = 9.80665;
