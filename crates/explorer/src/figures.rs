//! Figures of uniformity for the page: numbers, and the texts that tables print.

use evenfall_core::season::RegionFigures;
use evenfall_core::uniformity::Uniformity;
use evenfall_figures::{FigureTexts, UnitSystem};
use serde::Serialize;
use utoipa::ToSchema;

/// Figures of a part of the field; numbers are fractions and mm, texts as the command prints them.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct FiguresTold {
    pub(crate) cu: f64,
    pub(crate) du_lq: f64,
    pub(crate) cv: f64,
    pub(crate) mean_mm: f64,
    pub(crate) lowest_mm: f64,
    pub(crate) highest_mm: f64,
    pub(crate) share_under_75: f64,
    pub(crate) share_over_125: f64,
    pub(crate) cu_text: String,
    pub(crate) du_lq_text: String,
    pub(crate) cv_text: String,
    /// Depths as text are in the shown unit, without it.
    pub(crate) mean_text: String,
    pub(crate) lowest_text: String,
    pub(crate) highest_text: String,
    pub(crate) under_75_text: String,
    pub(crate) over_125_text: String,
}

impl FiguresTold {
    pub(crate) fn of(figures: &Uniformity, units: UnitSystem) -> Self {
        let texts = FigureTexts::of(figures, units);
        Self {
            cu: figures.cu,
            du_lq: figures.du_lq,
            cv: figures.cv,
            mean_mm: figures.mean_depth_mm,
            lowest_mm: figures.lowest_depth_mm,
            highest_mm: figures.highest_depth_mm,
            share_under_75: figures.share_under_75,
            share_over_125: figures.share_over_125,
            cu_text: texts.cu,
            du_lq_text: texts.du_lq,
            cv_text: texts.cv,
            mean_text: texts.mean,
            lowest_text: texts.lowest,
            highest_text: texts.highest,
            under_75_text: texts.under_75,
            over_125_text: texts.over_125,
        }
    }
}

/// Figures by part of the field; `null` where no water fell.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct RegionsTold {
    /// The field less one outlet spacing at each edge.
    pub(crate) interior: Option<FiguresTold>,
    /// Every cell.
    pub(crate) whole: Option<FiguresTold>,
    /// The strip along the first outlet's edge.
    pub(crate) first_strip: Option<FiguresTold>,
    /// The strip along the last outlet's edge.
    pub(crate) last_strip: Option<FiguresTold>,
}

impl RegionsTold {
    pub(crate) fn of(regions: &RegionFigures, units: UnitSystem) -> Self {
        let told = |figures: Option<Uniformity>| figures.map(|f| FiguresTold::of(&f, units));
        Self {
            interior: told(regions.interior),
            whole: told(regions.whole),
            first_strip: told(regions.first_strip),
            last_strip: told(regions.last_strip),
        }
    }
}

/// Figures of the interior, or of the whole field where there is no interior, as tables give them.
pub(crate) fn inside(regions: &RegionFigures) -> Option<Uniformity> {
    regions.interior.or(regions.whole)
}
