//! Crop, soil, climate, prices and equipment: what they resolve to.

use super::helpers::{demo_at, demo_with, good, only_problem};
use evenfall_core::crop::table::crop_named;
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::money::{Equipment, Price, PriceEntry};
use evenfall_core::soil::texture_named;
use evenfall_core::units::{M_PER_FT, M2_PER_ACRE};
use evenfall_core::worth::{Agronomy, Economics, HalfWidth, Rain, RainDay};
use jiff::civil::date;
use serde_json::{Value, json};

fn listed(agronomy: &Agronomy) -> &[RainDay] {
    let Rain::Listed(days) = &agronomy.rain else { panic!("rain from a record") };
    days
}

fn worth(text: &str) -> (Agronomy, Economics) {
    good(text).worth.unwrap()
}

/// The demo without prices, statistics and equipment.
fn bare(demo: &mut Value) {
    demo.as_object_mut().unwrap().shift_remove("worth");
    for alternative in demo["alternatives"].as_array_mut().unwrap() {
        alternative.as_object_mut().unwrap().shift_remove("equipment");
    }
}

#[test]
fn closed_demo_is_worth_what_its_text_says() {
    let (agronomy, economics) = worth(crate::demo());
    let table = crop_named("alfalfa, mean over cuts").unwrap().crop();
    assert_eq!((agronomy.crop.kc, agronomy.crop.roots), (table.kc, table.roots));
    assert_eq!(agronomy.crop.season_days(), 10 + 30 + 123 + 10);
    assert_eq!(agronomy.planted, date(2027, 4, 15));
    assert_eq!(agronomy.soil, texture_named("silt loam").unwrap().soil());
    assert!((agronomy.start_depletion - 0.2).abs() < 1e-12);
    // 0.25 in a day in July is 6.35 mm; 0.5 in of rain is 12.7 mm.
    assert!((agronomy.et0.on(date(2027, 7, 4)).unwrap() - 6.35).abs() < 1e-12);
    assert!((listed(&agronomy)[0].depth_mm - 12.7).abs() < 1e-12);
    assert_eq!((economics.seasons, economics.equipment.len()), (50, 3));
    assert_eq!(economics.equipment[0], Equipment::default());
    assert_eq!(economics.equipment[1].joints, 2);
    assert!((economics.equipment[1].extra_labor_per_move_h - 1.0 / 60.0).abs() < 1e-12);
    // 2 an acre on 0.40468564224 ha.
    assert!((economics.worthwhile_gain.per_ha() - 2.0 / 0.40468564224).abs() < 1e-9);
    for price in Price::ALL {
        let entry = economics.prices.of(*price).unwrap();
        assert!(entry.is_placeholder && entry.range.is_some(), "{price:?}");
    }
}

#[test]
fn closed_an_intake_rate_is_read_where_it_is_given() {
    assert_eq!(worth(crate::demo()).0.intake_rate_mm_h, None);
    let given = demo_with(|demo| demo["soil"]["intake_rate"] = json!("0.3 in/h"));
    assert!((worth(&given).0.intake_rate_mm_h.unwrap() - 7.62).abs() < 1e-12);
    let wrong = demo_with(|demo| demo["soil"]["intake_rate"] = json!("30 in/h"));
    let (at, told) = only_problem(&wrong);
    assert!(at == "/soil/intake_rate" && told.contains("Did you mean 0.3 in/h?"), "{at} {told}");
}

/// The demo's crop must find a supply that is slightly tight: need less rain and what the soil
/// gives lies just above what twelve passes can bring, and not far above.
#[test]
fn closed_demo_supply_is_slightly_tight() {
    let demo = good(crate::demo());
    let (agronomy, _) = demo.worth.unwrap();
    let ground = agronomy.ground(date(2027, 5, 10), 50, None).unwrap();
    assert_eq!(ground.first_day, -25);
    // 33 heads of 4.98 gpm, 22 sets of 11.5 h, twelve passes, less 13 % lost in the air.
    let litres = 33.0 * 4.98 * (3.785411784 / 60.0) * 3600.0 * 11.5 * 22.0 * 12.0;
    let net_mm = 0.87 * litres / (1320.0 * M_PER_FT * 1320.0 * M_PER_FT);
    let rain_mm: f64 = listed(&agronomy).iter().map(|rain| rain.depth_mm).sum();
    let short_mm = ground.need_mm(0) - net_mm - rain_mm;
    let soil_mm = agronomy.soil.taw_mm(1.0) * (1.0 - agronomy.start_depletion);
    assert!(short_mm > 0.25 * soil_mm && short_mm < 0.75 * soil_mm, "{short_mm} of {soil_mm} mm");
}

#[test]
fn invariant_without_crop_soil_and_climate_nothing_is_worth() {
    let text = demo_with(|demo| {
        bare(demo);
        for key in ["crop", "soil", "climate"] {
            demo.as_object_mut().unwrap().shift_remove(key);
        }
    });
    let resolved = good(&text);
    assert!(resolved.worth.is_none() && resolved.warnings.is_empty());
    let with_equipment = demo_with(|demo| {
        for key in ["crop", "soil", "climate", "worth"] {
            demo.as_object_mut().unwrap().shift_remove(key);
        }
    });
    let warnings = good(&with_equipment).warnings;
    assert_eq!(warnings.len(), 2, "{warnings:?}");
    assert!(warnings[0].contains("its equipment has no effect"), "{warnings:?}");
}

#[test]
fn invariant_defaults_of_the_worth_are_told() {
    let text = demo_with(|demo| {
        bare(demo);
        for (section, key) in [("crop", "stages"), ("soil", "start_depletion"), ("climate", "rain")]
        {
            demo[section].as_object_mut().unwrap().shift_remove(key).unwrap();
        }
    });
    let resolved = good(&text);
    let told: Vec<&str> = resolved.assumptions.iter().map(|a| a.what.as_str()).collect();
    for what in [
        "/crop/kc",
        "/crop/stages",
        "/crop/roots",
        "/crop/allowable_depletion",
        "/crop/yield_response",
        "/soil/field_capacity",
        "/soil/wilting_point",
        "/soil/start_depletion",
        "/climate/rain",
        "/worth/prices",
        "/worth/seasons",
        "/worth/confidence_level",
        "/worth/worthwhile_gain",
        "/alternatives/0/equipment",
        "/alternatives/2/equipment",
    ] {
        assert_eq!(told.iter().filter(|known| **known == what).count(), 1, "{what} in {told:?}");
    }
    let (agronomy, economics) = resolved.worth.unwrap();
    assert_eq!((agronomy.start_depletion, listed(&agronomy).len()), (0.0, 0));
    assert_eq!(
        (economics.seasons, economics.confidence_level, economics.worthwhile_gain.per_ha()),
        (50, 0.9, 0.0)
    );
    assert!(economics.prices.known().next().is_none());
    // 210 days from 15 April run far past the last set on 4 October.
    assert!(resolved.warnings.iter().any(|w| w.contains("after the last set without irrigation")));
}

#[test]
fn closed_a_crop_of_ones_own_needs_no_table() {
    let own = r#"{ "name": "teff", "planted": "2027-05-01",
        "kc": { "ini": 0.3, "mid": 1.0, "end": 0.5 },
        "stages": [{ "initial": "15 d", "development": "20 d", "mid": "30 d", "late": "15 d" },
                   { "initial": "5 d", "development": "15 d", "mid": "20 d", "late": "10 d" }],
        "roots": { "at_planting": "8 in", "full": "3 ft" },
        "allowable_depletion": 0.5, "yield_response": 1.05 }"#;
    let (agronomy, _) = worth(&demo_at("/crop", own));
    assert_eq!((agronomy.crop_name.as_str(), agronomy.crop.season_days()), ("teff", 80 + 50));
    assert_eq!(agronomy.crop.cycles.len(), 2);
    assert!((agronomy.crop.roots.full_m - 0.9144).abs() < 1e-12);
    let told = good(&demo_at("/crop", own)).assumptions;
    let of_crop = told.iter().filter(|told| told.what.starts_with("/crop"));
    // No table says how high it grows.
    assert_eq!(of_crop.map(|told| &told.what[..]).collect::<Vec<_>>(), ["/crop/canopy_height"]);
}

#[test]
fn closed_soil_and_et0_of_ones_own() {
    let soil = r#"{ "field_capacity": 0.26, "wilting_point": "12 %" }"#;
    let (agronomy, _) = worth(&demo_at("/soil", soil));
    assert!((agronomy.soil.available_mm_per_m() - 140.0).abs() < 1e-9);
    let (agronomy, _) = worth(&demo_at("/climate", r#"{ "et0": "6 mm/d" }"#));
    let ReferenceEt::Constant(mm) = agronomy.et0 else { panic!("not constant") };
    assert!((mm - 6.0).abs() < 1e-12);
}

#[test]
fn closed_prices_with_and_without_range_and_mark() {
    let prices = json!({
        "crop": "9 per cwt",
        "potential_yield": { "value": "400 cwt/ac", "placeholder": true },
        "water": { "value": "0.05 per m3", "low": "0 per m3", "high": "0.1 per m3" },
        "joint_life": "1.2 yr",
        "discount_rate": 0.8,
    });
    let resolved = good(&demo_with(|demo| demo["worth"]["prices"] = prices));
    let (_, economics) = resolved.worth.as_ref().unwrap();
    // 9 for 100 lb of 0.45359237 kg is 198.416 a tonne.
    let known = |price| economics.prices.of(price).unwrap();
    let crop = known(Price::Crop);
    assert!((crop.value - 9.0 / 0.045359237).abs() < 1e-9 && !crop.is_placeholder);
    let potential = known(Price::PotentialYield);
    assert!((potential.value - 40000.0 * 0.45359237e-3 / (M2_PER_ACRE / 1e4)).abs() < 1e-9);
    assert!(potential.is_placeholder);
    let water = PriceEntry { range: Some((0.0, 0.1)), ..PriceEntry::own(0.05) };
    assert_eq!(known(Price::Water), water);
    assert_eq!(economics.prices.of(Price::Labor), None);
    // The usual ± 30 % would lead to a life under a year and to a rate over 1.
    let (low, high) = known(Price::JointLife).range.unwrap();
    assert!((low - 1.0).abs() < 1e-12 && (high - 1.56).abs() < 1e-12, "{low} {high}");
    let (low, high) = known(Price::DiscountRate).range.unwrap();
    assert!((low - 0.56).abs() < 1e-12 && (high - 1.0).abs() < 1e-12, "{low} {high}");
    assert_eq!(crop.range, None);
    let told = |what: &str| resolved.assumptions.iter().find(|a| a.what == what).unwrap();
    assert!(told("/worth/prices/potential_yield").why.contains("placeholder"));
    assert_eq!(told("/worth/prices/labor").value, "not known");
    assert!(told("/worth/prices").value.contains("30 %"));
}

#[test]
fn closed_water_outside_the_crop_is_told_with_its_passes() {
    // Passes of 11 days from 10 May 06:00, three cuttings of 5 days: the first three start before 2 June;
    // planted then, the crop of 173 days outlasts the last set (4 October) by 49 days.
    let warnings = good(&demo_at("/crop/planted", "\"2027-06-02\"")).warnings;
    assert!(warnings[0].starts_with("3 of 12 passes water before"), "{warnings:?}");
    assert!(warnings.iter().any(|w| w.contains("grows for 49 days after")), "{warnings:?}");
    assert!(warnings.iter().any(|w| w.starts_with("3 of 6 days of rain")), "{warnings:?}");
    // Planted on 3 February it stands to 25 July, on which the sixth pass ends at 05:30.
    let warnings = good(&demo_at("/crop/planted", "\"2027-02-03\"")).warnings;
    assert!(warnings[0].starts_with("6 of 12 passes water after harvest"), "{warnings:?}");
    let warnings = good(&demo_at("/crop/planted", "\"2027-02-02\"")).warnings;
    assert!(warnings[0].starts_with("7 of 12 passes water after harvest"), "{warnings:?}");
    let twice = demo_at("/climate/rain/1/date", "\"2027-04-21\"");
    assert!(good(&twice).warnings[0].contains("more than once for 2027-04-21"));
}

#[test]
fn closed_a_precision_by_area_or_by_yield() {
    let asked =
        |value: &str| worth(&demo_at("/worth/target_precision", value)).1.precision.unwrap();
    let net = asked("\"2 per ac\"");
    let HalfWidth::Net(net_return) = net.half_width else { panic!("not money") };
    assert!((net_return.per_ha() - 2.0 / 0.40468564224).abs() < 1e-9);
    assert_eq!(net.most, 1000);
    assert_eq!(asked("\"0.2 %\"").half_width, HalfWidth::Yield(0.002));
    let unpriced = demo_with(|demo| {
        demo["worth"]["prices"].as_object_mut().unwrap().shift_remove("crop");
        demo["worth"]["target_precision"] = json!("2 per ac");
    });
    let (at, told) = only_problem(&unpriced);
    assert_eq!(at, "/worth/target_precision");
    assert!(told.contains("0.2 %"), "{told}");
    assert_eq!(
        only_problem(&demo_at("/worth/target_precision", "\"0 per ac\"")).0,
        "/worth/target_precision"
    );
}

#[test]
fn closed_water_is_called_by_the_root_zone() {
    let called = demo_with(|demo| {
        let season = demo["season"].as_object_mut().unwrap();
        season.shift_remove("idle_between_passes");
        season.insert("irrigate_at_depletion".into(), json!("80 %"));
    });
    let found = good(&called);
    let rule = found.scenario.called.as_ref().unwrap();
    assert!((rule.share_of_raw - 0.8).abs() < 1e-12);
    let told = found.assumptions.iter().any(|a| a.what == "/season/irrigate_at_depletion");
    assert!(told, "{:?}", found.assumptions);
    let plans = evenfall_core::season::plans(&found.scenario).unwrap();
    let starts = |plan: &evenfall_core::schedule::Plan| -> Vec<f64> {
        plan.passes.iter().map(|pass| pass.span_h().0).collect()
    };
    assert!(plans.iter().all(|plan| starts(plan) == starts(&plans[0])));

    let both = demo_with(|demo| {
        demo["season"]["irrigate_at_depletion"] = json!("80 %");
        demo["season"]["pass_interval"] = json!("14 days");
        demo["season"].as_object_mut().unwrap().shift_remove("idle_between_passes");
    });
    assert_eq!(only_problem(&both).0, "/season/irrigate_at_depletion");
    let alone = demo_at("/season/min_pass_interval", "\"8 days\"");
    assert_eq!(only_problem(&alone).0, "/season/min_pass_interval");
    let cropless = demo_with(|demo| {
        bare(demo);
        for key in ["crop", "soil", "climate"] {
            demo.as_object_mut().unwrap().shift_remove(key);
        }
        let season = demo["season"].as_object_mut().unwrap();
        season.shift_remove("idle_between_passes");
        season.insert("irrigate_at_depletion".into(), json!("80 %"));
    });
    let (at, told) = only_problem(&cropless);
    assert_eq!(at, "/season/irrigate_at_depletion");
    assert!(told.contains("needs a crop, a soil and a climate"), "{told}");
}

#[test]
fn closed_a_currency_is_a_few_letters_or_signs() {
    assert_eq!(worth(crate::demo()).1.currency, None);
    for name in ["USD", "$", "€", "R$", "Kč"] {
        let (_, economics) = worth(&demo_at("/worth/currency", &format!("\"{name}\"")));
        assert_eq!(economics.currency.as_deref(), Some(name));
    }
    for bad in ["\"\"", "\"US dollars\"", "\"USDUSDUSD\"", "\"150\"", "\"a\\u200b\"", "7"] {
        let (at, told) = only_problem(&demo_at("/worth/currency", bad));
        assert_eq!(at, "/worth/currency");
        assert!(told.contains("1 to 8 letters"), "{told}");
    }
}
