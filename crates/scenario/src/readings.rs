//! What is kept of quantities that were taken one way and could have been meant otherwise, until it is
//! told (`crate::questions`).

/// What gathers while quantities are read.
#[derive(Debug, Default)]
pub(crate) struct Readings {
    /// Nothing can be told besides refusing.
    pub(crate) is_strict: bool,
    /// What a bushel of the crop weighs.
    pub(crate) bushel: Option<Bushel>,
    /// Questions, in sentences.
    pub(crate) questions: Vec<String>,
    /// Places of quantities in bushels, with what was written.
    pub(crate) in_bushels: Vec<(String, String)>,
    /// Currencies whose signs were seen.
    pub(crate) currencies: Vec<&'static str>,
}

/// A bushel of a crop.
#[derive(Clone, Debug)]
pub(crate) struct Bushel {
    /// Name of the crop in the tables.
    pub(crate) crop: &'static str,
    /// Its weight, lb.
    pub(crate) pounds: f64,
}
