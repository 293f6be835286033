//! Makes the invented catch tests of `data/catch`: the demo's sprinkler, simulated, read with errors.
//!
//!     cargo run -p evenfall --example catch_data -- FOLDER
//!
//! Errors: 5 % of the depth and 0.1 mm a can, normal, from a fixed seed; 7 % of the water never lands.

use evenfall_core::catch::rig::{Rig, simulate, simulate_single};
use evenfall_core::catch::{Air, Can, CanSize, CatchTest, Kind, Lines, NozzleNotes, WindReading};
use evenfall_core::sprinkler::Sprinkler;
use evenfall_core::sprinkler::losses::Losses;
use evenfall_core::units::{L_S_PER_GPM, M_PER_FT, MM_PER_IN};
use evenfall_core::weather::AssumedAir;
use rand::SeedableRng;
use rand_distr::{Distribution, Normal};
use std::error::Error;
use std::f64::consts::PI;
use std::fmt::Write as _;
use std::path::Path;

const NET: f64 = 0.93;
const INVENTED: &str = "# note: invented, made by the simulator; nothing was measured\n";

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("name a folder")?;
    let folder = Path::new(&folder);
    let resolved = evenfall_scenario::resolve(evenfall_scenario::demo(), &|_| Err(String::new()))?;
    let alternative = &resolved.scenario.alternatives[0];
    let sprinkler = &alternative.sprinkler;
    let mut noise = Noise::new()?;
    let lines = |name: &str, text: String| std::fs::write(folder.join(name), text);
    lines("between-laterals.csv", between_laterals(sprinkler, &mut noise)?)?;
    lines("one-lateral.csv", one_lateral(sprinkler, &mut noise)?)?;
    lines("one-sprinkler-wind.csv", one_sprinkler(sprinkler, &mut noise)?)?;
    lines("leg-still-air.csv", leg(sprinkler, &mut noise))?;
    Ok(())
}

/// Errors of reading.
struct Noise {
    random: rand::rngs::ChaCha8Rng,
    unit: Normal<f64>,
}

impl Noise {
    fn new() -> Result<Self, Box<dyn Error>> {
        let random = rand::rngs::ChaCha8Rng::seed_from_u64(2026);
        Ok(Self { random, unit: Normal::new(0.0, 1.0)? })
    }

    fn read(&mut self, depth_mm: f64) -> f64 {
        let error = 0.05 * depth_mm * self.unit.sample(&mut self.random)
            + 0.1 * self.unit.sample(&mut self.random);
        if depth_mm < 0.05 { 0.0 } else { (depth_mm + error).max(0.0) }
    }
}

fn test(kind: Kind, places_m: &[(f64, f64)], minutes: f64, wind: &[(f64, f64)]) -> CatchTest {
    let can = |(x_m, y_m): &(f64, f64)| Can { x_m: *x_m, y_m: *y_m, depth_mm: None, line: 0 };
    let reading = |(speed_m_s, from_deg): &(f64, f64)| WindReading {
        hours: 0.25,
        speed_m_s: *speed_m_s,
        from_deg: *from_deg,
    };
    CatchTest {
        title: String::new(),
        kind,
        cans: places_m.iter().map(can).collect(),
        blanks_as_dry: 0,
        duration_h: minutes / 60.0,
        wind: wind.iter().map(reading).collect(),
        wind_measured_at_m: 2.0,
        bearing_deg: 0.0,
        air: Air::default(),
        can_size: CanSize::default(),
        nozzle: NozzleNotes::default(),
        evaporation_added_mm: 0.0,
    }
}

fn grid_ft(xs: &[f64], ys: &[f64]) -> Vec<(f64, f64)> {
    let along = |y: &f64| xs.iter().map(|x| (x * M_PER_FT, y * M_PER_FT)).collect::<Vec<_>>();
    ys.iter().flat_map(along).collect()
}

fn every(from: f64, to: f64, step: f64) -> Vec<f64> {
    let n = ((to - from) / step).round() as usize;
    (0..=n).map(|i| from + i as f64 * step).collect()
}

fn wind_lines(wind: &[(f64, f64)]) -> String {
    let line = |(speed, from): &(f64, f64)| format!("# wind: 15 min, {speed} m/s, {from} deg\n");
    wind.iter().map(line).collect()
}

fn laterals(at_ft: &[f64]) -> Kind {
    Kind::Lines(Lines {
        at_m: at_ft.iter().map(|ft| ft * M_PER_FT).collect(),
        sprinkler_x_m: 0.0,
        sprinkler_spacing_m: Some(40.0 * M_PER_FT),
        outlet_spacing_m: Some(60.0 * M_PER_FT),
    })
}

fn rig(sprinkler: &Sprinkler) -> Rig<'_> {
    Rig {
        sprinkler,
        sprinkler_spacing_m: 40.0 * M_PER_FT,
        losses: Losses::Fraction(1.0 - NET),
        losses_factor: 1.0,
        assumed_air: AssumedAir { temperature_c: 20.0, relative_humidity: 0.5 },
    }
}

/// Depth rows in US units.
fn rows_us(places: &[(f64, f64)], depths: &[f64], noise: &mut Noise) -> Vec<String> {
    let places = places.iter().zip(depths);
    places
        .map(|((x, y), depth)| {
            let depth_in = noise.read(*depth) / MM_PER_IN;
            format!("{:.1},{:.1},{depth_in:.2}", x / M_PER_FT, y / M_PER_FT)
        })
        .collect()
}

/// 96 cans in one period between two laterals; one knocked over, one half spilled.
fn between_laterals(sprinkler: &Sprinkler, noise: &mut Noise) -> Result<String, Box<dyn Error>> {
    let wind = [(2.6, 255.0), (3.1, 262.0), (3.9, 270.0), (3.4, 281.0), (2.9, 266.0), (3.6, 272.0)];
    let places = grid_ft(&every(2.5, 37.5, 5.0), &every(2.5, 57.5, 5.0));
    let made = test(laterals(&[0.0, 60.0]), &places, 90.0, &wind);
    let depths = simulate(&made, &rig(sprinkler))?;
    let mut rows = rows_us(&places, &depths, noise);
    "17.5,17.5,".clone_into(&mut rows[27]);
    "22.5,37.5,0.05".clone_into(&mut rows[60]);
    Ok(format!(
        "# test: lateral\n# title: Between two laterals, light west wind\n{INVENTED}# duration: 90 min\n\
         # start: 2026-06-03 09:00\n# laterals at: 0 ft, 60 ft\n# sprinkler at: 0 ft, 0 ft\n\
         # sprinkler spacing: 40 ft\n# outlet spacing: 60 ft\n# can diameter: 4 in\n# can height: 6 in\n\
         # blanks: missing\n# pressure: 50 psi\n# discharge: 4.98 gpm\n# bearing of y: 0 deg\n\
         # wind height: 2 m\n{}x_ft,y_ft,depth_in\n{}\n",
        wind_lines(&wind),
        rows.join("\n")
    ))
}

/// Cans on both sides of one lateral, to be overlapped.
fn one_lateral(sprinkler: &Sprinkler, noise: &mut Noise) -> Result<String, Box<dyn Error>> {
    let wind = [(1.2, 180.0), (1.6, 200.0), (1.4, 190.0), (1.1, 185.0)];
    let places = grid_ft(&every(5.0, 35.0, 10.0), &every(-57.5, 57.5, 5.0));
    let made = test(laterals(&[0.0]), &places, 60.0, &wind);
    let depths = simulate(&made, &rig(sprinkler))?;
    Ok(format!(
        "# test: lateral\n# title: One lateral, nearly calm\n{INVENTED}# duration: 60 min\n\
         # start: 2026-06-04 05:00\n# laterals at: 0 ft\n# sprinkler spacing: 40 ft\n\
         # outlet spacing: 60 ft\n# can diameter: 3 in\n# pressure: 50 psi\n# bearing of y: 0 deg\n# wind height: 2 m\n{}\
         x_ft,y_ft,depth_in\n{}\n",
        wind_lines(&wind),
        rows_us(&places, &depths, noise).join("\n")
    ))
}

/// A matrix of volumes around one sprinkler in wind.
fn one_sprinkler(sprinkler: &Sprinkler, noise: &mut Noise) -> Result<String, Box<dyn Error>> {
    let wind = [(4.1, 265.0), (4.8, 272.0), (4.4, 270.0), (4.6, 268.0)];
    let axis = every(-18.0, 20.0, 2.0);
    let places: Vec<(f64, f64)> =
        axis.iter().flat_map(|y| axis.iter().map(|x| (*x, *y)).collect::<Vec<_>>()).collect();
    let made = test(Kind::Single { x_m: 0.0, y_m: 0.0 }, &places, 60.0, &wind);
    let depths = simulate_single(&made, sprinkler, NET)?;
    let area_cm2 = PI / 4.0 * 100.0;
    let mut table = "y_m/x_m".to_owned();
    for x in &axis {
        let _ = write!(table, ",{x:.0}");
    }
    for (row, y) in axis.iter().enumerate() {
        let _ = write!(table, "\n{y:.0}");
        for depth in &depths[row * axis.len()..(row + 1) * axis.len()] {
            // 1 mm over 1 cm² is 0.1 mL.
            let _ = write!(table, ",{:.0}", 0.1 * area_cm2 * noise.read(*depth));
        }
    }
    Ok(format!(
        "# test: single\n# title: One sprinkler in west wind\n{INVENTED}# duration: 60 min\n\
         # start: 2026-06-05 14:00\n# readings: volume_ml\n# can diameter: 10 cm\n# can height: 16 cm\n\
         # pressure: 345 kPa\n# discharge: {:.3} L/s\n# trajectory angle: {} deg\n# nozzle height: {} m\n\
         # wetted radius: {:.2} m\n# bearing of y: 0 deg\n# wind height: 2 m\n{}{table}\n",
        sprinkler.discharge_l_s(),
        sprinkler.jets[0].launch.trajectory_angle_deg,
        sprinkler.jets[0].launch.nozzle_height_m,
        sprinkler.radius_m(),
        wind_lines(&wind),
    ))
}

/// Cans along two radii in still air.
fn leg(sprinkler: &Sprinkler, noise: &mut Noise) -> String {
    let mut rows = String::new();
    for azimuth in [0, 180] {
        for r_ft in every(1.5, 46.5, 3.0) {
            let rate: f64 = sprinkler.jets.iter().map(|j| j.leg().rate_at(r_ft * M_PER_FT)).sum();
            let depth_in = noise.read(rate * NET) / MM_PER_IN;
            let _ = writeln!(rows, "{r_ft:.1},{azimuth},{depth_in:.3}");
        }
    }
    format!(
        "# test: leg\n# title: Leg in still air, two radii\n{INVENTED}# duration: 60 min\n\
         # start: 2026-06-06 05:00\n# can diameter: 4 in\n# pressure: 50 psi\n# discharge: {:.2} gpm\n\
         # wind: 60 min, 0 m/s\n# wind height: 2 m\ndistance_ft,azimuth_deg,depth_in\n{rows}",
        sprinkler.discharge_l_s() / L_S_PER_GPM
    )
}
