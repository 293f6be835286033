//! What catch tests leave of the doubts about the sprinkler, as `evenfall catch --calibrate` writes it.

use crate::declare::section;
use crate::limits;
use crate::read::Number;
use crate::read_plain::{List, Text};
use crate::read_quantity::Quantity;

section! {
    /// What catch tests leave of the doubts about the sprinkler: made by `evenfall catch --calibrate`,
    /// not by hand.
    CalibrationFile {
        /// The tests that took part.
        tests: List<TestFile, { limits::MOST_TESTS }>, "Tests";
        /// Fingerprint of the sprinkler that was tested: nozzle or pattern, pressure, height, angle and
        /// form of the drag. With another sprinkler the calibration is refused.
        sprinkler_sha256: Text, "Fingerprint of the sprinkler";
        /// Sets of numbers that go with the tests, all equally likely; the numbers of a set belong
        /// together.
        points: List<PointFile, { limits::MOST_POINTS }>, "Points";
    }
}

section! {
    /// A catch test that took part.
    TestFile {
        /// Its title.
        title: Text, "Title";
        /// Name of its file.
        file_name: Text, "Name of the file";
        /// When it was made, as its file notes it.
        date: Option<Text>, "Date", else "not noted";
        /// SHA-256 of the file.
        sha256: Text, "SHA-256 of the file";
    }
}

section! {
    /// One set of numbers that goes with the tests.
    PointFile {
        /// K1 of the drag correction.
        k1: Number<limits::DragK1>, "K1";
        /// K2 of it.
        k2: Number<limits::DragK2>, "K2";
        /// Spread by turbulence.
        turbulence: Number<limits::Turbulence>, "Turbulence";
        /// Distance over which the jet holds together.
        jet_length: Quantity<limits::JetLength>, "Jet length";
        /// Radius of throw, of that stated.
        radius: Quantity<limits::RadiusFactor>, "Radius";
        /// Losses, of those by the formula.
        losses: Quantity<limits::LossesFactor>, "Losses";
    }
}
