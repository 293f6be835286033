use evenfall_core::sprinkler::footprint::*;
use evenfall_core::sprinkler::landing::*;
use evenfall_core::sprinkler::shape::*;
use evenfall_core::sprinkler::*;
use evenfall_core::weather::profile::*;
use std::time::Instant;
fn main() {
    let launch = Launch { pressure_kpa: 345.0, trajectory_deg: 25.0, nozzle_height_m: 1.2 };
    let leg = IdealPattern::new(Shape::Elliptical, 14.0, 0.314).unwrap().leg().unwrap();
    let profile = LogProfile::new(Surface::SHORT_GRASS, 10.0).unwrap();
    for turbulence in [0.0, 0.1] {
        let drag = DragCorrection { k1: 0.5, k2: 0.2, turbulence };
        let t = Instant::now();
        let map = LandingMap::new(14.0, &launch, &drag, &profile, 15.0, LandingSettings::default())
            .unwrap();
        println!("map {:?}", t.elapsed());
        for (r, a) in [(2.0, 2.0), (3.0, 2.0), (3.0, 3.0)] {
            let s =
                FootprintSettings { rings_per_cell: r, samples_per_cell: a, ..Default::default() };
            let t = Instant::now();
            let jets = [(&leg, &map)];
            let maker = FootprintMaker::new(&jets, 0.6096, s).unwrap();
            let cut = t.elapsed();
            let slices: Vec<_> = (0..12)
                .map(|k| WindSlice {
                    hours: 1.0,
                    net: 0.9,
                    speed_m_s: 0.5 + k as f64 * 0.7,
                    towards_rad: k as f64 * 0.37,
                })
                .collect();
            let t = Instant::now();
            let mut x = 0.0;
            for _ in 0..100 {
                x += maker
                    .set_footprint(&slices, Phase { along: 0.0, across: 0.3 })
                    .unwrap()
                    .values
                    .sum();
            }
            println!(
                "{r} {a} turb {turbulence}: cut {cut:?}; per slice {:?} {x}",
                t.elapsed() / 1200
            );
            let t = Instant::now();
            maker.still_footprint(Phase::CORNER).unwrap();
            println!("still {:?}", t.elapsed());
        }
    }
}
