//! Candidates: every rotation on every layout, edge treatment and clock asked for, with its
//! schedule; those that are provably the same season are merged.
//!
//! The only pruning done here is of identity: two candidates whose lateral, sprinklers, places and
//! times agree set by set to the last bit lay the same water in every weather (A A is A; the fixed
//! pattern has no opened edge). Nothing is left out for being probably worse. What a schedule
//! cannot hold (passes that would overlap) is refused and told.

use super::clocks::{ClockChange, TimeCost};
use super::equipment::EquipmentRule;
use super::error::SearchError;
use super::layouts::{Combo, Layouts};
use super::rotations::{count, rotations_over};
use super::space::{MOST_CANDIDATES, Refused, SearchSpace};
use crate::lateral::{EdgeTreatment, SetOrder, Side};
use crate::model::{Alternative, Scenario};
use crate::money::Equipment;
use crate::rotation::Rotation;
use crate::schedule::{self, Calendar, Plan};
use std::collections::BTreeMap;

/// One candidate.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// What the season runs; its calendar is always its own.
    pub alternative: Alternative,
    /// How its clock differs from the scenario's.
    pub clock: ClockChange,
    /// Its order of sets, where that is not the scenario's.
    pub order: Option<SetOrder>,
    /// How far its first outlet is moved, m.
    pub inset_m: f64,
    /// Which combinations of wheel and spacing it belongs to.
    pub combos: Vec<usize>,
    /// Its schedule.
    pub plan: Plan,
    /// What its schedule costs in time.
    pub cost: TimeCost,
    /// What it needs.
    pub equipment: Equipment,
    /// Descriptions that came to the same season, this one counted.
    pub descriptions: usize,
}

impl Candidate {
    /// Its clock, and its order of sets where that is not the scenario's, in the words of reports.
    pub fn schedule_words(&self) -> String {
        let order = self.order.as_ref().map(|order| format!(", {}", order.words()));
        format!("{}{}", self.clock.words(), order.unwrap_or_default())
    }
}

/// All candidates; the first is the fixed pattern on the scenario's own layout and clock.
#[derive(Clone, Debug)]
pub struct Candidates {
    /// The distinct ones.
    pub all: Vec<Candidate>,
    /// The combinations of wheel and spacing.
    pub combos: Vec<Combo>,
    /// Descriptions that were enumerated, merged ones counted.
    pub described: usize,
    /// What could not be scheduled.
    pub refused: Vec<Refused>,
}

impl Candidates {
    /// Enumerates `space` on the machine of the scenario's first alternative.
    ///
    /// # Errors
    /// No alternative, no schedule for the fixed pattern, too many candidates.
    pub fn of(
        scenario: &Scenario,
        space: &SearchSpace,
        rule: &EquipmentRule,
    ) -> Result<Self, SearchError> {
        let mut fixed = scenario.alternatives.first().ok_or(SearchError::NoMachine)?.clone();
        fixed.rotation = Rotation::fixed();
        fixed.edges = EdgeTreatment::Shift;
        let layouts = Layouts::of(scenario, &fixed, space);
        check_number(&layouts, space)?;
        let given = scenario.calendar_of(&fixed).clone();
        let baseline = planned(&fixed, &given)?;
        let passes = baseline.passes.len();
        let own = Own { plan: &baseline, order: given.order.clone(), outlets: fixed.outlets.count };
        let mut gathered = Gathered::new(own, rule, passes, layouts.refused);
        let calendar = ClockChange::AsGiven.calendar(&given, passes);
        gathered.add(Alternative { calendar: Some(calendar), ..fixed.clone() }, Variant::NONE);
        // Rotations innermost: neighbors share passes, which are laid once.
        for layout in &layouts.all {
            for calendar in calendars(&given, space, passes) {
                let Clocked { clock, calendar } = calendar;
                for edges in &space.edges {
                    for stops in
                        rotations_over(&layouts.combos[layout.combo].stops, space.rotations)
                    {
                        let Some(rotation) = Rotation::new(stops) else { continue };
                        let alternative = Alternative {
                            lateral: layout.lateral,
                            outlets: layout.outlets,
                            rotation,
                            edges: *edges,
                            calendar: Some(calendar.clone()),
                            ..fixed.clone()
                        };
                        let combo = Some(layout.combo);
                        let variant = Variant { clock, inset_m: layout.inset_m, combo };
                        gathered.add(alternative, variant);
                    }
                }
            }
        }
        Ok(Self {
            all: gathered.all,
            combos: layouts.combos,
            described: gathered.described,
            refused: gathered.refused,
        })
    }
}

/// A calendar and how its clock differs from the given one's.
struct Clocked {
    clock: ClockChange,
    calendar: Calendar,
}

/// Every clock with every order of sets.
fn calendars(given: &Calendar, space: &SearchSpace, passes: usize) -> Vec<Clocked> {
    let own = std::slice::from_ref(&given.order);
    let orders = if space.orders.is_empty() { own } else { &space.orders };
    let ordered = |order: &SetOrder| {
        let order = order.clone();
        space.clocks.iter().map(move |clock| {
            let calendar = Calendar { order: order.clone(), ..clock.calendar(given, passes) };
            Clocked { clock: *clock, calendar }
        })
    };
    orders.iter().flat_map(ordered).collect()
}

fn check_number(layouts: &Layouts, space: &SearchSpace) -> Result<(), SearchError> {
    let of_layout = |combo: usize| count(layouts.combos[combo].stops.len(), space.rotations);
    let rotations = layouts
        .all
        .iter()
        .try_fold(0_usize, |sum, layout| sum.checked_add(of_layout(layout.combo)?));
    let treatments = space.clocks.len() * space.edges.len() * space.orders.len().max(1);
    let all =
        rotations.and_then(|rotations| rotations.checked_mul(treatments)).unwrap_or(usize::MAX);
    if all == 0 {
        Err(SearchError::NoCandidates)
    } else if all > MOST_CANDIDATES {
        Err(SearchError::TooMany { candidates: all })
    } else {
        Ok(())
    }
}

fn planned(
    alternative: &Alternative,
    calendar: &Calendar,
) -> Result<Plan, schedule::ScheduleError> {
    schedule::plan(calendar, &alternative.stops())
}

/// How a candidate differs beside its alternative.
#[derive(Clone, Copy)]
struct Variant {
    clock: ClockChange,
    inset_m: f64,
    combo: Option<usize>,
}

impl Variant {
    const NONE: Self = Self { clock: ClockChange::AsGiven, inset_m: 0.0, combo: None };
}

/// The fixed pattern as the scenario has it.
struct Own<'a> {
    plan: &'a Plan,
    order: SetOrder,
    outlets: usize,
}

/// Candidates as they gather.
struct Gathered<'a> {
    own: Own<'a>,
    rule: &'a EquipmentRule,
    passes: usize,
    all: Vec<Candidate>,
    /// Season by its bits, and where it is in `all`.
    known: BTreeMap<Vec<u64>, usize>,
    described: usize,
    refused: Vec<Refused>,
}

impl<'a> Gathered<'a> {
    fn new(own: Own<'a>, rule: &'a EquipmentRule, passes: usize, refused: Vec<Refused>) -> Self {
        let (all, known) = (Vec::new(), BTreeMap::new());
        Self { own, rule, passes, all, known, described: 0, refused }
    }

    fn add(&mut self, mut alternative: Alternative, variant: Variant) {
        // The baseline is not one of those enumerated.
        self.described += usize::from(variant.combo.is_some());
        let plan = match alternative.calendar.as_ref().map(|own| planned(&alternative, own)) {
            Some(Ok(plan)) if plan.passes.len() == self.passes => plan,
            Some(Err(problem)) => return self.refuse(problem.to_string()),
            _ => return,
        };
        let equipment = self.rule.equipment(&alternative, self.own.outlets);
        let key = bits(&alternative, &plan, &equipment);
        if let Some(at) = self.known.get(&key) {
            let same = &mut self.all[*at];
            same.descriptions += usize::from(variant.combo.is_some());
            same.combos.extend(variant.combo.filter(|combo| !same.combos.contains(combo)));
            return;
        }
        alternative.name = format!("candidate {}", self.all.len());
        self.known.insert(key, self.all.len());
        let order = alternative.calendar.as_ref().map(|calendar| calendar.order.clone());
        self.all.push(Candidate {
            order: order.filter(|order| *order != self.own.order),
            clock: variant.clock,
            inset_m: variant.inset_m,
            combos: variant.combo.into_iter().collect(),
            cost: TimeCost::of(&plan, self.own.plan),
            equipment,
            descriptions: usize::from(variant.combo.is_some()),
            alternative,
            plan,
        });
    }

    fn refuse(&mut self, why: String) {
        match self.refused.iter_mut().find(|known| known.why == why) {
            Some(known) => known.count += 1,
            None => self.refused.push(Refused { count: 1, why }),
        }
    }
}

/// All that decides a season's water and money, bit by bit: the sprinkler is the same for all.
fn bits(alternative: &Alternative, plan: &Plan, equipment: &Equipment) -> Vec<u64> {
    let lateral = &alternative.lateral;
    let mut bits = vec![
        lateral.sprinklers as u64,
        lateral.sprinkler_spacing_m.to_bits(),
        lateral.first_sprinkler_m.to_bits(),
        u64::from(equipment.joints),
        u64::from(equipment.outlets),
        u64::from(equipment.is_reach_open),
        equipment.extra_labor_per_move_h.to_bits(),
        plan.dry_way_h.to_bits(),
    ];
    bits.push(equipment.purchases.len() as u64);
    bits.extend(equipment.purchases.iter().map(|pieces| u64::from(*pieces)));
    for pass in &plan.passes {
        bits.push(pass.sets.len() as u64);
        bits.push(place(pass.shift.along_m));
        for set in &pass.sets {
            bits.extend([u64::from(set.side == Side::Left), place(set.shift.along_m)]);
            bits.extend([place(set.place_across_m), set.start_h.to_bits(), set.end_h.to_bits()]);
        }
    }
    bits
}

/// A place to the nanometer: turns of the wheel added up another way are the same place.
fn place(meters: f64) -> u64 {
    ((meters * 1e9).round() as i64) as u64
}
