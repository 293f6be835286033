//! What the net return hangs on: a bar per price and per doubt about pattern, losses, soil and crop
//! over its plausible range, the widest first.

use super::labels::{Rival, money_label};
use crate::drawing::axis::{Axis, BODY, SMALL, bottom_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::picture::Picture;
use crate::scenes::WorthScene;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, TEXT, WHITE};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Rgb, Side, sheet, text_width};
use evenfall_view::worth::money::{money, with_currency};
use evenfall_view::worth::{Swing, Worth};

const HEAD: f64 = 84.0;
const NAME: f64 = 28.0;
const ROW: f64 = 40.0;
const TICKS: f64 = 62.0;
/// Room for the inputs' names, pixels.
const LABELS: f64 = 216.0;
/// Room for the break-even, pixels.
const BREAK_EVEN: f64 = 186.0;
/// Size of the numbers at the ends of bars, pixels.
const NUMBER: f64 = SMALL - 1.0;
/// Towards the low end and towards the high end of the range.
const LOW: Rgb = (86, 160, 211);
const HIGH: Rgb = (222, 143, 5);

/// Draws the picture; nothing where none moves money.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let view = &scene.view;
    let blocks: Vec<(Rival<'_>, Vec<&Swing>)> = view
        .rivals()
        .map(|rival| (rival, rival.2.swings.iter().filter(|swing| swing.matters).collect()))
        .filter(|(rival, swings): &(Rival<'_>, Vec<&Swing>)| {
            rival.2.is_valued() && !swings.is_empty()
        })
        .collect();
    if blocks.is_empty() {
        return Ok(None);
    }
    let heading = "What the net return hangs on";
    let height = |swings: &[&Swing]| NAME + ROW * swings.len() as f64 + TICKS;
    let total: f64 = blocks.iter().map(|(_, swings)| height(swings)).sum();
    let drawing = sheet((WIDTH, HEAD + total + 8.0), heading, |canvas| {
        let top = title(canvas, heading)?;
        key(canvas, top + 10.0)?;
        let mut top = HEAD;
        for (rival, swings) in &blocks {
            block(canvas, view, rival, swings, top)?;
            top += height(swings);
        }
        Ok(())
    })?;
    let caption = format!(
        "Each price, and each number about pattern, losses, soil and crop that is not known for \
         sure, is varied over its plausible range (numbers at the ends of a bar) while the others \
         stay as given; the widest bar matters most. Strong line: the net return from which \
         it pays ({} per {} per year). A bar that crosses it can turn the verdict: the diamond and \
         the words at the right say at which value. Hatched bars are placeholder prices.",
        with_currency(&money(target(view)), view.currency.as_deref()),
        view.area_word
    );
    let title = heading.to_owned();
    Ok(Some(Picture { name: "worth-sensitivity", title, caption, drawing }))
}

/// The worthwhile gain, by the shown unit of area.
fn target(view: &Worth) -> f64 {
    view.worthwhile_gain.number.unwrap_or(0.0)
}

/// Net return at the low end, as given and at the high end, by the shown unit of area.
fn nets(swing: &Swing) -> [f64; 3] {
    [0, 1, 2].map(|end| swing.net[end].number.unwrap_or(f64::NAN))
}

fn block(
    canvas: &Canvas<'_>,
    view: &Worth,
    (_, alternative, against): &Rival<'_>,
    swings: &[&Swing],
    top: f64,
) -> Result<(), DrawError> {
    name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, &alternative.name)?;
    let frame = Frame {
        left: MARGIN + LABELS,
        top: top + NAME,
        width: WIDTH - 2.0 * MARGIN - LABELS - BREAK_EVEN,
        height: ROW * swings.len() as f64,
    };
    let target = target(view);
    let all = swings.iter().flat_map(|swing| nets(swing));
    let (lo, hi) = all.fold((target, target), |(lo, hi), v| (lo.min(v), hi.max(v)));
    // Room for the widest number at either end of the widest bar.
    let texts = swings.iter().flat_map(|swing| [0, 2].map(|end| &swing.input_texts[end]));
    let widest = texts.map(|text| text_width(text, NUMBER, false)).fold(0.0, f64::max) + 14.0;
    let widest = widest.min(0.3 * frame.width);
    let spare = (hi - lo) * widest / (frame.width - 2.0 * widest);
    let (lo, hi) = round_range(lo - spare, hi + spare, 8);
    let axis = Axis { lo, hi, from: frame.left, to: frame.right() };
    let (ticks, decimals) = axis.ticks(7);
    for tick in &ticks {
        let x = axis.place(*tick);
        canvas.line(&[(x, frame.top), (x, frame.bottom())], Ink::new(RULE, 1.0))?;
    }
    for (row, swing) in swings.iter().enumerate() {
        let y = frame.top + ROW * (row as f64 + 0.5);
        let nets = nets(swing).map(|net| axis.place(net));
        bar(canvas, y, swing, nets)?;
        words(canvas, frame, y, swing)?;
    }
    let at = axis.place(target);
    canvas.line(&[(at, frame.top), (at, frame.bottom())], Ink::new(TEXT, 2.2))?;
    if let Some(mean) = against.net.as_ref().and_then(|net| net.figures.mean.number) {
        let x = axis.place(mean);
        canvas.dashed(&[(x, frame.top), (x, frame.bottom())], Ink::new(TEXT, 1.2), (5.0, 4.0))?;
    }
    // Diamonds and numbers last, so that no line crosses them.
    for (row, _) in swings.iter().enumerate().filter(|(_, swing)| swing.break_even.is_some()) {
        diamond(canvas, (at, frame.top + ROW * (row as f64 + 0.5)))?;
    }
    for (row, swing) in swings.iter().enumerate() {
        let y = frame.top + ROW * (row as f64 + 0.5);
        let nets = nets(swing).map(|net| axis.place(net));
        ends(canvas, y, swing, nets, at)?;
    }
    canvas.outline(frame, Ink::new(TEXT, 1.0))?;
    bottom_ticks(canvas, frame, &axis, &ticks, decimals)?;
    let label = money_label(view, "Net return");
    let place = (frame.middle().0, frame.bottom() + 36.0);
    canvas.text(place, &label, Lettering::new(BODY, Side::Center))
}

/// The bar of one input: base to low and base to high.
fn bar(canvas: &Canvas<'_>, y: f64, swing: &Swing, nets: [f64; 3]) -> Result<(), DrawError> {
    for (end, color) in [(0, LOW), (2, HIGH)] {
        let (from, to) = (nets[1].min(nets[end]), nets[1].max(nets[end]));
        let half = Frame { left: from, top: y - 10.0, width: to - from, height: 20.0 };
        canvas.fill(half, color, 1.0)?;
        if swing.is_placeholder {
            hatch(canvas, half)?;
        }
        if half.width > 0.5 {
            canvas.outline(half, Ink::new(TEXT, 0.8))?;
        }
    }
    Ok(())
}

/// The numbers at the ends of a bar, beside it and clear of the diamond on the strong line at
/// `strong`; that line leaves a gap where it would cross a number.
fn ends(
    canvas: &Canvas<'_>,
    y: f64,
    swing: &Swing,
    nets: [f64; 3],
    strong: f64,
) -> Result<(), DrawError> {
    let turns = swing.break_even.is_some();
    for end in [0, 2].into_iter().filter(|end| (nets[*end] - nets[1]).abs() > 0.5) {
        let text = &swing.input_texts[end];
        let width = text_width(text, NUMBER, false);
        let is_left = nets[end] < nets[1];
        let is_near = turns && (nets[end] - strong).abs() < 10.0;
        let bar_end = match (is_near, is_left) {
            (false, _) => nets[end],
            (true, true) => nets[end].min(strong - 8.0),
            (true, false) => nets[end].max(strong + 8.0),
        };
        let (x, left, side) = if is_left {
            (bar_end - 5.0, bar_end - 5.0 - width, Side::Right)
        } else {
            (bar_end + 5.0, bar_end + 5.0, Side::Left)
        };
        if (left - 3.0..left + width + 3.0).contains(&strong) {
            let gap = Frame { left: strong - 2.0, top: y - 10.0, width: 4.0, height: 20.0 };
            canvas.fill(gap, WHITE, 1.0)?;
        }
        canvas.text((x, y), text, Lettering::new(NUMBER, side))?;
    }
    Ok(())
}

/// Name and base value at the left, break-even at the right.
fn words(canvas: &Canvas<'_>, frame: Frame, y: f64, swing: &Swing) -> Result<(), DrawError> {
    let left = frame.left - 10.0;
    canvas.text((left, y - 8.0), &swing.label, Lettering::new(BODY, Side::Right))?;
    let mark = if swing.is_placeholder { "placeholder: " } else { "" };
    let base = format!("{mark}{}", swing.input_texts[1]);
    let look = Lettering::new(SMALL, Side::Right).color(QUIET);
    canvas.text((left, y + 9.0), &base, look)?;
    let right = frame.right() + 12.0;
    let Some(price) = &swing.break_even_text else {
        let look = Lettering::new(SMALL, Side::Left).color(QUIET);
        return canvas.text((right, y), "same answer in its range", look);
    };
    let look = Lettering::new(SMALL, Side::Left).bold();
    canvas.text((right, y), &format!("turns at {price}"), look)
}

/// Slanting lines over a frame, cut at its edges.
fn hatch(canvas: &Canvas<'_>, frame: Frame) -> Result<(), DrawError> {
    let step = 7.0;
    let mut start = frame.left - frame.height;
    while start < frame.right() {
        // The line x = start + t, y = bottom − t, with t from 0 to the height.
        let from = (frame.left - start).max(0.0);
        let to = (frame.right() - start).min(frame.height);
        if to > from {
            let at = |t: f64| (start + t, frame.bottom() - t);
            canvas.line(&[at(from), at(to)], Ink::new(TEXT, 1.1))?;
        }
        start += step;
    }
    Ok(())
}

fn diamond(canvas: &Canvas<'_>, (x, y): Point) -> Result<(), DrawError> {
    let shape = |r: f64| [(x, y - r), (x + r, y), (x, y + r), (x - r, y)];
    canvas.polygon(&shape(8.0), WHITE, 1.0)?;
    canvas.polygon(&shape(6.0), TEXT, 1.0)
}

/// What colors and signs mean.
fn key(canvas: &Canvas<'_>, y: f64) -> Result<(), DrawError> {
    let samples = [
        (Some(LOW), false, "towards the low end"),
        (Some(HIGH), false, "towards the high end"),
        (Some(WHITE), true, "placeholder"),
        (None, false, "the answer turns"),
    ];
    let mut left = MARGIN;
    for (color, is_hatched, text) in samples {
        let sample = Frame { left, top: y - 7.0, width: 30.0, height: 14.0 };
        match color {
            Some(color) => {
                canvas.fill(sample, color, 1.0)?;
                canvas.outline(sample, Ink::new(TEXT, 0.8))?;
            }
            None => diamond(canvas, (left + 18.0, y))?,
        }
        if is_hatched {
            hatch(canvas, sample)?;
        }
        canvas.text((left + 38.0, y), text, Lettering::new(SMALL, Side::Left))?;
        left += 38.0 + text_width(text, SMALL, false) + 26.0;
    }
    canvas.dashed(&[(left, y), (left + 30.0, y)], Ink::new(TEXT, 1.2), (5.0, 4.0))?;
    canvas.text((left + 38.0, y), "mean of the seasons", Lettering::new(SMALL, Side::Left))
}
