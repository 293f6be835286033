//! A season as it was beside the plan that it began with: sets, starts, moves and passes.
//!
//! Each set of the season is paired with the planned set of the same pass and outlet; where the
//! outlet has two in the pass, with the one nearer in place. Then, over recorded sets alone:
//!
//! - late = start − planned start, h; early starts are negative;
//! - a move is the time between two recorded sets that follow one another in the plan of one pass and
//!   in time, no breakdown between them. Its plan is the time between the two planned sets, so what
//!   is waited for a starting time counts in both;
//! - set time = end − start.
//!
//! Arithmetic of our own, no source. Sets that are taken as done as planned say nothing here.

use super::check::overlap;
use super::course::{Replanned, Standing};
use super::record::{Happened, Record};
use crate::schedule::passes::{PassPlan, SetPlan};
use crate::schedule::plan::Plan;

/// Starts that agree to a minute are on time, h: logs hold minutes.
const ON_TIME_H: f64 = 1.0 / 60.0 + 1e-9;

/// How many sets came to what.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SetCounts {
    /// In the first plan.
    pub planned: usize,
    /// Recorded as done.
    pub recorded: usize,
    /// Recorded sets that started at another time than planned.
    pub moved_in_time: usize,
    /// Taken as done as planned.
    pub taken_as_done: usize,
    /// Missed, and left without water.
    pub left: usize,
    /// Missed, and still to be caught up.
    pub to_catch_up: usize,
    /// Still to come.
    pub to_come: usize,
    /// In passes that no longer fit into the season.
    pub dropped: usize,
}

/// How late recorded sets started.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Starts {
    /// Mean, h; negative where they were early.
    pub mean_late_h: f64,
    /// The one farthest from its plan, h.
    pub worst_late_h: f64,
}

/// A time as planned and as it was, on average.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// How many there were.
    pub count: usize,
    /// Planned, h.
    pub planned_h: f64,
    /// As it was, h.
    pub real_h: f64,
}

impl Beside {
    fn of(pairs: &[(f64, f64)]) -> Option<Self> {
        let planned: Vec<f64> = pairs.iter().map(|(planned, _)| *planned).collect();
        let real: Vec<f64> = pairs.iter().map(|(_, real)| *real).collect();
        (!pairs.is_empty()).then(|| Self {
            count: pairs.len(),
            planned_h: mean(&planned),
            real_h: mean(&real),
        })
    }

    /// How much longer than planned, h each.
    pub fn longer_h(&self) -> f64 {
        self.real_h - self.planned_h
    }

    /// The same for all of them, h.
    pub fn longer_in_all_h(&self) -> f64 {
        self.longer_h() * self.count as f64
    }
}

/// When a pass was planned, and when it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PassDates {
    /// Number in the first plan, from 0.
    pub number: usize,
    /// Planned start and end, h.
    pub planned_h: (f64, f64),
    /// Start and end as it was or is to be, h; `None` where nothing of it is watered.
    pub real_h: Option<(f64, f64)>,
    /// Sets planned.
    pub sets_planned: usize,
    /// Sets that are watered.
    pub sets: usize,
}

/// A season as it was beside its plan.
#[derive(Clone, Debug, PartialEq)]
pub struct AgainstPlan {
    /// Sets by what became of them.
    pub counts: SetCounts,
    /// `None` without recorded sets.
    pub starts: Option<Starts>,
    /// `None` without two recorded sets in a row.
    pub moves: Option<Beside>,
    /// `None` without recorded sets.
    pub set_times: Option<Beside>,
    /// Every pass of the first plan.
    pub passes: Vec<PassDates>,
}

/// A set of the season with the planned one that it is.
#[derive(Clone, Copy)]
struct Pair {
    pass: usize,
    /// Place in the plan of its pass.
    index: usize,
    planned: SetPlan,
    real: SetPlan,
    standing: Standing,
}

/// `course`, which came of `first` by `record`, beside `first`.
pub fn against_plan(first: &Plan, course: &Replanned, record: &Record) -> AgainstPlan {
    let pairs = pairs(first, course);
    let recorded: Vec<&Pair> =
        pairs.iter().filter(|pair| pair.standing == Standing::Recorded).collect();
    let late: Vec<f64> =
        recorded.iter().map(|pair| pair.real.start_h - pair.planned.start_h).collect();
    let worst =
        late.iter().copied().reduce(|one, other| if other.abs() > one.abs() { other } else { one });
    let times = |set: &SetPlan| set.end_h - set.start_h;
    let set_times: Vec<(f64, f64)> =
        recorded.iter().map(|pair| (times(&pair.planned), times(&pair.real))).collect();
    AgainstPlan {
        counts: counts(first, course, &pairs, &late),
        starts: worst.map(|worst_late_h| Starts { mean_late_h: mean(&late), worst_late_h }),
        moves: Beside::of(&move_times(&pairs, record)),
        set_times: Beside::of(&set_times),
        passes: dates(first, course),
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn pairs(first: &Plan, course: &Replanned) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for (at, pass) in course.plan.passes.iter().enumerate() {
        let number = course.numbers[at];
        let planned = &first.passes[number].sets;
        let mut taken = vec![false; planned.len()];
        for (set, real) in pass.sets.iter().enumerate() {
            let standing = course.standing.get(at).map_or(Standing::ToCome, |sets| sets[set]);
            let away_m = |index: &usize| {
                let one: &SetPlan = &planned[*index];
                (one.place_across_m - real.place_across_m).abs()
            };
            let same = |index: &usize| {
                let one = &planned[*index];
                !taken[*index]
                    && (one.line, one.side, one.outlet) == (real.line, real.side, real.outlet)
            };
            let nearest = (0..planned.len())
                .filter(same)
                .min_by(|one, other| away_m(one).total_cmp(&away_m(other)));
            if let Some(index) = nearest {
                taken[index] = true;
                pairs.push(Pair {
                    pass: number,
                    index,
                    planned: planned[index],
                    real: *real,
                    standing,
                });
            }
        }
    }
    pairs
}

fn counts(first: &Plan, course: &Replanned, pairs: &[Pair], late: &[f64]) -> SetCounts {
    let planned = first.passes.iter().map(|pass| pass.sets.len()).sum();
    let with = |standing: Standing| pairs.iter().filter(|pair| pair.standing == standing).count();
    SetCounts {
        planned,
        recorded: with(Standing::Recorded),
        moved_in_time: late.iter().filter(|late| late.abs() > ON_TIME_H).count(),
        taken_as_done: with(Standing::TakenAsDone),
        left: course.left.len(),
        to_catch_up: with(Standing::CatchUp),
        to_come: with(Standing::ToCome),
        dropped: planned - pairs.len() - course.left.len(),
    }
}

/// Planned and real time of every move that is known, h.
fn move_times(pairs: &[Pair], record: &Record) -> Vec<(f64, f64)> {
    let mut sorted: Vec<&Pair> = pairs.iter().collect();
    sorted.sort_by(|one, other| one.real.start_h.total_cmp(&other.real.start_h));
    let broken = |span_h: (f64, f64)| {
        record.events.iter().any(|event| match event {
            Happened::Breakdown { from_h, to_h } => overlap((*from_h, *to_h), span_h),
            Happened::Done { .. } | Happened::Missed(_) => false,
        })
    };
    let moves = sorted.windows(2).filter_map(|two| {
        let (from, to) = (two[0], two[1]);
        let follows = (from.pass, from.index + 1) == (to.pass, to.index);
        let known = [from, to].iter().all(|pair| pair.standing == Standing::Recorded);
        let span_h = (from.real.end_h, to.real.start_h);
        (follows && known && !broken(span_h))
            .then_some((to.planned.start_h - from.planned.end_h, span_h.1 - span_h.0))
    });
    moves.collect()
}

fn dates(first: &Plan, course: &Replanned) -> Vec<PassDates> {
    let passes = first.passes.iter().enumerate();
    passes
        .map(|(number, planned)| {
            let at = course.numbers.iter().position(|one| *one == number);
            let real = at.map(|at| &course.plan.passes[at]);
            PassDates {
                number,
                planned_h: planned.span_h(),
                real_h: real.map(PassPlan::span_h),
                sets_planned: planned.sets.len(),
                sets: real.map_or(0, |pass| pass.sets.len()),
            }
        })
        .collect()
}
