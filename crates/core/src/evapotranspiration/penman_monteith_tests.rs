//! Worked examples of Allen et al. 1998 (FAO-56), from memory; the confidence is said at each.

use super::*;
use crate::weather::profile::speed_at_2_m;

const UCCLE: Site = Site { latitude_deg: 50.8, elevation_m: 100.0 };

/// Heat that goes into the soil in a month, MJ/m² a day, from its mean temperature and that of the
/// month before (equation 44).
fn soil_heat_of_month_mj_m2(mean_c: f64, mean_before_c: f64) -> f64 {
    0.14 * (mean_c - mean_before_c)
}

/// Uccle, 6 July: Example 18.
fn uccle() -> DayWeather {
    DayWeather {
        day_of_year: 187,
        t_max_c: 21.5,
        t_min_c: 12.3,
        humidity: Humidity::Range { greatest: 0.84, least: 0.63 },
        wind_speed_2_m_s: speed_at_2_m(10.0 / 3.6, 10.0).unwrap(),
        radiation: Radiation::Sunshine(9.25),
        soil_heat_mj_m2: 0.0,
    }
}

#[test]
fn published_fao_56_example_17_bangkok_in_april() {
    // Confidence high: 13°44' N, 2 m, 34.8 and 25.6 °C, ea 2.85 kPa, u2 2 m/s, n 8.5 h, March
    // 29.2 °C, April 30.2 °C: ET0 5.72 mm a day.
    let site = Site { latitude_deg: 13.0 + 44.0 / 60.0, elevation_m: 2.0 };
    let april = DayWeather {
        day_of_year: 105,
        t_max_c: 34.8,
        t_min_c: 25.6,
        humidity: Humidity::VaporPressure(2.85),
        wind_speed_2_m_s: 2.0,
        radiation: Radiation::Sunshine(8.5),
        soil_heat_mj_m2: soil_heat_of_month_mj_m2(30.2, 29.2),
    };
    let et0 = april.et0_mm(&site).unwrap();
    assert!((et0 - 5.72).abs() <= 0.005, "{et0}");
}

#[test]
fn published_fao_56_example_13_soil_heat_of_algiers_in_april() {
    // Confidence high for the temperatures and for equation 44: March 14.1 °C, April 16.1 °C: G
    // 0.28 MJ/m² a day. (Equation 43, with May in place of April, is not used here.)
    let heat = soil_heat_of_month_mj_m2(16.1, 14.1);
    assert!((heat - 0.28).abs() <= 0.005, "{heat}");
}

#[test]
fn published_fao_56_example_17_step_by_step() {
    // Confidence high, as printed on the way to ET0: Δ 0.246 and γ 0.0674 kPa/°C, es 4.42 kPa,
    // Ra 38.06, Rs 22.65, Rso 28.54, Rn 14.33, G 0.14 MJ/m², N 12.31 h.
    assert!((air::saturation_slope_kpa_c(30.2) - 0.246).abs() <= 0.0005);
    // γ as the source takes it, from its rounded 101.3 kPa.
    assert!((air::pressure_kpa(2.0) - 101.3).abs() <= 0.05);
    assert!((air::psychrometric_kpa_c(101.3) - 0.0674).abs() <= 0.000_05);
    assert!((air::saturation_of_day_kpa(34.8, 25.6) - 4.42).abs() <= 0.005);
    let site = Site { latitude_deg: 13.0 + 44.0 / 60.0, elevation_m: 2.0 };
    let sun = Sun::on(105, site.latitude_deg);
    assert!((sun.outside_mj_m2 - 38.06).abs() <= 0.005, "{}", sun.outside_mj_m2);
    assert!((sun.daylight_h - 12.31).abs() <= 0.005, "{}", sun.daylight_h);
    let solar = Radiation::Sunshine(8.5).solar_mj_m2(&sun, &site, 34.8, 25.6);
    assert!((solar - 22.65).abs() <= 0.005, "{solar}");
    let clear = sun.clear_sky_mj_m2(site.elevation_m);
    assert!((clear - 28.54).abs() <= 0.005, "{clear}");
    let net = net_mj_m2(solar, clear, 34.8, 25.6, 2.85);
    assert!((net - 14.33).abs() <= 0.005, "{net}");
    assert!((soil_heat_of_month_mj_m2(30.2, 29.2) - 0.14).abs() <= 0.005);
}

#[test]
fn published_fao_56_example_18_step_by_step() {
    // Confidence high: Δ 0.122 and γ 0.0666 kPa/°C at 16.9 °C and 100.1 kPa, es 1.997 kPa, Rso 30.90,
    // Rn 13.28 MJ/m².
    let pressure = air::pressure_kpa(100.0);
    assert!((pressure - 100.1).abs() <= 0.05, "{pressure}");
    assert!((air::psychrometric_kpa_c(pressure) - 0.0666).abs() <= 0.000_05);
    assert!((air::saturation_slope_kpa_c(16.9) - 0.122).abs() <= 0.0005);
    assert!((air::saturation_of_day_kpa(21.5, 12.3) - 1.997).abs() <= 0.0005);
    let clear = Sun::on(187, 50.8).clear_sky_mj_m2(100.0);
    assert!((clear - 30.90).abs() <= 0.005, "{clear}");
    let net = net_mj_m2(22.07, clear, 21.5, 12.3, 1.409);
    assert!((net - 13.28).abs() <= 0.005, "{net}");
}

#[test]
fn published_fao_56_example_18_uccle_on_6_july() {
    // Confidence high: 50°48' N, 100 m, 21.5 and 12.3 °C, 84 and 63 %, 10 km/h at 10 m, 9.25 h of
    // sun: Ra 41.09, N 16.1 h, Rs 22.07, ea 1.409 kPa, u2 2.078 m/s; ET0 3.9 (unrounded 3.88) mm.
    let day = uccle();
    assert!((day.wind_speed_2_m_s - 2.078).abs() <= 0.0005, "{}", day.wind_speed_2_m_s);
    assert!((day.humidity.vapor_kpa(21.5, 12.3) - 1.409).abs() <= 0.0005);
    let sun = Sun::on(187, 50.8);
    assert!((sun.outside_mj_m2 - 41.09).abs() <= 0.005, "{}", sun.outside_mj_m2);
    assert!((sun.daylight_h - 16.1).abs() <= 0.05);
    let solar = day.radiation.solar_mj_m2(&sun, &UCCLE, 21.5, 12.3);
    assert!((solar - 22.07).abs() <= 0.02, "{solar}");
    let et0 = day.et0_mm(&UCCLE).unwrap();
    assert!((et0 - 3.88).abs() <= 0.005, "{et0}");
}

#[test]
fn published_fao_56_example_20_lyon_with_temperatures_only() {
    // Confidence medium for the result: 45°43' N, 200 m, July, 26.6 and 14.8 °C, dew point at the
    // least temperature, u2 2 m/s, radiation from temperatures: ET0 4.56 mm a day.
    let site = Site { latitude_deg: 45.0 + 43.0 / 60.0, elevation_m: 200.0 };
    let july = DayWeather {
        day_of_year: 196,
        t_max_c: 26.6,
        t_min_c: 14.8,
        humidity: Humidity::Unknown,
        wind_speed_2_m_s: 2.0,
        radiation: Radiation::INLAND,
        soil_heat_mj_m2: 0.0,
    };
    let et0 = july.et0_mm(&site).unwrap();
    assert!((et0 - 4.56).abs() <= 0.005, "{et0}");
}

#[test]
fn invariant_drier_windier_sunnier_days_use_more() {
    let base = uccle().et0_mm(&UCCLE).unwrap();
    let changed = |change: &dyn Fn(&mut DayWeather)| {
        let mut day = uccle();
        change(&mut day);
        day.et0_mm(&UCCLE).unwrap()
    };
    assert!(changed(&|day| day.wind_speed_2_m_s = 4.0) > base);
    assert!(changed(&|day| day.humidity = Humidity::Mean(0.3)) > base);
    assert!(changed(&|day| day.radiation = Radiation::Sunshine(15.0)) > base);
    assert!(changed(&|day| day.radiation = Radiation::Solar(2.0)) < base);
}

#[test]
fn closed_nonsense_is_refused() {
    let mut day = uccle();
    (day.t_max_c, day.t_min_c) = (10.0, 20.0);
    assert!(matches!(day.et0_mm(&UCCLE), Err(EtProblem::TemperaturesCrossed { .. })));
    let refused = |change: &dyn Fn(&mut DayWeather)| {
        let mut day = uccle();
        change(&mut day);
        matches!(day.et0_mm(&UCCLE), Err(EtProblem::OutOfRange { .. }))
    };
    assert!(refused(&|day| day.day_of_year = 0));
    assert!(refused(&|day| day.wind_speed_2_m_s = -1.0));
    assert!(refused(&|day| day.humidity = Humidity::Mean(63.0)));
    assert!(refused(&|day| day.radiation = Radiation::Solar(f64::NAN)));
    let arctic = Site { latitude_deg: 70.0, elevation_m: 0.0 };
    assert!(uccle().et0_mm(&arctic).is_err());
}
