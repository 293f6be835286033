//! The answer of a search in sentences, the most important first.

use crate::scenes::SearchScene;
use evenfall_canvas::DrawError;
use evenfall_core::money::{Missing, PriceKey};
use evenfall_core::search::{Candidate, Kind};
use evenfall_core::verdict::Ranked;
use evenfall_view::units::percent;

impl SearchScene<'_> {
    /// The answer, the most important first.
    pub(crate) fn answer(&self) -> Result<Vec<String>, DrawError> {
        let Some(best) = self.found.leader() else { return Ok(Vec::new()) };
        let at = best.alternative;
        let mut out = vec![if at == 0 {
            format!("By {}, no rotation beats the fixed pattern on average.", self.aim())
        } else {
            format!("Best by {}: {}: {}.", self.aim(), self.in_full(at), self.gain_in_full(at)?)
        }];
        out.extend(self.about_ties(best)?);
        out.extend(self.about_kinds(best)?);
        if self.found.is_partial() {
            out.push(format!(
                "Partial: you stopped the search after {} of {} seasons.",
                self.found.finished, self.found.options.seasons
            ));
        }
        out.extend(self.about_money());
        Ok(out)
    }

    /// Rotation, edges, clock, and wheel and outlets where they are not the scenario's.
    fn in_full(&self, at: usize) -> String {
        if at == 0 {
            return "the fixed pattern".to_owned();
        }
        let candidate: &Candidate = &self.found.entries[at].candidate;
        let mut rest =
            vec![candidate.alternative.edges.words().to_owned(), candidate.schedule_words()];
        rest.extend(self.layout(candidate));
        format!("{} ({})", self.rotation(candidate), rest.join("; "))
    }

    fn gain_in_full(&self, at: usize) -> Result<String, DrawError> {
        let gain = self.found.gain_of_aim(at).map_err(DrawError::mismatch)?;
        let interval = gain.figures.interval;
        Ok(format!(
            "{} over the fixed pattern ({} confidence interval {} to {})",
            self.gain_text(gain.figures.mean),
            percent(self.found.options.confidence_level, 0),
            self.gain_text(interval.low),
            self.gain_text(interval.high),
        ))
    }

    /// Those that share the first rank: too close to matter, and those that need more seasons.
    fn about_ties(&self, best: &Ranked) -> Result<Vec<String>, DrawError> {
        let found = self.found;
        let ties =
            || found.ranking.iter().filter(|r| r.rank == 1 && r.alternative != best.alternative);
        let close = ties().filter(|r| found.is_too_close(best.mean, r.mean)).count();
        let unclear = ties().count() - close;
        let mut out = Vec::new();
        if close > 0 {
            let others = count(close, "other is", "others are");
            let how = if found.least > 0.0 {
                format!("within {} of it: too close to matter", self.least_text())
            } else {
                "exactly as good".to_owned()
            };
            let simplest = match found.ranking.first() {
                Some(first) if first.alternative != best.alternative => {
                    let at = first.alternative;
                    let gain = if at == 0 {
                        String::new()
                    } else {
                        format!(": {}", self.gain_in_full(at)?)
                    };
                    format!("The simplest of these is {}{gain}.", self.in_full(at))
                }
                _ if close == 1 => "It is no simpler.".to_owned(),
                _ => "None of them is simpler.".to_owned(),
            };
            out.push(format!("{others} {how}. {simplest}"));
        }
        if unclear > 0 {
            let others = match (unclear, close) {
                (1, 0) => "one other".to_owned(),
                (_, 0) => format!("{unclear} others"),
                _ => format!("{unclear} more"),
            };
            let has_fixed = ties().any(|r| r.alternative == 0);
            let fixed = if has_fixed && best.alternative != 0 {
                ", the fixed pattern among them"
            } else {
                ""
            };
            out.push(format!(
                "After {} seasons we can’t tell the best from {others}{fixed}. More seasons may \
                 settle it.",
                found.finished
            ));
        }
        Ok(out)
    }

    /// The best for those who can neither water at other hours nor do anything at the edges.
    fn about_kinds(&self, best: &Ranked) -> Result<Vec<String>, DrawError> {
        let mut out = Vec::new();
        let mut told_of = vec![best.alternative, self.found.ranking[0].alternative];
        for (wanted, words) in [
            (Kind::ClockAsGiven, "With your own starting hours"),
            (Kind::Plain, "With your own starting hours and nothing done at the edges"),
        ] {
            let Some(kind) = self.found.kinds.iter().find(|found| found.kind == wanted) else {
                continue;
            };
            if told_of.contains(&kind.simplest) || told_of.contains(&kind.best) {
                continue;
            }
            told_of.extend([kind.best, kind.simplest]);
            let lead = self.found.lead_over(kind.simplest).map_err(DrawError::mismatch)?;
            let behind = self.amount_text(lead.figures.mean);
            let gain = if kind.simplest == 0 {
                String::new()
            } else {
                format!(": {}", self.gain_in_full(kind.simplest)?)
            };
            out.push(format!(
                "{words}: {}{gain}. That is {behind} less than the best.",
                self.in_full(kind.simplest)
            ));
        }
        Ok(out)
    }

    /// What must be known about the money.
    fn about_money(&self) -> Option<String> {
        let economics = self.economics?;
        let label = |price: PriceKey| economics.prices.words(price).label;
        let missing: Vec<String> =
            self.found.missing.iter().filter_map(|missing| missing.price()).map(label).collect();
        let reach = self.found.missing.contains(&Missing::Reach).then_some(
            "You haven’t said whether stops off the outlets need longer hoses or joints. Write joints 0 \
             under search if those you have reach.",
        );
        let instead = "Without them there is no net return. If you asked for it, candidates are ranked \
                       by the yield of the worst tenth instead.";
        if !self.found.missing.is_empty() {
            let prices = (!missing.is_empty()).then(|| format!("Missing: {}.", missing.join(", ")));
            let told = prices.into_iter().chain(reach.map(str::to_owned));
            let told = told.chain([instead.to_owned()]);
            return Some(told.collect::<Vec<_>>().join(" "));
        }
        let marked = economics.prices.known().filter(|(_, known)| known.is_placeholder);
        let marked: Vec<String> = marked.map(|(price, _)| label(price)).collect();
        (!marked.is_empty()).then(|| {
            format!(
                "Placeholders until you enter your own prices: {}. Net returns are only as good as they \
                 are.",
                marked.join(", ")
            )
        })
    }
}

/// "One other is", "3 others are".
fn count(number: usize, one: &str, many: &str) -> String {
    if number == 1 { format!("One {one}") } else { format!("{number} {many}") }
}
