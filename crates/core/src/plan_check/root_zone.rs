//! A set's net depth beside what the root zone takes.
//!
//! Between the allowed depletion and full the root zone takes RAW = p TAW (FAO-56 equation 83); of a
//! larger set the rest drains, or part of the season was spent in stress. And what the crop has used
//! since the last set is all that there is room for, however deep the soil: even in the peak week more
//! than that drains. A little more is needed where water is uneven: for the driest quarter to get what
//! it uses, the mean must be that over DUlq, and DU over 75 % is called satisfactory (reference page on
//! micro-irrigation, chapter 5.3), so a third more than the use is let pass.

use super::application::Application;
use super::interval::Interval;
use super::peak::PeakUse;
use super::yardstick::Yardstick;

/// Distribution uniformity that is called satisfactory.
pub const SATISFACTORY_DU: f64 = 0.75;

/// What a root zone takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootZoneDepth {
    /// Between the allowed depletion and full, mm.
    pub raw_mm: f64,
    /// Between wilting point and full, mm.
    pub taw_mm: f64,
    /// What the crop uses at its peak between two sets, mm; `None` where no set follows another.
    pub used_mm: Option<f64>,
}

/// A set's net depth beside that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetBesideRootZone {
    /// What the root zone takes.
    pub takes: RootZoneDepth,
    /// Net depth against RAW, mm.
    pub against_raw: Yardstick,
    /// Net depth against the use between two sets over [`SATISFACTORY_DU`], mm.
    pub against_use: Option<Yardstick>,
    /// What drains of every set at the least, even at peak use, mm.
    pub drains_mm: f64,
    /// The longest set that keeps to both, h.
    pub longest_set_h: f64,
}

impl SetBesideRootZone {
    pub(super) fn of(
        application: &Application,
        peak: &PeakUse,
        interval: Option<&Interval>,
    ) -> Self {
        let used_mm = interval.map(|interval| interval.days * peak.etc_mm_d);
        let takes = RootZoneDepth { raw_mm: peak.raw_mm, taw_mm: peak.taw_mm, used_mm };
        let net_mm = application.net_mm;
        let allowed_mm = used_mm.map(|used_mm| used_mm / SATISFACTORY_DU);
        let room_mm = used_mm.map_or(takes.taw_mm, |used_mm| used_mm.min(takes.taw_mm));
        let least_mm = allowed_mm.map_or(takes.raw_mm, |allowed_mm| allowed_mm.min(takes.raw_mm));
        Self {
            takes,
            against_raw: Yardstick::at_most(net_mm, takes.raw_mm),
            against_use: allowed_mm.map(|allowed_mm| Yardstick::at_most(net_mm, allowed_mm)),
            drains_mm: (net_mm - room_mm).max(0.0),
            longest_set_h: application.set_time_for_h(least_mm),
        }
    }
}
