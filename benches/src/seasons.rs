//! How the cost of many seasons, with soil and crop, grows with their number.

use crate::Fault;
use crate::nearest_wind::on_cells_of_a_foot;
use crate::pressure::with_pipe;
use crate::report::{Section, judged, within};
use crate::timing::{Contestant, Times, by_turns, clock, short};
use evenfall_core::boundary::Boundary;
use evenfall_core::model::Scenario;
use evenfall_core::season::RunControl;
use evenfall_core::worth::{self, Agronomy, Economics};

/// Seasons of the three sizes; the last is the one with a target.
const SIZES: [usize; 3] = [8, 40, 200];
/// Target for the last size on 2 cores, s.
const MOST_S: f64 = 4.7;

/// Measures on all cores, each size once: the largest takes the better part of a minute.
///
/// # Errors
/// If the seasons cannot be run.
pub fn measure(
    demo: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
) -> Result<Section, Fault> {
    let mut rows = Vec::new();
    for seasons in SIZES {
        let economics = Economics { seasons, ..economics.clone() };
        let mut found = None;
        let seconds = clock(1, || {
            found = Some(worth::run(demo, agronomy, &economics, RunControl::default()));
        });
        found.ok_or("not run")??;
        let target =
            if seasons == SIZES[2] { within(seconds, MOST_S, "s") } else { "none".to_owned() };
        rows.push(vec![
            seasons.to_string(),
            format!("{} s", short(seconds)),
            format!("{} ms", short(1000.0 * seconds / seasons as f64)),
            target,
        ]);
    }
    Ok(Section {
        title: "Many seasons, soil and crop",
        notes: vec![
            "`worth::run` of the demo (three alternatives, 12 passes, 660 × 660 cells, a root zone \
             in every cell every day, all doubts drawn anew for every two seasons) on all cores, without \
             the report. The target is a tenth of what it took before hours were laid by the nearest wind."
                .to_owned(),
        ],
        heads: &["seasons", "time", "per season", "target"],
        rows,
    })
}

/// Seasons of the comparisons beside.
const FEW: usize = 16;
/// How often each of these is run.
const ROUNDS: usize = 5;
/// Target: how many times as fast as one two threads are.
const LEAST_BY_TWO: f64 = 1.9;
/// The same for sixteen.
const LEAST_BY_SIXTEEN: f64 = 12.0;
/// Target: how many times as long as the folded demo a field takes that cannot be folded.
const MOST_UNFOLDED: f64 = 3.0;

/// The same seasons on one thread, two and so on up to all cores, by turns.
///
/// # Errors
/// If the seasons cannot be run.
pub fn by_threads(
    demo: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
) -> Result<Section, Fault> {
    let cores = std::thread::available_parallelism()?.get();
    let counts = (1..=cores).filter(|threads| threads.is_power_of_two() || *threads == cores);
    let pool = |threads| rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    let pools = counts.map(pool).collect::<Result<Vec<_>, _>>()?;
    let mut runs: Vec<_> = pools
        .iter()
        .map(|pool| {
            // A fault may not cross threads: it comes out as words.
            let timed = || timed(demo, agronomy, economics).map_err(|fault| fault.to_string());
            move || Ok(pool.install(timed)?)
        })
        .collect();
    let mut contestants: Vec<Contestant<'_>> = Vec::new();
    for run in &mut runs {
        contestants.push(run);
    }
    let times = by_turns(ROUNDS, &mut contestants)?;
    let alone_s = times.first().map_or(f64::NAN, Times::median);
    let row = |(pool, times): (&rayon::ThreadPool, &Times)| {
        let threads = pool.current_num_threads().to_string();
        let ratio = alone_s / times.median();
        let target = match pool.current_num_threads() {
            2 => judged(ratio, LEAST_BY_TWO),
            16 => judged(ratio, LEAST_BY_SIXTEEN),
            _ => "none".to_owned(),
        };
        vec![threads, times.to_string(), short(ratio), target]
    };
    Ok(Section {
        title: "Many seasons by threads",
        notes: vec![format!("`worth::run` of the demo, {FEW} seasons.")],
        heads: &["threads", "time", "times as fast as one", "target"],
        rows: pools.iter().zip(&times).map(row).collect(),
    })
}

/// Seasons of fields that do not come again along the pipe, or have more cells, by turns with the demo's.
///
/// # Errors
/// If the seasons cannot be run.
pub fn other_fields(
    demo: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
) -> Result<Section, Fault> {
    let mut bounded = demo.clone();
    let grid = bounded.field.grid;
    let (along_m, across_m) = (grid.length_along_m(), grid.width_across_m());
    // All of the field: what differs is only that it is not folded.
    let ring = vec![[0.0, 0.0], [along_m, 0.0], [along_m, across_m], [0.0, across_m]];
    bounded.field.boundary = Boundary::new(vec![ring], &grid);
    let piped = with_pipe(demo, 3.9)?;
    let of_a_foot = on_cells_of_a_foot(demo);
    let names = [
        ("the demo, which is folded", None),
        ("with a boundary round all of it", Some(MOST_UNFOLDED)),
        ("with pressure along 4-in pipe", Some(MOST_UNFOLDED)),
        ("on cells of a foot, four times as many", None),
    ];
    let mut runs =
        [demo, &bounded, &piped, &of_a_foot].map(|field| || timed(field, agronomy, economics));
    let mut contestants: Vec<Contestant<'_>> = Vec::new();
    for run in &mut runs {
        contestants.push(run);
    }
    let times = by_turns(ROUNDS, &mut contestants)?;
    let folded_s = times.first().map_or(f64::NAN, Times::median);
    let row = |((name, most), times): ((&str, Option<f64>), &Times)| {
        let ratio = times.median() / folded_s;
        vec![
            name.to_owned(),
            times.to_string(),
            short(ratio),
            most.map_or_else(|| "none".to_owned(), |most| within(ratio, most, "times")),
        ]
    };
    Ok(Section {
        title: "Other fields",
        notes: vec![format!("`worth::run`, {FEW} seasons on all cores.")],
        heads: &["field", "time", "against the demo", "target"],
        rows: names.into_iter().zip(&times).map(row).collect(),
    })
}

/// Time of a few seasons, s.
fn timed(scenario: &Scenario, agronomy: &Agronomy, economics: &Economics) -> Result<f64, Fault> {
    let economics = Economics { seasons: FEW, ..economics.clone() };
    let mut found = None;
    let seconds = clock(1, || {
        found = Some(worth::run(scenario, agronomy, &economics, RunControl::default()));
    });
    found.ok_or("not run")??;
    Ok(seconds)
}
