//! What worn nozzles, leaks and unequal pressure cost in water, where that is more than a rotation brings.

use super::sentences::quoted;
use super::source::{Rival, Source};
use evenfall_core::money::PerArea;
use evenfall_core::plan_check::Repairs;
use evenfall_core::seasons::SeasonFigures;

impl Source<'_> {
    /// The baseline's repairs that cost more in water and energy than `least` a hectare, beside what the
    /// rival brings; `None` where there are none, or where neither price is known.
    pub(super) fn repairs_beside(&self, rival: &Rival<'_>, least: f64) -> Option<String> {
        let repairs = Repairs::of(self.scenario.alternatives.first()?);
        let gross_mm = self.mean(0, |figures: &SeasonFigures| figures.gross_mm);
        let each = [
            ("worn nozzles", repairs.nozzles),
            ("leaks", repairs.leaks),
            ("unequal pressure", repairs.pressure),
        ];
        let cost = |share: f64| self.cost_of(share * gross_mm);
        let told: Vec<(&str, PerArea)> = each
            .into_iter()
            .filter_map(|(what, share)| Some((what, cost(share)?)))
            .filter(|(_, cost)| cost.per_ha() > least)
            .collect();
        let words =
            |(what, cost): &(&str, PerArea)| format!("{what} about {}", self.an_amount(*cost));
        let list = told.iter().map(words).collect::<Vec<_>>().join(", ");
        (!told.is_empty()).then(|| {
            format!(
                "In water and energy alone these take more than {} brings: {list}. Mend them first.",
                quoted(rival.name)
            )
        })
    }
}
