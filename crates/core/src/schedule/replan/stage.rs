//! The season set by set while it is re-planned: what happened up to a time, then the rest anew.

use super::check::{ReplanProblem, find, overlap};
use super::record::{Happened, MissedRule, Record};
use crate::schedule::calendar::{Calendar, SLACK_H};
use crate::schedule::passes::{SetPlan, Stops};
use crate::schedule::plan::Plan;

/// How a set stands while the season is gone through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum State {
    Recorded,
    TakenAsDone,
    Pending,
    CatchUp,
    Missed,
    Left,
}

impl State {
    fn is_done(self) -> bool {
        matches!(self, Self::Recorded | Self::TakenAsDone)
    }
    fn is_to_come(self) -> bool {
        matches!(self, Self::Pending | Self::CatchUp)
    }
}

/// One set of the season as first planned, and what became of it.
#[derive(Clone, Debug)]
pub(super) struct Slot {
    pub(super) pass: usize,
    pub(super) index: usize,
    pub(super) set: SetPlan,
    pub(super) state: State,
    /// The event that recorded it.
    event: Option<usize>,
}

/// The season on its way to now.
pub(super) struct Stage<'a> {
    calendar: &'a Calendar,
    stops: &'a Stops<'a>,
    record: &'a Record,
    pub(super) slots: Vec<Slot>,
    /// Per event, the slot it names.
    named: Vec<Option<usize>>,
    applied: Vec<bool>,
}

impl<'a> Stage<'a> {
    pub(super) fn new(
        plan: &'a Plan,
        calendar: &'a Calendar,
        stops: &'a Stops<'a>,
        record: &'a Record,
    ) -> Self {
        let passes = plan.passes.iter().enumerate();
        let slots: Vec<Slot> = passes
            .flat_map(|(pass, sets)| {
                let sets = sets.sets.iter().enumerate();
                sets.map(move |(index, set)| Slot {
                    pass,
                    index,
                    set: *set,
                    state: State::Pending,
                    event: None,
                })
            })
            .collect();
        let named = record.events.iter().map(|event| {
            let name = match event {
                Happened::Done { set, .. } | Happened::Missed(set) => *set,
                Happened::Breakdown { .. } => return None,
            };
            let index = find(plan, stops, name)?;
            slots.iter().position(|slot| slot.pass == name.pass && slot.index == index)
        });
        Self {
            calendar,
            stops,
            record,
            named: named.collect(),
            applied: vec![false; record.events.len()],
            slots,
        }
    }

    /// Goes on to `now_h`: what happened until then is kept, the rest timed anew from then on.
    pub(super) fn advance(&mut self, now_h: f64, problems: &mut Vec<ReplanProblem>) {
        self.apply(now_h);
        self.take_the_rest_as_planned(now_h, problems);
        self.settle_missed();
        self.time_anew(now_h);
    }

    /// Writes recorded events up to `now_h` into their slots; a set that was done goes before the
    /// same set missed.
    fn apply(&mut self, now_h: f64) {
        for event in 0..self.record.events.len() {
            let Some(slot) = self.named[event].filter(|_| !self.applied[event]) else { continue };
            let slot = &mut self.slots[slot];
            match self.record.events[event] {
                Happened::Done { span_h, at_m, .. } => {
                    let (start_h, end_h) = span_h.unwrap_or((slot.set.start_h, slot.set.end_h));
                    let until_h = if span_h.is_some() { end_h } else { start_h };
                    if until_h > now_h + SLACK_H {
                        continue;
                    }
                    (slot.set.start_h, slot.set.end_h) = (start_h, end_h);
                    if let Some(at_m) = at_m {
                        let outlet_m = self.stops.outlets.place_m(slot.set.outlet);
                        (slot.set.place_across_m, slot.set.drift_m) = (outlet_m + at_m, 0.0);
                    }
                    (slot.state, slot.event) = (State::Recorded, Some(event));
                }
                Happened::Missed(_) if slot.set.start_h >= now_h => continue,
                Happened::Missed(_) if slot.state != State::Recorded => slot.state = State::Missed,
                Happened::Missed(_) | Happened::Breakdown { .. } => {}
            }
            self.applied[event] = true;
        }
    }

    /// Sets that nobody recorded: done as planned, or missed in a breakdown.
    fn take_the_rest_as_planned(&mut self, now_h: f64, problems: &mut Vec<ReplanProblem>) {
        let breakdowns: Vec<(usize, (f64, f64))> = self
            .record
            .events
            .iter()
            .enumerate()
            .filter_map(|(event, happened)| match happened {
                Happened::Breakdown { from_h, to_h } => Some((event, (*from_h, *to_h))),
                _ => None,
            })
            .collect();
        let recorded: Vec<(usize, (f64, f64))> = self
            .slots
            .iter()
            .filter_map(|slot| Some((slot.event?, (slot.set.start_h, slot.set.end_h))))
            .collect();
        // What is recorded to have been done later says for itself when.
        let told_later: Vec<bool> = (0..self.slots.len())
            .map(|slot| {
                let is_told = |event: usize| {
                    self.named[event] == Some(slot)
                        && !self.applied[event]
                        && matches!(self.record.events[event], Happened::Done { .. })
                };
                (0..self.named.len()).any(is_told)
            })
            .collect();
        let put_off = self.put_off(now_h);
        for (at, (slot, told_later)) in self.slots.iter_mut().zip(told_later).enumerate() {
            if told_later || !slot.state.is_to_come() || slot.set.start_h >= now_h - SLACK_H {
                continue;
            }
            let span_h = (slot.set.start_h, slot.set.end_h);
            let clash = |known: &&(usize, (f64, f64))| overlap(known.1, span_h);
            let unrecorded = |event: usize| ReplanProblem::OverlapsUnrecorded {
                event,
                pass: slot.pass,
                outlet: slot.set.outlet,
            };
            match (breakdowns.iter().find(clash), recorded.iter().find(clash)) {
                (Some((_, (from_h, _))), _) if span_h.0 >= from_h - SLACK_H => {
                    slot.state = State::Missed;
                }
                // The line was not free yet: the set is still to come.
                (None, Some(_)) if put_off.contains(&at) => {}
                (Some((event, _)), _) | (None, Some((event, _))) => {
                    problems.push(unrecorded(*event));
                    slot.state = State::TakenAsDone;
                }
                (None, None) => slot.state = State::TakenAsDone,
            }
        }
    }

    /// Sets that come after the last one recorded and were to start while it still ran, where nothing
    /// is known of the time since: the last set has only just ended, or they would still run.
    fn put_off(&self, now_h: f64) -> std::ops::Range<usize> {
        let last = self.slots.iter().rposition(|slot| slot.state == State::Recorded);
        let Some(last) = last else { return 0..0 };
        let ended_h = self.slots[last].set.end_h;
        let just_ended = ended_h + self.calendar.move_gap_h >= now_h - SLACK_H;
        let is_put_off = |slot: &&Slot| {
            slot.state.is_to_come()
                && slot.set.start_h < ended_h - SLACK_H
                && (just_ended || slot.set.end_h > now_h + SLACK_H)
        };
        last + 1..last + 1 + self.slots[last + 1..].iter().take_while(is_put_off).count()
    }

    /// Missed sets of the pass that is under way are caught up or left, those of earlier ones left.
    fn settle_missed(&mut self) {
        let under_way = self.under_way();
        for slot in &mut self.slots {
            if slot.state == State::Missed {
                let catches_up = self.record.missed == MissedRule::CatchUp;
                let in_turn = under_way.is_none_or(|pass| slot.pass >= pass);
                slot.state = if catches_up && in_turn { State::CatchUp } else { State::Left };
            }
        }
    }

    /// The last pass of which anything was done or missed.
    fn under_way(&self) -> Option<usize> {
        self.slots.iter().filter(|slot| slot.state != State::Pending).map(|slot| slot.pass).max()
    }

    /// Times every set that is still to come, from `now_h` on.
    fn time_anew(&mut self, now_h: f64) {
        let done = |slot: &&Slot| slot.state.is_done();
        let last = self
            .slots
            .iter()
            .filter(done)
            .max_by(|one, other| one.set.end_h.total_cmp(&other.set.end_h));
        let mut line = last.map(|slot| (slot.pass, slot.set));
        let mut order: Vec<usize> =
            (0..self.slots.len()).filter(|at| self.slots[*at].state.is_to_come()).collect();
        // Within a pass what was missed comes first; otherwise as first planned.
        order.sort_by_key(|at| {
            let slot = &self.slots[*at];
            (slot.pass, slot.state != State::CatchUp, slot.index)
        });
        for at in order {
            let free_h = self.free_h(line, at).max(now_h);
            let start_h = self.calendar.next_start_h(free_h);
            let slot = &mut self.slots[at];
            (slot.set.start_h, slot.set.end_h) = (start_h, start_h + self.calendar.set_time_h);
            line = Some((slot.pass, slot.set));
        }
    }

    /// When the lateral, last used as `line`, may start the set of slot `at`.
    fn free_h(&self, line: Option<(usize, SetPlan)>, at: usize) -> f64 {
        let slot = &self.slots[at];
        let Some((pass, last)) = line else { return self.calendar.first_start_h() };
        let moved_h = last.end_h + self.calendar.move_gap_h;
        if pass < slot.pass {
            let back_h = moved_h + self.calendar.return_h(pass, self.stops);
            return match self.calendar.pass_every_h {
                None => back_h + self.calendar.idle_h,
                Some(every_h) => back_h.max(self.pass_start_h(pass) + every_h),
            };
        }
        let back_m = last.place_across_m - slot.set.place_across_m;
        let is_far_back = back_m > self.stops.outlets.spacing_m + 1e-6;
        moved_h + if is_far_back { self.calendar.return_time_h } else { 0.0 }
    }

    /// Start of the first set of a pass that was done or is timed.
    fn pass_start_h(&self, pass: usize) -> f64 {
        let sets = self
            .slots
            .iter()
            .filter(|slot| slot.pass == pass && (slot.state.is_done() || slot.state.is_to_come()));
        sets.map(|slot| slot.set.start_h).fold(f64::INFINITY, f64::min)
    }

    /// Recorded sets that fell into the time of another one or of a breakdown. Those with times of their
    /// own have been held against each other; a set that was done as planned has its time only now.
    pub(super) fn overlaps(&self, problems: &mut Vec<ReplanProblem>) {
        let mut spans: Vec<(usize, (f64, f64))> = self
            .slots
            .iter()
            .filter_map(|slot| Some((slot.event?, (slot.set.start_h, slot.set.end_h))))
            .collect();
        let breakdowns = self.record.events.iter().enumerate();
        spans.extend(breakdowns.filter_map(|(event, happened)| match happened {
            Happened::Breakdown { from_h, to_h } => Some((event, (*from_h, *to_h))),
            Happened::Done { .. } | Happened::Missed(_) => None,
        }));
        spans.sort_by(|one, other| one.1.0.total_cmp(&other.1.0));
        // The one that ends last of those that began earlier.
        let mut before: Option<(usize, (f64, f64))> = None;
        for (event, span_h) in spans {
            if let Some((other, before_h)) = before
                && overlap(before_h, span_h)
            {
                // Told of the later event, as where both have times of their own.
                let (event, other) = (event.max(other), event.min(other));
                problems.push(ReplanProblem::Overlap { event, other });
            }
            if before.is_none_or(|(_, before_h)| before_h.1 < span_h.1) {
                before = Some((event, span_h));
            }
        }
    }

    /// Events whose set lies after now.
    pub(super) fn leftovers(&self, problems: &mut Vec<ReplanProblem>) {
        for event in 0..self.applied.len() {
            if self.named[event].is_some() && !self.applied[event] {
                problems.push(ReplanProblem::AfterNow { event });
            }
        }
    }

    /// Passes of which nothing was done and which no longer end in the season; once one does not
    /// fit, none after it does, but for those of which something was done out of turn.
    pub(super) fn dropped(&self) -> Vec<usize> {
        let passes = self.slots.iter().map(|slot| slot.pass + 1).max().unwrap_or(0);
        let season_end_h = self.calendar.season_end_h();
        let here = |pass: usize| self.slots.iter().filter(move |slot| slot.pass == pass);
        let is_begun = |pass: usize| here(pass).any(|slot| slot.state.is_done());
        let ends_late =
            |slot: &Slot| slot.state.is_to_come() && slot.set.end_h > season_end_h + SLACK_H;
        let is_late = |pass: &usize| here(*pass).any(ends_late) && !is_begun(*pass);
        let first = (0..passes).find(is_late).unwrap_or(passes);
        (first..passes).filter(|pass| !is_begun(*pass)).collect()
    }
}
