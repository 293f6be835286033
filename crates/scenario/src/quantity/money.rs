//! Signs of currencies in prices. Which currency it is stays the user's own; nothing is converted.

/// A sign that may stand before or behind the number of a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Sign {
    /// As written.
    pub(crate) written: &'static str,
    /// The currency's usual sign: prices with two different ones are asked about.
    pub(crate) currency: &'static str,
    /// How many of it are one of the currency.
    pub(crate) parts: u32,
}

const fn sign(written: &'static str, currency: &'static str) -> Sign {
    Sign { written, currency, parts: 1 }
}

/// Every sign that is known; longer ones stand before those they begin with.
const SIGNS: &[Sign] = &[
    sign("US$", "$"),
    sign("USD", "$"),
    sign("$", "$"),
    sign("EUR", "€"),
    sign("€", "€"),
    sign("GBP", "£"),
    sign("£", "£"),
    sign("¥", "¥"),
    // The same sign in several currencies: it says how much, not of what.
    Sign { written: "¢", currency: "", parts: 100 },
];

/// The sign at the start of `text`, and what follows it.
pub(super) fn leading(text: &str) -> Option<(Sign, &str)> {
    let text = text.trim_start();
    SIGNS
        .iter()
        .find_map(|sign| text.strip_prefix(sign.written).map(|rest| (*sign, rest.trim_start())))
}
