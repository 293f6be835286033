//! What judges the overlay: adding one footprint per sprinkler and set, cell by cell.

use super::*;
use crate::grid::{DepthGrid, Grid};
use crate::sprinkler::footprint::Footprint;
use ndarray::Array2;
use proptest::prelude::*;

/// Adds every sprinkler's footprint cell by cell.
fn plain(grid: &Grid, pipe: PipeOnGrid, sets: &[LaidSet<'_>]) -> DepthGrid {
    let mut depth = grid.zeros();
    for set in sets {
        for sprinkler in 0..pipe.sprinklers {
            let column = pipe.first_column + (sprinkler * pipe.spacing_cells) as isize;
            for ((r, c), value) in set.footprint.values.indexed_iter() {
                let row = set.row + set.footprint.first_row + r as isize;
                let column = column + set.footprint.first_column + c as isize;
                if (0..grid.cells_across as isize).contains(&row)
                    && (0..grid.cells_along as isize).contains(&column)
                {
                    depth[(row as usize, column as usize)] += value;
                }
            }
        }
    }
    depth
}

fn footprint(rows: usize, columns: usize, first: (isize, isize), seed: u64) -> Footprint {
    let value = |(r, c): (usize, usize)| ((r * 7 + c * 13 + seed as usize * 5) % 11) as f64 * 0.5;
    let values = Array2::from_shape_fn((rows, columns), value);
    Footprint { first_row: first.0, first_column: first.1, values }
}

fn laid(grid: &Grid, pipe: PipeOnGrid, sets: &[LaidSet<'_>]) -> (DepthGrid, f64) {
    let (mut pass, mut cumulative) = (grid.zeros(), grid.zeros());
    pass.fill(99.0);
    let sum = lay(grid, pipe, sets, &mut pass, &mut cumulative);
    assert_eq!(pass, cumulative, "a first pass is the cumulative depth");
    (pass, sum)
}

proptest! {
    #[test]
    fn reference_recursion_equals_adding_every_footprint(
        (rows, columns) in (1usize..12, 1usize..40), (spacing, sprinklers) in (1usize..15, 1usize..9),
        first_column in -20isize..40, (row_a, row_b) in (-6isize..30, -6isize..30),
        first in (-8isize..3, -15isize..4), seed in 0u64..1000
    ) {
        let grid = Grid { cells_along: 50, cells_across: 24, cell_m: 0.6 };
        let (a, b) = (footprint(rows, columns, first, seed), footprint(rows + 2, 9, (-3, -4), seed + 1));
        let sets = [LaidSet { footprint: &a, row: row_a, column: 0 }, LaidSet { footprint: &b, row: row_b, column: 0 }];
        let pipe = PipeOnGrid { first_column, spacing_cells: spacing, sprinklers };
        let (depth, sum) = laid(&grid, pipe, &sets);
        let plain = plain(&grid, pipe, &sets);
        prop_assert!((&depth - &plain).iter().all(|miss| miss.abs() < 1e-9));
        prop_assert!(depth.iter().all(|x| *x >= 0.0));
        prop_assert!((sum - plain.sum()).abs() < 1e-9 * (1.0 + plain.sum()));
        let laid: f64 = sets.iter().map(|set| set.footprint.values.sum()).sum();
        let outside: f64 = sets.iter().map(|set| off_grid(&grid, pipe, set)).sum();
        prop_assert!((laid * sprinklers as f64 - outside - sum).abs() < 1e-9 * (1.0 + laid));
    }
}

proptest! {
    #[test]
    fn reference_own_portions_equal_adding_every_sprinkler(
        (rows, columns) in (1usize..12, 1usize..60), (spacing, sprinklers) in (1usize..45, 1usize..9),
        first_column in -20isize..40, (row_a, row_b) in (-6isize..30, -6isize..30),
        first in (-8isize..3, -15isize..4), count in 1usize..4, seed in 0u64..1000
    ) {
        let grid = Grid { cells_along: 50, cells_across: 24, cell_m: 0.6 };
        let pipe = PipeOnGrid { first_column, spacing_cells: spacing, sprinklers };
        let footprints: Vec<[Footprint; 2]> = (0..count as u64)
            .map(|node| [
                footprint(rows, columns, first, seed + node),
                footprint(rows + 2, 9, (-3, -4), seed + 7 * node),
            ])
            .collect();
        // Some lay nothing of a node.
        let portions: Vec<Vec<f64>> = (0..count)
            .map(|node| (0..sprinklers).map(|j| ((j + 2 * node + seed as usize) % 4) as f64).collect())
            .collect();
        let nodes: Vec<NodeSets<'_>> = footprints
            .iter()
            .zip(&portions)
            .map(|([a, b], portions)| NodeSets {
                portions,
                sets: vec![
                    LaidSet { footprint: a, row: row_a, column: 0 },
                    LaidSet { footprint: b, row: row_b, column: 2 },
                ],
            })
            .collect();
        let mut wanted = grid.zeros();
        let (mut laid, mut outside) = (0.0, 0.0);
        for node in &nodes {
            for (j, portion) in node.portions.iter().enumerate() {
                let first_column = first_column + (j * spacing) as isize;
                for set in &node.sets {
                    let first_column = first_column + set.column;
                    let alone = PipeOnGrid { first_column, sprinklers: 1, ..pipe };
                    wanted.scaled_add(*portion, &plain(&grid, alone, &[*set]));
                    laid += portion * set.footprint.values.sum();
                }
            }
            let beside = node.sets.iter().map(|set| off_grid_each(&grid, pipe, set, node.portions));
            outside += beside.sum::<f64>();
        }
        let (mut pass, mut cumulative) = (grid.zeros(), grid.zeros());
        pass.fill(99.0);
        let sum = lay_each(&grid, pipe, &nodes, &mut pass, &mut cumulative);
        prop_assert_eq!(&pass, &cumulative);
        prop_assert!((&pass - &wanted).iter().all(|miss| miss.abs() < 1e-9));
        prop_assert!(pass.iter().all(|x| *x >= 0.0));
        prop_assert!((laid - outside - sum).abs() < 1e-9 * (1.0 + laid));
        // The same by a few rows at a time.
        let mut windowed = grid.zeros();
        windowed.fill(99.0);
        let mut scratch = RowScratch::new(pipe, nodes.iter().flat_map(|node| &node.sets));
        for (at, depths) in windowed.as_slice_mut().unwrap().chunks_mut(3 * 50).enumerate() {
            let (laying, rows) = (Laying::Each(&nodes), 3 * at..3 * at + 3);
            scratch.lay((pipe, laying, Onto::Nothing), rows.clone(), (&mut *depths, 50));
            let written = depths.to_vec();
            scratch.lay((pipe, laying, Onto::Depths), rows, (&mut *depths, 50));
            let twice: Vec<f64> = written.iter().map(|depth| depth + depth).collect();
            prop_assert_eq!(&*depths, &twice[..]);
            depths.copy_from_slice(&written);
        }
        prop_assert_eq!(&pass, &windowed);
    }
}

#[test]
fn invariant_one_and_two_threads_give_the_same_bits() {
    let grid = Grid { cells_along: 330, cells_across: 200, cell_m: 0.6 };
    let footprints: Vec<Footprint> = (0..12).map(|i| footprint(40, 45, (-20, -22), i)).collect();
    let pipe = PipeOnGrid { first_column: 10, spacing_cells: 20, sprinklers: 16 };
    let sets: Vec<LaidSet<'_>> = footprints
        .iter()
        .enumerate()
        .map(|(i, footprint)| LaidSet { footprint, row: 10 + 17 * i as isize, column: 0 })
        .collect();
    let run = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| laid(&grid, pipe, &sets))
    };
    let (one, two) = (run(1), run(2));
    assert_eq!(one.0, two.0);
    assert_eq!(one.1.to_bits(), two.1.to_bits());
}

#[test]
fn invariant_two_passes_half_a_spacing_apart_equal_one_at_half_the_spacing() {
    // Exact in still air: sets at rows 0, 30, 60 … plus sets at 15, 45 … are sets every 15 rows.
    let grid = Grid { cells_along: 120, cells_across: 120, cell_m: 0.6 };
    let one = footprint(41, 43, (-20, -21), 3);
    let pipe = PipeOnGrid { first_column: 5, spacing_cells: 20, sprinklers: 6 };
    let sets = |from: isize, step: usize, to: isize| -> Vec<LaidSet<'_>> {
        (from..to).step_by(step).map(|row| LaidSet { footprint: &one, row, column: 0 }).collect()
    };
    let (mut pass, mut season) = (grid.zeros(), grid.zeros());
    lay(&grid, pipe, &sets(0, 30, 150), &mut pass, &mut season);
    lay(&grid, pipe, &sets(15, 30, 150), &mut pass, &mut season);
    let (closer, _) = laid(&grid, pipe, &sets(0, 15, 150));
    assert!((&season - &closer).iter().all(|miss| miss.abs() < 1e-12));
}
