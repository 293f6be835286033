//! The days on which an alternative waters, each with what is laid on it.

use super::compact::CompactField;
use crate::overlay::{LaidSet, Laying, NodeSets, Onto, PipeOnGrid, RowScratch, Spread};
use crate::schedule::SetPlan;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::{LaidSets, Layout};
use std::collections::BTreeMap;
use std::ops::Range;

/// Sets of one pass that start on the same day.
#[derive(Clone, Debug)]
pub(super) struct Watering<'a> {
    /// The folded pipe.
    pub(super) pipe: PipeOnGrid,
    sets: Placed<'a>,
    /// Rows that they reach; some may lie off the field.
    rows: Range<isize>,
}

/// Sets with their footprints.
#[derive(Clone, Debug)]
enum Placed<'a> {
    Alike(LaidSets<'a>),
    Each(Vec<NodeSets<'a>>),
}

/// All days with water, and room for the strips of their sets.
#[derive(Debug)]
pub(super) struct WetDays<'a> {
    pub(super) days: Vec<WetDay<'a>>,
    /// All sets of the season, one watering for all that stand on the same columns.
    whole: Vec<Watering<'a>>,
    /// As water falls; `None` in a season without water.
    pub(super) scratch: Option<RowScratch>,
    /// As the crop gets it, where that is not as it falls.
    pub(super) spread: Option<RowScratch>,
}

impl<'a> WetDays<'a> {
    /// Those of all passes of `layout`, with water spread on its way as `by` says.
    pub(super) fn of(
        layout: &'a Layout<'_>,
        laid: &'a [LaidPass],
        compact: &CompactField,
        by: Option<&Spread>,
    ) -> Self {
        let days = WetDay::all(layout, laid, compact);
        let waterings = || days.iter().flat_map(|day| &day.waterings);
        let sets: Vec<LaidSet<'_>> = waterings().flat_map(Watering::laid).collect();
        let pipe = waterings().next().map(|watering| watering.pipe);
        let scratch = pipe.map(|pipe| RowScratch::new(pipe, sets.iter()));
        let spread = pipe.zip(by).map(|(pipe, by)| RowScratch::spread(pipe, sets.iter(), by));
        let mut whole: Vec<Watering<'_>> = Vec::new();
        for watering in waterings() {
            match whole.iter_mut().find(|known| known.pipe == watering.pipe) {
                Some(known) => known.join(watering),
                None => whole.push(watering.clone()),
            }
        }
        Self { days, whole, scratch, spread }
    }

    /// Makes `depth_mm` the water of the whole season on `rows`.
    pub(super) fn lay_all(&mut self, rows: &Range<usize>, columns: usize, depth_mm: &mut [f64]) {
        match &mut self.scratch {
            Some(scratch) => lay_all(&self.whole, scratch, rows, (depth_mm, columns)),
            None => depth_mm.fill(0.0),
        }
    }
}

/// Makes `depth_mm` the water of `waterings`, at least one, on `rows`.
pub(super) fn lay_all(
    waterings: &[Watering<'_>],
    scratch: &mut RowScratch,
    rows: &Range<usize>,
    (depth_mm, columns): (&mut [f64], usize),
) {
    for (at, watering) in waterings.iter().enumerate() {
        let onto = if at == 0 { Onto::Nothing } else { Onto::Depths };
        let laying = match &watering.sets {
            Placed::Alike(sets) => Laying::Alike(&sets[0]),
            Placed::Each(nodes) => Laying::Each(nodes),
        };
        scratch.lay((watering.pipe, laying, onto), rows.clone(), (&mut *depth_mm, columns));
    }
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
    fn all(layout: &'a Layout<'_>, laid: &'a [LaidPass], compact: &CompactField) -> Vec<Self> {
        let day_of = |set: &SetPlan| (set.start_h / 24.0).floor() as i64;
        // By day: a set that is made up later may stand behind sets of later passes.
        let mut days: BTreeMap<i64, Vec<Watering<'_>>> = BTreeMap::new();
        for (plan, laid) in layout.plan.passes.iter().zip(laid) {
            let pipe = compact.pipe(layout.pipe(plan));
            let mut first = 0;
            for sets in plan.sets.chunk_by(|a, b| day_of(a) == day_of(b)) {
                let watering = Watering::of(layout, pipe, layout.laid(plan, sets, (first, laid)));
                first += sets.len();
                days.entry(day_of(&sets[0])).or_default().push(watering);
            }
        }
        days.into_iter().map(|(day, waterings)| Self { day, waterings }).collect()
    }

    /// Whether any water falls on `rows`.
    pub(super) fn reaches(&self, rows: &Range<usize>) -> bool {
        self.waterings.iter().any(|watering| watering.reaches(rows))
    }

    /// Makes `depth_mm` the water on `rows` of a field of `columns` columns.
    pub(super) fn lay<'b>(
        &self,
        scratch: &mut RowScratch,
        rows: &Range<usize>,
        columns: usize,
        depth_mm: &'b mut Vec<f64>,
    ) -> &'b [f64] {
        depth_mm.resize(rows.len() * columns, 0.0);
        lay_all(&self.waterings, scratch, rows, (depth_mm, columns));
        depth_mm
    }
}

impl<'a> Watering<'a> {
    pub(super) fn of(layout: &'a Layout<'_>, pipe: PipeOnGrid, sets: LaidSets<'a>) -> Self {
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

    /// Takes the sets of another in, which stand on the same columns.
    fn join(&mut self, other: &Self) {
        match (&mut self.sets, &other.sets) {
            (Placed::Alike(own), Placed::Alike(more)) => {
                own.iter_mut().zip(more).for_each(|(own, more)| own.extend_from_slice(more));
            }
            (Placed::Each(own), Placed::Each(more)) => {
                let both = own.iter_mut().zip(more);
                both.for_each(|(own, more)| own.sets.extend_from_slice(&more.sets));
            }
            // One layout has one kind.
            _ => {}
        }
    }

    /// All its sets.
    pub(super) fn laid(&self) -> Vec<LaidSet<'a>> {
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
