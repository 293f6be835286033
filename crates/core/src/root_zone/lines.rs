//! All days from one watering to the next as one function of one number: the least of a few lines.
//!
//! What a day takes from a cell, D′ = min(D + e, D + s e (T − D), T), with depletion D after the day's
//! water, need e, TAW T and slope s = 1/(TAW − RAW), is [`RootZone::step`](super::RootZone::step)
//! written without a branch: its stress coefficient s (T − D) is below 1 just where D > RAW, and what
//! the crop takes is at most T − D. Each line rises (where s e > 1 the second never counts, as T is
//! below it), so putting two days after one another again gives a least of rising lines,
//! min over i, j of (pᵢ (aⱼ D + bⱼ) + qᵢ), of which only those that are least somewhere between 0 and
//! TAW stay: a day adds at most one or two. All cells share the days, so the lines are found once and
//! each cell then takes a whole dry week in a handful of multiplications.
//!
//! Rain comes before a day's draw and makes a bend of the other kind, D → max(0, D − rain), what is
//! below 0 being lost below the roots: a course of days is a list of stages, each beginning with
//! water and ending before the next rain that some cell might not hold.
//!
//! Exact but for round-off: lines are the same arithmetic in another order (1e-12 mm a gap).

use super::CropDay;

/// Lines that nowhere come lower by more than this share of TAW add nothing.
const ROUND_OFF: f64 = 1e-13;

/// a D + b, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Line {
    /// a, 0 to 1.
    pub(crate) rise: f64,
    /// b, mm.
    pub(crate) at_zero_mm: f64,
}

impl Line {
    fn at(self, depletion_mm: f64) -> f64 {
        self.rise * depletion_mm + self.at_zero_mm
    }

    /// This line after `before`.
    fn after(self, before: Self) -> Self {
        Self {
            rise: self.rise * before.rise,
            at_zero_mm: self.rise * before.at_zero_mm + self.at_zero_mm,
        }
    }
}

/// The days of a course from one rain to the next.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Stage {
    /// Rain with which it begins, mm.
    pub(crate) rain_mm: f64,
    /// What the days make of the depletion after that water: the least of these, steepest first.
    pub(crate) lines: Vec<Line>,
    /// Where each line but the last hands over to the next, rising, mm.
    pub(crate) breaks_mm: Vec<f64>,
}

impl Stage {
    /// The lines that are least anywhere from one depletion to another.
    pub(crate) fn between(&self, lowest_mm: f64, highest_mm: f64) -> &[Line] {
        let passed = |to_mm: f64| {
            self.breaks_mm.iter().fold(0, |count, at_mm| count + usize::from(*at_mm < to_mm))
        };
        &self.lines[passed(lowest_mm)..=passed(highest_mm)]
    }

    fn set_breaks(&mut self) {
        let crossing = |pair: &[Line]| {
            (pair[1].at_zero_mm - pair[0].at_zero_mm) / (pair[0].rise - pair[1].rise)
        };
        self.breaks_mm.clear();
        self.breaks_mm.extend(self.lines.windows(2).map(crossing));
    }
}

/// Some days of a crop, one after the other.
#[derive(Clone, Debug, Default)]
pub(crate) struct Course {
    stages: Vec<Stage>,
    /// Stages of `stages` in use; the others keep their room.
    used: usize,
    grown: Vec<Line>,
}

impl Course {
    /// Makes this the course of `days`.
    pub(crate) fn set(&mut self, days: &[CropDay]) {
        self.used = 0;
        for day in days {
            if self.used == 0 || (day.rain_mm > 0.0 && !self.takes_all(day.rain_mm)) {
                self.begin(day.rain_mm);
            }
            self.add(day);
        }
        self.stages[..self.used].iter_mut().for_each(Stage::set_breaks);
    }

    /// Takes a rain into the last stage, where every cell has room for it: even one that began the stage
    /// without depletion has lost as much since. No cell then loses any of it below its roots.
    fn takes_all(&mut self, rain_mm: f64) -> bool {
        let Some(stage) = self.stages[..self.used].last_mut() else { return false };
        // The first line is the least one where there is no depletion.
        let has_room = stage.lines.first().is_some_and(|line| line.at_zero_mm >= rain_mm);
        if has_room {
            stage.lines.iter_mut().for_each(|line| line.at_zero_mm -= rain_mm);
        }
        has_room
    }

    /// The stages, first to last.
    pub(crate) fn stages(&self) -> &[Stage] {
        &self.stages[..self.used]
    }

    fn begin(&mut self, rain_mm: f64) {
        if self.used == self.stages.len() {
            self.stages.push(Stage::default());
        }
        let stage = &mut self.stages[self.used];
        stage.rain_mm = rain_mm;
        stage.lines.clear();
        stage.lines.push(Line { rise: 1.0, at_zero_mm: 0.0 });
        self.used += 1;
    }

    /// Puts a day's draw after the last stage.
    fn add(&mut self, day: &CropDay) {
        let Some(stage) = self.stages[..self.used].last_mut() else { return };
        self.grown.clear();
        for own in lines_of(day) {
            self.grown.extend(stage.lines.iter().map(|before| own.after(*before)));
        }
        least_of(&mut self.grown, day.taw_mm, &mut stage.lines);
    }
}

/// The lines of one day's draw.
fn lines_of(day: &CropDay) -> [Line; 3] {
    let all = Line { rise: 0.0, at_zero_mm: day.taw_mm };
    let share = day.stress_slope * day.etc_mm;
    let stressed = Line { rise: 1.0 - share, at_zero_mm: share * day.taw_mm };
    let unstressed = Line { rise: 1.0, at_zero_mm: day.etc_mm };
    [unstressed, if share < 1.0 { stressed } else { all }, all]
}

/// Those of `lines` that are least somewhere from 0 to `most_mm`, steepest first.
fn least_of(lines: &mut [Line], most_mm: f64, kept: &mut Vec<Line>) {
    // From 0 on: the lowest there, the flattest of those where several are.
    let order =
        |a: &Line, b: &Line| b.rise.total_cmp(&a.rise).then(a.at_zero_mm.total_cmp(&b.at_zero_mm));
    lines.sort_unstable_by(order);
    kept.clear();
    for line in &*lines {
        // A flatter line that is lower already at 0 hides those before it.
        while kept.last().is_some_and(|last| line.at_zero_mm <= last.at_zero_mm) {
            kept.pop();
        }
        let adds = |last: &Line| {
            line.rise < last.rise && line.at(most_mm) < last.at(most_mm) - ROUND_OFF * most_mm
        };
        if !kept.last().is_none_or(adds) {
            continue;
        }
        // The line between two is hidden where the outer ones cross below it.
        while let [.., first, middle] = kept[..] {
            let crossing_mm = (line.at_zero_mm - first.at_zero_mm) / (first.rise - line.rise);
            if middle.at(crossing_mm) < first.at(crossing_mm) {
                break;
            }
            kept.pop();
        }
        kept.push(*line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::root_zone::RootZone;
    use proptest::prelude::*;

    fn through(course: &Course, mut depletion_mm: f64) -> f64 {
        for stage in course.stages() {
            let wet_mm = (depletion_mm - stage.rain_mm).max(0.0);
            let least = |least: f64, line: &Line| least.min(line.at(wet_mm));
            depletion_mm = stage.lines.iter().fold(f64::INFINITY, least);
        }
        depletion_mm
    }

    proptest! {
        #[test]
        fn reference_a_course_of_days_is_day_after_day(
            needs_mm in prop::collection::vec(0.0..40.0_f64, 1..40),
            rains_mm in prop::collection::vec(prop_oneof![4 => Just(0.0), 1 => 0.0..40.0_f64], 40),
            p in 0.1..0.8_f64, thin in 0.05..1.0_f64, share in 0.0..=1.0_f64,
        ) {
            let taw = |day: usize| thin * (60.0 + 1.5 * day as f64);
            let day = |(day, (&etc_mm, &rain_mm)): (usize, (&f64, &f64))| {
                CropDay::new(etc_mm, rain_mm, p, taw(day), taw(day.saturating_sub(1)))
            };
            let days: Vec<CropDay> = needs_mm.iter().zip(&rains_mm).enumerate().map(day).collect();
            let mut zone = RootZone { depletion_mm: share * taw(0) };
            let start_mm = zone.depletion_mm;
            for day in &days {
                zone.step(day, 0.0);
            }
            let mut course = Course::default();
            course.set(&days);
            let found_mm = through(&course, start_mm);
            prop_assert!((found_mm - zone.depletion_mm).abs() < 1e-10, "{found_mm} {zone:?}");
        }
    }

    #[test]
    fn closed_a_dry_week_without_stress_is_one_line() {
        // 5 mm a day from a store of 100 mm, half of it readily available: no stress up to 15 mm.
        let day = CropDay::with_fraction(5.0, 0.0, 0.5, 100.0, 100.0);
        let mut course = Course::default();
        course.set(&[day; 7]);
        let [stage] = course.stages() else { panic!("{course:?}") };
        assert_eq!(stage.lines[0], Line { rise: 1.0, at_zero_mm: 35.0 });
        // One line more for every day on which stress can begin.
        assert!(stage.lines.len() <= 8, "{stage:?}");
        assert_eq!(through(&course, 10.0), 45.0);
    }
}
