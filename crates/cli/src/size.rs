//! What a command takes of the machine, told before it begins: memory by the explorer's formula, time by
//! rates that were measured. What the machine does not have is refused with the key to change.

use crate::failure::Failure;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season;
use evenfall_core::units::M_PER_FT;
use evenfall_explorer::{season_mb, sets_mb, worth_mb};
use std::fs;
use std::path::Path;

/// What the program takes beside the grids, MB: landing maps, fonts, pictures while they are drawn.
const BESIDE_MB: usize = 150;
/// Seasons of one alternative a second on 2 cores, per million cells and passes, with hours in their
/// nearest wind: measured on the demo, 2026.
const RATE: f64 = 450.0;
/// Times as long with every hour in its own wind; measured.
const OWN_WIND: f64 = 10.0;

/// What is to be computed.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Work {
    /// The plans of all alternatives.
    Plans,
    /// One season of each alternative.
    Season,
    /// Many seasons with soil and crop.
    Seasons,
}

/// What `work` on `scenario` needs, MB.
fn needed_mb(scenario: &Scenario, work: Work) -> usize {
    BESIDE_MB
        + match work {
            Work::Plans => sets_mb(scenario),
            Work::Season => season_mb(scenario),
            Work::Seasons => worth_mb(scenario),
        }
}

/// Refuses what this machine has no memory for.
pub(crate) fn check(scenario: &Scenario, work: Work) -> Result<(), Failure> {
    match beyond(scenario, work, free_mb()) {
        Some(words) => Err(Failure::Season(words)),
        None => Ok(()),
    }
}

/// Why it is too much, and what to change; nothing where it is not, or where nobody knows.
fn beyond(scenario: &Scenario, work: Work, free_mb: Option<usize>) -> Option<String> {
    let (needed_mb, free_mb) = (needed_mb(scenario, work), free_mb?);
    if needed_mb <= free_mb {
        return None;
    }
    let sets_mb = sets_mb(scenario);
    if 2 * (BESIDE_MB + sets_mb) > free_mb && 4 * sets_mb > needed_mb {
        return Some(format!(
            "this needs about {needed_mb} MB of memory, and the machine has {free_mb} MB free: its sets \
             alone take {sets_mb} MB. Set `passes` in `season` to fewer (or `until` to an earlier day), or \
             compare fewer alternatives"
        ));
    }
    let grid = scenario.field.grid;
    // What sets take no cell makes less.
    let beside_mb = BESIDE_MB + sets_mb;
    let room = free_mb.saturating_sub(beside_mb).max(1) as f64;
    let wide_m = grid.cell_m * ((needed_mb - beside_mb) as f64 / room).sqrt();
    // Cells go into the sprinkler spacing a whole number of times, so one between two such is not had.
    let spacing_m =
        scenario.alternatives.first().map_or(0.0, |own| own.lateral.sprinkler_spacing_m);
    let cells = (spacing_m / wide_m).floor();
    let wide_m = if cells >= 1.0 { spacing_m / cells } else { wide_m };
    let alternatives = scenario.alternatives.len();
    Some(format!(
        "this needs about {needed_mb} MB of memory, and the machine has {free_mb} MB free: \
         {:.1} million cells of {:.2} m, {alternatives} alternative{}. Set `cell` in `field` to \
         \"{:.1} ft\" ({wide_m:.2} m) or more, or compare fewer alternatives",
        (grid.cells_along * grid.cells_across) as f64 / 1e6,
        grid.cell_m,
        if alternatives == 1 { "" } else { "s" },
        (wide_m / M_PER_FT * 10.0).ceil() / 10.0,
    ))
}

/// The plans of all alternatives, where the machine has the memory for them.
pub(crate) fn plans(scenario: &Scenario) -> Result<Vec<Plan>, Failure> {
    check(scenario, Work::Plans)?;
    Ok(season::plans(scenario)?)
}

/// What `evenfall check` says of the size, a line, and a warning where it is too much.
pub(crate) fn told(scenario: &Scenario) -> Vec<String> {
    let plans = season::plans(scenario).unwrap_or_default();
    let passes: usize = plans.iter().map(|plan| plan.passes.len()).sum();
    let grid = scenario.field.grid;
    let million = (grid.cells_along * grid.cells_across) as f64 / 1e6;
    let season_s = OWN_WIND * million * passes as f64 / RATE;
    let mut lines = vec![format!(
        "Size: {million:.2} million cells; a season takes about {} MB and {} on 2 cores, many seasons \
         about {} MB",
        needed_mb(scenario, Work::Season),
        time(season_s),
        needed_mb(scenario, Work::Seasons),
    )];
    lines.extend(beyond(scenario, Work::Season, free_mb()).map(|words| format!("Note: {words}")));
    lines
}

fn time(seconds: f64) -> String {
    match seconds {
        s if s < 1.5 => "a second".to_owned(),
        s if s < 90.0 => format!("{s:.0} s"),
        s if s < 5400.0 => format!("{:.0} min", s / 60.0),
        s => format!("{:.1} h", s / 3600.0),
    }
}

/// Memory that is free, MB: the machine's, or what is left of this program's share where it has one;
/// nothing where the system does not say.
fn free_mb() -> Option<usize> {
    let machine = fs::read_to_string("/proc/meminfo").ok().and_then(|text| {
        let line = text.lines().find_map(|line| line.strip_prefix("MemAvailable:"))?;
        Some(line.trim().strip_suffix("kB")?.trim().parse::<usize>().ok()? / 1000)
    })?;
    let shares = shares().into_iter().chain(addresses()).map(|bytes| bytes / 1_000_000);
    Some(shares.fold(machine, usize::min))
}

/// What is left of the shares of the groups that this program runs in, innermost first, bytes: of a job's
/// and of a container's.
fn shares() -> Vec<usize> {
    let groups = fs::read_to_string("/proc/self/cgroup").unwrap_or_default();
    let own = groups.lines().find_map(|line| line.strip_prefix("0::/")).unwrap_or("").to_owned();
    let left = |group: &Path| {
        let read = |name: &str| -> Option<usize> {
            let text = fs::read_to_string(Path::new("/sys/fs/cgroup").join(group).join(name));
            text.ok()?.trim().parse().ok()
        };
        read("memory.max").map(|most| most - read("memory.current").unwrap_or(0).min(most))
    };
    Path::new(&own).ancestors().filter_map(left).collect()
}

/// What is left of the addresses that this program may use (`ulimit -v`), bytes, where they are limited.
fn addresses() -> Option<usize> {
    let limits = fs::read_to_string("/proc/self/limits").ok()?;
    let line = limits.lines().find_map(|line| line.strip_prefix("Max address space"))?;
    let most: usize = line.split_whitespace().next()?.parse().ok()?;
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let used = status.lines().find_map(|line| line.strip_prefix("VmSize:"))?;
    let used: usize = used.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(most.saturating_sub(1024 * used))
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::schedule::SeasonLength;

    fn demo(cell: &str) -> Scenario {
        let text = evenfall_scenario::demo().replace("\"2 ft\"", &format!("\"{cell}\""));
        evenfall_scenario::resolve(&text, &|_| Err(String::new())).unwrap().scenario
    }

    #[test]
    fn closed_what_the_machine_does_not_have_is_refused_with_the_key_to_change() {
        let (fine, needed_mb) = (demo("0.5 ft"), needed_mb(&demo("0.5 ft"), Work::Season));
        assert_eq!(beyond(&fine, Work::Season, Some(needed_mb)), None);
        assert_eq!(beyond(&fine, Work::Season, None), None);
        let words = beyond(&fine, Work::Season, Some(needed_mb / 2)).unwrap();
        assert!(words.contains("Set `cell` in `field` to \"0."), "{words}");
        // What is advised fits.
        let advised = words.split('"').nth(1).unwrap();
        assert_eq!(beyond(&demo(advised), Work::Season, Some(needed_mb / 2)), None, "{advised}");
        assert!(beyond(&fine, Work::Seasons, Some(needed_mb)).is_some());
    }

    #[test]
    fn closed_more_sets_than_the_machine_can_plan_are_told_by_their_own_key() {
        let mut many = demo("2 ft");
        many.alternatives = vec![many.alternatives[0].clone(); 60];
        many.calendar.length = SeasonLength::Passes(2000);
        // 60 alternatives of 22 outlets, 2000 times: 2.6 million sets.
        assert_eq!(sets_mb(&many), 2112);
        let words = beyond(&many, Work::Plans, Some(2000)).unwrap();
        assert!(words.contains("Set `passes` in `season`"), "{words}");
        for work in [Work::Season, Work::Seasons] {
            assert!(beyond(&many, work, Some(2000)).unwrap().contains("`passes`"));
        }
        // Where cells take most, they are told of.
        many.calendar.length = SeasonLength::Passes(100);
        let words = beyond(&many, Work::Seasons, Some(2000)).unwrap();
        let advised = words.split('"').nth(1).unwrap();
        many.field.grid = demo(advised).field.grid;
        assert_eq!(beyond(&many, Work::Seasons, Some(2000)), None, "{words}");
        many.calendar.length = SeasonLength::Passes(2000);
        assert_eq!(beyond(&many, Work::Plans, Some(3000)), None);
    }
}
