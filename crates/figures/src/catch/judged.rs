//! Whether the model passes a test, in words.

use super::book::CatchEntry;
use evenfall_core::catch::judge::{Against, Judgment, MODEL_ERROR_OF_CU, Pass};
use evenfall_view::units::{Quantity, UnitSystem, number};

/// "PASS" or "FAIL".
pub(super) fn word(judgment: &Judgment) -> &'static str {
    if judgment.passes() { "PASS" } else { "FAIL" }
}

/// The judgment in words; `None` where there is none.
pub(super) fn sentence(entry: &CatchEntry, units: UnitSystem) -> Option<String> {
    let judgment = entry.judgment.as_ref()?;
    let verdict = match (judgment.cu.passes(), judgment.du_lq.passes()) {
        (true, true) => "the model agrees with this test",
        (false, true) => "the model misses the CU of this test",
        (true, false) => "the model misses the DUlq of this test",
        (false, false) => "the model misses CU and DUlq of this test",
    };
    let percent = |fraction: f64| number(100.0 * fraction, 1);
    let figure = |name: &str, against: &Against| {
        format!(
            "{name} {} % in the cans, {} % simulated, and may differ by {} points",
            percent(against.measured),
            percent(against.simulated),
            percent(against.allowed)
        )
    };
    let mut words = format!(
        "{}: {verdict}. {}{}; {}. Allowed at {} %: {} points of standard error of CU that models fitted to \
         tests have (Playán et al. 2006), and what these cans leave open.",
        word(judgment),
        put_together(judgment, units),
        figure("CU", &judgment.cu),
        figure("DUlq", &judgment.du_lq),
        number(100.0 * judgment.level, 0),
        number(100.0 * MODEL_ERROR_OF_CU, 2)
    );
    if let Pass::Overlapped { mirrored, cut_off, .. } = judgment.pass {
        if mirrored {
            words += " The cans stood on one side: the other is taken as its mirror image, which wind breaks.";
        }
        if cut_off {
            words += " The outermost cans are wet: water beyond them is missing from both.";
        }
    }
    Some(words)
}

fn put_together(judgment: &Judgment, units: UnitSystem) -> String {
    match judgment.pass {
        Pass::AsCaught => String::new(),
        Pass::Overlapped { across_m, .. } => {
            format!("Overlapped at {}: ", units.text(Quantity::Length, across_m, 1))
        }
    }
}
