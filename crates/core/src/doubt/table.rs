//! The doubts about pattern, losses, soil and crop: one row each.
//!
//! A range is a judgment where no source is named; what is published gives signs and sizes only
//! (see `crate::wind_evidence`). A doubt runs over a factor on the value used, or over the value.

/// What may be otherwise than the scenario has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Doubt {
    /// K1 of the drag correction.
    DragK1,
    /// K2 of it.
    DragK2,
    /// Spread by turbulence.
    Turbulence,
    /// Distance over which the jet holds together.
    JetLength,
    /// How far the sprinkler throws.
    Radius,
    /// Wind drift and evaporation.
    Losses,
    /// What the soil holds for the roots.
    SoilStorage,
    /// How strongly yield falls with lack of water.
    YieldResponse,
    /// How much the discharges of the sprinklers differ.
    DischargeScatter,
    /// How far roots and soil spread the water.
    Smoothing,
}

/// What a range is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The value itself, in its own unit.
    Value,
    /// A factor on the value used.
    Factor,
}

/// One row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoubtRow {
    /// Which doubt.
    pub doubt: Doubt,
    /// Its name in files.
    pub key: &'static str,
    /// Its name for readers.
    pub label: &'static str,
    /// What the range is counted in.
    pub measure: Measure,
    /// Lowest plausible value.
    pub low: f64,
    /// Highest plausible value.
    pub high: f64,
    /// Where the range comes from.
    pub source: &'static str,
    /// What would narrow it; see [`Doubt::narrowed_by`].
    narrowed_by: &'static str,
}

const CATCH_TEST: &str = "a catch test of the line in wind";
/// After one.
const ANOTHER_TEST: &str = "another catch test of the line, in another wind";

/// All doubts.
pub const DOUBTS: [DoubtRow; 10] = [
    DoubtRow {
        doubt: Doubt::DragK1,
        key: "drag_k1",
        label: "K1: shrinking in wind",
        measure: Measure::Value,
        low: 0.0,
        high: 1.0,
        source: "within the published range of about 0 to 2.8 (from memory); above 1, uniformity at \
                 common spacings falls faster in light wind than field tests say",
        narrowed_by: CATCH_TEST,
    },
    DoubtRow {
        doubt: Doubt::DragK2,
        key: "drag_k2",
        label: "K2: stretching downwind",
        measure: Measure::Value,
        low: 0.0,
        high: 0.7,
        source: "the published range, about 0 to 0.7 (from memory)",
        narrowed_by: CATCH_TEST,
    },
    DoubtRow {
        doubt: Doubt::Turbulence,
        key: "turbulence",
        label: "spread by turbulence",
        measure: Measure::Value,
        low: 0.02,
        high: 0.15,
        source: "judgment, no source",
        narrowed_by: CATCH_TEST,
    },
    DoubtRow {
        doubt: Doubt::JetLength,
        key: "jet_length_m",
        label: "jet length",
        measure: Measure::Value,
        low: 0.0,
        high: 4.0,
        source: "judgment; lone drops fall far too short (Murzabaev & Yarin 1985)",
        narrowed_by: CATCH_TEST,
    },
    DoubtRow {
        doubt: Doubt::Radius,
        key: "radius",
        label: "radius of throw",
        measure: Measure::Factor,
        low: 0.93,
        high: 1.07,
        source: "judgment, no source: a pressure 15 % off, or another make of the same nozzle",
        narrowed_by: "the wetted diameter in calm air",
    },
    DoubtRow {
        doubt: Doubt::Losses,
        key: "losses",
        label: "drift and evaporation",
        measure: Measure::Factor,
        low: 0.5,
        high: 1.5,
        source: "published formulas differ about threefold",
        narrowed_by: "a catch test with the discharge measured",
    },
    DoubtRow {
        doubt: Doubt::SoilStorage,
        key: "soil_storage",
        label: "water held for the roots",
        measure: Measure::Factor,
        low: 0.75,
        high: 1.25,
        source: "the span of a texture class in FAO-56, Table 19, with the root depth; judgment",
        narrowed_by: "a soil survey or a look at roots and texture in a pit",
    },
    DoubtRow {
        doubt: Doubt::YieldResponse,
        key: "yield_response",
        label: "yield response (Ky)",
        measure: Measure::Factor,
        low: 0.7,
        high: 1.5,
        source: "published values run from 0.20 to 1.15 in FAO's data sets and from 0.08 to 1.75 in \
                 the IAEA's (Moutonnet, FAO), so the highest by half as much again; for the season of \
                 one crop this range is judgment within those",
        narrowed_by: "yields of a dry and a well-watered strip",
    },
    DoubtRow {
        doubt: Doubt::DischargeScatter,
        key: "discharge_variation",
        label: "discharge variation",
        measure: Measure::Value,
        low: 0.0,
        high: 0.1,
        source: "hand-moves and side-rolls: 10 % with worn nozzles, 2 % with new ones (Louie & \
                 Selker 2000)",
        narrowed_by: "the discharge of ten sprinklers, with a bucket and a watch",
    },
    DoubtRow {
        doubt: Doubt::Smoothing,
        key: "smoothing_m",
        label: "spread by roots and soil",
        measure: Measure::Value,
        low: 0.0,
        high: 2.0,
        source: "judgment: the soil evened out one of two plots of sweet corn (Stern & Bresler 1983), \
                 another study of maize found nothing of the kind",
        narrowed_by: "soil water under wet and dry spots, days after a set",
    },
];

impl Doubt {
    /// Its row.
    pub fn row(self) -> &'static DoubtRow {
        &DOUBTS[self as usize]
    }

    /// What would narrow it, where catch tests of the line have been taken into account or not.
    pub fn narrowed_by(self, is_tested: bool) -> &'static str {
        match self.row().narrowed_by {
            CATCH_TEST if is_tested => ANOTHER_TEST,
            other => other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_every_doubt_finds_its_own_row_and_every_range_is_one() {
        for row in &DOUBTS {
            assert_eq!(row.doubt.row().key, row.key);
            assert!(row.low < row.high && !row.source.is_empty());
            assert_ne!(row.doubt.narrowed_by(false), ANOTHER_TEST);
            assert_ne!(row.doubt.narrowed_by(true), CATCH_TEST);
            assert!(row.measure == Measure::Value || (row.low < 1.0 && row.high > 1.0));
        }
    }
}
