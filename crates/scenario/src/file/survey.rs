//! A survey of the sprinklers as written.

use crate::declare::section;
use crate::limits;
use crate::read_plain::Text;
use crate::read_quantity::Quantity;

section! {
    /// A survey of the sprinklers, as a table.
    SurveyFile {
        /// Name of the CSV file, beside the scenario. Columns: `sprinkler` (its number, 1 is
        /// `first_sprinkler`), and any of `pressure_psi` (or `_kpa`, `_bar`), `bore_64ths` (or `_in`,
        /// `_mm`), `flow_gpm` (or `_l_s`, `_l_min`) and `note`: plugged, leaning, or words.
        file: Text, "Survey file";
        /// Bore of the (first) nozzle for which the discharge is stated.
        nominal_bore: Option<Quantity<limits::NozzleDiameter>>,
            "Nominal bore", else "the sprinkler’s nozzle diameter, where it is given";
        /// How far a reading of the pitot gauge may be off.
        gauge_error: Option<Quantity<limits::GaugeError>>,
            "Gauge error", else "2 psi" because "a field gauge read to its graduation: judgment, no source";
    }
}
