//! How results are computed: every equation with its symbols, its values in a scenario and its source.
//!
//! One row a method; `evenfall methods` prints them, a paper takes its section from them. Equations are
//! those of the heads of the modules named beside them. A DOI is given only where it is
//! known for certain; those that are not given may exist.

use evenfall_core::model::{Alternative, Scenario};
use serde::Serialize;
use utoipa::ToSchema;

/// A value that a method takes in a scenario, SI.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct MethodValue {
    /// The alternative that it is of; empty where it is the same for all.
    pub alternative: String,
    /// Its symbol.
    pub symbol: &'static str,
    /// The value.
    pub value: f64,
    /// Its unit; empty for a bare number.
    pub unit: &'static str,
}

/// A method as it is used for a scenario.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct UsedMethod {
    /// Its name.
    pub title: &'static str,
    /// The equation.
    pub equation: String,
    /// Symbols and what they mean.
    pub symbols: &'static str,
    /// Its values in the scenario.
    pub values: Vec<MethodValue>,
    /// Where it comes from.
    pub source: &'static str,
    /// DOIs of its sources, where they are known.
    pub dois: Vec<&'static str>,
    /// Whether the source was at hand, remembered, or is our own.
    pub standing: Standing,
    /// The module that computes it.
    pub module: &'static str,
}

/// What a source rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Checked against the published numbers.
    Published,
    /// Written from memory, not checked against the text.
    FromMemory,
    /// This program's own.
    Ours,
}

impl Standing {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::FromMemory => "published; from memory here",
            Self::Ours => "our own",
        }
    }
}

/// A row of the table.
struct Method {
    title: &'static str,
    equation: fn(&Scenario) -> String,
    symbols: &'static str,
    values: fn(&Scenario) -> Vec<MethodValue>,
    source: &'static str,
    standing: Standing,
    module: &'static str,
}

/// What is used for `scenario`, in the order of the computation.
pub fn methods(scenario: &Scenario) -> Vec<UsedMethod> {
    let used = |method: &Method| UsedMethod {
        title: method.title,
        equation: (method.equation)(scenario),
        symbols: method.symbols,
        values: (method.values)(scenario),
        source: method.source,
        dois: dois(method.source),
        standing: method.standing,
        module: method.module,
    };
    METHODS.iter().map(used).collect()
}

/// The DOIs within the words of a source.
fn dois(source: &'static str) -> Vec<&'static str> {
    let doi = |word: &'static str| Some(word.strip_prefix("doi:")?.trim_end_matches([',', ';']));
    source.split_whitespace().filter_map(doi).collect()
}

fn none(_: &Scenario) -> Vec<MethodValue> {
    Vec::new()
}

/// Values of every alternative, told once where all have the same.
fn of_each(
    scenario: &Scenario,
    of: impl Fn(&Alternative) -> Vec<(&'static str, f64, &'static str)>,
) -> Vec<MethodValue> {
    let all: Vec<_> = scenario.alternatives.iter().map(|one| (one.name.clone(), of(one))).collect();
    let is_same = all.windows(2).all(|pair| pair[0].1 == pair[1].1);
    let told = if is_same { &all[..all.len().min(1)] } else { &all[..] };
    let value =
        |name: &str, (symbol, value, unit): &(&'static str, f64, &'static str)| MethodValue {
            alternative: if is_same { String::new() } else { name.to_owned() },
            symbol,
            value: *value,
            unit,
        };
    told.iter().flat_map(|(name, values)| values.iter().map(|v| value(name, v))).collect()
}

fn common(symbol: &'static str, value: f64, unit: &'static str) -> MethodValue {
    MethodValue { alternative: String::new(), symbol, value, unit }
}

/// The table.
macro_rules! methods {
    ($($title:literal, $equation:expr, $symbols:literal, $values:expr, $source:literal, $standing:ident,
        $module:literal;)+) => {
        const METHODS: &[Method] = &[$(Method {
            title: $title,
            equation: $equation,
            symbols: $symbols,
            values: $values,
            source: $source,
            standing: Standing::$standing,
            module: $module,
        }),+];
    };
}

methods! {
    "Random numbers", |_| "ChaCha with 8 rounds; stream = season · 256 + purpose".to_owned(),
        "purpose: 1 wind along the prevailing direction, 2 across it, 3 blocks of days, 4 days like a drawn day, 5 evapotranspiration",
        |s| vec![common("seed", s.seed as f64, "")],
        "Bernstein 2008, ChaCha, a variant of Salsa20", FromMemory, "weather/streams.rs";
    "Wind with height", |_| "u(z) ∝ ln((z − d) / z0)".to_owned(),
        "z height, d = 2/3 of the height of the cover, z0 = 0.123 of it; over grass 0.12 m high",
        |s| s.canopy_height_m.map(|height_m| common("cover", height_m, "m")).into_iter().collect(),
        "Allen et al. 1998, FAO Irrigation and Drainage Paper 56, equation 47 and box 4", Published,
        "weather/profile.rs";
    "Jet and flight of a drop", |_| "v0 = 0.97 √(2P/ρ); m dv/dt = m g (1 − ρa/ρ) − ½ ρa C′ A |v − w| (v − w)".to_owned(),
        "P pressure at the nozzle, ρ and ρa density of water and air, A area of the drop, w wind; 0.97 is common practice",
        |s| of_each(s, |a| vec![("P", a.sprinkler.stated_kpa(), "kPa")]),
        "ballistic model of sprinkler irrigation, Fukui et al. 1980", FromMemory, "sprinkler/flight.rs";
    "Drag of a drop", |_| "C = 33.3/Re − 0.0033 Re + 1.2 (Re ≤ 128); 72.2/Re − 0.0000556 Re + 0.48 (≤ 1440); 0.45".to_owned(),
        "Re Reynolds number; drops over 2.1 mm flattened so that they fall as Atlas et al. 1973 have it", none,
        "Fukui, Nakanishi & Okamura 1980; Atlas, Srivastava & Sekhon 1973, Reviews of Geophysics 11:1–35, doi:10.1029/RG011i001p00001", FromMemory, "sprinkler/drag.rs";
    "Drag in wind", |_| "C′ = C (1 + K1 sin β − K2 cos α)".to_owned(),
        "angles as the key `form` of the drag says; K1, K2 fitted; σ = turbulence · wind at 2 m · time of flight; l length over which the jet holds together",
        |s| of_each(s, |a| {
            let drag = a.sprinkler.drag;
            vec![("K1", drag.k1, ""), ("K2", drag.k2, ""), ("turbulence", drag.turbulence, ""), ("l", drag.jet_length_m, "m")]
        }),
        "Tarjuelo, Carrión et al. 2001; Playán et al. 2006", FromMemory, "sprinkler/flight.rs";
    "From drops to a footprint", |_| "depth = Σ over rings and azimuths of water carried by the displacement map and shared among four cells".to_owned(),
        "the still-air footprint gives back the leg; maps are interpolated in wind speed and turned, grids never", none,
        "this program; cloud in cell: Birdsall & Fuss 1969, Journal of Computational Physics 3:494–511, doi:10.1016/0021-9991(69)90058-8 (from memory)", Ours, "sprinkler/landing.rs, sprinkler/tubes.rs";
    "Wind drift and evaporation losses", |s| s.losses.name(), "U wind at 2 m in m/s, RH in percent",
        |s| vec![common("factor of the catch tests", s.losses_factor(), "")],
        "as the formula says", FromMemory, "sprinkler/losses.rs";
    "Overlay", |_| "depth(x, y) = Σ over sets i and sprinklers j of footprint(x − xj, y − yi)".to_owned(),
        "x along the pipe, y across the field",
        |s| vec![common("cell", s.field.grid.cell_m, "m")],
        "superposition", Ours, "overlay.rs";
    "Uniformity", |_| "CU = 1 − Σ|x − M| / (n M); DUlq = mean of the lowest quarter of the area / M; CV = √(Σ(x − M)²/n) / M".to_owned(),
        "x depth of a cell, M mean, n cells of the interior",
        |s| vec![common("margin of the interior", s.interior_margin_m(), "m")],
        "Christiansen 1942; SCS National Engineering Handbook 15-11 (1983)", Published, "uniformity.rs";
    "Systematic and random unevenness", |_| "S² = (2/π) σS², R² = (2/π) c σR²; (1 − CU)² ≈ S² + R²/N after N passes".to_owned(),
        "σS² mean product of two cycles’ relative depths at the same place, σR² variance between cycles at the same place, c passes a cycle; intervals by the jackknife over cycles",
        none, "this program; Hart 1961; Efron & Stein 1981, Annals of Statistics 9:586–596, doi:10.1214/aos/1176345462", Ours, "unevenness.rs";
    "Pressure along the pipe", |_| "h = 10.67 L (Q/C)^1.852 / D^4.87; q = q0 √(P/P0)".to_owned(),
        "only where a pipe is described; solved from the far end by halving", none,
        "Hazen–Williams; SCS NEH 15-11 (1983); Keller & Bliesner 1990", FromMemory, "lateral/hydraulics";
    "Root zone", |_| "Dr,i = Dr,i−1 − P − I + Ks Kc ET0 + DP; Ks = (TAW − Dr)/(TAW − RAW) once Dr > RAW".to_owned(),
        "by cell and day; water beyond field capacity percolates the same day; no runoff, no capillary rise",
        |s| vec![common("smoothing by roots and soil", s.smoothing_m, "m")],
        "Allen et al. 1998, FAO-56, equations 80, 84, 85, 88 and Example 38", Published, "root_zone.rs";
    "Yield", |_| "1 − Ya/Ym = Ky (1 − ETa/ETm)".to_owned(), "one Ky for the season; held at 0", none,
        "Doorenbos & Kassam 1979, FAO Irrigation and Drainage Paper 33", Published, "root_zone/yields.rs";
    "Cost of equipment", |_| "annual cost = price · r / (1 − (1 + r)^−n)".to_owned(), "r discount rate, n life", none,
        "standard engineering economics: Grant, Ireson & Leavenworth", FromMemory, "money/capital.rs";
    "Doubts", |_| "a scrambled Sobol point for every two seasons, the same for all alternatives".to_owned(),
        "pattern, pipe, losses, soil and crop, each with a range; `evenfall reference --find doubt`", none,
        "Burley 2020, Journal of Computer Graphics Techniques 9(4), Owen scrambling; ranges are judgment where no source is named", FromMemory, "doubt/table.rs";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_every_method_says_equation_source_and_module() {
        for method in METHODS {
            let told = [method.title, method.symbols, method.source, method.module];
            assert!(told.iter().all(|words| !words.is_empty()), "{}", method.title);
            assert!(dois(method.source).iter().all(|doi| doi.starts_with("10.")));
            for module in method.module.split(", ") {
                let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../core/src/");
                assert!(std::path::Path::new(&format!("{path}{module}")).exists(), "{module}");
            }
        }
        assert_eq!(dois("Efron 1981, doi:10.1214/x, and doi:10.2/y; so"), ["10.1214/x", "10.2/y"]);
    }
}
