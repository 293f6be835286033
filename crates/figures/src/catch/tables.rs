//! The tables that hold a row a test.

use super::book::{CatchBook, CatchEntry, depth, kind_word, rate_symbol, wind_words};
use super::{calibration, judged};
use crate::table::{Row, Table};
use evenfall_core::catch::fit::{K1Fit, K1Found};
use evenfall_core::catch::judge::Against;
use evenfall_core::catch::procedure::State;
use evenfall_core::ensemble::Interval;
use evenfall_view::units::{Quantity, UnitSystem, number};

/// All tables with a row a test that have rows.
pub(super) fn of_tests(book: &CatchBook) -> Vec<Table> {
    let calibrations = [calibration::doubts(book), calibration::tests(book)];
    let all = [tests(book), overlaps(book), fits(book), comparisons(book)];
    let all = all.into_iter().chain(calibrations);
    all.filter(|table| table.groups.iter().any(|g| !g.rows.is_empty())).collect()
}

/// Percent with its limits, "84.2 (80.1–87.5)".
pub(super) fn percent_in(value: f64, interval: Option<Interval>) -> String {
    let one = |fraction: f64| number(100.0 * fraction, 1);
    match interval {
        Some(i) => format!("{} ({}–{})", one(value), one(i.low), one(i.high)),
        None => one(value),
    }
}

fn level_words(book: &CatchBook) -> String {
    format!("{} %", number(100.0 * book.level, 0))
}

fn tests(book: &CatchBook) -> Table {
    let units = book.units;
    let mean = format!("mean {}", units.symbol(Quantity::Depth));
    let head = [
        "test",
        "cans around",
        "wind",
        "cans",
        &mean,
        "CU %",
        "DUlq %",
        "caught %",
        "to check",
        "rules met/not/?",
    ];
    let rows = book.entries.iter().map(|entry| {
        let depths = entry.test.depths_mm();
        let mean_mm = depths.iter().sum::<f64>() / depths.len().max(1) as f64;
        let count = match entry.test.missing() {
            0 => depths.len().to_string(),
            missing => format!("{} (+{missing} missing)", depths.len()),
        };
        let (cu, du) = match &entry.limits {
            Some(l) => (percent_in(l.figures.cu, l.cu), percent_in(l.figures.du_lq, l.du_lq)),
            None => ("–".to_owned(), "–".to_owned()),
        };
        let caught = entry.volume.map_or_else(|| "–".to_owned(), |v| number(100.0 * v.ratio(), 1));
        Row::new(
            &entry.test.title,
            vec![
                kind_word(&entry.test.kind).to_owned(),
                wind_words(&entry.test, units),
                count,
                depth(units, mean_mm),
                cu,
                du,
                caught,
                entry.outliers.len().to_string(),
                met(entry),
            ],
        )
    });
    let note = format!(
        "In brackets: {} confidence intervals by the jackknife, as if the cans stood at random. They \
         say how well these cans show this patch of ground on this day, and nothing about another \
         place, day or wind. Caught: water in the cans, in % of what one sprinkler delivered; the rest \
         drifted, evaporated, splashed or was misread. To check: cans that do not fit their neighbors \
         (modified z score of Iglewicz & Hoaglin 1993 over 3.5); none is left out.",
        level_words(book)
    );
    Table::new("Tests", &head).with_rows(rows.collect()).with_note(&note)
}

fn met(entry: &CatchEntry) -> String {
    let count = |state: State| entry.requirements.iter().filter(|r| r.state == state).count();
    format!("{}/{}/{}", count(State::Met), count(State::NotMet), count(State::Unknown))
}

fn overlaps(book: &CatchBook) -> Table {
    let units = book.units;
    let mean = format!("mean {}", units.symbol(Quantity::Depth));
    let head = ["test", "overlapped", "CU %", "DUlq %", &mean, "lowest", "highest", "on cans"];
    let mut rows = Vec::new();
    for entry in &book.entries {
        for overlap in &entry.overlaps {
            let f = &overlap.overlapped.figures;
            let exact = if overlap.overlapped.exact { "exactly" } else { "between" };
            rows.push(Row::new(
                &entry.test.title,
                vec![
                    overlap.words.clone(),
                    percent_in(f.cu, None),
                    percent_in(f.du_lq, None),
                    depth(units, f.mean_depth_mm),
                    depth(units, f.lowest_depth_mm),
                    depth(units, f.highest_depth_mm),
                    exact.to_owned(),
                ],
            ));
        }
    }
    let note = "Mean of the passes of one whole rotation, with every sprinkler and set like the one tested, \
        in the same wind. “Exactly”: only cans were added up. “Between”: the spacing is not a whole number \
        of can spacings (or the test is a leg), so depths were interpolated.";
    Table::new("Overlapped", &head).with_rows(rows).with_note(note)
}

fn fits(book: &CatchBook) -> Table {
    let units = book.units;
    let rate = rate_symbol(units);
    let rms = format!("residual RMS {rate}");
    let radius = format!("radius {}", units.symbol(Quantity::Length));
    let head = ["test", "K1", "K1 determined?", &radius, &rms, "of mean %", "R²", "caught %"];
    let rows = book.entries.iter().filter_map(|entry| {
        let fit = entry.fit.as_ref()?;
        let caught = fit.volume.map_or_else(
            || "–".to_owned(),
            |v| {
                let share = |litres: f64| litres / v.delivered_l;
                let i = Interval {
                    low: share(fit.caught_l.low),
                    high: share(fit.caught_l.high),
                    ..fit.caught_l
                };
                percent_in(v.ratio(), Some(i))
            },
        );
        Some(Row::new(
            &entry.test.title,
            vec![
                fit.k1.as_ref().map_or_else(|| "–".to_owned(), k1_words),
                fit.k1.as_ref().map_or("not fitted", |k1| k1_found_words(k1.found)).to_owned(),
                number(units.shown(Quantity::Length, fit.leg.radius_m()), 1),
                number(units.shown(Quantity::Depth, fit.rms_mm_h), units.depth_decimals() + 1),
                number(100.0 * fit.rms_of_mean, 1),
                number(fit.r_squared, 3),
                caught,
            ],
        ))
    });
    let note = format!(
        "Least-squares fit (Levenberg–Marquardt) of a leg that is linear between knots and, in wind, of K1 in C(1 \
         + K1 sin β − K2 cos α); K2, turbulence and jet length are held fixed. In brackets: {} confidence intervals \
         with HC3 errors. They cover the scatter of the cans, not errors in the wind notes or the model.",
        level_words(book)
    );
    Table::new("Leg and K1 fitted", &head).with_rows(rows.collect()).with_note(&note)
}

pub(super) fn k1_words(k1: &K1Fit) -> String {
    match k1.interval {
        Some(i) => format!("{} ({}–{})", number(k1.k1, 2), number(i.low, 2), number(i.high, 2)),
        None => number(k1.k1, 2),
    }
}

pub(super) fn k1_found_words(found: K1Found) -> &'static str {
    match found {
        K1Found::Determined => "yes",
        K1Found::TooWide => "no: interval too wide",
        K1Found::AtEnd => "no: at the end of its range",
    }
}

fn comparisons(book: &CatchBook) -> Table {
    let units = book.units;
    let unit = units.symbol(Quantity::Depth);
    let (mean, rms) = (format!("mean {unit}"), format!("RMS {unit}"));
    let head = ["test", "", "CU %", "DUlq %", &mean, &rms, "pattern RMS %", "correlation", "model"];
    let mut rows = Vec::new();
    for entry in &book.entries {
        let Some(c) = &entry.comparison else { continue };
        // Figures are those of a pass; under one lateral the cans alone have none.
        let figures = |of: fn(&Against) -> f64| match &entry.judgment {
            Some(judgment) => {
                [&judgment.cu, &judgment.du_lq].map(|against| percent_in(of(against), None))
            }
            None => ["–", "–"].map(str::to_owned),
        };
        let ([cu, du], [cu_s, du_s]) = (figures(|a| a.measured), figures(|a| a.simulated));
        let mean = |mean_mm: f64| depth(units, mean_mm);
        let measured = mean(c.measured.figures.mean_depth_mm);
        let none = String::new;
        rows.push(Row::new(
            &entry.test.title,
            vec!["measured".to_owned(), cu, du, measured, none(), none(), none(), none()],
        ));
        rows.push(Row::new(
            "",
            vec![
                "simulated".to_owned(),
                cu_s,
                du_s,
                mean(c.simulated.mean_depth_mm),
                depth(units, c.rms_mm),
                number(100.0 * c.pattern_rms, 1),
                c.correlation.map_or_else(|| "–".to_owned(), |r| number(r, 2)),
                entry.judgment.as_ref().map_or("–", judged::word).to_owned(),
            ],
        ));
    }
    let note = "Simulated for the same cans in the wind noted that day. CU and DUlq are those of a pass: the cans \
        of one lateral are overlapped first, measured and simulated alike. RMS is of the differences can by can; \
        for the pattern RMS each is divided by its own mean first.";
    Table::new("Compared with the simulated pass", &head).with_rows(rows).with_note(note)
}

/// A rate in the shown unit, without it.
pub(super) fn rate(units: UnitSystem, rate_mm_h: f64) -> String {
    number(units.shown(Quantity::Depth, rate_mm_h), units.depth_decimals() + 1)
}
