//! One alternative against the baseline: yield, water, money, verdict.

use super::inputs::{Economics, WorthError};
use crate::doubt::apply::ranges_of;
use crate::ensemble::StatisticsError;
use crate::model::Scenario;
use crate::money::{
    Balance, BreakEven, CashYear, Ledger, Missing, MoneyProblems, PerArea, PriceEntry, PriceKey,
    Prices, SeasonUse,
};
use crate::paired::{Paired, of_differences, pair};
use crate::seasons::{SeasonFigures, Seasons};
use crate::verdict::{
    Explained, Input, PriceSpread, Question, Swing, Verdict, drawn_nets, explain, long_run,
    sensitivity, verdict,
};

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
    /// crop realizes; `None` where it promises next to nothing, or a loss. It may pass 1: the map
    /// lets each place use all its water and its soil's whole store, so fewer places are short in it
    /// than in the daily balance, and more of them gain from more uniform water there.
    pub realized_share: Option<f64>,
    /// Mean balance of the money, whole field.
    pub balance: Balance,
    /// Crop price from which it pays.
    pub break_even: BreakEven,
    /// Simple and discounted payback, years; `None` is never.
    pub payback_years: (Option<f64>, Option<f64>),
    /// Years until the first of what is bought wears out; `None` where nothing is bought.
    pub life_years: Option<u32>,
    /// Cash over those years, or over one.
    pub cash: Vec<CashYear>,
    /// What the net return hangs on, the widest swing first.
    pub swings: Vec<Swing>,
    /// Net return a hectare and year with all prices drawn together from their ranges; `None`
    /// where none is known.
    pub price_spread: Option<PriceSpread>,
    /// Prices, and what a longer reach needs, that are not known though they matter: there is no net
    /// return without them.
    pub missing: Vec<Missing>,
    /// Placeholders that it rests on.
    pub placeholders: Vec<PriceKey>,
    /// How sure the long-run net return is; `None` where no doubts were drawn.
    pub explained: Option<Explained>,
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
        let ledger_at = |prices: &Prices| books(scenario, economics, prices, index);
        let ledger = ledger_at(&economics.prices)?;
        let uses = uses(seasons, index);
        let balances = balances(&ledger, &uses)?;
        let balance =
            Balance::mean(&balances).ok_or(StatisticsError::TooFewSeasons { seasons: 0 })?;
        let mut net_per_ha = of_differences(nets_of(&balances), economics.confidence_level)?;
        let (swings, price_nets) = hangs_on(economics, ledger_at, mean_uses(&uses))?;
        let worthwhile = economics.worthwhile_gain.per_ha();
        let price_spread =
            (!price_nets.is_empty()).then(|| PriceSpread::of(&price_nets, worthwhile));
        let ranges = economics.doubts.then(|| ranges_of(scenario));
        let explained = ranges.filter(|_| !net_per_ha.is_no_difference()).and_then(|ranges| {
            let question = Question {
                nets: &net_per_ha.differences,
                ranges: &ranges,
                first_season: seasons.first,
                swings: &swings,
                worthwhile_gain: worthwhile,
                level: economics.confidence_level,
            };
            explain(&question, &price_nets)
        });
        if let Some(explained) = &explained {
            net_per_ha.figures.interval = explained.interval;
        }
        let compared = |of: fn(&SeasonFigures) -> f64| {
            let level = economics.confidence_level;
            let mut paired = pair(&seasons.series(index, of), &seasons.series(0, of), level)?;
            if economics.doubts && !paired.is_no_difference() {
                paired.figures = long_run(paired.figures, &paired.differences);
            }
            Ok::<_, StatisticsError>(paired)
        };
        let promised = compared(|f| f.yield_promised)?.figures.mean;
        let realized = compared(|f| f.yield_interior)?.figures.mean / promised;
        let missing = ledger.missing(&uses);
        Ok(Self {
            yield_gain: compared(|f| f.yield_fraction)?,
            worst_tenth_gain: compared(|f| f.yield_worst_tenth)?,
            percolation_rise_mm: compared(|f| f.percolation_mm)?,
            du_lq_gain: compared(|f| f.du_lq)?,
            realized_share: (promised > LEAST_PROMISE).then_some(realized),
            break_even: balance.break_even_crop_price(),
            payback_years: ledger.payback(&balance),
            life_years: ledger.life_years(),
            cash: ledger.cash_per_year(&balance),
            placeholders: ledger.placeholders(),
            verdict: verdict(&net_per_ha, worthwhile, &swings, explained.as_ref())?
                .without(&missing),
            missing,
            net_per_ha,
            balance,
            swings,
            price_spread,
            explained,
        })
    }

    /// Whether its net return is known: no price that matters is missing.
    pub fn is_valued(&self) -> bool {
        self.missing.is_empty()
    }

    /// Mean net return a year, by area.
    pub fn mean_net(&self) -> PerArea {
        PerArea::of_ha(self.net_per_ha.figures.mean)
    }
}

/// The ledger of alternative `index` against the baseline at `prices`.
fn books(
    scenario: &Scenario,
    economics: &Economics,
    prices: &Prices,
    index: usize,
) -> Result<Ledger, MoneyProblems> {
    let [own, other] = [index, 0].map(|index| economics.equipment_of(index));
    let ledger = Ledger::new(prices, scenario.field.area(), own, other)?;
    Ok(ledger.pumped(economics.energy_ratio(index)))
}

/// What alternative `index` and the baseline used, season by season.
fn uses(seasons: &Seasons, index: usize) -> Vec<[SeasonUse; 2]> {
    let both = |season: &Vec<SeasonFigures>| [index, 0].map(|at| season_use(&season[at]));
    seasons.figures.iter().map(both).collect()
}

fn balances(ledger: &Ledger, uses: &[[SeasonUse; 2]]) -> Result<Vec<Balance>, WorthError> {
    uses.iter().map(|[own, other]| Ok(ledger.season(own, other)?)).collect()
}

/// Net return of each season, currency a hectare.
fn nets_of(balances: &[Balance]) -> Vec<f64> {
    balances.iter().map(|balance| balance.net_per_area().per_ha()).collect()
}

/// Net return of each season against the baseline, currency a hectare.
pub(super) fn nets_per_ha(
    scenario: &Scenario,
    economics: &Economics,
    seasons: &Seasons,
    index: usize,
) -> Result<Vec<f64>, WorthError> {
    let ledger = books(scenario, economics, &economics.prices, index)?;
    Ok(nets_of(&balances(&ledger, &uses(seasons, index))?))
}

/// Gain of yield of each season, as a fraction of that without stress.
pub(super) fn yield_gains(seasons: &Seasons, index: usize) -> Vec<f64> {
    let gain =
        |season: &Vec<SeasonFigures>| season[index].yield_fraction - season[0].yield_fraction;
    seasons.figures.iter().map(gain).collect()
}

/// What a season of these figures used and brought.
pub(crate) fn season_use(figures: &SeasonFigures) -> SeasonUse {
    SeasonUse {
        // Means over many cells may pass 1 by a rounding.
        relative_yield: figures.yield_fraction.clamp(0.0, 1.0),
        // What leaks is paid for as well.
        gross_mm: figures.pumped_mm(),
        moves: f64::from(figures.moves),
        passes: f64::from(figures.passes),
        dry_way_h: figures.dry_way_h,
    }
}

/// Means of what alternative and baseline used.
fn mean_uses(uses: &[[SeasonUse; 2]]) -> [SeasonUse; 2] {
    let seasons = uses.len().max(1) as f64;
    [0, 1].map(|which: usize| {
        let mean = |of: fn(&SeasonUse) -> f64| {
            uses.iter().map(|both| of(&both[which])).sum::<f64>() / seasons
        };
        SeasonUse {
            relative_yield: mean(|used| used.relative_yield),
            gross_mm: mean(|used| used.gross_mm),
            moves: mean(|used| used.moves),
            passes: mean(|used| used.passes),
            dry_way_h: mean(|used| used.dry_way_h),
        }
    })
}

/// Swings of the mean net return a hectare with each price over its range, and net returns with all
/// of them drawn together (none where no price is known). The return is linear in yields and water, so means of the seasons stand
/// for all of them.
fn hangs_on(
    economics: &Economics,
    ledger_at: impl Fn(&Prices) -> Result<Ledger, MoneyProblems>,
    [mean_own, mean_other]: [SeasonUse; 2],
) -> Result<(Vec<Swing>, Vec<f64>), WorthError> {
    let input = |(price, known): (PriceKey, PriceEntry)| {
        let (low, high) = known.ends();
        Input { price, low, base: known.value, high, is_placeholder: known.is_placeholder }
    };
    let inputs: Vec<Input> = economics.prices.known().map(input).collect();
    let net = |values: &[f64]| {
        let pairs = inputs.iter().zip(values);
        let prices = pairs.fold(economics.prices.clone(), |prices, (input, value)| {
            prices.with(input.price, *value)
        });
        let balance = ledger_at(&prices).and_then(|ledger| ledger.season(&mean_own, &mean_other));
        // An impossible price in a range comes out as no number, which `sensitivity` refuses.
        balance.map_or(f64::NAN, |balance| balance.net_per_area().per_ha())
    };
    let worthwhile = economics.worthwhile_gain.per_ha();
    let swings = sensitivity(&inputs, worthwhile, net)?;
    Ok((swings, drawn_nets(&inputs, net).unwrap_or_default()))
}
