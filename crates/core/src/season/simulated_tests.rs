//! Seasons with logs by chance, thousands of them: whatever a grower may write down, the season is
//! re-planned, worked and simulated, or the log is refused with the events that cannot be.
//!
//! Each season follows from its seed alone: `EVENFALL_SEED=17 EVENFALL_SEEDS=1 cargo test … simulated`
//! plays one again. Of those that are taken, some are simulated pass by pass with every hour in its own wind,
//! and some as many seasons are: through soil and crop, hours read from an atlas.

use super::tests::{FT, alternative, scenario, sprinkler, windy};
use super::{HoursLaid, LandingMapCache, RunControl, plans, run_plans, worked};
use crate::lateral::{EdgeTreatment, SetOrder};
use crate::model::{Alternative, Scenario};
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::schedule::replan::{
    Happened, MissedRule, Record, Replanned, SetName, Standing, against_plan, check, lesson, replan,
};
use crate::schedule::{Closure, Hands, Openings, Plan, SeasonLength, SetPlan};
use crate::seasons::run_plans_laid;
use crate::sprinkler::shape::Shape;
use jiff::civil::{Weekday, date};

/// Chance by seed: `SplitMix64` (Steele, Lea and Flood 2014; constants from memory).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }
    /// A whole number below `end`.
    fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }
    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }
    /// True once in `times`.
    fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
    /// Hours to the quarter, as people write them.
    fn hours(&mut self, from_h: f64, to_h: f64) -> f64 {
        from_h + 0.25 * self.below((4.0 * (to_h - from_h)) as usize + 1) as f64
    }
}

/// A field of two to six outlets and its calendar.
fn field(chance: &mut Chance) -> Scenario {
    let shifts: &[&[f64]] = &[&[0.0], &[0.0, 20.0], &[0.0, 20.0, -20.0]];
    let mut one = alternative("run", chance.one_of(shifts), sprinkler(Shape::Triangular, 90.0));
    one.outlets.count = 2 + chance.below(5);
    one.outlets.first_m = 30.0 * FT;
    one.edges =
        chance.one_of(&[EdgeTreatment::Shift, EdgeTreatment::Hold, EdgeTreatment::ExtraSet]);
    let passes = 1 + chance.below(4);
    let mut asked = scenario(10.0, passes, vec![one]);
    asked.weather = windy(3.0);
    let calendar = &mut asked.calendar;
    calendar.set_time_h = chance.one_of(&[5.5, 8.0, 11.5, 23.5]);
    let most = (24.0 / (calendar.set_time_h + calendar.move_gap_h)) as u32;
    calendar.sets_a_day = (!chance.once_in(3)).then_some(1 + chance.below(most as usize) as u32);
    calendar.return_time_h = chance.one_of(&[0.0, 0.0, 1.5, 4.0]);
    calendar.idle_h = chance.one_of(&[0.0, 0.0, 12.0, 72.0]);
    calendar.order = match chance.below(4) {
        0 => SetOrder::BothWays,
        1 => SetOrder::EverySecond,
        _ => SetOrder::DryReturn,
    };
    if chance.once_in(4) {
        calendar.length =
            SeasonLength::Until(date(2026, 5, 6 + chance.below(20) as i8).at(0, 0, 0, 0));
    }
    if chance.once_in(4) {
        let from = date(2026, 5, 5 + chance.below(9) as i8).at(chance.below(24) as i8, 0, 0, 0);
        let days = 1 + chance.below(6) as i64;
        let to = from.saturating_add(jiff::ToSpan::days(days));
        let closures = vec![Closure { from, to, why: "cutting".into() }];
        let days_off = if chance.once_in(2) { vec![Weekday::Sunday] } else { Vec::new() };
        let hands = Hands { from_h: 5.0, to_h: 20.0, days_off };
        calendar.openings = Openings { closures, hands };
    }
    asked
}

/// What may have become of one set.
fn event(
    chance: &mut Chance,
    set: SetName,
    planned: &SetPlan,
    free_h: &mut f64,
) -> Option<Happened> {
    let at_m = chance.once_in(5).then(|| chance.one_of(&[-6.1, 0.0, 3.0, 9.0, 40.0]));
    let done = |span_h| Some(Happened::Done { set, span_h, at_m });
    let length_h = planned.end_h - planned.start_h;
    match chance.below(9) {
        0 | 1 => None,
        2 | 3 => done(None),
        4 => Some(Happened::Missed(set)),
        // Late or early, shorter or longer; what another set leaves free, as a rule.
        5 | 6 => {
            let start_h = (planned.start_h + chance.hours(-2.0, 6.0)).max(*free_h);
            let end_h = start_h + (length_h + chance.hours(-5.0, 3.0)).max(0.25);
            *free_h = end_h + chance.hours(0.0, 1.0);
            done(Some((start_h, end_h)))
        }
        // Made up long after the season.
        7 => {
            let start_h = free_h.max(planned.end_h) + chance.hours(0.0, 900.0);
            *free_h = start_h + length_h;
            done(Some((start_h, start_h + length_h)))
        }
        // Whatever a tired hand writes.
        _ => {
            let start_h = chance.hours(-3.0, 400.0);
            done(Some((start_h, start_h + chance.hours(-1.0, 30.0))))
        }
    }
}

fn record(chance: &mut Chance, plan: &Plan, one: &Alternative) -> Record {
    let mut events = Vec::new();
    let (mut free_h, mut last_h) = (0.0f64, 0.0f64);
    let told = chance.below(30);
    let sets = plan.passes.iter().enumerate().flat_map(|(pass, sets)| {
        let outlets: Vec<usize> = sets.sets.iter().map(|set| set.outlet).collect();
        sets.sets.iter().enumerate().map(move |(index, set)| {
            // Where an outlet has two sets, the one that comes first may be the extra one, or not.
            let twice = outlets.iter().filter(|outlet| **outlet == set.outlet).count() > 1;
            (SetName { pass, outlet: set.outlet, is_extra: twice && index == 0 }, *set)
        })
    });
    for (set, planned) in sets.take(told) {
        events.extend(event(chance, set, &planned, &mut free_h));
        last_h = last_h.max(planned.end_h);
        if chance.once_in(12) {
            let from_h = free_h.max(planned.end_h) + chance.hours(0.0, 3.0);
            let to_h = from_h + chance.hours(0.25, 90.0);
            events.push(Happened::Breakdown { from_h, to_h });
            free_h = to_h;
        }
    }
    if chance.once_in(9) {
        // A pass or an outlet that is not there.
        let set = SetName {
            pass: chance.below(9),
            outlet: chance.below(one.outlets.count + 2),
            is_extra: chance.once_in(2),
        };
        events.push(Happened::Missed(set));
    }
    let missed = if chance.once_in(3) { MissedRule::Leave } else { MissedRule::CatchUp };
    let now_h = match chance.below(4) {
        0 => chance.hours(0.0, 600.0),
        1 => free_h.max(last_h) + chance.hours(0.0, 2000.0),
        _ => free_h.max(last_h),
    };
    // In any order.
    for at in (1..events.len()).rev() {
        events.swap(at, chance.below(at + 1));
    }
    Record { now_h, missed, events }
}

/// What must hold of every season that is taken.
fn judge(first: &Plan, course: &Replanned, record: &Record) {
    let mut all: Vec<SetPlan> =
        course.plan.passes.iter().flat_map(|pass| pass.sets.clone()).collect();
    for happened in &record.events {
        if let Happened::Done { set, span_h: Some(span_h), .. } = happened {
            let is_it =
                |one: &SetPlan| one.outlet == set.outlet && (one.start_h, one.end_h) == *span_h;
            assert!(all.iter().any(is_it), "{happened:?} is lost");
        }
    }
    all.sort_by(|one, other| one.start_h.total_cmp(&other.start_h));
    assert!(all.iter().all(|set| set.start_h.is_finite() && set.end_h > set.start_h), "{all:?}");
    for pair in all.windows(2) {
        assert!(pair[1].start_h >= pair[0].end_h - 1e-6, "one lateral does both: {pair:?}");
    }
    for (pass, standing) in course.plan.passes.iter().zip(&course.standing) {
        for (set, standing) in pass.sets.iter().zip(standing) {
            let is_to_come = matches!(standing, Standing::ToCome | Standing::CatchUp);
            assert!(!is_to_come || set.start_h >= record.now_h - 1e-6, "{set:?} is to come");
        }
    }
    let planned: usize = first.passes.iter().map(|pass| pass.sets.len()).sum();
    assert!(all.len() + course.left.len() <= planned);
    let beside = against_plan(first, course, record);
    let counts = beside.counts;
    assert_eq!(counts.planned, planned);
    assert_eq!(
        counts.recorded + counts.taken_as_done + counts.to_catch_up + counts.to_come,
        all.len()
    );
    assert_eq!(all.len() + counts.left + counts.dropped, planned);
    let means = [beside.moves, beside.set_times].into_iter().flatten();
    assert!(means.map(|one| one.longer_h()).all(f64::is_finite));
    // It names a lesson, whatever happened.
    let _ = lesson(&beside, 11.5, 0.5);
}

/// Sixty days of 6 mm with rain once a week, on roots that reach down.
fn ground() -> Ground {
    let day = |day: usize| {
        let rain_mm = if day % 7 == 3 { 9.0 } else { 0.0 };
        let taw_mm = 60.0 + (day as f64).min(40.0);
        let before_mm = 60.0 + (day as f64 - 1.0).clamp(0.0, 40.0);
        CropDay::new(6.0, rain_mm, 0.5, taw_mm, before_mm)
    };
    Ground { first_day: 1, days: vec![(0..60).map(day).collect()], depletion_mm: 10.0, ky: 1.1 }
}

/// How far a season is simulated.
#[derive(Clone, Copy)]
struct Simulated {
    /// Pass by pass, with every hour in its own wind.
    by_pass: bool,
    /// Through soil and crop, hours read from an atlas.
    through_soil: bool,
}

/// Plays the season of one seed; whether its log was taken.
fn play(seed: u64, maps: &LandingMapCache, simulated: Simulated) -> bool {
    let mut chance = Chance(seed);
    let asked = field(&mut chance);
    let one = &asked.alternatives[0];
    let Ok(mut planned) = plans(&asked) else { return false };
    let first = planned.remove(0);
    let record = record(&mut chance, &first, one);
    let course = match replan(&first, asked.calendar_of(one), &one.stops(), &record) {
        Ok(course) => course,
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(problems.iter().all(|problem| problem.event() < record.events.len()));
            return false;
        }
    };
    assert!(check(&first, &one.stops(), &record).is_empty());
    judge(&first, &course, &record);
    let worked = worked(&asked, 0, Some(&course)).unwrap();
    for (depths, pass) in worked.depths.iter().zip(&course.plan.passes) {
        assert_eq!(depths.len(), pass.sets.len());
        assert!(depths.iter().all(|one| one.low_mm >= 0.0 && one.high_mm.is_finite()));
    }
    let Simulated { by_pass, through_soil } = simulated;
    if course.plan.passes.is_empty() {
        return true;
    }
    if through_soil {
        let (plans, laid) = (vec![course.plan.clone()], (HoursLaid::NearestWind, Some(maps)));
        // Water that goes missing is an error.
        let found = run_plans_laid(&asked, &ground(), plans, laid).unwrap();
        let figures = &found[0];
        assert!((0.0..=1.0).contains(&figures.yield_fraction), "{figures:?}");
        // An interior that no set reaches has no figures.
        let is_dry = figures.cu.is_nan() && figures.du_lq.is_nan() && figures.moves <= 2;
        assert!(is_dry || (figures.cu.is_finite() && figures.du_lq >= 0.0), "{figures:?}");
        assert!(figures.gross_mm > 0.0 && figures.irrigation_mm > 0.0, "{figures:?}");
    }
    if by_pass {
        let control = RunControl::default().with_landing_maps(maps);
        let outcome = run_plans(&asked, vec![course.plan], control).unwrap();
        let water = outcome.alternatives[0].water;
        assert!(water.imbalance().abs() < 1e-9, "{water:?}");
    }
    true
}

fn from_environment(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Plays `seeds` seasons, one in `by_pass` and one in `through_soil` of them simulated so, and says how many
/// logs were taken.
fn play_many(seeds: u64, by_pass: u64, through_soil: u64) -> usize {
    let first = from_environment("EVENFALL_SEED", 1);
    let seeds = first..first + from_environment("EVENFALL_SEEDS", seeds);
    let maps = LandingMapCache::default();
    let taken = seeds.filter(|seed| {
        let simulated = Simulated {
            by_pass: seed.is_multiple_of(by_pass),
            through_soil: seed.is_multiple_of(through_soil),
        };
        let one = std::panic::AssertUnwindSafe(|| play(*seed, &maps, simulated));
        std::panic::catch_unwind(one).unwrap_or_else(|_| panic!("seed {seed}: see above"))
    });
    taken.count()
}

#[test]
fn invariant_thousands_of_logs_by_chance_are_planned_on_or_refused() {
    let taken = play_many(4_000, 400, 10);
    // The generator is worth something only while many of its logs are taken, and many refused.
    assert!(std::env::var("EVENFALL_SEED").is_ok() || (800..3_600).contains(&taken), "{taken}");
}

#[test]
#[ignore = "takes some minutes for a hundred thousand: run it before a release, with EVENFALL_SEEDS for more or fewer"]
fn invariant_a_million_logs_by_chance_are_simulated_or_refused() {
    let taken = play_many(1_000_000, 400, 1);
    eprintln!("{taken} logs taken");
}
