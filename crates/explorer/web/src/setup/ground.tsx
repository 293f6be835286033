// Entries on the crop, the soil, and what sun and rain do to them.

import type { JSX } from "preact";
import { at, daysAfter, text, type Scenario } from "../model/scenario";
import { nodeAt } from "../model/schema";
import type { System } from "../model/units";
import { markStarting, pruned } from "../model/starting";
import * as store from "../model/store";
import { ClimateEntries } from "./climate";
import { Entries, Entry, TextEntry } from "./entry";
import { OwnCropEntries } from "./own_crop";
import { KeyChoice, type KeyOption } from "./key_choice";

/** A common crop and ground to begin with, planted some days before the first set. */
export const usualGround = (start: string, system: System): Scenario => ({
  crop: { name: "maize, grain", planted: daysAfter(start, -9) },
  soil: { texture: "silt loam", start_depletion: "20 %" },
  climate: { et0: system === "us" ? "0.22 in/d" : "5.6 mm/d" },
  worth: { seasons: 30, prices: {} },
});

const SOIL_OPTIONS: KeyOption[] = [
  { label: "A texture class", key: "texture", fresh: { texture: "silt loam" }, drops: ["field_capacity", "wilting_point"] },
  { label: "Water contents", key: "field_capacity", fresh: { field_capacity: "29 %", wilting_point: "13 %" }, drops: ["texture"] },
];

const WATER_CONTENTS = ["field_capacity", "wilting_point"];

export function CropEntries(): JSX.Element {
  const scenario = store.scenario.value;
  // Names of the tables; any other name is what growers call one of them, or a crop of one's own.
  const crops = (store.schema.value && nodeAt(store.schema.value, ["crop", "name"])?.examples?.map(text)) || [];
  const isThere = scenario.crop !== undefined || scenario.soil !== undefined || scenario.climate !== undefined;
  const toggle = (on: boolean): void => {
    const next: Scenario = { ...store.scenario.value };
    const usual = usualGround(text(at(next, ["season", "start"])), store.system.value);
    for (const key of Object.keys(usual)) delete next[key];
    const made: Scenario = on ? { ...next, ...usual, alternatives: next.alternatives ?? [] } : next;
    store.scenario.value = markStarting(pruned(made), Object.keys(usual).map((key) => [key]));
  };
  return (
    <>
      <label class="choice">
        <input type="checkbox" checked={isThere} onChange={(e) => toggle(e.currentTarget.checked)} />
        Calculate yield and money too: needs crop and soil
      </label>
      {isThere && (
        <>
          <TextEntry path={["crop", "name"]} list="crops" />
          <datalist id="crops">
            {crops.map((crop) => (
              <option key={crop} value={crop} />
            ))}
          </datalist>
          <Entry path={["crop", "planted"]} />
          <OwnCropEntries />
          <KeyChoice path={["soil"]} legend="Soil" options={SOIL_OPTIONS}>
            {(key) => <Entries path={["soil"]} keys={key === "texture" ? [key] : WATER_CONTENTS} />}
          </KeyChoice>
          <Entries path={["soil"]} except={["texture", ...WATER_CONTENTS]} />
          <ClimateEntries />
        </>
      )}
    </>
  );
}
