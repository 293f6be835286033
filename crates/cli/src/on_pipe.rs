//! What stands on the pipe of a line that is stopped at part of a turn: as asked, else as the scenario
//! has it.

use crate::arguments::OnPipeArguments;
use crate::failure::Failure;
use crate::inputs::option;
use evenfall_core::lateral::{Machine, PartTurns, Wheel};
use evenfall_core::model::Alternative;
use evenfall_scenario::{Resolved, options as keys};

impl OnPipeArguments {
    /// Refuses options that are no lengths.
    pub(crate) fn check(&self) -> Result<(), Failure> {
        self.pipe_diameter
            .as_deref()
            .map(|text| option("pipe-diameter", text, keys::pipe_diameter))
            .transpose()?;
        self.riser_height
            .as_deref()
            .map(|text| option("riser-height", text, keys::riser))
            .transpose()?;
        Ok(())
    }

    /// What stands on the pipe of `asked`, and the options that say so.
    pub(crate) fn of(
        &self,
        resolved: &Resolved,
        asked: &Alternative,
    ) -> Result<(PartTurns, String), Failure> {
        let own = match asked.lateral.machine {
            Machine::WheelLine(Wheel { part_turns, .. }) => part_turns,
            Machine::HandMove => None,
        };
        let mut words = String::new();
        let mut read = |name: &str, text: Option<&str>, key: fn(&str) -> Result<f64, String>| {
            text.map(|text| {
                words = format!("{words} --{name} \"{text}\"");
                option(name, text, key)
            })
            .transpose()
        };
        let diameter_m = read("pipe-diameter", self.pipe_diameter.as_deref(), keys::pipe_diameter)?;
        let riser_m = read("riser-height", self.riser_height.as_deref(), keys::riser)?;
        let start_m = keys::riser(keys::start::RISER).map_err(Failure::Usage)?;
        let on_pipe = PartTurns {
            pipe_diameter_m: diameter_m.unwrap_or(resolved.maintenance.pipe_diameter_m),
            riser_m: riser_m.or(own.map(|own| own.riser_m)).unwrap_or(start_m),
        };
        Ok((on_pipe, words))
    }
}
