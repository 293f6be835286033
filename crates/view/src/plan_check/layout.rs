//! Rows on spacing and the season's ends.

use super::row::PlanRow;
use super::shown::{Kind, Show};
use super::water::{Subject, row};
use crate::units::percent;
use crate::value::Amount;
use evenfall_core::plan_check::DrySpell;

/// Outlet and sprinkler spacing beside the wetted diameter.
pub(super) fn spacing(subject: &Subject<'_>, spacing_m: [f64; 2]) -> Vec<PlanRow> {
    const ACROSS: &str = "NRCS practice code 442, older text (from memory, medium); the FAO handbook on \
                          pressurized irrigation has other limits (from memory, medium)";
    const ALONG: &str = "NRCS practice code 442, older text (from memory, medium)";
    let Subject { show, found, .. } = *subject;
    let spacing = &found.spacing;
    let [across_m, along_m] = spacing_m.map(|meters| show.length(meters));
    let wetted = show.length(spacing.wetted_diameter_m);
    let (value, limit) = show.both(Kind::Share, &spacing.across);
    let (value_text, limit_text) = (value.text.clone(), limit.text.clone());
    let mut across = row(
        ("outlet_spacing", "Outlet spacing against the wetted diameter"),
        (value, limit),
        &spacing.across,
        ACROSS,
    );
    across.sentence = format!(
        "Outlets {across_m} apart are {value_text} of the wetted diameter of {wetted}. In the mean \
         wind met, {} at {} above the ground, NRCS allows {limit_text} (FAO {}).",
        show.wind(found.air.wind_2_m_s),
        show.length(WIND_HEIGHT_M),
        percent(spacing.fao_across, 0)
    );
    if across.is_fault() {
        across.change = if spacing.cycle_gap_m < spacing_m[0] - 1e-6 {
            format!(
                "Over a whole cycle this rotation’s stops lie at most {} apart, {} of it.",
                show.length(spacing.cycle_gap_m),
                percent(spacing.cycle_share(), 0)
            )
        } else {
            format!(
                "Rotate stops between the outlets, or set them at most {} apart.",
                show.length(spacing.widest_across_m())
            )
        };
    }
    let (value, limit) = show.both(Kind::Share, &spacing.along);
    let (value_text, limit_text) = (value.text.clone(), limit.text.clone());
    let mut along = row(
        ("sprinkler_spacing", "Sprinkler spacing against the wetted diameter"),
        (value, limit),
        &spacing.along,
        ALONG,
    );
    along.sentence = format!(
        "Sprinklers {along_m} apart are {value_text} of the wetted diameter; NRCS allows {limit_text}."
    );
    if along.is_fault() {
        let needed_m = spacing_m[1] / spacing.along.limit;
        along.change =
            format!("Take sprinklers that wet at least {} across.", show.length(needed_m));
    }
    vec![across, along]
}

/// Height at which winds are told, m (FAO-56).
const WIND_HEIGHT_M: f64 = 2.0;

/// Crop days before the first water and after the last.
pub(super) fn ends(subject: &Subject<'_>) -> Vec<PlanRow> {
    let Some(span) = subject.found.span.as_ref().filter(|_| !subject.is_called) else {
        return Vec::new();
    };
    let before = spell(
        subject.show,
        ("season_start", "Crop days before the first water"),
        &span.before,
        ["from planting until the first pass has reached the last outlet", "Start"],
        "earlier",
    );
    let after = spell(
        subject.show,
        ("season_end", "Crop days after the last water"),
        &span.after,
        ["after the last pass has left the first outlet", "Go on"],
        "longer",
    );
    vec![before, after]
}

fn spell(
    show: Show,
    head: (&'static str, &'static str),
    found: &DrySpell,
    [when, verb]: [&str; 2],
    later: &str,
) -> PlanRow {
    const SOURCE: &str = "days until ETc less rain has used RAW (FAO-56 chapter 8), first year";
    let (value, limit) = show.both(Kind::Days, &found.against_soil);
    let (days, lasts) = (value.text.clone(), limit.text.clone());
    let mut row = row(head, (value, limit), &found.against_soil, SOURCE);
    row.sentence = if found.lasts_all {
        // As many days as there are would read like a threshold that is just met.
        (row.side, row.yardstick) = ("", Some(Amount::none("days", "all of them last")));
        format!("The crop has {days} without irrigation {when}; the soil and the rain last them.")
    } else {
        format!(
            "The crop has {days} without irrigation {when}; the soil and the rain last {lasts}."
        )
    };
    if row.is_fault() {
        let missing_days = found.against_soil.value - found.against_soil.limit;
        row.change = moved(show, [missing_days, found.room_days], [verb, later]);
    }
    row
}

/// By how much the water is to be moved, where so many days are missing and the crop leaves so much room.
pub(super) fn moved(show: Show, [missing, room]: [f64; 2], [verb, later]: [&str; 2]) -> String {
    let room = room.floor();
    let told = |days| show.text(Kind::Days, days);
    if missing <= room {
        format!("{verb} {} {later}.", told(missing))
    } else if room >= 1.0 {
        format!("{verb} {} {later}; what is then missing only shorter passes can mend.", told(room))
    } else {
        "Only shorter passes can mend that: the crop’s days are used to the last.".to_owned()
    }
}
