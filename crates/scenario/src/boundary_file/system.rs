//! What a file says of its coordinates: the name of a coordinate system in `GeoJSON`, or the text of
//! a shapefile's `.prj`.
//!
//! Only what the numbers are is taken from it: degrees, or lengths on a map in meters or feet. On any
//! map of a projected system a field has its shape and its bearing but for what the projection bends
//! (a scale within 0.1 % of one and a grid north within some 3° of true north in UTM and State Plane
//! zones); international and U.S. survey feet, 2 parts in a million apart, are the same here. Web
//! Mercator is no such map: it stretches lengths by 1/cos(latitude) (1.4 at 45°), and is refused.
//! Codes and their units are the EPSG registry's, from memory, confidence high; a code that is not in
//! the table is asked about, never guessed.

/// What the numbers of a boundary are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Longitude and latitude.
    Degrees,
    /// Meters of a projected system.
    Meters,
    /// Feet of a projected system.
    Feet,
    /// Meters of a map that stretches lengths.
    Stretched,
}

/// What a file says of its coordinates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct System {
    /// The system as the file names it.
    pub(crate) name: String,
    /// What its numbers are; `None` where that is not known.
    pub(crate) kind: Option<Kind>,
}

/// Our own names for systems that a `.prj` describes and no code names, with their kind.
const OWN: [(&str, Kind); 3] = [
    ("urn:ogc:def:crs:OGC:1.3:CRS84", Kind::Degrees),
    ("projected m", Kind::Meters),
    ("projected ft", Kind::Feet),
];

/// Ranges of codes, both ends among them.
const CODES: [(u32, u32, Kind); 26] = [
    // Geographic: WGS 84, NAD83, NAD27, ETRS89, GDA94, GDA2020, NZGD2000, SIRGAS 2000, RGF93.
    (4326, 4326, Kind::Degrees),
    (4269, 4269, Kind::Degrees),
    (4267, 4267, Kind::Degrees),
    (4258, 4258, Kind::Degrees),
    (4283, 4283, Kind::Degrees),
    (7844, 7844, Kind::Degrees),
    (4167, 4167, Kind::Degrees),
    (4674, 4674, Kind::Degrees),
    (4171, 4171, Kind::Degrees),
    // UTM: WGS 84 north and south, NAD83, NAD27, ETRS89, SIRGAS 2000.
    (32_601, 32_660, Kind::Meters),
    (32_701, 32_760, Kind::Meters),
    (26_901, 26_923, Kind::Meters),
    (26_701, 26_722, Kind::Meters),
    (25_828, 25_838, Kind::Meters),
    (31_972, 31_985, Kind::Meters),
    // State Plane of NAD83: in meters, and in feet of either kind.
    (26_929, 26_998, Kind::Meters),
    (2222, 2289, Kind::Feet),
    // National grids: Australia (GDA94, GDA2020), New Zealand, Great Britain, France, Germany.
    (28_348, 28_358, Kind::Meters),
    (7846, 7859, Kind::Meters),
    (2193, 2193, Kind::Meters),
    (27_700, 27_700, Kind::Meters),
    (2154, 2154, Kind::Meters),
    (31_466, 31_469, Kind::Meters),
    // Web Mercator by its code and by numbers that were used for it.
    (3857, 3857, Kind::Stretched),
    (3785, 3785, Kind::Stretched),
    (900_913, 900_913, Kind::Stretched),
];

impl System {
    /// By the name in a `GeoJSON` file.
    pub(crate) fn named(name: &str) -> Self {
        let own = OWN.iter().find(|(own, _)| name.starts_with(own)).map(|(_, kind)| *kind);
        let is_lon_lat = name.to_ascii_uppercase().ends_with("CRS84");
        let kind = own.or(is_lon_lat.then_some(Kind::Degrees)).or_else(|| of_code(name));
        Self { name: shown(name), kind }
    }

    /// By the text of a `.prj` (well-known text, first or second edition).
    pub(crate) fn described(prj: &str) -> Self {
        let packed: String = prj.chars().filter(|c| !c.is_whitespace()).collect();
        let packed = packed.to_ascii_uppercase();
        // A system of heights that follows has a unit of its own.
        let ends = ["VERT_CS[", "VERTCS[", "VERTCRS["].iter().filter_map(|word| packed.find(word));
        let flat = &packed[..ends.min().unwrap_or(packed.len())];
        let has = |word: &str| flat.contains(word);
        let kind = if has("PROJCS[") || has("PROJCRS[") {
            let is_stretched = has("[\"MERCATOR") || has("POPULARVISUALISATION");
            if is_stretched { Some(Kind::Stretched) } else { of_unit(flat) }
        } else if has("GEOGCS[") || has("GEOGCRS[") || has("GEODCRS[") {
            Some(Kind::Degrees)
        } else {
            None
        };
        let name = prj.split('"').nth(1).unwrap_or(prj);
        Self { name: shown(name), kind }
    }

    /// As a `GeoJSON` file names it, so that it is read alike again.
    pub(super) fn written(&self) -> String {
        let own = OWN.iter().find(|(_, kind)| Some(*kind) == self.kind);
        match own {
            Some((own, Kind::Meters | Kind::Feet)) => format!("{own}: {}", self.name),
            Some((own, _)) => (*own).to_owned(),
            None => self.name.clone(),
        }
    }
}

/// A name as messages show it: one line, not too long.
fn shown(name: &str) -> String {
    name.chars().filter(|c| !c.is_control()).take(80).collect()
}

/// The kind of a code of the EPSG registry, in any of the ways in which it is written.
fn of_code(name: &str) -> Option<Kind> {
    if !name.to_ascii_uppercase().contains("EPSG") {
        return None;
    }
    let code: u32 = name.rsplit([':', '/']).next()?.trim().parse().ok()?;
    CODES.iter().find(|(first, last, _)| (*first..=*last).contains(&code)).map(|(.., kind)| *kind)
}

/// The kind of a projected system by its last unit: those before it are of its angles.
fn of_unit(flat: &str) -> Option<Kind> {
    let (_, unit) = flat.rsplit_once("UNIT[\"")?;
    let (_, factor) = unit.split_once("\",")?;
    let end = factor.find(|c: char| !"0123456789.E-+".contains(c)).unwrap_or(factor.len());
    let meters: f64 = factor[..end].parse().ok()?;
    if (meters - 1.0).abs() < 1e-6 {
        Some(Kind::Meters)
    } else if (meters - 0.3048).abs() < 1e-5 {
        Some(Kind::Feet)
    } else {
        None
    }
}
