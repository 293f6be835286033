//! How well each part of the program is known: its law, its source, its status, and what is
//! published held against what the program computes.
//!
//! Report and reference show the same rows; `tests/wind.rs` computes every figure here anew. Figures
//! recalled from memory are no authority and stand in the reference's chapter alone
//! (`shared/reference/known.md`).

/// A part of the line from the nozzle to the money.
#[derive(Clone, Copy, Debug)]
pub struct KnownPart {
    /// The part.
    pub part: &'static str,
    /// Its law and where that comes from.
    pub law: &'static str,
    /// How well that is known.
    pub status: &'static str,
}

/// All parts, in the order in which water and money go through them.
pub const PARTS: [KnownPart; 9] = [
    KnownPart {
        part: "flight in still air",
        law: "sphere drag (Fukui et al. 1980), flattened drops (Atlas et al. 1973); the drop of each \
              distance is the one that lands there",
        status: "published, coefficients from memory; landing within 12 mm of an independent \
                 computation",
    },
    KnownPart {
        part: "drag in wind",
        law: "C (1 + K1 sin β − K2 cos α)",
        status: "published form (Tarjuelo, Carrión et al. 2001); which angles is not settled: both \
                 readings are built in (`drag.form`)",
    },
    KnownPart {
        part: "K1 0.3, K2 0.3, turbulence 0.05, jet length 1.5 m",
        law: "chosen together by published *signs* of uniformity in wind",
        status: "fitted to signs, not to a test, unless you calibrate by your own: an unfitted model is no better than the standard \
                 error of CU of 3.09 points that fitted ones have (Playán et al. 2006)",
    },
    KnownPart {
        part: "wind over the crop",
        law: "log profile, d = 2/3 and z0 = 0.123 of its height (FAO-56); water lands on the canopy",
        status: "published; that winds at 10 m are the same over grass and crop, and one height all \
                 season, are judgment",
    },
    KnownPart {
        part: "losses",
        law: "Playán et al. 2005 and others",
        status: "sources differ about threefold",
    },
    KnownPart {
        part: "wind of a season",
        law: "a record, blocks of its days, or a climate with spells",
        status: "half-day means and uniformity of drawn seasons held against one record; \
                 one wind for the whole field",
    },
    KnownPart {
        part: "spread by roots and soil",
        law: "Gaussian of a stated distance, 0 at the start",
        status: "judgment: published studies disagree (Stern & Bresler 1983 found some)",
    },
    KnownPart {
        part: "soil and crop",
        law: "FAO-56 daily balance, FAO-33 yield response",
        status: "published; one soil for the whole field",
    },
    KnownPart {
        part: "prices",
        law: "yours, or placeholders",
        status: "a placeholder that could turn the answer makes it inconclusive",
    },
];

/// Winds at 2 m of the table of uniformity, m/s.
pub const SPEEDS_M_S: [f64; 6] = [0.0, 1.0, 2.7, 4.0, 6.0, 8.0];

/// CU of a layout in steady winds.
#[derive(Clone, Copy, Debug)]
pub struct CuInWind {
    /// Spacing and pattern.
    pub layout: &'static str,
    /// CU in percent at each of [`SPEEDS_M_S`].
    pub cu_percent: [f64; 6],
}

impl CuInWind {
    /// Points of CU lost between two of the speeds, by their places.
    fn loss(&self, from: usize, to: usize) -> f64 {
        self.cu_percent[from] - self.cu_percent[to]
    }
}

/// The drag that a scenario starts from, in steady winds: mean of winds along, across and between.
pub const CU_IN_WIND: [CuInWind; 5] = [
    CuInWind {
        layout: "40 × 60 ft, the demo's flat leg",
        cu_percent: [87.3, 88.2, 87.2, 84.2, 79.4, 76.0],
    },
    CuInWind {
        layout: "40 × 60 ft, the demo's leg, three stops",
        cu_percent: [94.5, 94.1, 92.0, 90.3, 88.1, 86.6],
    },
    CuInWind {
        layout: "40 × 60 ft, triangular", cu_percent: [82.5, 80.3, 75.8, 72.9, 70.2, 69.0]
    },
    CuInWind {
        layout: "18 × 15 m, nozzles of 4.4 and 2.4 mm",
        cu_percent: [85.8, 83.9, 79.8, 76.3, 73.0, 71.5],
    },
    CuInWind { layout: "18 × 18 m, the same", cu_percent: [83.8, 81.3, 76.0, 72.1, 68.3, 66.5] },
];

/// Points of CU by which the program and a published sign disagree.
#[derive(Clone, Copy, Debug)]
pub struct Disagreements {
    /// 2 m riser less 0.6 m at 18 × 18 m and 1 m/s.
    pub riser_light_wind: f64,
    /// The same at 12 × 12 m and 5.6 m/s.
    pub riser_close: f64,
    /// Two nozzles less one of the same bore at 18 × 18 m in calm.
    pub two_nozzles_in_calm: f64,
    /// 400 kPa less 250 kPa at 18 × 18 m and 1 m/s.
    pub pressure_light_wind: f64,
    /// Loss for each m/s from 4 to 6 m/s at 18 × 18 m.
    pub fall_to_6_m_s: f64,
    /// The same from 6 to 8 m/s.
    pub fall_to_8_m_s: f64,
}

/// Their sizes.
pub const DISAGREEMENTS: Disagreements = Disagreements {
    riser_light_wind: -0.9,
    riser_close: -8.3,
    two_nozzles_in_calm: -4.4,
    pressure_light_wind: -5.2,
    fall_to_6_m_s: 1.9,
    fall_to_8_m_s: 0.9,
};

/// What is published, beside what the program computes.
#[derive(Clone, Debug)]
pub struct Compared {
    /// What is published, and where.
    pub published: &'static str,
    /// What the program has.
    pub here: String,
    /// Whether they agree.
    pub verdict: &'static str,
}

/// Every published sign that was compared.
pub fn compared() -> Vec<Compared> {
    let [flat, _, triangular, close, wide] = CU_IN_WIND;
    let row = |published, here: String, verdict| {
        // With a true minus sign, as everywhere.
        Compared { published, here: here.replace('-', "\u{2212}"), verdict }
    };
    let off = DISAGREEMENTS;
    vec![
        row(
            "Winds over 6 mph (2.7 m/s) decidedly affect distribution (Scott & Corry, California \
             Agriculture)",
            format!(
                "flat leg: {:.1} points lost below, {:.1} from there to 8 m/s; triangular: {:.1} and \
                 {:.1}",
                flat.loss(0, 2),
                flat.loss(2, 5),
                triangular.loss(0, 2),
                triangular.loss(2, 5)
            ),
            "agrees for the flat leg, not for the triangular one",
        ),
        row(
            "Uniformity severely impaired above 4 m/s (Yacoubi et al. 2012, abstract)",
            format!(
                "4 to 8 m/s: {:.1} (flat leg), {:.1} (18 × 15 m)",
                flat.loss(3, 5),
                close.loss(3, 5)
            ),
            "agrees in sign",
        ),
        row(
            "Wider spacing is worse (Tarjuelo et al. 1999, abstract)",
            format!(
                "18 × 18 m less 18 × 15 m at 4 m/s: {:.1}",
                wide.cu_percent[3] - close.cu_percent[3]
            ),
            "agrees",
        ),
        row(
            "Above 6 m/s a sharper fall (study of low-pressure sprinklers, abstract)",
            format!(
                "points for each m/s: {:.1} from 4 to 6, {:.1} from 6 to 8",
                off.fall_to_6_m_s, off.fall_to_8_m_s
            ),
            "disagrees",
        ),
        row(
            "A 2 m riser is better (Tarjuelo et al. 1999, abstract)",
            format!(
                "against 0.6 m: better at 18 × 18 m from 4 m/s on; {:.1} points at 1 m/s, {:.1} at 12 \
                 × 12 m",
                off.riser_light_wind, off.riser_close
            ),
            "agrees in strong wind at wide spacing only",
        ),
        row(
            "Two nozzles better in light wind, one in strong wind (Tarjuelo et al. 1999, abstract)",
            format!(
                "one better from 5.6 m/s on; two in calm {:.1} points",
                off.two_nozzles_in_calm
            ),
            "agrees in strong wind, disagrees in calm",
        ),
        row(
            "More pressure helps in light wind (Yacoubi et al. 2012, abstract)",
            format!("250 to 400 kPa at 1 m/s: {:.1} points", off.pressure_light_wind),
            "disagrees",
        ),
        row(
            "New nozzles, discharge varying by 2 % and not 10 %, gain little (Louie & Selker 2000, \
             abstract)",
            "under 2 points of the fixed pattern’s CU, on three drawn pipes".to_owned(),
            "agrees",
        ),
    ]
}

/// What is not known, beyond the table.
pub const NOT_KNOWN: [&str; 4] = [
    "No published trial of a fixed against an alternated lateral with depths was found: the gain of a \
     rotation is calculated, not confirmed in a field.",
    "The published cases name no complete inputs, so signs and sizes were compared, not digits.",
    "The numbers of the drag correction for your own sprinkler: one catch test of your line in wind \
     narrows them (`evenfall catch --calibrate`).",
    "Yield response of your crop to uneven water, and how far roots and soil even it out.",
];
