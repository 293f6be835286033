//! The overlay where all sprinklers of a lateral lay the same footprint.
//!
//! The sum along the pipe is then linear and shift-invariant, and the repetition a recursion,
//! S(i) = S(i − p) + K(i), with p cells between sprinklers. It is run from the near end up to the last
//! sprinkler and from the far end back to there, so that nothing is ever subtracted: no depth comes
//! out negative and no digits are lost. Exact.

use super::sets::{LaidSet, PipeOnGrid, near};
use super::strip::{FillRow, Reach, Strip, add, lay_rows};
use crate::grid::{DepthGrid, Grid};
use pulp::Simd;

/// Lays `sets` down: `pass` becomes their depth and is added to `cumulative` (mm).
///
/// Returns the sum of the depths over all cells of the grid, mm · cells.
///
/// # Panics
/// If `pass` or `cumulative` is not of the grid's shape or not in standard layout.
pub fn lay(
    grid: &Grid,
    pipe: PipeOnGrid,
    sets: &[LaidSet<'_>],
    pass: &mut DepthGrid,
    cumulative: &mut DepthGrid,
) -> f64 {
    let strip = Strip::new(pipe, Reach::of(sets.iter()));
    lay_rows(grid, &strip, |rows| Alike(near(sets, &rows)), pass, cumulative)
}

/// Sets whose sprinklers all lay the same.
pub(super) struct Alike<'a>(pub(super) Vec<LaidSet<'a>>);

impl FillRow for Alike<'_> {
    #[inline(always)]
    fn fill<S: Simd>(&mut self, _: S, strip: &mut Strip, row: usize) -> bool {
        let is_reached = strip.one_row(&self.0, row);
        if is_reached {
            let PipeOnGrid { spacing_cells, sprinklers, .. } = strip.pipe;
            repeat_along_pipe(&strip.one, spacing_cells, sprinklers, &mut strip.all);
            if let Some(spreading) = strip.spreading() {
                spreading.clear_ends();
                strip.add_ends(|_| 1.0);
            }
        }
        is_reached
    }
}

/// all(i) = Σ over j < n of one(i − j·p): `one` repeated `n` times, `p` cells apart.
#[inline(always)]
fn repeat_along_pipe(one: &[f64], p: usize, n: usize, all: &mut [f64]) {
    // The two recursions meet where the last sprinkler's own first p cells end; they cover
    // everything only if the line is longer than one footprint.
    if n * p + p < one.len() {
        all.fill(0.0);
        for start in (0..n).map(|sprinkler| sprinkler * p) {
            add(&mut all[start..start + one.len()], one);
        }
        return;
    }
    let meet = (n * p).min(all.len());
    let first = p.min(meet).min(one.len());
    all[..first].copy_from_slice(&one[..first]);
    all[first..p.min(meet)].fill(0.0);
    let mut at = p;
    while at < meet && at < one.len() {
        let cells = p.min(meet - at);
        let (done, rest) = all.split_at_mut(at);
        rest[..cells].copy_from_slice(&done[at - p..at - p + cells]);
        let cells = cells.min(one.len() - at);
        add(&mut rest[..cells], &one[at..at + cells]);
        at += p;
    }
    // From here on every p cells are the p before them: copied in runs that double.
    let period = at - p;
    while at < meet {
        let cells = (at - period).min(meet - at);
        all.copy_within(period..period + cells, at);
        at += cells;
    }
    let last = n.saturating_sub(1) * p;
    let mut end = all.len();
    while end > meet {
        let start = end.saturating_sub(p).max(meet);
        let (near, far) = all.split_at_mut(end);
        let rest = &mut near[start..];
        rest.copy_from_slice(&one[start - last..end - last]);
        let overlap = far.len().min(rest.len());
        if start + p < end + far.len() {
            let from = start + p - end;
            let cells = overlap.min(far.len() - from);
            add(&mut rest[..cells], &far[from..from + cells]);
        }
        end = start;
    }
}
