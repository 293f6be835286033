//! Energy by volume of water from lift and pressure, for each alternative.

use super::prices::{entry, tell_usual_range};
use crate::file::{NOT_KNOWN, PumpingFile, WorthFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use evenfall_core::model::Alternative;
use evenfall_core::money::{Price, PriceEntry, PriceUnit, Prices, Pumping};
use evenfall_core::units::KPA_PER_PSI;

/// Kilowatt-hours that a cubic meter takes, alternative by alternative; the price of energy becomes that
/// of the baseline's cubic meter. Empty where energy has its price by volume.
pub(crate) fn kwh_per_m3(
    given: &WorthFile,
    alternatives: Option<&[Alternative]>,
    prices: &mut Prices,
    notes: &mut Notes<'_>,
) -> Vec<f64> {
    let Some(pumping) = &given.pumping else { return Vec::new() };
    let by_volume = given.prices.as_ref().and_then(|prices| prices.get(Price::Energy));
    if let Some(by_volume) = by_volume {
        let problem =
            "energy has its price by water pumped here, and from lift and pressure in `pumping`";
        notes.issues.push(
            Issue::new(&by_volume.at, problem)
                .allowed("one of the two")
                .hint("Remove `energy` from the prices, or remove `pumping`."),
        );
        return Vec::new();
    }
    let efficiency =
        PumpingFile::efficiency.or_start(Some(&pumping.efficiency), &pumping.at.pointer, notes);
    let pressures = pressures(pumping, alternatives, notes);
    let of = |pressure_kpa: &f64| {
        let lift_m = pumping.lift.value;
        Pumping { lift_m, pressure_kpa: *pressure_kpa, efficiency }.kwh_per_m3()
    };
    let each: Vec<f64> = pressures.iter().map(of).collect();
    let Some(baseline) = each.first() else { return Vec::new() };
    price(pumping, *baseline, prices, notes);
    if let Some(alternatives) = alternatives {
        let shown = |kwh: &f64| format!("{} kWh per m3", decimals(*kwh, 3));
        let why = "lift and pressure over the efficiency of pump and motor";
        notes.assume(&pumping.at.pointer, by_alternative(alternatives, &each, shown), why);
    }
    each
}

/// The pressure that the pump has to give for each alternative, kPa.
fn pressures(
    given: &PumpingFile,
    alternatives: Option<&[Alternative]>,
    notes: &mut Notes<'_>,
) -> Vec<f64> {
    let alternatives = alternatives.unwrap_or_default();
    let at = &given.at.pointer;
    if let Some(pressure) = &given.pressure {
        if let Some(losses) = &given.losses {
            let problem = "the pressure at the pump is given, and losses on the way from it too";
            notes.issues.push(
                Issue::new(&losses.at, problem)
                    .allowed("`losses` without `pressure`")
                    .hint("Remove one of the two: the pressure at the pump holds the losses."),
            );
        }
        return vec![pressure.value; alternatives.len()];
    }
    let lost_kpa = PumpingFile::losses.or_start(Some(&given.losses), at, notes);
    let of = |alternative: &Alternative| inlet_kpa(alternative) + lost_kpa;
    let each: Vec<f64> = alternatives.iter().map(of).collect();
    let shown =
        |kpa: &f64| format!("{} psi ({} kPa)", decimals(kpa / KPA_PER_PSI, 1), decimals(*kpa, 0));
    let why = "pressure at the inlet, or of the sprinklers where no pipe is described, and losses";
    let told = by_alternative(alternatives, &each, shown);
    notes.assume(&format!("{at}/pressure"), told, why);
    each
}

/// Pressure at the inlet of the lateral; that of the sprinklers where there is no pipe.
fn inlet_kpa(alternative: &Alternative) -> f64 {
    // A pipe whose pressures cannot be found has been refused.
    match alternative.pressures() {
        Ok(Some(line)) => line.inlet_kpa,
        _ => alternative.sprinkler.jets.first().map_or(0.0, |jet| jet.launch.pressure_kpa),
    }
}

/// Values of alternatives: one where all are alike, else each with the name.
fn by_alternative(
    alternatives: &[Alternative],
    values: &[f64],
    shown: impl Fn(&f64) -> String,
) -> String {
    let texts: Vec<String> = values.iter().map(shown).collect();
    match texts.first() {
        Some(first) if texts.iter().all(|text| text == first) => first.clone(),
        _ => {
            let named = alternatives.iter().zip(&texts);
            let each = named.map(|(alternative, text)| format!("{}: {text}", alternative.name));
            each.collect::<Vec<_>>().join("; ")
        }
    }
}

/// The price of energy for a cubic meter that takes `kwh_per_m3`.
fn price(given: &PumpingFile, kwh_per_m3: f64, prices: &mut Prices, notes: &mut Notes<'_>) {
    // It is not asked for by volume.
    notes.assumptions.retain(|assumption| assumption.what != "/worth/prices/energy");
    let at = format!("{}/energy_price", given.at.pointer);
    let Some(written) = &given.energy_price else {
        notes.assume(&at, "not known", NOT_KNOWN);
        return;
    };
    let by_energy = &written.price;
    if by_energy.range.is_none() {
        tell_usual_range(&at, notes);
    }
    let by_volume = |per_kwh: f64| kwh_per_m3 * per_kwh;
    let known = entry(PriceUnit::PerCubicMeter, by_energy, notes);
    let range = known.range.map(|(low, high)| (by_volume(low), by_volume(high)));
    let entry = PriceEntry { value: by_volume(known.value), range, ..known };
    prices.set(Price::Energy, Some(entry));
}
