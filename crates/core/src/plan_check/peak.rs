//! Peak use: the seven days in a row on which the crop without stress uses most, ETc = Kc ET0 (FAO-56
//! equation 58), rain left out; and what the root zone holds for it then.
//!
//! TAW is that of the full root depth (FAO-56 equation 82), RAW = p TAW with p corrected for the need
//! of that week, p + 0.04 (5 − ETc) (below Table 22), as in the daily balance. Where a record gives
//! several years, the mean of each year's peak week. Seven days: about what a line takes to come back
//! (judgment); a single hot day asks more, a month less.

use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;

/// Days of the peak.
pub const PEAK_DAYS: usize = 7;

/// The crop's peak use and the root zone that it draws on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeakUse {
    /// Mean need without stress on the days of the peak, mm a day.
    pub etc_mm_d: f64,
    /// First day of the peak in the first year, days from the day of the first set.
    pub first_day: i64,
    /// Days it is taken over.
    pub days: usize,
    /// Years it is the mean of.
    pub years: usize,
    /// Total available water at full root depth, mm.
    pub taw_mm: f64,
    /// What the crop takes of it without stress at such a need, mm.
    pub raw_mm: f64,
}

/// The peak use on `ground`; `None` without crop days, or where nothing is used.
pub fn peak_use(ground: &Ground) -> Option<PeakUse> {
    let weeks: Vec<(usize, f64, f64)> =
        ground.days.iter().map(|days| peak_week(days)).collect::<Option<_>>()?;
    let years = weeks.len();
    let (first, ..) = *weeks.first()?;
    let mean = |sum: f64| sum / years as f64;
    let etc_mm_d = mean(weeks.iter().map(|week| week.1).sum());
    let share = mean(weeks.iter().map(|week| week.2).sum());
    let days = ground.days_of(0);
    let taw_mm = days.iter().map(|day| day.taw_mm).fold(0.0, f64::max);
    (etc_mm_d > 0.0 && taw_mm > 0.0).then_some(PeakUse {
        etc_mm_d,
        first_day: ground.first_day + first as i64,
        days: PEAK_DAYS.min(days.len()),
        years,
        taw_mm,
        raw_mm: share * taw_mm,
    })
}

/// The first of the weeks with the highest mean need: its place, that mean, mean share p of TAW.
fn peak_week(days: &[CropDay]) -> Option<(usize, f64, f64)> {
    let length = PEAK_DAYS.min(days.len()).max(1);
    let mean = |week: &[CropDay], of: fn(&CropDay) -> f64| {
        week.iter().map(of).sum::<f64>() / week.len() as f64
    };
    let weeks = days.windows(length).enumerate();
    let means = weeks.map(|(first, week)| {
        (first, mean(week, |day| day.etc_mm), mean(week, |day| day.raw_mm / day.taw_mm))
    });
    means.reduce(|best, week| if week.1 > best.1 { week } else { best })
}
