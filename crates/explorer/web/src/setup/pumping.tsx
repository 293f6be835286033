// The price of energy from what stands on the meter's bill: what a volume of water takes at the pump's
// pressure is work, pressure times volume, over the efficiency of pump and motor; 1 m³ through 1 kPa
// is 1 kJ, and a kilowatt-hour is 3600 of them. Friction and lift count in the pressure.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { at, type Path } from "../model/scenario";
import { convert, numberOf, short, split, typed } from "../model/units";
import * as store from "../model/store";

const KJ_A_KWH = 3600;
const DIGITS = 3;

/** Price per cubic meter; `NaN` where it follows from none of the numbers. */
export function pricePerM3(perKwh: number, pressureKpa: number, efficiencyPercent: number): number {
  const isSound = perKwh >= 0 && pressureKpa > 0 && efficiencyPercent > 0 && efficiencyPercent <= 100;
  return isSound ? (perKwh * pressureKpa) / KJ_A_KWH / (efficiencyPercent / 100) : NaN;
}

function Field({ id, label, unit, value, set }: { id: string; label: string; unit: string; value: string; set: (text: string) => void }): JSX.Element {
  return (
    <div class="entry bare">
      <label for={id}>{label}</label>
      <span class="quantity">
        <input id={id} type="text" inputMode="decimal" autoComplete="off" value={value} onInput={(e) => set(e.currentTarget.value)} />
        <span class="unit">{unit}</span>
      </span>
    </div>
  );
}

/** Works out the price of energy by water pumped; only the result is kept. */
export function Pumping({ path }: { path: Path }): JSX.Element {
  const [perKwh, setPerKwh] = useState("");
  const [pressure, setPressure] = useState("");
  const [efficiency, setEfficiency] = useState("70");
  const isUs = store.system.value === "us";
  const [of, unit] = isUs ? ["psi", "per ac-ft"] : ["kPa", "per m3"];
  const plain = (text: string): number => numberOf(typed(text).number);
  const perM3 = pricePerM3(plain(perKwh), convert(plain(pressure), of, "kPa") ?? NaN, plain(efficiency));
  const found = convert(perM3, "per m3", unit);
  const words = found !== null && Number.isFinite(found) ? `${short(found, DIGITS)} ${unit}` : "";
  const take = (): void => {
    const now = at(store.scenario.value, path);
    const isDetailed = now !== null && typeof now === "object";
    store.edit(isDetailed ? [...path, "value"] : path, words);
    store.say(`Price of energy: ${split(words).number} ${unit}.`);
  };
  return (
    <details class="more">
      <summary>Energy from the price of a kilowatt-hour</summary>
      <div class="entries">
        <Field id="pumping-price" label="Price of a kWh" unit="per kWh" value={perKwh} set={setPerKwh} />
        <Field id="pumping-pressure" label="Pressure at the pump, with lift and friction" unit={of} value={pressure} set={setPressure} />
        <Field id="pumping-efficiency" label="Efficiency of pump and motor" unit="%" value={efficiency} set={setEfficiency} />
      </div>
      <p class="help">
        Pressure times volume, divided by the efficiency. 70 % is common practice for pump and motor (no source); have yours tested.
        {!isUs ? " 1 m of lift is 9.81 kPa." : " 1 ft of lift is 0.433 psi."}
      </p>
      <button type="button" disabled={words === ""} onClick={take}>
        {words === "" ? "Put it in" : `Put in ${words}`}
      </button>
    </details>
  );
}
