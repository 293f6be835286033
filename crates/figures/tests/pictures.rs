//! What every picture must hold: readable by a parser, sane in size, marked with letters, and the
//! same twice.
#![allow(clippy::unwrap_used)] // in helpers of tests

mod synthetic;

use evenfall_core::grid::DepthGrid;
use evenfall_figures::{DrawError, Picture, pictures, wheel_picture};
use evenfall_view::UnitSystem;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::fontdb::Database;
use resvg::usvg::{Options, Tree};
use std::path::Path;
use std::sync::Arc;
use synthetic::{Recipe, build, wheel_reach};

fn small() -> Recipe {
    Recipe { field_ft: (320.0, 360.0), passes: 4, ..Recipe::demo() }
}

fn drawn(recipe: &Recipe) -> Vec<Picture> {
    let (scenario, outcome) = build(recipe);
    pictures(&scenario, &outcome, UnitSystem::Us).unwrap()
}

fn named<'a>(all: &'a [Picture], name: &str) -> &'a Picture {
    all.iter().find(|p| p.name == name).unwrap()
}

#[test]
fn invariant_every_picture_is_a_sound_svg() {
    let mut all = drawn(&small());
    all.push(wheel_picture(&wheel_reach(), UnitSystem::Us).unwrap());
    assert_eq!(all.len(), 12);
    for picture in &all {
        let tree = Tree::from_str(picture.svg(), &Options::default()).unwrap();
        assert!((tree.size().width() - 1000.0).abs() < 0.5, "{}", picture.name);
        assert!(tree.size().height() < 3000.0, "{}", picture.name);
        assert!(
            picture.svg().len() < 1_000_000,
            "{} is {} bytes",
            picture.name,
            picture.svg().len()
        );
        assert!(picture.svg().contains("<title>") && !picture.caption.is_empty());
    }
    let mut names: Vec<_> = all.iter().map(|p| p.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), 12);
}

#[test]
fn closed_a_gain_is_drawn_only_where_there_is_something_to_gain_against() {
    let has_gain = |recipe: &Recipe| drawn(recipe).iter().any(|p| p.name == "gain");
    assert!(has_gain(&small()));
    assert!(!has_gain(&Recipe { alternatives: vec![("alone".into(), vec![0.0])], ..small() }));
}

#[test]
fn invariant_stops_carry_letters() {
    let all = drawn(&small());
    for name in ["season-depth", "season-deviation", "build-up-detail", "stops"] {
        let svg = named(&all, name).svg();
        for letter in ["A", "B", "C"] {
            // A text stands on a line of its own in the SVG.
            let found = svg.contains(&format!(">\n{letter}\n</text>"));
            assert!(found, "{name} has no letter {letter}");
        }
    }
}

#[test]
fn invariant_the_same_bytes_twice_and_on_one_thread() {
    let first = drawn(&small());
    assert_eq!(first, drawn(&small()));
    let (scenario, outcome) = build(&small());
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    let alone = pool.install(|| pictures(&scenario, &outcome, UnitSystem::Us)).unwrap();
    assert_eq!(first, alone);
    assert_eq!(first[0].png(1.0).unwrap(), alone[0].png(1.0).unwrap());
}

#[test]
fn closed_a_png_has_the_asked_size_and_is_not_blank() {
    let all = drawn(&small());
    let bytes = named(&all, "course").png(0.5).unwrap();
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut pixels).unwrap();
    assert_eq!(frame.width, 500);
    assert!(pixels.iter().any(|p| *p < 40), "no ink");
    assert!(
        pixels.iter().map(|p| u64::from(*p)).sum::<u64>() > 180 * pixels.len() as u64,
        "no paper"
    );
}

#[test]
fn invariant_odd_seasons_are_drawn() {
    let (one_alternative, mut many) = (Recipe::demo().alternatives[..1].to_vec(), small());
    for index in 0..3 {
        many.alternatives.push((format!("{} {index}", "Very long name ".repeat(12)), vec![10.0]));
    }
    let odd = [
        Recipe { alternatives: one_alternative, passes: 1, ..small() },
        Recipe { passes: 60, field_ft: (120.0, 180.0), ..small() },
        Recipe { dry: true, ..small() },
        Recipe { field_ft: (40.0, 1320.0), ..small() },
        Recipe { field_ft: (80.0, 60.0), ..small() },
        many,
    ];
    for recipe in &odd {
        for picture in drawn(recipe) {
            let tree = Tree::from_str(picture.svg(), &Options::default());
            assert!(tree.is_ok(), "{}: {:?}", picture.name, tree.err());
            assert!(picture.png(0.5).is_ok(), "{}", picture.name);
            // A value that is no number would be lettered so.
            assert!(!picture.svg().contains("n/a"), "{}", picture.name);
        }
    }
}

#[test]
fn regress_results_that_do_not_belong_together_are_refused() {
    let (scenario, mut outcome) = build(&small());
    outcome.alternatives.pop();
    let refused = pictures(&scenario, &outcome, UnitSystem::Si);
    assert!(matches!(refused, Err(DrawError::Mismatch(_))));
    let (scenario, mut outcome) = build(&small());
    outcome.alternatives[0].season_mm = Arc::new(DepthGrid::zeros((1, 1)));
    assert!(pictures(&scenario, &outcome, UnitSystem::Si).is_err());
    let (scenario, mut outcome) = build(&small());
    outcome.alternatives[0].passes.clear();
    assert!(pictures(&scenario, &outcome, UnitSystem::Si).is_err());
}

#[test]
fn regress_a_senseless_scale_is_refused() {
    let wheel = wheel_picture(&wheel_reach(), UnitSystem::Si).unwrap();
    for scale in [0.0, -1.0, f32::NAN, 1e9] {
        assert!(wheel.png(scale).is_err(), "{scale}");
    }
}

/// Red, green and blue of each pixel of a PNG, with its width.
fn pixels(png: &[u8]) -> (usize, Vec<u8>) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(png)).read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut pixels).unwrap();
    assert_eq!(frame.color_type, png::ColorType::Rgb);
    (frame.width as usize, pixels)
}

/// An SVG made a raster of by a library that reads SVG.
fn raster_of(svg: &str, scale: f32) -> (usize, Vec<u8>) {
    let mut fonts = Database::new();
    for font in ["DejaVuSans.sub.ttf", "DejaVuSans-Bold.sub.ttf"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../shared/fonts").join(font);
        fonts.load_font_data(std::fs::read(path).unwrap());
    }
    let family = "DejaVu Sans".to_owned();
    let options = Options { fontdb: Arc::new(fonts), font_family: family, ..Options::default() };
    let tree = Tree::from_str(svg, &options).unwrap();
    let size = tree.size().to_int_size().scale_by(scale).unwrap();
    let mut raster = Pixmap::new(size.width(), size.height()).unwrap();
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut raster.as_mut());
    let rgb = raster.data().chunks_exact(4).flat_map(|rgba| [rgba[0], rgba[1], rgba[2]]);
    (size.width() as usize, rgb.collect())
}

#[test]
fn reference_a_png_is_the_svg_as_a_library_paints_it() {
    // What differs is kerning, which that library does: letters lie up to a pixel or two apart. Measured: up to
    // 0.75 % of bytes far apart, 1.3 of 255 in the mean, most where a sheet is small and lettered densely.
    let mut all = drawn(&small());
    all.push(wheel_picture(&wheel_reach(), UnitSystem::Us).unwrap());
    for picture in &all {
        let (found, expected) = (pixels(&picture.png(1.5).unwrap()), raster_of(picture.svg(), 1.5));
        assert_eq!((found.0, found.1.len()), (expected.0, expected.1.len()), "{}", picture.name);
        let gaps = found.1.iter().zip(&expected.1).map(|(a, b)| a.abs_diff(*b));
        let far = gaps.clone().filter(|gap| *gap > 64).count() as f64 / found.1.len() as f64;
        let mean = gaps.map(f64::from).sum::<f64>() / found.1.len() as f64;
        assert!(far < 0.01 && mean < 1.6, "{}: {far}, {mean}", picture.name);
    }
}
