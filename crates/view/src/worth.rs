//! What the alternatives are worth as it is shown: figures over the seasons, money, verdicts.
//! Made once; worth.json, the terminal's table, the report and the explorer's answer follow from it.

mod against;
mod asking;
mod certainty;
pub mod money;
mod over_seasons;
mod plan;
mod repairs;
mod sentences;
mod source;
mod swing;
mod verdict;
mod words;

pub use against::{
    Against, Balance, BalancePart, BreakEven, CashYear, NOT_KNOWN, Payback, PriceSpread,
};
pub use certainty::{Certainty, DoubtCause};
pub use over_seasons::{Difference, GainChance, OverSeasons};
pub use plan::{PlanPart, PlanYield, ShortestSet};
pub use swing::Swing;
pub use verdict::{Answer, Hinge, Settled, Verdict};

use crate::season::Split;
use crate::units::{Quantity, UnitSystem};
use crate::value::Amount;
use evenfall_core::model::Scenario;
use evenfall_core::money::{PerArea, Price, PriceEntry, PriceKey};
use evenfall_core::season::HoursLaid;
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::worth::{Economics, HalfWidth, Reached, Worth as Found};
use over_seasons::Measure;
use serde::Serialize;
use source::Source;
use utoipa::ToSchema;

/// What the alternatives are worth. Money is in the currency of the prices, against the baseline; a
/// gain is above zero.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Worth {
    /// Title of the scenario.
    pub title: String,
    /// Seed of the weather.
    pub seed: u64,
    /// Seasons that were finished.
    pub seasons_finished: usize,
    /// Seasons that were wanted.
    pub seasons_wanted: usize,
    /// Fewer were finished than wanted.
    pub is_partial: bool,
    /// How far a precision that was asked for was reached.
    pub precision: Option<Precision>,
    /// Confidence level of all intervals.
    pub confidence_level: Amount,
    /// Area of the field inside its boundary.
    pub area: Amount,
    /// Smallest net return that is worth the effort.
    pub worthwhile_gain: Amount,
    /// Name of the baseline.
    pub baseline: String,
    /// Name of the prices' currency.
    pub currency: Option<String>,
    /// Unit of money by area, "USD per acre per year".
    pub money_unit: String,
    /// Unit of area by which money is told: `acre` or `hectare`.
    pub area_word: &'static str,
    /// The prices that are known.
    pub prices: Vec<KnownPrice>,
    /// `net_return`, or `yield_worst_tenth` where the net return of any is not known.
    pub ranked_by: &'static str,
    /// The same in words.
    pub ranked_by_words: &'static str,
    /// In order of rank.
    pub ranking: Vec<Ranked>,
    /// In the scenario's order, the baseline first.
    pub alternatives: Vec<AlternativeWorth>,
    /// What the baseline's plan misses of the full yield and loses of the water.
    pub plan: Option<PlanYield>,
    /// The answer in paragraphs, the most important first.
    pub answer: Vec<String>,
    /// Placeholders in one sentence.
    pub placeholders_words: Option<String>,
    /// Seasons and intervals in one sentence or two.
    pub seasons_words: String,
    /// How the water of every hour was laid: `nearest_wind` or `own_wind`.
    pub hours_laid: &'static str,
    /// What the answer leaves out.
    pub limits: Vec<String>,
}

/// One alternative over all seasons.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct AlternativeWorth {
    /// Its name.
    pub name: String,
    /// Christiansen's uniformity in the interior.
    pub cu: OverSeasons,
    /// Distribution uniformity of the low quarter in the interior.
    pub du_lq: OverSeasons,
    /// Systematic and random unevenness there; `null` with fewer than two whole cycles a season.
    pub split: Option<Split>,
    /// Yield, of full yield.
    pub yield_share: OverSeasons,
    /// The same of the field's worst tenth.
    pub yield_worst_tenth: OverSeasons,
    /// Yield by area as text, without its unit; `null` where the potential yield is not known.
    pub yield_text: Option<String>,
    /// Deep percolation.
    pub percolation: OverSeasons,
    /// Where a season's water went.
    pub water: SeasonWater,
    /// Against the baseline; `null` for the baseline itself.
    pub against_baseline: Option<Against>,
}

/// Where a season's water went: means over the seasons, depths over the field.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct SeasonWater {
    /// Left the nozzles.
    pub gross: Amount,
    /// Pumped beside that and leaked before it reached a nozzle; absent where nothing leaks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaked: Option<Amount>,
    /// Rain.
    pub rain: Amount,
    /// Found by growing roots in soil they had not reached before.
    pub rooted: Amount,
    /// Used by the crop.
    pub crop_use: Amount,
    /// Drained below the roots.
    pub percolation: Amount,
    /// Rise of what the soil holds.
    pub storage_rise: Amount,
    /// Wind drift and evaporation.
    pub losses: Amount,
    /// Fell off the field.
    pub off_field: Amount,
    /// Fell on days without a crop.
    pub idle: Amount,
    /// Mean of what the sum misses.
    pub imbalance: Amount,
    /// The most that the sum misses in any season, always mm.
    pub largest_imbalance: Amount,
}

/// A price that is known.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct KnownPrice {
    /// Its key, the unit last.
    pub name: String,
    /// In plain words.
    pub label: String,
    /// Its value in the unit of its key.
    pub value: f64,
    /// As it is bought and sold, in the shown units.
    pub text: String,
    /// Nobody's number.
    pub is_placeholder: bool,
}

/// A place in the ranking.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Ranked {
    /// Its place in the scenario.
    pub index: usize,
    /// Its name.
    pub alternative: String,
    /// Rank, 1 the best; ties share it.
    pub rank: usize,
    /// Others share it.
    pub is_tied: bool,
    /// It leads its rank.
    pub is_leader: bool,
    /// What it is ranked by.
    pub by: Amount,
}

/// A precision that was asked for.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Precision {
    /// `net_return` or `yield`.
    pub of: &'static str,
    /// Half-width of the interval that was asked for.
    pub half_width_asked: Amount,
    /// Half-width of the widest interval.
    pub half_width: Amount,
    /// It is as narrow as asked.
    pub is_reached: bool,
    /// Seasons of the first stage.
    pub first_seasons: usize,
    /// Seasons at the most.
    pub max_seasons: usize,
}

impl Worth {
    /// What `found` is worth at the prices of `economics`; they belong together.
    pub fn new(
        scenario: &Scenario,
        found: &Found,
        economics: &Economics,
        units: UnitSystem,
    ) -> Self {
        let source = Source { scenario, worth: found, economics, units };
        let known = |(price, known): (PriceKey, PriceEntry)| KnownPrice {
            name: source.key(price),
            label: source.label(price),
            value: known.value,
            text: source.priced(price, known.value),
            is_placeholder: known.is_placeholder,
        };
        let (ranked_by, ranked_by_words) = if found.ranked_by_money {
            ("net_return", "net return")
        } else {
            ("yield_worst_tenth", "yield of the field’s worst tenth")
        };
        Self {
            title: scenario.title.clone(),
            seed: scenario.seed,
            seasons_finished: found.seasons.finished(),
            seasons_wanted: found.seasons.wanted,
            is_partial: source.is_partial(),
            precision: found.precision.as_ref().map(|reached| precision(&source, reached)),
            confidence_level: Amount::percent(economics.confidence_level, 0),
            area: Amount::quantity(units, Quantity::Area, scenario.field.area().m2(), 1),
            worthwhile_gain: money::by_area(units, economics.worthwhile_gain),
            baseline: source.baseline().to_owned(),
            currency: economics.currency.clone(),
            money_unit: money::unit_by_area(units, source.currency()),
            area_word: units.area_word(),
            prices: economics.prices.known().map(known).collect(),
            ranked_by,
            ranked_by_words,
            ranking: ranking(&source),
            alternatives: alternatives(&source),
            plan: source.plan(),
            answer: words::answer(&source),
            placeholders_words: source.placeholders(),
            seasons_words: words::seasons(&source),
            hours_laid: match economics.hours_laid {
                HoursLaid::NearestWind => "nearest_wind",
                HoursLaid::OwnWind => "own_wind",
            },
            limits: words::limits(&source),
        }
    }

    /// Those that stand against the baseline, the best-ranked first, with their places.
    pub fn rivals(&self) -> impl Iterator<Item = (usize, &AlternativeWorth, &Against)> {
        self.ranking.iter().filter_map(|ranked| {
            let alternative = self.alternatives.get(ranked.index)?;
            Some((ranked.index, alternative, alternative.against_baseline.as_ref()?))
        })
    }

    /// Whether the net return of any is known.
    pub fn has_money(&self) -> bool {
        self.rivals().any(|(_, _, against)| against.is_valued())
    }

    /// Whether the net return of all is known.
    pub fn is_valued(&self) -> bool {
        self.ranked_by == "net_return"
    }
}

fn precision(source: &Source<'_>, reached: &Reached) -> Precision {
    let half_width = |value: f64| match reached.asked.half_width {
        HalfWidth::Net(_) => money::by_area(source.units, PerArea::of_ha(value)),
        HalfWidth::Yield(_) => Amount::percent(value, 2),
    };
    let of = match reached.asked.half_width {
        HalfWidth::Net(_) => "net_return",
        HalfWidth::Yield(_) => "yield",
    };
    Precision {
        of,
        half_width_asked: half_width(reached.asked.half_width.value()),
        half_width: half_width(reached.half_width),
        is_reached: reached.is_reached(),
        first_seasons: reached.first,
        max_seasons: reached.asked.most,
    }
}

fn ranking(source: &Source<'_>) -> Vec<Ranked> {
    let by = |mean: f64| {
        if source.worth.ranked_by_money {
            money::by_area(source.units, PerArea::of_ha(mean))
        } else {
            Amount::percent(mean, 1)
        }
    };
    let ranked = |ranked: &evenfall_core::verdict::Ranked| Ranked {
        index: ranked.alternative,
        alternative: source.name(ranked.alternative).to_owned(),
        rank: ranked.rank,
        is_tied: ranked.is_tied,
        is_leader: ranked.is_leader,
        by: by(ranked.mean),
    };
    source.worth.ranking.iter().map(ranked).collect()
}

fn alternatives(source: &Source<'_>) -> Vec<AlternativeWorth> {
    let percent = Measure::percent();
    let rivals = source.rivals();
    let full = source.economics.prices.of(Price::PotentialYield);
    let alternative = |(index, found): (usize, &evenfall_core::worth::AlternativeWorth)| {
        let rival = rivals.iter().find(|rival| rival.index == index);
        AlternativeWorth {
            name: source.name(index).to_owned(),
            cu: percent.over(&found.cu),
            du_lq: percent.over(&found.du_lq),
            split: found.split.as_ref().map(|split| Split::new(split, None)),
            yield_share: percent.over(&found.yield_fraction),
            yield_worst_tenth: percent.over(&found.yield_worst_tenth),
            yield_text: full
                .map(|full| money::yield_by_area(source.units, &found.yield_fraction, full.value)),
            percolation: Measure::water(source.units).over(&found.percolation_mm),
            water: water(source, index),
            against_baseline: rival.map(|rival| against::against(source, rival)),
        }
    };
    source.worth.alternatives.iter().enumerate().map(alternative).collect()
}

fn water(source: &Source<'_>, index: usize) -> SeasonWater {
    let units = source.units;
    let depth = |mm| Amount::quantity(units, Quantity::Depth, mm, units.depth_decimals());
    let mean = |of: fn(&SeasonFigures) -> f64| depth(source.mean(index, of));
    let missed = source.worth.seasons.series(index, |f| f.imbalance_mm().abs());
    let worst = missed.into_iter().fold(0.0, f64::max);
    let text = if worst < 1e-6 { "none".to_owned() } else { format!("{worst:.0e}\u{a0}mm") };
    SeasonWater {
        gross: mean(|f| f.gross_mm),
        leaked: (source.mean(index, |f| f.leaked_mm) > 0.0).then(|| mean(|f| f.leaked_mm)),
        rain: mean(|f| f.rain_mm),
        rooted: mean(|f| f.rooted_mm),
        crop_use: mean(|f| f.crop_use_mm),
        percolation: mean(|f| f.percolation_mm),
        storage_rise: mean(|f| f.storage_rise_mm),
        losses: mean(|f| f.losses_mm),
        off_field: mean(|f| f.off_field_mm),
        idle: mean(|f| f.idle_mm),
        imbalance: mean(SeasonFigures::imbalance_mm),
        largest_imbalance: Amount::new(worst, "mm", text),
    }
}
