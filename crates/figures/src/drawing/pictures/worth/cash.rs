//! Cash of the whole field over the life of what is bought.

use super::labels::Rival;
use crate::drawing::axis::{Chart, pass_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, styled_line, title};
use crate::drawing::line_style::line_style;
use crate::picture::Picture;
use crate::scenes::WorthScene;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::TEXT;
use evenfall_canvas::{Canvas, Frame, Ink, Point, sheet};
use evenfall_view::worth::Worth;

const HEIGHT: f64 = 330.0;
const HEAD: f64 = 50.0;

/// Draws the picture; nothing where nothing is bought or the crop has no value.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let view = &scene.view;
    let buyers: Vec<Rival<'_>> = view.rivals().filter(is_drawn).collect();
    if buyers.is_empty() {
        return Ok(None);
    }
    let names: Vec<(usize, &str)> =
        buyers.iter().map(|(index, alternative, _)| (*index, alternative.name.as_str())).collect();
    let heading = "Cash of the whole field, year by year";
    let drawing = sheet((WIDTH, HEAD + HEIGHT + 64.0 + key_height(&names)), heading, |canvas| {
        title(canvas, heading)?;
        let frame = Frame {
            left: MARGIN + 74.0,
            top: HEAD + 6.0,
            width: WIDTH - 2.0 * MARGIN - 88.0,
            height: HEIGHT,
        };
        chart(canvas, view, frame, &buyers)?;
        key(canvas, HEAD + HEIGHT + 62.0, &names)
    })?;
    let caption = format!(
        "Strong lines: all money in and out up to that year, discounted to the day of buying; \
         faint lines: the same without interest. Year 0 is what you buy; each year after it brings \
         the mean gain against “{}”. Where a line crosses zero, the purchase has paid for itself. \
         Lines end where the first of it wears out.",
        view.baseline
    );
    Ok(Some(Picture { name: "worth-cash", title: heading.to_owned(), caption, drawing }))
}

/// It buys something, and what it brings is known.
fn is_drawn((_, _, against): &Rival<'_>) -> bool {
    against.life_years.is_some() && against.is_valued()
}

fn chart(
    canvas: &Canvas<'_>,
    view: &Worth,
    frame: Frame,
    buyers: &[Rival<'_>],
) -> Result<(), DrawError> {
    let cash = buyers.iter().flat_map(|(_, _, against)| &against.cash);
    let sums = cash.clone().flat_map(|year| [year.cumulative, year.cumulative_discounted]);
    let (lo, hi) = sums.fold((0.0, 0.0), |(lo, hi), v| (f64::min(lo, v), f64::max(hi, v)));
    let years = cash.map(|year| year.year).max().unwrap_or(1).max(1);
    let chart = Chart::new(frame, (0.0, f64::from(years)), round_range(lo, hi, 6));
    let mut ticks = pass_ticks(years as usize, 12);
    ticks.insert(0, 0.0);
    let currency = view.currency.as_deref().unwrap_or("currency of the prices");
    chart.draw(canvas, ("Year", &format!("Sum of cash, {currency}")), &ticks)?;
    let zero = [chart.place(0.0, 0.0), chart.place(f64::from(years), 0.0)];
    canvas.line(&zero, Ink::new(TEXT, 1.6))?;
    for (index, _, against) in buyers {
        let style = line_style(*index);
        let place = |year: u32, sum: f64| chart.place(f64::from(year), sum);
        let cash = &against.cash;
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
