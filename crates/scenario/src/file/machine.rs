//! Lateral, wheel and outlets as written.

use super::pipe::PipeFile;
use super::survey::SurveyFile;
use crate::declare::{choice, section};
use crate::limits;
use crate::read::Count;
use crate::read_plain::List;
use crate::read_quantity::Quantity;
use evenfall_core::lateral::{EdgeTreatment, Sharing, TurnRule, WheelSize};

choice! {
    /// How a lateral is moved.
    pub(crate) MachineName {
        /// Rolled on wheels.
        WheelLine = "wheel line",
        /// Carried.
        HandMove = "hand move",
    }
}

choice! {
    /// How lines that share a field water.
    pub(crate) LinesRunName {
        /// All at the same time.
        AtOnce = "at once",
        /// One waters while the others are moved.
        ByTurns = "by turns",
    }
}

impl From<LinesRunName> for Sharing {
    fn from(name: LinesRunName) -> Self {
        match name {
            LinesRunName::AtOnce => Self::AtOnce,
            LinesRunName::ByTurns => Self::ByTurns,
        }
    }
}

choice! {
    /// Sides of the mainline that laterals reach out to.
    pub(crate) SidesName {
        /// The mainline runs along the field’s edge.
        One = "one side",
        /// The mainline runs through the field.
        Both = "both sides",
    }
}

choice! {
    /// What shifted passes do at the first and the last stop.
    pub(crate) EdgesName {
        /// Every stop is shifted.
        Shift = "shift",
        /// First and last stop stay at their outlets.
        Hold = "hold",
        /// One set more on the side that the shift opens.
        ExtraSet = "extra set",
    }
}

impl From<EdgesName> for EdgeTreatment {
    fn from(name: EdgesName) -> Self {
        match name {
            EdgesName::Shift => Self::Shift,
            EdgesName::Hold => Self::Hold,
            EdgesName::ExtraSet => Self::ExtraSet,
        }
    }
}

choice! {
    /// The trade’s name for a wheel; what each rolls is in the core’s table.
    pub(crate) WheelSizeName {
        /// 15 ft (4.572 m) a turn
        Five = "5-foot",
        /// 20 ft (6.096 m) a turn
        Seven = "7-foot",
        /// 30 ft (9.144 m) a turn
        Nine = "9-foot",
    }
}

impl From<WheelSizeName> for WheelSize {
    fn from(name: WheelSizeName) -> Self {
        match name {
            WheelSizeName::Five => Self::Five,
            WheelSizeName::Seven => Self::Seven,
            WheelSizeName::Nine => Self::Nine,
        }
    }
}

section! {
    /// The pipe and its sprinklers.
    LateralFile {
        /// Rolled on wheels, or carried by hand.
        machine: MachineName, "How the lateral is moved";
        /// Number of sprinklers on the pipe.
        sprinklers: Count<limits::Sprinklers>, "Number of sprinklers";
        /// Distance between sprinklers along the pipe.
        sprinkler_spacing: Quantity<limits::SprinklerSpacing>, "Sprinkler spacing";
        /// Distance of the first sprinkler from the field's edge.
        first_sprinkler: Option<Quantity<limits::PlaceInField>>,
            "First sprinkler from the edge", else "the sprinklers are centered along the pipe";
        /// Lines alike that share the field; each takes its own run of outlets.
        lines: Option<Count<limits::SharingLines>>, "Number of lines", else "1";
        /// Whether lines that share the field water at once, or by turns: one waters while the others
        /// are drained and moved.
        lines_run: Option<LinesRunName>, "Lines run", else "at once";
        /// Whether laterals reach out to one side of the mainline or to both; on both sides each has so
        /// many sprinklers, the first half a spacing from the mainline.
        sides: Option<SidesName>, "Sides of the mainline", else "one side";
        /// Where along the pipe the mainline runs, from the field’s edge; only with both sides.
        mainline_at: Option<Quantity<limits::PlaceInField>>,
            "Mainline from the edge", else "the middle of the field";
        /// Coefficient of variation of the discharge between the sprinklers of the pipe, as measured
        /// with a bucket and a watch.
        discharge_variation: Option<Quantity<limits::DischargeVariation>>,
            "Discharge variation",
            else "0 %"
            because "all sprinklers alike; hand-moves and side-rolls had 10 % before and 2 % after \
                new nozzles (Louie & Selker 2000)";
        /// How much more than stated all nozzles deliver.
        nozzle_wear: Option<Quantity<limits::NozzleWear>>,
            "Nozzle wear", else "0 %" because "nozzles as stated";
        /// Single sprinklers: plugged ones, or ones with another nozzle.
        odd_sprinklers: Option<List<OddSprinklerFile, { limits::MOST_ODD_SPRINKLERS }>>,
            "Odd sprinklers", else "none";
        /// What was read at the sprinklers in the field: pitot pressure, bores, flow caught in a bucket.
        /// It goes before `nozzle_wear`, `odd_sprinklers` and `discharge_variation` where it says
        /// something of a sprinkler. An alternative with its own `nozzle_wear` is without the survey.
        survey: Option<SurveyFile>, "Survey of the sprinklers", else "none";
        /// Share of the flow into the lateral that leaks at couplers and drains before it reaches a
        /// nozzle: pumped and paid for, no depth on the field.
        leaks: Option<Quantity<limits::Leaks>>,
            "Leaks",
            else "0 %"
            because "no leaks; field tests of wheel lines found that leaks and wear together raise the \
                water used by about 25 % on average (Idaho and Idaho Power 2012, summary)";
        /// The pipe; with it pressure and discharge are calculated along it.
        pipe: Option<PipeFile>, "Pipe",
            else "all sprinklers have the stated pressure; describe the pipe to calculate pressure \
                and discharge along it";
    }
}

section! {
    /// One sprinkler that delivers otherwise than the rest; its pattern keeps its shape.
    OddSprinklerFile {
        /// Its number along the pipe; 1 is `first_sprinkler`.
        number: Count<limits::SprinklerNumber>, "Number";
        /// What it delivers at its pressure, as a share of the stated discharge; 0 % is plugged.
        discharge: Quantity<limits::ShareOfDischarge>, "Share of the discharge";
    }
}

choice! {
    /// When a turn more or less than usual is made.
    pub(crate) AddedTurnName {
        /// Only where the hose would not reach.
        BeyondReach = "beyond reach",
        /// As soon as it brings the line nearer to its mark.
        Nearest = "nearest",
    }
}

impl From<AddedTurnName> for TurnRule {
    fn from(name: AddedTurnName) -> Self {
        match name {
            AddedTurnName::BeyondReach => Self::AtReach,
            AddedTurnName::Nearest => Self::Nearest,
        }
    }
}

choice! {
    /// Whether a wheel line also stops at part of a turn.
    pub(crate) PartTurnsName {
        /// Whole turns only, sprinklers on top of the pipe.
        Never = "never",
        /// Also at part of a turn, as far as the levelers swing.
        OnLevelers = "on levelers",
    }
}

section! {
    /// The wheels of a wheel line: the trade’s name for them, the travel as measured, or the diameter
    /// that it is worked out from.
    WheelFile, one of size & travel_per_turn | outside_diameter {
        /// The trade’s name: 5-foot wheels roll 15 ft a turn, 7-foot ones 20 ft, 9-foot ones 30 ft; common
        /// practice, no source.
        size: Option<WheelSizeName>, "Wheel size", else "the travel or the diameter is given";
        /// Distance rolled in one whole turn, as measured in the field: ten turns along a tape, divided
        /// by ten. It goes before the size.
        travel_per_turn: Option<Quantity<limits::TravelPerTurn>>,
            "Travel per turn", else "from the size or the outside diameter";
        /// Outside diameter over the lugs.
        outside_diameter: Option<Quantity<limits::WheelDiameter>>,
            "Outside diameter", else "the size or the travel is given";
        /// Share of the circumference lost to slip and sinkage; only with a diameter.
        slip_and_sinkage: Option<Quantity<limits::SlipAndSinkage>>,
            "Wheel slip and sinkage",
            else "0 %" because "a hard surface; measure the travel of a few turns in the field";
        /// Tilt that the levelers of the sprinklers take up.
        leveler_range: Option<Quantity<limits::LevelerRange>>,
            "Leveler range", else "15 deg" because "judgment, no source";
        /// Whether the line also stops at part of a turn, its levelers holding the sprinklers level as far
        /// as they swing. The jets that then strike the pipe are counted as blocked.
        part_turns: Option<PartTurnsName>,
            "Stops at part of a turn",
            else "never"
            because "practitioners stop with the sprinklers on top of the pipe (common practice, no \
                source); SCS NEH 15-11 (1983) wants levelers that hold them upright wherever the line stops";
        /// Height of the nozzle above the top of the pipe, upright; it decides which jets strike the pipe
        /// at part of a turn.
        riser: Option<Quantity<limits::NozzleAbovePipe>>,
            "Nozzle above the pipe", else "8 in" because "common practice, no source";
        /// When the line makes a turn more or less than usual, where whole turns do not end at the
        /// outlets: only where the hose would not reach, or as soon as it brings the line nearer.
        added_turn: Option<AddedTurnName>,
            "A turn more or less",
            else "beyond reach"
            because "the hose or swing joint takes up what whole turns miss; common practice, no source";
    }
}

section! {
    /// The outlets (hydrant valves) on the mainline.
    OutletsFile {
        /// Distance between outlets.
        spacing: Quantity<limits::OutletSpacing>, "Outlet spacing";
        /// Distance of the first outlet from the field's edge.
        first: Option<Quantity<limits::PlaceInField>>,
            "First outlet from the edge", else "half an outlet spacing from the edge";
        /// Number of outlets that the line is moved along.
        count: Option<Count<limits::OutletCount>>,
            "Number of outlets", else "as many as the field holds";
        /// How far the lateral may stand from its outlet.
        reach: Quantity<limits::Reach>, "Reach of hose or swing joint";
    }
}
