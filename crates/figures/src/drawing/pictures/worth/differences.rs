//! How the seasons' differences against the baseline are spread: a row per alternative, a
//! histogram each of yield and money with the mean, its interval and the line of no difference.

use super::labels::{Rival, money_label, seasons};
use crate::drawing::axis::{Axis, BODY, SMALL, bottom_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::drawing::line_style::{LineStyle, line_style};
use crate::picture::Picture;
use crate::scenes::WorthScene;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_view::Amount;
use evenfall_view::worth::{Against, Difference};

const HEAD: f64 = 56.0;
const NAME: f64 = 26.0;
/// Height of the bars, pixels.
const BARS: f64 = 74.0;
/// Height of the strip for mean and interval, pixels.
const STRIP: f64 = 26.0;
/// Room for tick labels, pixels.
const TICKS: f64 = 36.0;
const FOOT: f64 = 30.0;
/// Bins over the whole axis.
const BINS: usize = 48;

/// One of the two quantities, in the shown unit.
struct Measure<'a> {
    label: String,
    /// By rival.
    each: Vec<&'a Difference>,
    /// Ends of the common axis.
    ends: (f64, f64),
}

/// Draws the picture; nothing with one alternative alone.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let view = &scene.view;
    let rivals: Vec<Rival<'_>> = view.rivals().collect();
    if rivals.is_empty() {
        return Ok(None);
    }
    let heading = format!("Season by season against “{}”, {}", view.baseline, seasons(view));
    let yields = "Gain of yield, points of full yield".to_owned();
    let measures = [measure(yields, &rivals, |a| &a.yield_gain), second(scene, &rivals)];
    let row = NAME + BARS + STRIP + TICKS;
    let height = HEAD + row * rivals.len() as f64 + FOOT;
    let half = (WIDTH - 2.0 * MARGIN) / 2.0;
    let drawing = sheet((WIDTH, height), &heading, |canvas| {
        title(canvas, &heading)?;
        for (place, rival) in rivals.iter().enumerate() {
            let top = HEAD + row * place as f64;
            name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, &rival.1.name)?;
            for (side, measure) in measures.iter().enumerate() {
                let left = MARGIN + half * side as f64 + 24.0;
                let frame =
                    Frame { left, top: top + NAME, width: half - 56.0, height: BARS + STRIP };
                panel(canvas, frame, measure, place, line_style(rival.0))?;
            }
        }
        for (side, measure) in measures.iter().enumerate() {
            let middle = MARGIN + half * (side as f64 + 0.5) - 6.0;
            let look = Lettering::new(BODY, Side::Center);
            canvas.text((middle, height - FOOT + 6.0), &measure.label, look)?;
        }
        Ok(())
    })?;
    let caption = format!(
        "Each bar counts seasons by their difference against “{}” in the same weather; right of \
         the strong line at zero is a gain. Below the bars: the mean and its {} interval. Where \
         that stays clear of zero, the seasons agree on the side.",
        view.baseline, view.confidence_level.text
    );
    Ok(Some(Picture { name: "worth-differences", title: heading, caption, drawing }))
}

/// Money, or the worst tenth where the net return of any is not known.
fn second<'a>(scene: &WorthScene<'_>, rivals: &[Rival<'a>]) -> Measure<'a> {
    if scene.view.is_valued() {
        let label = money_label(&scene.view, "Net return");
        measure(label, rivals, |a| a.net.as_ref().unwrap_or(&a.yield_gain))
    } else {
        let label = "Gain of yield in the worst tenth, points of full yield".to_owned();
        measure(label, rivals, |a| &a.worst_tenth_gain)
    }
}

fn measure<'a>(
    label: String,
    rivals: &[Rival<'a>],
    of: fn(&'a Against) -> &'a Difference,
) -> Measure<'a> {
    let each: Vec<&Difference> = rivals.iter().map(|(_, _, against)| of(against)).collect();
    let ends = |difference: &&'a Difference| {
        let interval = &difference.figures.interval;
        let ends = [number(&interval.low), number(&interval.high)];
        difference.by_season.iter().copied().chain(ends)
    };
    let all = each.iter().flat_map(ends);
    let (lo, hi) = all.fold((0.0, 0.0), |(lo, hi), v| (f64::min(lo, v), f64::max(hi, v)));
    let ends = if lo == hi { (-1.0, 1.0) } else { round_range(lo, hi, 6) };
    Measure { label, each, ends }
}

fn number(value: &Amount) -> f64 {
    value.number.unwrap_or(f64::NAN)
}

fn panel(
    canvas: &Canvas<'_>,
    frame: Frame,
    measure: &Measure<'_>,
    place: usize,
    style: LineStyle,
) -> Result<(), DrawError> {
    let difference = measure.each[place];
    let axis = Axis { lo: measure.ends.0, hi: measure.ends.1, from: frame.left, to: frame.right() };
    let (ticks, decimals) = axis.ticks(6);
    for tick in &ticks {
        let x = axis.place(*tick);
        canvas.line(&[(x, frame.top), (x, frame.bottom())], Ink::new(RULE, 1.0))?;
    }
    bars(canvas, frame, &axis, difference, style)?;
    let zero = axis.place(0.0);
    canvas.line(&[(zero, frame.top), (zero, frame.bottom())], Ink::new(TEXT, 2.2))?;
    canvas.outline(frame, Ink::new(TEXT, 1.0))?;
    bottom_ticks(canvas, frame, &axis, &ticks, decimals)?;
    let said = |text: &str, at: f64, side| {
        canvas.text((at, frame.top - 12.0), text, Lettering::new(SMALL, side).color(QUIET))
    };
    let Some(chance) = &difference.chance else {
        return said("no difference in any season", frame.right(), Side::Right);
    };
    let (mean, seasons) = (&difference.figures.mean.text, difference.by_season.len());
    let text = format!("mean {mean}, a gain in {} of {seasons}", chance.gains);
    said(&text, frame.right(), Side::Right)?;
    mean_and_interval(canvas, frame, &axis, difference)
}

/// The seasons as bars, the fullest bin to the full height.
fn bars(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    difference: &Difference,
    style: LineStyle,
) -> Result<(), DrawError> {
    let width = (axis.hi - axis.lo) / BINS as f64;
    let mut counts = [0_usize; BINS];
    for shown in &difference.by_season {
        let bin = ((shown - axis.lo) / width) as usize;
        counts[bin.min(BINS - 1)] += 1;
    }
    let most = counts.iter().copied().max().unwrap_or(1).max(1) as f64;
    for (bin, count) in counts.into_iter().enumerate().filter(|(_, count)| *count > 0) {
        let height = (BARS - 6.0) * count as f64 / most;
        let left = axis.place(axis.lo + width * bin as f64);
        let right = axis.place(axis.lo + width * (bin as f64 + 1.0));
        let bar = Frame {
            left: left + 0.5,
            top: frame.top + BARS - height,
            width: right - left - 1.0,
            height,
        };
        canvas.fill(bar, style.color, 0.55)?;
    }
    Ok(())
}

fn mean_and_interval(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    difference: &Difference,
) -> Result<(), DrawError> {
    let y = frame.top + BARS + STRIP / 2.0;
    let at = |value: &Amount| axis.place(number(value));
    let figures = &difference.figures;
    let (low, high) = (at(&figures.interval.low), at(&figures.interval.high));
    let ink = Ink::new(TEXT, 2.0);
    canvas.line(&[(low, y), (high, y)], ink)?;
    for x in [low, high] {
        canvas.line(&[(x, y - 5.0), (x, y + 5.0)], ink)?;
    }
    canvas.disc((at(&figures.mean), y), 4.6, TEXT, 1.0)
}
