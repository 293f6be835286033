//! One alternative against the baseline: yield, water, money, verdict.

use super::{Economics, WorthError};
use crate::ensemble::StatisticsError;

use crate::model::Scenario;
use crate::money::{Balance, BreakEven, CashYear, Equipment, Item, Ledger, SeasonUse};
use crate::paired::{Paired, of_differences, pair};
use crate::seasons::{SeasonFigures, Seasons};

use crate::verdict::{Input, Swing, Together, Verdict, sensitivity, together, verdict};

/// How an alternative stands against the baseline.
#[derive(Clone, Debug)]
pub struct AgainstBaseline {
    /// Gain of yield, as a fraction of the yield without stress, whole field.
    pub yield_gain: Paired,
    /// The same of the worst tenth.
    pub worst_tenth_gain: Paired,
    /// Rise of the water lost below the roots, mm.
    pub percolation_rise_mm: Paired,
    /// Gain of DUlq in the interior, fraction.
    pub du_lq_gain: Paired,
    /// Net return, currency a hectare and year.
    pub net_per_ha: Paired,
    /// Of the yield gain that the season's depth map promises for the interior, the share that the
    /// crop really keeps; `None` where it promises next to nothing, or a loss. It may pass 1: the map
    /// lets each place use all its water and its soil's whole store, so fewer places are short in it
    /// than in the daily balance, and more of them gain from evener water there.
    pub kept: Option<f64>,
    /// Mean balance of the money, whole field.
    pub balance: Balance,
    /// Crop price from which it pays.
    pub break_even: BreakEven,
    /// Simple and discounted payback, years; `None` is never.
    pub payback_years: (Option<f64>, Option<f64>),
    /// Cash over the life of what is bought.
    pub cash: Vec<CashYear>,
    /// What the net return hangs on, the widest swing first.
    pub swings: Vec<Swing>,
    /// Net return a hectare and year with all prices drawn together from their ranges; `None`
    /// where none is known.
    pub together: Option<Together>,
    /// Prices that are not known and count as nothing.
    pub left_out: Vec<Item>,
    /// Prices that nobody stands for.
    pub placeholders: Vec<Item>,
    /// The verdict on the net return.
    pub verdict: Verdict,
}

/// A promised gain below this is next to nothing: a tenth of a point of the full yield, which is
/// the least that is shown.
const LEAST_PROMISE: f64 = 1e-3;

impl AgainstBaseline {
    pub(super) fn baseline(
        scenario: &Scenario,
        economics: &Economics,
        seasons: &Seasons,
        index: usize,
    ) -> Result<Self, WorthError> {
        let area_m2 = scenario.field.area().m2();
        let (ledger, equipment) = ledger(scenario, economics, index)?;
        let (own, other) = (uses(seasons, index, area_m2), uses(seasons, 0, area_m2));
        let balances: Vec<Balance> = own
            .iter()
            .zip(&other)
            .map(|(own, other)| ledger.season(own, other))
            .collect::<Result<_, _>>()?;
        let balance =
            Balance::mean(&balances).ok_or(StatisticsError::TooFewSeasons { seasons: 0 })?;
        let nets = balances.iter().map(Balance::net_per_ha).collect();
        let net_per_ha = of_differences(nets, economics.confidence_level)?;
        let mean_uses = [mean_use(&own), mean_use(&other)];
        let (swings, together) = hangs_on(economics, area_m2, equipment, mean_uses)?;
        let compared = |of: fn(&SeasonFigures) -> f64| {
            pair(&seasons.series(index, of), &seasons.series(0, of), economics.confidence_level)
        };
        let promised = compared(|f| f.yield_promised)?.figures.mean;
        let kept = compared(|f| f.yield_interior)?.figures.mean / promised;
        Ok(Self {
            yield_gain: compared(|f| f.yield_fraction)?,
            worst_tenth_gain: compared(|f| f.yield_worst_tenth)?,
            percolation_rise_mm: compared(|f| f.percolation_mm)?,
            du_lq_gain: compared(|f| f.du_lq)?,
            kept: (promised > LEAST_PROMISE).then_some(kept),
            break_even: ledger.break_even_crop_price(&balance),
            payback_years: ledger.payback(&balance),
            cash: ledger.cash_per_year(&balance, ledger.life_years()),
            left_out: ledger.left_out(),
            placeholders: ledger.placeholders(),
            verdict: told(
                economics,
                verdict(&net_per_ha, economics.worthwhile_gain_per_ha, &swings)?,
            ),
            net_per_ha,
            balance,
            swings,
            together,
        })
    }
}

/// The ledger of alternative `index` against the baseline, and the equipment of both.
fn ledger(
    scenario: &Scenario,
    economics: &Economics,
    index: usize,
) -> Result<(Ledger, [Equipment; 2]), WorthError> {
    let equipment = |index: usize| economics.equipment.get(index).copied().unwrap_or_default();
    let equipment = [equipment(index), equipment(0)];
    let area_ha = scenario.field.area().ha();
    Ok((Ledger::new(economics.prices, area_ha, equipment[0], equipment[1])?, equipment))
}

fn uses(seasons: &Seasons, index: usize, area_m2: f64) -> Vec<SeasonUse> {
    seasons.figures.iter().map(|season| season_use(&season[index], area_m2)).collect()
}

/// Net return of each season against the baseline, currency a hectare.
pub(super) fn nets_per_ha(
    scenario: &Scenario,
    economics: &Economics,
    seasons: &Seasons,
    index: usize,
) -> Result<Vec<f64>, WorthError> {
    let area_m2 = scenario.field.area().m2();
    let (ledger, _) = ledger(scenario, economics, index)?;
    let pairs = uses(seasons, index, area_m2).into_iter().zip(uses(seasons, 0, area_m2));
    let net = |(own, other): (SeasonUse, SeasonUse)| Ok(ledger.season(&own, &other)?.net_per_ha());
    pairs.map(net).collect()
}

/// Gain of yield of each season, as a fraction of that without stress.
pub(super) fn yield_gains(seasons: &Seasons, index: usize) -> Vec<f64> {
    let gain =
        |season: &Vec<SeasonFigures>| season[index].yield_fraction - season[0].yield_fraction;
    seasons.figures.iter().map(gain).collect()
}

/// The verdict as far as the prices carry it.
fn told(economics: &Economics, verdict: Verdict) -> Verdict {
    if economics.prices.missing_value().is_empty() { verdict } else { verdict.without_value() }
}

pub(crate) fn season_use(figures: &SeasonFigures, area_m2: f64) -> SeasonUse {
    SeasonUse {
        // Means over many cells may pass 1 by a rounding.
        relative_yield: figures.yield_fraction.clamp(0.0, 1.0),
        gross_water_m3: figures.gross_mm * area_m2 / 1000.0,
        moves: f64::from(figures.moves),
        passes: f64::from(figures.passes),
    }
}

fn mean_use(uses: &[SeasonUse]) -> SeasonUse {
    let seasons = uses.len().max(1) as f64;
    let mean = |of: fn(&SeasonUse) -> f64| uses.iter().map(of).sum::<f64>() / seasons;
    SeasonUse {
        relative_yield: mean(|used| used.relative_yield),
        gross_water_m3: mean(|used| used.gross_water_m3),
        moves: mean(|used| used.moves),
        passes: mean(|used| used.passes),
    }
}

/// Swings of the mean net return a hectare with each price over its range, and its spread with all
/// of them drawn together. The return is linear in
/// yields and water, so means of the seasons stand for all of them.
fn hangs_on(
    economics: &Economics,
    area_m2: f64,
    [own, other]: [Equipment; 2],
    [mean_own, mean_other]: [SeasonUse; 2],
) -> Result<(Vec<Swing>, Option<Together>), WorthError> {
    let known: Vec<(Item, Input)> = Item::ALL
        .into_iter()
        .filter_map(|item| {
            let price = economics.prices.of(item)?;
            let given = economics.ranges.iter().find(|(ranged, ..)| *ranged == item);
            let swing = Economics::DEFAULT_SWING;
            let (low, high) = given.map_or_else(
                || (price.value * (1.0 - swing), price.value * (1.0 + swing)),
                |(_, low, high)| (*low, *high),
            );
            let name = item.label().to_owned();
            let is_placeholder = price.is_placeholder;
            Some((item, Input { name, low, base: price.value, high, is_placeholder }))
        })
        .collect();
    let net = |values: &[f64]| {
        let pairs = known.iter().zip(values);
        let prices =
            pairs.fold(economics.prices, |prices, ((item, _), value)| prices.with(*item, *value));
        let ledger = Ledger::new(prices, area_m2 / 1e4, own, other);
        let balance = ledger.and_then(|ledger| ledger.season(&mean_own, &mean_other));
        // An impossible price in a range comes out as no number, which `sensitivity` refuses.
        balance.map_or(f64::NAN, |balance| balance.net_per_ha())
    };
    let inputs: Vec<Input> = known.iter().map(|(_, input)| input.clone()).collect();
    let swings = sensitivity(&inputs, economics.worthwhile_gain_per_ha, net)?;
    Ok((swings, together(&inputs, economics.worthwhile_gain_per_ha, net)))
}
