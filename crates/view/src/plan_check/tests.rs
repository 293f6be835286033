//! The sentences, on designs worked by hand.

use super::row::PlanStatus;
use super::shown::Show;
use super::water::{self, Subject};
use crate::units::UnitSystem;
use evenfall_core::plan_check::{
    AirMet, AlternativeCheck, Application, Interval, PeakUse, RootZoneDepth, SetBesideRootZone,
    Spacing, Yardstick,
};

const MM: f64 = 25.4;
const PEAK: PeakUse = PeakUse {
    etc_mm_d: 0.30 * MM,
    first_day: 60,
    days: 7,
    years: 1,
    taw_mm: 4.6 * MM,
    raw_mm: 2.3 * MM,
};

/// 8.8 in a set of 23.5 h every 6 days, nothing lost.
fn too_large() -> AlternativeCheck {
    let (gross_mm, used_mm) = (8.8 * MM, 1.8 * MM);
    AlternativeCheck {
        air: AirMet { net_share: 1.0, wind_2_m_s: 2.0 },
        application: Application {
            sprinkler_l_s: 0.589,
            line_l_s: 19.4,
            set_time_h: 23.5,
            rate_mm_h: gross_mm / 23.5,
            gross_mm,
            net_mm: gross_mm,
        },
        root_zone: Some(SetBesideRootZone {
            takes: RootZoneDepth { raw_mm: 2.3 * MM, taw_mm: 4.6 * MM, used_mm: Some(used_mm) },
            against_raw: Yardstick::at_most(gross_mm, 2.3 * MM),
            against_use: Some(Yardstick::at_most(gross_mm, used_mm / 0.75)),
            drains_mm: gross_mm - used_mm,
            longest_set_h: 23.5 * 2.3 / 8.8,
        }),
        intake: None,
        interval: Some(Interval {
            days: 6.0,
            longest_days: 6.0,
            against_soil: Some(Yardstick::at_most(6.0, 2.3 / 0.3)),
        }),
        capacity: None,
        spacing: Spacing {
            wetted_diameter_m: 27.4,
            across: Yardstick::at_most(0.667, 0.6),
            fao_across: 0.6,
            along: Yardstick::at_most(0.444, 0.5),
            cycle_gap_m: 18.288,
        },
        pressure: None,
        span: None,
    }
}

fn subject(found: &AlternativeCheck) -> Subject<'_> {
    let (show, peak_words) = (Show(UnitSystem::Us), "In July alfalfa uses about 0.30 in/day");
    Subject { show, found, peak: Some(&PEAK), peak_words, is_called: false }
}

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

#[test]
fn closed_8_8_inches_on_a_root_zone_that_takes_2_3_are_a_fault() {
    let found = too_large();
    let [depth, against_use] = &water::depths(&subject(&found))[..] else { panic!("two rows") };
    assert_eq!((depth.status, against_use.status), (PlanStatus::Fault, PlanStatus::Fault));
    assert_eq!(
        plain(&depth.words()),
        "Each 23.5-hour set puts on 8.80 in; 8.80 in reach the ground. The root zone takes 2.30 in \
         between the allowed depletion and full. At least 7.00 in of every set go below the roots. \
         Shorten the set to 6.1 hours."
    );
    assert_eq!(plain(&depth.yardstick_words()), "at most 2.30 in");
    assert!(plain(&against_use.words()).contains("more than the 2.40 in"), "{against_use:?}");
}

#[test]
fn closed_a_set_just_under_its_threshold_names_the_threshold() {
    let mut found = too_large();
    let zone = found.root_zone.as_mut().unwrap();
    zone.against_raw = Yardstick::at_most(1.998 * MM, 2.0 * MM);
    let depth = water::depths(&subject(&found)).remove(0);
    assert_eq!(depth.status, PlanStatus::Fine);
    let both = (plain(&depth.value.text), plain(&depth.yardstick_words()));
    assert_eq!(both, ("1.998 in".to_owned(), "at most 2.000 in".to_owned()));
}

#[test]
fn closed_eleven_days_on_a_soil_that_lasts_nine_run_short() {
    let mut found = too_large();
    let against_soil = Some(Yardstick::at_most(11.0, 9.04));
    found.interval = Some(Interval { days: 11.0, longest_days: 11.0, against_soil });
    let row = water::interval(&subject(&found));
    assert_eq!(row.status, PlanStatus::Fault);
    assert_eq!(
        plain(&row.words()),
        "You water every 11 days. In July alfalfa uses about 0.30 in/day, and your soil holds 2.30 \
         in above the stress point: it lasts 9 days. Come back every 9 days at the peak."
    );
}

#[test]
fn closed_what_is_missing_is_asked_for() {
    let mut found = too_large();
    (found.root_zone, found.interval) = (None, None);
    let asked = subject(&found);
    let depth = water::depths(&asked).remove(0);
    assert_eq!(depth.status, PlanStatus::NotKnown);
    assert!(depth.words().ends_with("Give crop, soil and climate, and run again."), "{depth:?}");
    assert!(water::rate(&asked).words().contains("`intake_rate`"));
    assert_eq!(water::interval(&asked).status, PlanStatus::NotKnown);
    assert!(depth.yardstick_words().is_empty());
}

#[test]
fn closed_a_rate_beside_its_intake_asks_for_smaller_nozzles() {
    let mut found = too_large();
    found.intake = Some(Yardstick::at_most(0.374 * MM, 0.25 * MM));
    let row = water::rate(&subject(&found));
    assert_eq!(row.status, PlanStatus::Fault);
    // 0.589 L/s are 9.34 gpm; 9.34 · 0.25 / 0.374 = 6.24 gpm.
    assert!(plain(&row.change).contains("6.24 gpm"), "{row:?}");
    found.intake = Some(Yardstick::at_most(0.20 * MM, 0.25 * MM));
    assert_eq!(water::rate(&subject(&found)).status, PlanStatus::Fine);
}
