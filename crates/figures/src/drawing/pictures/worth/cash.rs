//! Cash of the whole field over the life of what is bought.

use crate::drawing::axis::{Chart, pass_ticks, round_range};
use crate::drawing::canvas::{Canvas, Frame, Ink, Point, sheet};
use crate::drawing::colors::TEXT;
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, styled_line, title};
use crate::drawing::line_style::line_style;
use crate::error::DrawError;
use crate::picture::Picture;
use crate::worth::{Rival, WorthScene};

const HEIGHT: f64 = 330.0;
const HEAD: f64 = 50.0;

/// Draws the picture; nothing where nothing is bought or the crop has no value.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let buyers: Vec<&Rival<'_>> =
        scene.rivals.iter().filter(|rival| scene.life_years(rival).is_some()).collect();
    if buyers.is_empty() || !scene.is_valued() {
        return Ok(None);
    }
    let names: Vec<(usize, &str)> = buyers.iter().map(|rival| (rival.index, rival.name)).collect();
    let heading = "Cash of the whole field, year by year";
    let svg = sheet((WIDTH, HEAD + HEIGHT + 64.0 + key_height(&names)), heading, |canvas| {
        title(canvas, heading)?;
        let frame = Frame {
            left: MARGIN + 74.0,
            top: HEAD + 6.0,
            width: WIDTH - 2.0 * MARGIN - 88.0,
            height: HEIGHT,
        };
        chart(canvas, scene, frame, &buyers)?;
        key(canvas, HEAD + HEIGHT + 62.0, &names)
    })?;
    let caption = format!(
        "Strong lines: all money in and out up to that year, discounted to the day of buying; \
         faint lines: the same without interest. Year 0 is what is bought; each year after it \
         brings the mean gain against “{}”. Where a line crosses zero, what was bought has paid \
         for itself. Lines end where the first of it wears out.",
        scene.baseline()
    );
    Ok(Some(Picture { name: "worth-cash", title: heading.to_owned(), caption, svg }))
}

fn chart(
    canvas: &Canvas<'_>,
    scene: &WorthScene<'_>,
    frame: Frame,
    buyers: &[&Rival<'_>],
) -> Result<(), DrawError> {
    let cash = buyers.iter().flat_map(|rival| &rival.against.cash);
    let sums = cash.clone().flat_map(|year| [year.cumulative, year.cumulative_discounted]);
    let (lo, hi) = sums.fold((0.0, 0.0), |(lo, hi), v| (f64::min(lo, v), f64::max(hi, v)));
    let years = cash.map(|year| year.year).max().unwrap_or(1).max(1);
    let chart = Chart::new(frame, (0.0, f64::from(years)), round_range(lo, hi, 6));
    let mut ticks = pass_ticks(years as usize, 12);
    ticks.insert(0, 0.0);
    let currency = scene.economics.currency.as_deref().unwrap_or("currency of the prices");
    chart.draw(canvas, ("Year", &format!("Sum of cash, {currency}")), &ticks)?;
    let zero = [chart.place(0.0, 0.0), chart.place(f64::from(years), 0.0)];
    canvas.line(&zero, Ink::new(TEXT, 1.6))?;
    for rival in buyers {
        let style = line_style(rival.index);
        let place = |year: u32, sum: f64| chart.place(f64::from(year), sum);
        let cash = &rival.against.cash;
        let plain: Vec<Point> = cash.iter().map(|y| place(y.year, y.cumulative)).collect();
        let faint = Ink { opacity: 0.45, ..Ink::new(style.color, 1.4) };
        canvas.line(&plain, faint)?;
        let late: Vec<Point> =
            cash.iter().map(|y| place(y.year, y.cumulative_discounted)).collect();
        styled_line(canvas, &late, style)?;
        for point in &late {
            style.marker.draw(canvas, *point, 4.0, Ink::new(style.color, 1.6))?;
        }
    }
    Ok(())
}
