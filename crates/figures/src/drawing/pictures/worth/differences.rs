//! How the seasons' differences against the baseline are spread: a row per alternative, a
//! histogram each of yield and money with the mean, its interval and the line of no difference.

use super::{money_label, seasons};
use crate::drawing::axis::{Axis, BODY, SMALL, bottom_ticks, round_range};
use crate::drawing::canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use crate::drawing::colors::{QUIET, RULE, TEXT};
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::drawing::line_style::{LineStyle, line_style};
use crate::error::DrawError;
use crate::picture::Picture;
use crate::units::{percent, points};
use crate::worth::{WorthScene, signed_money};
use evenfall_core::paired::{Chance, Paired};
use evenfall_core::worth::AgainstBaseline;

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

/// One of the two quantities.
struct Measure<'a> {
    label: String,
    /// By rival.
    each: Vec<&'a Paired>,
    /// Brings a difference into the shown unit.
    factor: f64,
    shown: fn(f64) -> String,
    /// Ends of the common axis, shown unit.
    ends: (f64, f64),
}

/// Draws the picture; nothing with one alternative alone.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    if scene.rivals.is_empty() {
        return Ok(None);
    }
    let heading = format!("Season by season against “{}”, {}", scene.baseline(), seasons(scene));
    let measures = [yields(scene), second(scene)];
    let row = NAME + BARS + STRIP + TICKS;
    let height = HEAD + row * scene.rivals.len() as f64 + FOOT;
    let half = (WIDTH - 2.0 * MARGIN) / 2.0;
    let svg = sheet((WIDTH, height), &heading, |canvas| {
        title(canvas, &heading)?;
        for (place, rival) in scene.rivals.iter().enumerate() {
            let top = HEAD + row * place as f64;
            name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, rival.name)?;
            for (side, measure) in measures.iter().enumerate() {
                let left = MARGIN + half * side as f64 + 24.0;
                let frame =
                    Frame { left, top: top + NAME, width: half - 56.0, height: BARS + STRIP };
                panel(canvas, frame, measure, place, line_style(rival.index))?;
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
        scene.baseline(),
        percent(scene.economics.confidence_level, 0)
    );
    Ok(Some(Picture { name: "worth-differences", title: heading, caption, svg }))
}

fn yields<'a>(scene: &WorthScene<'a>) -> Measure<'a> {
    let label = "Gain of yield, points of full yield".to_owned();
    measure(label, scene, |a| &a.yield_gain, 100.0, |v| points(v / 100.0, 1))
}

/// Money, or the worst tenth where the crop has no value.
fn second<'a>(scene: &WorthScene<'a>) -> Measure<'a> {
    if scene.is_valued() {
        let factor = scene.units().per_area(1.0);
        let label = money_label(scene, "Net return");
        measure(label, scene, |a| &a.net_per_ha, factor, signed_money)
    } else {
        let label = "Gain of yield in the worst tenth, points of full yield".to_owned();
        measure(label, scene, |a| &a.worst_tenth_gain, 100.0, |v| points(v / 100.0, 1))
    }
}

fn measure<'a>(
    label: String,
    scene: &WorthScene<'a>,
    of: fn(&'a AgainstBaseline) -> &'a Paired,
    factor: f64,
    shown: fn(f64) -> String,
) -> Measure<'a> {
    let each: Vec<&Paired> = scene.rivals.iter().map(|rival| of(rival.against)).collect();
    let ends = |paired: &&'a Paired| {
        let interval = paired.figures.interval;
        paired.differences.iter().copied().chain([interval.low, interval.high]).map(|v| v * factor)
    };
    let all = each.iter().flat_map(ends);
    let (lo, hi) = all.fold((0.0, 0.0), |(lo, hi), v| (f64::min(lo, v), f64::max(hi, v)));
    let ends = if lo == hi { (-1.0, 1.0) } else { round_range(lo, hi, 6) };
    Measure { label, each, factor, shown, ends }
}

fn panel(
    canvas: &Canvas<'_>,
    frame: Frame,
    measure: &Measure<'_>,
    place: usize,
    style: LineStyle,
) -> Result<(), DrawError> {
    let paired = measure.each[place];
    let axis = Axis { lo: measure.ends.0, hi: measure.ends.1, from: frame.left, to: frame.right() };
    let (ticks, decimals) = axis.ticks(6);
    for tick in &ticks {
        let x = axis.place(*tick);
        canvas.line(&[(x, frame.top), (x, frame.bottom())], Ink::new(RULE, 1.0))?;
    }
    bars(canvas, frame, &axis, measure, paired, style)?;
    let zero = axis.place(0.0);
    canvas.line(&[(zero, frame.top), (zero, frame.bottom())], Ink::new(TEXT, 2.2))?;
    canvas.outline(frame, Ink::new(TEXT, 1.0))?;
    bottom_ticks(canvas, frame, &axis, &ticks, decimals)?;
    let said = |text: &str, at: f64, side| {
        canvas.text((at, frame.top - 12.0), text, Lettering::new(SMALL, side).color(QUIET))
    };
    let Chance::Counted { gains, .. } = paired.chance else {
        return said("no difference in any season", frame.right(), Side::Right);
    };
    let mean = (measure.shown)(paired.figures.mean * measure.factor);
    let seasons = paired.figures.seasons;
    said(&format!("mean {mean}, a gain in {gains} of {seasons}"), frame.right(), Side::Right)?;
    mean_and_interval(canvas, frame, &axis, measure, paired)
}

/// The seasons as bars, the fullest bin to the full height.
fn bars(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    measure: &Measure<'_>,
    paired: &Paired,
    style: LineStyle,
) -> Result<(), DrawError> {
    let width = (axis.hi - axis.lo) / BINS as f64;
    let mut counts = [0_usize; BINS];
    for difference in &paired.differences {
        let bin = ((difference * measure.factor - axis.lo) / width) as usize;
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
    measure: &Measure<'_>,
    paired: &Paired,
) -> Result<(), DrawError> {
    let y = frame.top + BARS + STRIP / 2.0;
    let at = |value: f64| axis.place(value * measure.factor);
    let figures = &paired.figures;
    let (low, high) = (at(figures.interval.low), at(figures.interval.high));
    let ink = Ink::new(TEXT, 2.0);
    canvas.line(&[(low, y), (high, y)], ink)?;
    for x in [low, high] {
        canvas.line(&[(x, y - 5.0), (x, y + 5.0)], ink)?;
    }
    canvas.disc((at(figures.mean), y), 4.6, TEXT, 1.0)
}
