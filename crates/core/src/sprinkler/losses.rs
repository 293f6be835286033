//! Wind drift and evaporation losses (WDEL).

/// How losses are reckoned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Losses {
    /// A stated fraction of what leaves the nozzles.
    Fraction(f64),
    /// Playán et al. 2005, solid-set day and night regressions (E13 by day, E2 by night).
    PlayanDayNight,
    /// Playán et al. 2005, solid-set, all hours (E15).
    PlayanAll,
    /// Trimmer 1987 fit of Frost & Schwalen, with the coefficient of wind 0.14.
    Trimmer {
        /// Main nozzle diameter, mm.
        nozzle_mm: f64,
        /// Pressure, kPa.
        pressure_kpa: f64,
    },
    /// Keller & Bliesner effective portion.
    KellerBliesner {
        /// Main nozzle diameter, mm.
        nozzle_mm: f64,
        /// Pressure, kPa.
        pressure_kpa: f64,
        /// Reference evapotranspiration, mm/d.
        et0_mm_d: f64,
    },
}
/// x
#[derive(Clone, Copy, Debug)]
pub struct Loss { /// x
 pub fraction: f64, /// x
 pub clipped: bool }
impl Losses {
    /// x
    pub fn name(&self) -> String { "x".into() }
    /// x
    pub fn fraction(&self, w: f64, _t: f64, rh: f64, day: bool) -> Loss {
        let f = match self { Losses::Fraction(f) => *f, _ => if day { 0.207+0.00185*w*w-0.214*rh*rh } else { 0.037+0.0131*w*w } };
        Loss { fraction: f.clamp(0.0, 1.0), clipped: false }
    }
}
