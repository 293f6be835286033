//! The water of many candidates in one season, composed of passes.
//!
//! A season's depth is the sum of its passes' depths, and a pass at given stops and hours lays the
//! same depth whatever rotation it belongs to. So each distinct pass is laid once and each
//! candidate adds up its own: stops × passes to lay instead of candidates × passes. Footprints are
//! made once for all passes with the same number, whatever their edges and clock. The field is
//! folded along the pipe as in `seasons`, where depth repeats.
//!
//! Exact but where small cells are looked at in fewer places (`season::thinning`): the same sums in another
//! order. Candidates go through in portions, so that memory does
//! not grow with their number.

use crate::grid::DepthGrid;
use crate::lateral::Side;
use crate::model::Region;
use crate::overlay::PipeOnGrid;
use crate::schedule::PassPlan;
use crate::season::SeasonError;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::Layout;
use crate::season::prepare::Footprints;
use crate::season::thinning::Thinning;
use crate::seasons::between::{Read, ReadingRoom, read};
use crate::seasons::compact::CompactField;
use crate::seasons::weighted::WeightedRegion;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::ops::Range;

/// Figures of one candidate's water in one season, fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// CU of the interior.
    pub cu: f64,
    /// DUlq of the interior.
    pub du_lq: f64,
    /// DUlq of the whole field; `None` where it was not taken.
    pub du_lq_whole: Option<f64>,
}

/// Distinct passes held at a time: bounds memory, and changes no digit.
const MOST_PASSES: usize = 128;

/// Water of the candidates `layouts` in the season of `footprints`, in their order. `interior` is where
/// interior figures are taken.
pub(super) fn season(
    layouts: &[&Layout<'_>],
    footprints: Footprints<'_>,
    interior: &Region,
) -> Result<Vec<Water>, SeasonError> {
    let mut found: Vec<Option<Water>> = vec![None; layouts.len()];
    for members in by_machine(layouts) {
        let own: Vec<&Layout<'_>> = members.iter().map(|member| layouts[*member]).collect();
        let passes = Passes::of(&own);
        let laid = passes.footprints(own[0], footprints)?;
        let ground = Ground::of(own[0], &passes, &laid, interior);
        for portion in passes.portions() {
            let depths = passes.depths(own[0], &ground, &laid, &portion);
            let waters: Vec<Water> = portion
                .clone()
                .into_par_iter()
                .map(|candidate| {
                    ground.water(passes.of_candidate[candidate].iter().map(|pass| &depths[pass]))
                })
                .collect();
            for (candidate, water) in portion.zip(waters) {
                found[members[candidate]] = Some(water);
            }
        }
    }
    let dry = Water { cu: f64::NAN, du_lq: f64::NAN, du_lq_whole: None };
    Ok(found.into_iter().map(|water| water.unwrap_or(dry)).collect())
}

/// Candidates whose sprinklers stand alike on the pipe, by place in `layouts`.
fn by_machine(layouts: &[&Layout<'_>]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (at, layout) in layouts.iter().enumerate() {
        let alike = |group: &&mut Vec<usize>| {
            let other = layouts[group[0]].alternative;
            let own = layout.alternative;
            // Spacings apart share no hours: together they would only hold more memory.
            other.lateral == own.lateral
                && layouts[group[0]].thinning == layout.thinning
                && other.discharges == own.discharges
                && other.outlets.spacing_m == own.outlets.spacing_m
                // The roll of a stop at part of a turn counts from there.
                && other.outlets.first_m == own.outlets.first_m
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.push(at),
            None => groups.push(vec![at]),
        }
    }
    groups
}

/// The distinct passes of a group of candidates.
struct Passes {
    /// Sets of passes with the same number and shift along the pipe, one after another.
    bundles: Vec<PassPlan>,
    /// Where each distinct pass lies: bundle, and its sets there.
    places: Vec<(usize, Range<usize>)>,
    /// Per candidate, its passes in order.
    of_candidate: Vec<Vec<usize>>,
}

impl Passes {
    fn of(layouts: &[&Layout<'_>]) -> Self {
        let mut passes = Self { bundles: Vec::new(), places: Vec::new(), of_candidate: Vec::new() };
        let (mut known, mut bundles) = (BTreeMap::new(), BTreeMap::new());
        for layout in layouts {
            let mut own = Vec::new();
            for (number, pass) in layout.plan.passes.iter().enumerate() {
                let next = passes.places.len();
                let at = *known.entry(key(pass)).or_insert(next);
                if at == next {
                    let bundle_key = (number, pass.shift.along_m.to_bits());
                    let bundle = *bundles.entry(bundle_key).or_insert(passes.bundles.len());
                    passes.put(bundle, pass);
                }
                own.push(at);
            }
            passes.of_candidate.push(own);
        }
        passes
    }

    fn put(&mut self, bundle: usize, pass: &PassPlan) {
        if bundle == self.bundles.len() {
            self.bundles.push(PassPlan { sets: Vec::new(), ..pass.clone() });
        }
        let sets = &mut self.bundles[bundle].sets;
        let first = sets.len();
        sets.extend_from_slice(&pass.sets);
        self.places.push((bundle, first..sets.len()));
    }

    /// The footprints of every bundle.
    fn footprints(
        &self,
        any: &Layout<'_>,
        footprints: Footprints<'_>,
    ) -> Result<Vec<LaidPass>, SeasonError> {
        let mut all = any.clone();
        all.index = 0;
        all.plan.passes.clone_from(&self.bundles);
        let bundles = (0..self.bundles.len()).into_par_iter();
        let laid: Vec<_> = bundles.map(|bundle| footprints.of_pass(&[&all], bundle)).collect();
        // Of several failures the first is told, whichever thread met it.
        laid.into_iter().collect()
    }

    /// Runs of candidates that share few enough passes.
    fn portions(&self) -> Vec<Range<usize>> {
        let mut portions = Vec::new();
        let (mut first, mut held) = (0, std::collections::BTreeSet::new());
        for (candidate, passes) in self.of_candidate.iter().enumerate() {
            let new = passes.iter().filter(|pass| !held.contains(*pass)).count();
            if candidate > first && held.len() + new > MOST_PASSES {
                portions.push(first..candidate);
                first = candidate;
                held.clear();
            }
            held.extend(passes.iter().copied());
        }
        portions.push(first..self.of_candidate.len());
        portions
    }

    /// Depths of the passes of `portion` on the folded field, mm.
    fn depths(
        &self,
        any: &Layout<'_>,
        ground: &Ground,
        laid: &[LaidPass],
        portion: &Range<usize>,
    ) -> BTreeMap<usize, DepthGrid> {
        let mut wanted: Vec<usize> =
            self.of_candidate[portion.clone()].iter().flatten().copied().collect();
        wanted.sort_unstable();
        wanted.dedup();
        let mut own = any.clone();
        own.index = 0;
        wanted
            .into_par_iter()
            .map(|pass| {
                let (bundle, sets) = &self.places[pass];
                let plan = &self.bundles[*bundle];
                let placed = own.laid(plan, &plan.sets[sets.clone()], (sets.start, &laid[*bundle]));
                let (mut depth_mm, mut sum_mm) = (ground.zeros.clone(), ground.zeros.clone());
                let pipe = ground.compact.pipe(own.pipe(plan));
                own.lay(&ground.grid, pipe, &placed, &mut depth_mm, &mut sum_mm);
                (pass, depth_mm)
            })
            .collect()
    }
}

fn key(pass: &PassPlan) -> Vec<u64> {
    let mut bits = vec![pass.shift.along_m.to_bits()];
    for set in &pass.sets {
        bits.extend([u64::from(set.side == Side::Left), set.shift.along_m.to_bits()]);
        bits.extend([set.place_across_m, set.start_h, set.end_h].map(f64::to_bits));
    }
    bits
}

/// The folded field and where figures are taken.
struct Ground {
    compact: CompactField,
    grid: crate::grid::Grid,
    zeros: DepthGrid,
    interior: WeightedRegion,
    whole: WeightedRegion,
}

impl Ground {
    fn of(any: &Layout<'_>, passes: &Passes, laid: &[LaidPass], interior: &Region) -> Self {
        let (first, last) = any.first_columns(&passes.bundles);
        let footprints = laid.iter().flat_map(LaidPass::footprints);
        let reach = footprints.map(|footprint| {
            let end = footprint.first_column + footprint.values.ncols() as isize;
            footprint.first_column.unsigned_abs().max(end.unsigned_abs())
        });
        let reach = reach.max().unwrap_or(0) + (last - first) as usize;
        let pipe = passes
            .bundles
            .first()
            .map_or(PipeOnGrid { first_column: 0, spacing_cells: 1, sprinklers: 0 }, |pass| {
                any.pipe(pass)
            });
        let pipe = PipeOnGrid { first_column: first, ..pipe };
        let compact = CompactField::new((&any.field.grid, any.thinning), pipe, reach, any.repeat());
        let grid = compact.grid(&any.grid);
        Self {
            compact,
            zeros: grid.zeros(),
            grid,
            interior: WeightedRegion::of(interior, &compact.on_cells()),
            whole: WeightedRegion::of(&any.field.whole(), &compact.on_cells()),
        }
    }

    /// Figures of the sum of `passes`, added in order.
    fn water<'a>(&self, passes: impl Iterator<Item = &'a DepthGrid>) -> Water {
        let mut season_mm = self.zeros.clone();
        for pass_mm in passes {
            season_mm += pass_mm;
        }
        if self.compact.thinning() != Thinning::NONE {
            let places_mm = std::mem::replace(&mut season_mm, DepthGrid::zeros((0, 0)));
            let mut room = ReadingRoom::default();
            read(&places_mm, &self.compact, Read::Depths, &mut season_mm, &mut room);
        }
        let (cu, du_lq) = self.interior.cu_and_du_lq(&season_mm);
        let (_, whole) = self.whole.cu_and_du_lq(&season_mm);
        Water { cu, du_lq, du_lq_whole: (!whole.is_nan()).then_some(whole) }
    }
}
