//! The sentences, on designs worked by hand.

use super::row::PlanStatus;
use super::shown::Show;
use super::sprinklers;
use super::water::{self, Subject};
use crate::units::UnitSystem;
use evenfall_core::lateral::survey::SurveyFound;
use evenfall_core::plan_check::{
    AirMet, AlternativeCheck, Application, Interval, NozzleState, PeakUse, PressureSpread,
    RootZoneDepth, SetBesideRootZone, Spacing, Yardstick,
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
            inflow_l_s: 19.4,
            season_m3: 100_000.0,
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
        nozzles: None,
        leaks: None,
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
         Shorten the set to 6.1 hours and come back that much sooner: with the same interval the crop gets 74 % less water."
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
         in above the stress point: it lasts 9 days. Come back within 9 days at the peak."
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

fn survey() -> SurveyFound {
    SurveyFound {
        surveyed: 33,
        sprinklers: 33,
        pressures_kpa: vec![(0, 52.0 * 6.894757), (32, 41.0 * 6.894757)],
        gauge_error_kpa: 14.0,
        nozzles: vec![1.0, 1.08, 1.06, 1.1, 1.2],
        plugged: 1,
        leaning: 0,
        flow_over_stated: 1.08,
    }
}

#[test]
fn closed_a_survey_in_a_sentence_with_what_wear_takes_in_water() {
    let mut found = too_large();
    found.nozzles = Some(NozzleState {
        measured: Some(5),
        worn: 4,
        against_limit: Yardstick::at_most(0.2, 0.05),
        water_share: 0.05,
    });
    let [state, leaks] = &sprinklers::state(&subject(&found), Some(&survey()))[..] else {
        panic!()
    };
    assert_eq!((state.status, leaks.status), (PlanStatus::Fault, PlanStatus::NotKnown));
    // 5 % of 100 000 m³ are 5000 m³; an acre-foot is 1233.48 m³.
    assert_eq!(
        plain(&state.words()),
        "33 surveyed: pressure 41 to 52 psi, 4 nozzles worn by more than 5 % of discharge, 1 plugged; \
         flow 8 % above the nozzles’ nominal. Worn nozzles pass 5.0 % more than stated, about 4.1 \
         acre-ft in a season. Replace the 4 worn nozzles, and clear the plugged sprinkler."
    );
    // Pressures alone: what was seen is told, what was not is asked for.
    found.nozzles = None;
    let bare = SurveyFound { nozzles: vec![], surveyed: 2, plugged: 0, ..survey() };
    let row = sprinklers::state(&subject(&found), Some(&bare)).remove(0);
    assert_eq!(row.status, PlanStatus::NotKnown);
    assert!(plain(&row.words()).starts_with(
        "2 of 33 surveyed: pressure 41 to 52 psi; flow 8 % above the nozzles’ nominal. No nozzle was \
         measured. Try drill bits"
    ));
}

#[test]
fn closed_unequal_pressure_is_a_fault_unless_flow_control_holds_the_discharge() {
    let mut found = too_large();
    let spread = |extra_water: f64| PressureSpread {
        lowest_kpa: 40.0 * 6.894757,
        highest_kpa: 55.0 * 6.894757,
        against_rule: Yardstick::at_most(0.3, 0.2),
        is_read: true,
        extra_water,
    };
    found.pressure = Some(spread(0.07));
    let row = sprinklers::pressure(&subject(&found));
    assert_eq!(row.status, PlanStatus::Fault);
    let words = plain(&row.words());
    assert!(words.starts_with("Your pitot readings run from 40 psi to 55 psi"), "{words}");
    assert!(words.contains("takes 7 % more water. Fit flow-control nozzles"), "{words}");
    found.pressure = Some(spread(0.0));
    let row = sprinklers::pressure(&subject(&found));
    assert!(row.status == PlanStatus::Fine && row.change.is_empty(), "{row:?}");
}

#[test]
fn closed_leaks_beside_their_limit_and_what_nobody_has_looked_at() {
    let mut found = too_large();
    let row = sprinklers::state(&subject(&found), None).remove(0);
    assert!(row.status == PlanStatus::NotKnown && row.words().contains("up to 48 %"));
    found.leaks = Some(Yardstick::at_most(0.1, 0.02));
    let [state, leaks] = &sprinklers::state(&subject(&found), None)[..] else { panic!("two rows") };
    assert_eq!((state.status, leaks.status), (PlanStatus::NotKnown, PlanStatus::Fault));
    assert_eq!(
        plain(&leaks.words()),
        "10 % of the flow into the line leaks before it reaches a nozzle, about 8.1 acre-ft in a \
         season. Replace the gaskets and drains that leak."
    );
    found.leaks = Some(Yardstick::at_most(0.0, 0.02));
    let leaks = sprinklers::state(&subject(&found), None).remove(1);
    assert!(leaks.status == PlanStatus::Fine && leaks.change.is_empty());
}

#[test]
fn closed_water_is_moved_no_farther_than_the_crop_is_there() {
    let show = Show(UnitSystem::Us);
    let of = |missing, room| {
        super::layout::moved(show, [missing, room], ["Start", "earlier"]).replace('\u{a0}', " ")
    };
    assert_eq!(of(3.0, 5.0), "Start 3 days earlier.");
    assert_eq!(
        of(9.0, 2.0),
        "Start 2 days earlier; what is then missing only shorter passes can mend."
    );
    assert_eq!(
        of(9.0, 0.4),
        "Only shorter passes can mend that: the crop’s days are used to the last."
    );
}
