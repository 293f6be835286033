//! Where a wheel can stand beside an outlet.

use crate::drawing::axis::{Axis, BODY, SMALL};
use crate::drawing::furniture::{MARGIN, WIDTH, arrow, title};
use crate::picture::Picture;
use crate::scenes::positive;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, TEXT};
use evenfall_canvas::{Canvas, Ink, Lettering, Point, Side, sheet};
use evenfall_core::lateral::stops::{Standing, WheelReach};
use evenfall_view::units::{Quantity, UnitSystem, number};

const GOOD: evenfall_canvas::Rgb = (0, 114, 178);
const BAD: evenfall_canvas::Rgb = (190, 80, 0);
const LINE: f64 = 120.0;

/// Draws the places beside an outlet, to scale, with what keeps the lateral from standing there.
///
/// # Errors
/// If there are no places, or a library refuses.
pub fn wheel_picture(reach: &WheelReach, units: UnitSystem) -> Result<Picture, DrawError> {
    let across =
        |s: &evenfall_core::lateral::stops::Stop| units.shown(Quantity::Length, s.shift.across_m);
    let farthest = reach.stops.iter().map(|s| across(s).abs()).fold(0.0, f64::max);
    if !positive(farthest) {
        return Err(DrawError::Mismatch("the wheel has no places to draw".to_owned()));
    }
    let heading = "Where this wheel line can stand beside an outlet";
    let axis = Axis { lo: -farthest, hi: farthest, from: MARGIN + 60.0, to: WIDTH - MARGIN - 60.0 };
    let drawing = sheet((WIDTH, 252.0), heading, |canvas| {
        title(canvas, heading)?;
        let ends = [(axis.from - 40.0, LINE), (axis.to + 40.0, LINE)];
        canvas.line(&ends, Ink::new(RULE, 2.0))?;
        let outlet = axis.place(0.0);
        canvas.line(&[(outlet, LINE - 34.0), (outlet, LINE)], Ink::new(TEXT, 1.2))?;
        let look = Lettering::new(SMALL, Side::Center);
        canvas.text((outlet, LINE - 44.0), "outlet", look)?;
        for stop in &reach.stops {
            let x = axis.place(across(stop));
            mark(canvas, (x, LINE), stop.standing)?;
            let decimals = usize::from((across(stop) - across(stop).round()).abs() > 0.05);
            canvas.text((x, LINE + 24.0), &number(across(stop), decimals), look)?;
            canvas.text((x, LINE + 42.0), &turns(stop.turns), look.color(QUIET))?;
        }
        let unit = units.symbol(Quantity::Length);
        let text = format!("upper numbers: {unit} from the outlet; lower: turns of the wheel");
        canvas.text(
            (MARGIN, LINE + 72.0),
            &text,
            Lettering::new(SMALL, Side::Left).color(QUIET),
        )?;
        arrow(canvas, (WIDTH - 200.0, LINE + 72.0), 90.0, 40.0)?;
        canvas.text(
            (WIDTH - 150.0, LINE + 72.0),
            "direction of travel",
            Lettering::new(SMALL, Side::Left),
        )?;
        key(canvas)
    })?;
    let caption = "Discs are stops the lateral can take (smaller ones at part of a turn, held level by its \
        levelers); triangles hang the sprinklers under or \
        beside the pipe; crosses are out of reach.";
    Ok(Picture { name: "wheel", title: heading.to_owned(), caption: caption.to_owned(), drawing })
}

fn turns(turns: f64) -> String {
    let decimals = usize::from((turns - turns.round()).abs() > 0.01);
    number(turns, decimals)
}

fn mark(canvas: &Canvas<'_>, (x, y): Point, standing: Standing) -> Result<(), DrawError> {
    match standing {
        Standing::Reachable => canvas.disc((x, y), 9.0, GOOD, 1.0),
        Standing::OnLevelers => canvas.disc((x, y), 6.0, GOOD, 0.6),
        Standing::HalfTurn | Standing::PartTurn => {
            let hanging =
                [(x - 7.0, y - 5.0), (x + 7.0, y - 5.0), (x, y + 8.0), (x - 7.0, y - 5.0)];
            canvas.line(&hanging, Ink::new(BAD, 2.0))
        }
        Standing::BeyondReach | Standing::NotAlongThePipe | Standing::TooFarAlong => {
            canvas.line(&[(x - 6.0, y - 6.0), (x + 6.0, y + 6.0)], Ink::new(BAD, 2.4))?;
            canvas.line(&[(x - 6.0, y + 6.0), (x + 6.0, y - 6.0)], Ink::new(BAD, 2.4))
        }
    }
}

fn key(canvas: &Canvas<'_>) -> Result<(), DrawError> {
    let samples = [
        (Standing::Reachable, "can stand here"),
        (Standing::HalfTurn, "sprinklers not on top"),
        (Standing::BeyondReach, "whole turns, beyond reach"),
    ];
    for (index, (standing, text)) in samples.into_iter().enumerate() {
        let x = MARGIN + 12.0 + 270.0 * index as f64;
        mark(canvas, (x, LINE + 108.0), standing)?;
        canvas.text((x + 18.0, LINE + 108.0), text, Lettering::new(BODY, Side::Left))?;
    }
    Ok(())
}
