//! Figures of uniformity for the page.

use evenfall_core::season::RegionFigures;
use evenfall_core::uniformity::Uniformity;

/// Figures of the interior, or of the whole field where there is no interior, as tables give them.
pub(crate) fn inside(regions: &RegionFigures) -> Option<Uniformity> {
    regions.interior.or(regions.whole)
}
