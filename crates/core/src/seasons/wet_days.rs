//! The days on which an alternative waters, each with what is laid on it.

use super::compact::CompactField;
use crate::overlay::{LaidSet, Laying, NodeSets, PipeOnGrid, RowScratch};
use crate::schedule::SetPlan;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::{LaidSets, Layout};
use std::ops::Range;

/// Sets of one pass that start on the same day.
#[derive(Debug)]
struct Watering<'a> {
    /// The folded pipe.
    pipe: PipeOnGrid,
    sets: Placed<'a>,
    /// Rows that they reach; some may lie off the field.
    rows: Range<isize>,
}

/// Sets with their footprints.
#[derive(Debug)]
enum Placed<'a> {
    Alike(LaidSets<'a>),
    Each(Vec<NodeSets<'a>>),
}

/// A day with water.
#[derive(Debug)]
pub(super) struct WetDay<'a> {
    /// Day of the season.
    pub(super) day: i64,
    waterings: Vec<Watering<'a>>,
}

impl<'a> WetDay<'a> {
    /// The days of all passes of `layout`, in order. Water of a set counts for the day on which it
    /// starts.
    pub(super) fn all(
        layout: &'a Layout<'_>,
        laid: &'a [LaidPass],
        compact: &CompactField,
    ) -> Vec<Self> {
        let day_of = |set: &SetPlan| (set.start_h / 24.0).floor() as i64;
        let mut days: Vec<Self> = Vec::new();
        for (plan, laid) in layout.plan.passes.iter().zip(laid) {
            let pipe = compact.pipe(layout.pipe(plan));
            let mut first = 0;
            for sets in plan.sets.chunk_by(|a, b| day_of(a) == day_of(b)) {
                let watering = Watering::of(layout, pipe, layout.laid(plan, sets, (first, laid)));
                first += sets.len();
                let day = day_of(&sets[0]);
                match days.last_mut() {
                    Some(last) if last.day == day => last.waterings.push(watering),
                    _ => days.push(Self { day, waterings: vec![watering] }),
                }
            }
        }
        days
    }

    /// Room for the strips of all of `days`; `None` where there is no water.
    pub(super) fn scratch(days: &[Self]) -> Option<RowScratch> {
        let waterings = || days.iter().flat_map(|day| &day.waterings);
        let pipe = waterings().next()?.pipe;
        let sets: Vec<LaidSet<'_>> = waterings().flat_map(Watering::laid).collect();
        Some(RowScratch::new(pipe, sets.iter()))
    }

    /// Whether any water falls on `rows`.
    pub(super) fn reaches(&self, rows: &Range<usize>) -> bool {
        self.waterings.iter().any(|watering| watering.reaches(rows))
    }

    /// Makes `depth_mm` the water on `rows` of a field of `columns` columns.
    pub(super) fn lay(
        &self,
        scratch: &mut RowScratch,
        rows: &Range<usize>,
        columns: usize,
        depth_mm: &mut Vec<f64>,
    ) {
        depth_mm.clear();
        depth_mm.resize(rows.len() * columns, 0.0);
        for watering in self.waterings.iter().filter(|watering| watering.reaches(rows)) {
            let laying = match &watering.sets {
                Placed::Alike(sets) => Laying::Alike(&sets[0]),
                Placed::Each(nodes) => Laying::Each(nodes),
            };
            scratch.add(watering.pipe, laying, rows.clone(), (depth_mm, columns));
        }
    }
}

impl<'a> Watering<'a> {
    fn of(layout: &'a Layout<'_>, pipe: PipeOnGrid, sets: LaidSets<'a>) -> Self {
        let reach = sets.iter().flatten().map(|set| {
            let first = set.row + set.footprint.first_row;
            first..first + set.footprint.values.nrows() as isize
        });
        let wider =
            |one: Range<isize>, two: Range<isize>| one.start.min(two.start)..one.end.max(two.end);
        let rows = reach.reduce(wider).unwrap_or(0..0);
        let sets = match layout.nodes(pipe, &sets) {
            Some(nodes) => Placed::Each(nodes),
            None => Placed::Alike(sets),
        };
        Self { pipe, sets, rows }
    }

    /// All its sets.
    fn laid(&self) -> Vec<LaidSet<'a>> {
        match &self.sets {
            Placed::Alike(sets) => sets.concat(),
            Placed::Each(nodes) => {
                nodes.iter().flat_map(|node| node.sets.iter().copied()).collect()
            }
        }
    }

    fn reaches(&self, rows: &Range<usize>) -> bool {
        let (first, end) = (rows.start as isize, rows.end as isize);
        self.rows.start < end && self.rows.end > first
    }
}
