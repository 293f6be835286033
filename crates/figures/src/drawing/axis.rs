//! Axes: round ticks, and the line from values to places on the sheet.

use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{RULE, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Side};
use evenfall_view::units::number;

/// Size of tick labels, pixels.
pub(crate) const SMALL: f64 = 13.0;
/// Size of axis titles and names, pixels.
pub(crate) const BODY: f64 = 14.0;

/// A range of values laid over a length of the sheet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Axis {
    pub(crate) lo: f64,
    pub(crate) hi: f64,
    /// Place of `lo` and of `hi`, pixels.
    pub(crate) from: f64,
    pub(crate) to: f64,
}

impl Axis {
    /// Place of a value, pixels.
    pub(crate) fn place(&self, value: f64) -> f64 {
        self.from + (value - self.lo) / (self.hi - self.lo) * (self.to - self.from)
    }

    /// Round values within the range, about `wanted` of them, and the decimals they need.
    pub(crate) fn ticks(&self, wanted: usize) -> (Vec<f64>, usize) {
        let step = round_step((self.hi - self.lo) / wanted.max(1) as f64);
        let first = (self.lo / step - 1e-9).ceil() as i64;
        let last = (self.hi / step + 1e-9).floor() as i64;
        let decimals = (-(step.log10() + 1e-9).floor()).max(0.0) as usize;
        ((first..=last).map(|i| i as f64 * step).collect(), decimals)
    }
}

/// The smallest of 1, 2, 5 × a power of ten that is not under `rough`.
pub(crate) fn round_step(rough: f64) -> f64 {
    if !(rough.is_finite() && rough > 0.0) {
        return 1.0;
    }
    let power = 10f64.powf(rough.log10().floor());
    let factor = [1.0, 2.0, 5.0].into_iter().find(|f| f * power >= rough * (1.0 - 1e-9));
    factor.unwrap_or(10.0) * power
}

/// A range widened outward to round values; never of no width.
pub(crate) fn round_range(lo: f64, hi: f64, wanted: usize) -> (f64, f64) {
    let hi = if hi > lo { hi } else { lo + lo.abs().max(1.0) * 0.1 };
    let step = round_step((hi - lo) / wanted.max(1) as f64);
    ((lo / step + 1e-9).floor() * step, (hi / step - 1e-9).ceil() * step)
}

/// A chart: its frame with an axis each way.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chart {
    pub(crate) frame: Frame,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
}

impl Chart {
    pub(crate) fn new(frame: Frame, x: (f64, f64), y: (f64, f64)) -> Self {
        let x = Axis { lo: x.0, hi: x.1, from: frame.left, to: frame.right() };
        let y = Axis { lo: y.0, hi: y.1, from: frame.bottom(), to: frame.top };
        Self { frame, x, y }
    }

    pub(crate) fn place(&self, x: f64, y: f64) -> Point {
        (self.x.place(x), self.y.place(y))
    }

    /// Frame, light lines across, ticks with labels, axis titles.
    pub(crate) fn draw(
        &self,
        canvas: &Canvas<'_>,
        titles: (&str, &str),
        x_ticks: &[f64],
    ) -> Result<(), DrawError> {
        let (ticks, decimals) = self.y.ticks(6);
        let widest = ticks.iter().map(|tick| number(*tick, decimals).chars().count()).max();
        for tick in ticks {
            let y = self.y.place(tick);
            canvas.line(&[(self.frame.left, y), (self.frame.right(), y)], Ink::new(RULE, 1.0))?;
            let label = Lettering::new(SMALL, Side::Right);
            canvas.text((self.frame.left - 8.0, y), &number(tick, decimals), label)?;
        }
        canvas.outline(self.frame, Ink::new(TEXT, 1.0))?;
        bottom_ticks(canvas, self.frame, &self.x, x_ticks, 0)?;
        let (middle_x, middle_y) = self.frame.middle();
        let centerd = Lettering::new(BODY, Side::Center);
        canvas.text((middle_x, self.frame.bottom() + 40.0), titles.0, centerd)?;
        // Clear of the widest number: about 10 a figure at this size, and never nearer than usual.
        let clear = (22.0 + 10.0 * widest.unwrap_or(0) as f64).max(48.0);
        canvas.text((self.frame.left - clear, middle_y), titles.1, centerd.upright())
    }

    /// Says why the chart is empty.
    pub(crate) fn no_water(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let (x, y) = self.frame.middle();
        canvas.text((x, y - 20.0), "no water fell", Lettering::new(BODY, Side::Center))
    }
}

/// Ticks with labels along the lower edge of a frame.
pub(crate) fn bottom_ticks(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    ticks: &[f64],
    decimals: usize,
) -> Result<(), DrawError> {
    for tick in ticks {
        let (x, y) = (axis.place(*tick), frame.bottom());
        canvas.line(&[(x, y), (x, y + 5.0)], Ink::new(TEXT, 1.0))?;
        let label = Lettering::new(SMALL, Side::Center);
        canvas.text((x, y + 15.0), &number(*tick, decimals), label)?;
    }
    Ok(())
}

/// Ticks with labels along the left edge of a frame.
pub(crate) fn left_ticks(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    ticks: &[f64],
    decimals: usize,
) -> Result<(), DrawError> {
    for tick in ticks {
        let (x, y) = (frame.left, axis.place(*tick));
        canvas.line(&[(x - 5.0, y), (x, y)], Ink::new(TEXT, 1.0))?;
        let label = Lettering::new(SMALL, Side::Right);
        canvas.text((x - 8.0, y), &number(*tick, decimals), label)?;
    }
    Ok(())
}

/// Numbers of passes to label, at most about `wanted`, the last one always among them.
pub(crate) fn pass_ticks(passes: usize, wanted: usize) -> Vec<f64> {
    let step = (round_step(passes as f64 / wanted as f64)).max(1.0) as usize;
    let mut ticks: Vec<usize> = (1..=passes).filter(|p| *p == 1 || p % step == 0).collect();
    if step > 1 && ticks.get(1).is_some_and(|second| *second < 1 + step / 2) {
        ticks.remove(1);
    }
    if let Some(last) = ticks.last().copied().filter(|last| *last != passes) {
        if passes - last < step.div_ceil(2) && last != 1 {
            ticks.pop();
        }
        ticks.push(passes);
    }
    ticks.into_iter().map(|p| p as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_ticks_are_round() {
        let axis = Axis { lo: 0.0, hi: 1320.0, from: 0.0, to: 100.0 };
        assert_eq!(axis.ticks(4), (vec![0.0, 500.0, 1000.0], 0));
        let axis = Axis { lo: 0.62, hi: 1.01, from: 0.0, to: 100.0 };
        assert_eq!(axis.ticks(4).1, 1);
        let (lo, hi) = round_range(0.63, 0.97, 4);
        assert!((lo - 0.6).abs() < 1e-12 && (hi - 1.0).abs() < 1e-12);
        assert_eq!(pass_ticks(12, 12).len(), 12);
        assert_eq!(pass_ticks(1, 12), vec![1.0]);
        assert_eq!(pass_ticks(13, 6), vec![1.0, 5.0, 10.0, 13.0]);
    }

    #[test]
    fn closed_a_range_of_no_width_is_widened() {
        let (lo, hi) = round_range(5.0, 5.0, 4);
        assert!(lo <= 5.0 && hi > 5.0);
        let (lo, hi) = round_range(0.0, 0.0, 4);
        assert!(hi > lo);
    }
}
