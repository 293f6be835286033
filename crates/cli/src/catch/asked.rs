//! What the options ask of every test.

use super::overlaps::{Wanted, wanted};
use crate::arguments::CatchArguments;
use crate::failure::Failure;
use crate::inputs::{self, Loaded, option};
use crate::terminal::Voice;
use evenfall_core::catch::fit::FitOptions;
use evenfall_core::model::Alternative;
use evenfall_core::sprinkler::DragCorrection;
use evenfall_scenario::options as keys;

/// What the options ask of every test.
pub(super) struct Asked<'a> {
    pub(super) options: &'a CatchArguments,
    pub(super) fit: FitOptions,
    pub(super) scenario: Option<Loaded>,
    pub(super) overlaps: Wanted,
}

impl<'a> Asked<'a> {
    pub(super) fn of(options: &'a CatchArguments, voice: Voice) -> Result<Self, Failure> {
        let load = |path: &std::path::PathBuf| inputs::load(Some(path), voice);
        let scenario = options.scenario.as_ref().map(load).transpose()?;
        let radius = |text: &String| option("radius", text, keys::radius);
        let fit = FitOptions {
            drag: DragCorrection {
                k2: option("k2", &options.k2, keys::k2)?,
                turbulence: option("turbulence", &options.turbulence, keys::turbulence)?,
                jet_length_m: option("jet-length", &options.jet_length, keys::jet_length)?,
                ..keys::starting_drag()
            },
            confidence_level: option(
                "confidence-level",
                &options.confidence_level,
                keys::confidence_level,
            )?,
            radius_m: options.radius.as_ref().map(radius).transpose()?,
        };
        let overlaps = wanted(options, scenario.as_ref())?;
        Ok(Self { options, fit, scenario, overlaps })
    }

    /// The alternative that tests are held against.
    pub(super) fn alternative<'s>(&self, loaded: &'s Loaded) -> Result<&'s Alternative, Failure> {
        let (number, all) = (self.options.alternative, &loaded.resolved.scenario.alternatives);
        all.get(usize::from(number).saturating_sub(1)).ok_or_else(|| {
            Failure::Usage(format!("--alternative {number}: the scenario has {}", all.len()))
        })
    }
}
