//! The wind in the hours when water ran, by where it came from.

use crate::drawing::axis::{BODY, SMALL, round_step};
use crate::drawing::furniture::{WIDTH, arrow, title, toward};
use crate::picture::Picture;
use crate::scenes::Scene;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, TEXT};
use evenfall_canvas::{Canvas, Ink, Lettering, Point, Side, sheet};
use evenfall_view::units::{COMPASS, Quantity, percent};

const RADIUS: f64 = 140.0;
const CENTER: Point = (250.0, 236.0);
const BAR: evenfall_canvas::Rgb = (0, 90, 140);

/// Draws the picture.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let heading = "Wind while water ran";
    let drawing = sheet((WIDTH, 430.0), heading, |canvas| {
        title(canvas, heading)?;
        rose(canvas, &scene.outcome.wind.rose)?;
        let (left, top) = (CENTER.0 + RADIUS + 110.0, 110.0);
        for (line, text) in facts(scene).iter().enumerate() {
            let place = (left, top + 24.0 * line as f64);
            canvas.text(place, text, Lettering::new(BODY, Side::Left))?;
        }
        lie_of_the_field(canvas, scene, (left + 60.0, top + 230.0))
    })?;
    let caption = "The longer a bar, the more of the watered hours the wind blew from there; the \
        rings give the share. Hours under 0.5 m/s count as calm and have no direction. Taken over \
        the set hours of the first alternative.";
    Ok(Picture { name: "wind", title: heading.to_owned(), caption: caption.to_owned(), drawing })
}

fn facts(scene: &Scene<'_>) -> Vec<String> {
    let wind = &scene.outcome.wind;
    let speed = |value: f64| scene.units.text(Quantity::Speed, value, 1);
    vec![
        format!("Mean by day (06–18 h): {}", speed(wind.day_mean_m_s)),
        format!("Mean by night: {}", speed(wind.night_mean_m_s)),
        format!("Strongest hour: {}", speed(wind.highest_m_s)),
        format!("Calm hours: {}", percent(wind.calm_share, 0)),
        format!("Measured {} above ground", scene.length(wind.measured_at_m)),
    ]
}

fn rose(canvas: &Canvas<'_>, shares: &[f64; 16]) -> Result<(), DrawError> {
    let most = shares.iter().copied().fold(0.0, f64::max);
    let step = round_step((100.0 * most).max(1.0) / 3.0) / 100.0;
    let rings = (most / step).ceil().max(1.0);
    let scale = RADIUS / (rings * step);
    for ring in 1..=rings as usize {
        let radius = ring as f64 * step * scale;
        canvas.ring(CENTER, radius, Ink::new(RULE, 1.0))?;
    }
    for (sector, share) in shares.iter().enumerate() {
        let (turn, length) = (sector as f64 * 22.5, share * scale);
        if *share > 0.0 {
            let edge = |by: f64, d: f64| toward(CENTER, turn + by, d);
            let arc = (-4..=4).map(|i| edge(f64::from(i) * 2.0, length));
            let points: Vec<Point> = std::iter::once(CENTER).chain(arc).collect();
            canvas.polygon(&points, BAR, 1.0)?;
        }
        let look = if sector % 4 == 0 {
            Lettering::new(BODY, Side::Center).bold()
        } else {
            Lettering::new(SMALL - 1.0, Side::Center).color(QUIET)
        };
        canvas.text(toward(CENTER, turn, RADIUS + 20.0), COMPASS[sector], look)?;
    }
    for ring in 1..=rings as usize {
        let value = ring as f64 * step;
        // Between two sectors, where no bar lies.
        let place = toward(CENTER, 56.25, value * scale - 8.0);
        let decimals = usize::from(step < 0.01);
        canvas.text(place, &percent(value, decimals), Lettering::new(12.0, Side::Center))?;
    }
    Ok(())
}

/// How the pipe and the direction of travel lie under that wind.
fn lie_of_the_field(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    center: Point,
) -> Result<(), DrawError> {
    let bearing = scene.scenario.field.travel_bearing_deg;
    let pipe = [toward(center, bearing + 90.0, 40.0), toward(center, bearing - 90.0, 40.0)];
    canvas.line(&pipe, Ink::new(TEXT, 4.0))?;
    arrow(canvas, center, bearing, 36.0)?;
    let look = Lettering::new(SMALL, Side::Left);
    let lines = ["North is up.", "Bar: the pipe.", "Arrow: direction of travel."];
    for (line, text) in lines.iter().enumerate() {
        canvas.text((center.0 + 64.0, center.1 - 18.0 + 18.0 * line as f64), text, look)?;
    }
    Ok(())
}
