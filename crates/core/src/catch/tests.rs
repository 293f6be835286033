use super::*;

/// A grid of `cans` around one sprinkler at the origin, from −`reach_m` to it, a depth of 1 mm each,
/// one hour, wind from the west (y to the north).
pub(super) fn single_grid(reach_m: f64, step_m: f64, wind_m_s: f64) -> CatchTest {
    let n = (2.0 * reach_m / step_m).round() as usize + 1;
    let can = |i: usize| Can {
        x_m: (i % n) as f64 * step_m - reach_m,
        y_m: (i / n) as f64 * step_m - reach_m,
        depth_mm: Some(1.0),
        line: i + 1,
    };
    CatchTest {
        title: "test".to_owned(),
        kind: Kind::Single { x_m: 0.0, y_m: 0.0 },
        cans: (0..n * n).map(can).collect(),
        blanks_as_dry: 0,
        duration_h: 2.0,
        wind: vec![WindReading { hours: 1.0, speed_m_s: wind_m_s, from_deg: 270.0 }],
        wind_measured_at_m: 2.0,
        bearing_deg: 0.0,
        air: Air::default(),
        can_size: CanSize::default(),
        nozzle: NozzleNotes {
            pressure_kpa: Some(345.0),
            discharge_l_s: Some(0.3),
            trajectory_angle_deg: Some(25.0),
            height_m: Some(1.0),
        },
        evaporation_added_mm: 0.0,
    }
}

#[test]
fn closed_mean_wind_and_its_direction_on_the_ground() {
    let mut test = single_grid(4.0, 2.0, 3.0);
    test.wind.push(WindReading { hours: 1.0, speed_m_s: 5.0, from_deg: 270.0 });
    let (speed, from) = test.mean_wind().unwrap();
    assert!((speed - 4.0).abs() < 1e-12 && (from - 270.0).abs() < 1e-9);
    // From the west with y to the north it blows towards +x; the readings fill the two hours.
    let slices = test.slices(|_| 0.9);
    assert!(slices.iter().all(|s| libm::sin(s.towards_rad).abs() < 1e-9 && s.hours == 1.0));
    assert!(libm::cos(slices[0].towards_rad) > 0.0 && slices[1].net == 0.9);
    // Turned with the field: y to the east, the wind from the west blows towards +y.
    test.bearing_deg = 90.0;
    assert!(libm::sin(test.slices(|_| 1.0)[0].towards_rad) > 0.999);
    test.wind.clear();
    assert_eq!(test.mean_wind(), None);
    assert_eq!(test.slices(|_| 1.0)[0].speed_m_s, 0.0);
}

#[test]
fn closed_spacing_and_missing_cans() {
    let mut test = single_grid(6.0, 1.5, 0.0);
    assert!((test.can_spacing_m().unwrap() - 1.5).abs() < 1e-12);
    test.cans[4].depth_mm = None;
    assert_eq!((test.missing(), test.depths_mm().len()), (1, 80));
    assert_eq!(test.from_sprinkler_m(3.0, 4.0), Some(5.0));
}

#[test]
fn closed_what_a_grid_caught_against_what_was_delivered() {
    let test = single_grid(6.0, 1.5, 0.0);
    let found = volume::of_grid(&test).unwrap();
    // 81 cans of 2.25 m² with 1 mm; 0.3 L/s over two hours.
    assert!((found.caught_l - 81.0 * 2.25).abs() < 1e-9);
    assert!((found.delivered_l - 2160.0).abs() < 1e-9);
    let mut unknown = test;
    unknown.nozzle.discharge_l_s = None;
    assert_eq!(volume::of_grid(&unknown), Err(CatchProblem::NotNoted("discharge")));
}
