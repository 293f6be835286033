//! Rows on how much water, how fast and how often.

use super::row::{PlanRow, PlanStatus};
use super::shown::{Kind, Show, at_most_tenth, hours_text, side};
use crate::units::percent;
use crate::value::Amount;
use evenfall_core::plan_check::{AlternativeCheck, PeakUse, SATISFACTORY_DU, Yardstick};

/// What the rows of an alternative are made of.
#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    pub(super) show: Show,
    pub(super) found: &'a AlternativeCheck,
    pub(super) peak: Option<&'a PeakUse>,
    /// "In July alfalfa uses about 0.30 in/day at its peak", or nothing.
    pub(super) peak_words: &'a str,
    pub(super) is_called: bool,
}

/// Less than this is not said to drain, mm: it would read as nothing.
const LEAST_DRAINED_MM: f64 = 0.5;

/// Sentences in a row, empty ones left out.
fn sentences(all: &[&str]) -> String {
    all.iter().filter(|text| !text.is_empty()).copied().collect::<Vec<_>>().join(" ")
}

const NEEDS_GROUND: &str = "Give crop, soil and climate, and run again.";

/// A row whose yardstick is there.
pub(super) fn row(
    (key, label): (&'static str, &'static str),
    (value, limit): (Amount, Amount),
    found: &Yardstick,
    source: &'static str,
) -> PlanRow {
    let status = if found.is_within() { PlanStatus::Fine } else { PlanStatus::Fault };
    PlanRow {
        key,
        label,
        value,
        yardstick: Some(limit),
        side: side(found),
        status,
        sentence: String::new(),
        change: String::new(),
        source,
    }
}

/// A row whose yardstick is not there, because of something that is missing.
pub(super) fn not_known(
    (key, label): (&'static str, &'static str),
    value: Amount,
    sentence: String,
    change: &str,
    source: &'static str,
) -> PlanRow {
    PlanRow {
        key,
        label,
        value,
        yardstick: None,
        side: "",
        status: PlanStatus::NotKnown,
        sentence,
        change: change.to_owned(),
        source,
    }
}

/// The set beside the root zone, and beside what the crop uses between two sets.
pub(super) fn depths(subject: &Subject<'_>) -> Vec<PlanRow> {
    const RAW: &str = "RAW = p TAW, FAO-56 (Allen et al. 1998) equations 82 and 83, p for the need of \
                       the peak week";
    const USE: &str = "peak use between two sets over a DU of 75 % (satisfactory: micro-irrigation \
                       reference page, chapter 5.3)";
    let Subject { show, found, .. } = *subject;
    let set = &found.application;
    let [gross, net] = [set.gross_mm, set.net_mm].map(|mm| show.text(Kind::Depth, mm));
    let puts_on =
        format!("Each {} set puts on {gross}; {net} reach the ground.", Show::set(set.set_time_h));
    let heads = [
        ("set_depth", "Net depth of a set against the root zone"),
        ("set_against_use", "Net depth of a set against peak use"),
    ];
    let value = || show.amount(Kind::Depth, set.net_mm);
    let Some(zone) = &found.root_zone else {
        let sentence = format!("{puts_on} What the root zone takes is not known.");
        return vec![not_known(heads[0], value(), sentence, NEEDS_GROUND, RAW)];
    };
    // A shorter set alone takes water from the crop: the advice is for both.
    let longest_h = at_most_tenth(zone.longest_set_h);
    let shorter = format!(
        "Shorten the set to {} hours and come back that much sooner: with the same interval the crop gets {} \
         less water",
        hours_text(longest_h),
        percent((1.0 - longest_h / set.set_time_h).max(0.0), 0)
    );
    let (net, raw) = show.both(Kind::Depth, &zone.against_raw);
    let mut depth = row(heads[0], (net, raw.clone()), &zone.against_raw, RAW);
    let takes = format!("The root zone takes {} between the allowed depletion and full.", raw.text);
    // A set that only refills what stress had used drains nothing, but comes too late.
    let drains = match zone.drains_mm {
        none if none < LEAST_DRAINED_MM => String::new(),
        mm => format!("At least {} of every set go below the roots.", show.text(Kind::Depth, mm)),
    };
    depth.sentence = format!("{puts_on} {takes}");
    if depth.is_fault() {
        depth.sentence = sentences(&[&depth.sentence, &drains]);
        // Less often is no help: the root zone holds no more.
        depth.change = format!("{shorter}.");
    }
    let Some((against, used_mm)) = zone.against_use.as_ref().zip(zone.takes.used_mm) else {
        return vec![depth];
    };
    let (net, allowed) = show.both(Kind::Depth, against);
    let mut beside = row(heads[1], (net.clone(), allowed.clone()), against, USE);
    let used = show.text(Kind::Depth, used_mm);
    beside.sentence = format!("At its peak the crop uses {used} between two sets.");
    if beside.is_fault() {
        let brings = format!(
            "A set brings {}, more than the {} with which even the driest quarter of a pattern of \
             DU {} gets that.",
            net.text,
            allowed.text,
            percent(SATISFACTORY_DU, 0)
        );
        beside.sentence = sentences(&[&beside.sentence, &brings, &drains]);
        let less_often = if depth.is_fault() { "" } else { " Or water less often." };
        beside.change = format!("{shorter}.{less_often}");
    }
    vec![depth, beside]
}

/// The application rate beside the soil's intake.
pub(super) fn rate(subject: &Subject<'_>) -> PlanRow {
    const SOURCE: &str = "the intake rate you give; rate = 96.3 gpm/ft² (NMSU Soils 456)";
    let head = ("application_rate", "Application rate against the soil’s intake");
    let Subject { show, found, .. } = *subject;
    let rate_mm_h = found.application.rate_mm_h;
    let Some(intake) = &found.intake else {
        let value = show.amount(Kind::Rate, rate_mm_h);
        let sentence = format!(
            "Water falls at {} on average. The soil’s intake rate is not given, so runoff is not \
             checked.",
            value.text
        );
        let change = "Give it as `intake_rate` of `soil`, from a soil survey or a test.";
        return not_known(head, value, sentence, change, SOURCE);
    };
    let (rate, takes) = show.both(Kind::Rate, intake);
    let (rate_text, takes_text) = (rate.text.clone(), takes.text.clone());
    let mut row = row(head, (rate, takes), intake, SOURCE);
    row.sentence = format!("Water falls at {rate_text} on average. The soil takes {takes_text}.");
    if row.is_fault() {
        let most_l_s = found.application.sprinkler_l_s * intake.limit / intake.value;
        row.sentence += " What it cannot take runs off.";
        row.change = format!("Fit nozzles of at most {}.", show.flow(most_l_s, 2));
    }
    row
}

/// Days between irrigations beside what the soil lasts.
pub(super) fn interval(subject: &Subject<'_>) -> PlanRow {
    const SOURCE: &str = "RAW over the peak week’s ETc, without rain (FAO-56 chapter 8)";
    let head = ("interval", "Days between irrigations");
    let Subject { show, found, peak, peak_words, is_called } = *subject;
    let Some(interval) = &found.interval else {
        let none = Amount::none("days", "one pass");
        let sentence = "No place is watered twice, so there is no interval.".to_owned();
        return not_known(head, none, sentence, "", SOURCE);
    };
    let own = show.text(Kind::Days, interval.days);
    let called = if is_called { ", as the crop calls" } else { "" };
    let longest = show.text(Kind::Days, interval.longest_days);
    let every = if longest == own {
        format!("You water every {own}{called}.")
    } else {
        format!("You water every {own} on average{called}, and up to {longest} pass between.")
    };
    let (Some(soil), Some(peak)) = (&interval.against_soil, peak) else {
        let value = show.amount(Kind::Days, interval.days);
        let sentence = format!("{every} How long the soil lasts is not known.");
        return not_known(head, value, sentence, NEEDS_GROUND, SOURCE);
    };
    let (value, lasts) = show.both(Kind::Days, soil);
    let lasts_text = lasts.text.clone();
    let mut row = row(head, (value, lasts), soil, SOURCE);
    let raw = show.text(Kind::Depth, peak.raw_mm);
    row.sentence = format!(
        "{every} {peak_words}, and your soil holds {raw} above the stress point: it lasts \
         {lasts_text}."
    );
    if row.is_fault() {
        let days = show.text(Kind::Days, at_most_tenth(soil.limit));
        row.change = if is_called {
            "Let the crop call sooner, or water faster: the next pass has to wait for this one."
                .to_owned()
        } else {
            format!("Come back within {days} at the peak.")
        };
    }
    row
}

/// Flow by area beside the peak's need.
pub(super) fn capacity(subject: &Subject<'_>) -> Option<PlanRow> {
    const SOURCE: &str = "peak ETc over the share that reaches the ground (SCS NEH 15-11; Keller & \
                          Bliesner 1990, from memory, high)";
    let head = ("capacity", "Flow by area, with the time it runs");
    let Subject { show, found, .. } = *subject;
    let capacity = found.capacity.as_ref()?;
    let running = format!(
        "The line brings {} while it runs, {} of the time.",
        show.text(Kind::Flow, capacity.running_l_s_ha),
        percent(capacity.running_share, 0)
    );
    let Some(need) = &capacity.against_peak else {
        let value = show.amount(Kind::Flow, capacity.planned_l_s_ha());
        let sentence = format!("{running} That is {}. The crop’s need is not known.", value.text);
        return Some(not_known(head, value, sentence, NEEDS_GROUND, SOURCE));
    };
    let (has, needs) = show.both(Kind::Flow, need);
    let (has_text, needs_text) = (has.text.clone(), needs.text.clone());
    let mut row = row(head, (has, needs), need, SOURCE);
    row.sentence = format!("{running} That is {has_text}; peak use needs {needs_text}.");
    if row.is_fault() {
        row.sentence += " At the peak the plan is short of water.";
        let days = capacity.interval_that_meets_days.unwrap_or(f64::NAN);
        let share = need.limit / capacity.running_l_s_ha;
        row.change = if share <= 1.0 {
            let days = show.text(Kind::Days, at_most_tenth(days));
            format!(
                "Come back every {days} with the same sets: that is {} of the time.",
                percent(share, 0)
            )
        } else {
            let flow = show.flow(found.application.inflow_l_s * share, 0);
            format!("Even day and night the line is short: it would need {flow}.")
        };
    }
    Some(row)
}
