// Entries on the crop, the soil, and what sun and rain do to them.

import type { JSX } from "preact";
import { type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { ClimateEntries } from "./climate";
import { ChoiceEntry, QuantityEntry, TextEntry } from "./entry";
import { OwnCropEntries } from "./own_crop";
import { Ways, type Way } from "./ways";

/** Names of the FAO-56 tables that the program knows; any other name is a crop of one's own. */
const CROPS = [
  "alfalfa, mean over cuts", "alfalfa, cut by cut", "potato", "sugar beet", "onion, dry", "maize, grain",
  "soybean", "beans, dry", "spring wheat", "winter wheat", "barley", "pasture, rotated",
];

const GROUND: Scenario = {
  crop: { name: "maize, grain", planted: "2027-05-01" },
  soil: { texture: "silt loam", start_depletion: "20 %" },
  climate: { et0: "0.22 in/d" },
  worth: { seasons: 30, prices: {} },
};

const SOIL_WAYS: Way[] = [
  { label: "A texture class", key: "texture", fresh: { texture: "silt loam" }, drops: ["field_capacity", "wilting_point"] },
  { label: "Water contents", key: "field_capacity", fresh: { field_capacity: "29 %", wilting_point: "13 %" }, drops: ["texture"] },
];

export function CropEntries(): JSX.Element {
  const scenario = store.scenario.value;
  const isThere = scenario.crop !== undefined || scenario.soil !== undefined || scenario.climate !== undefined;
  const toggle = (on: boolean): void => {
    const next: Scenario = { ...store.scenario.value };
    for (const key of Object.keys(GROUND)) delete next[key];
    const fresh = allToSystem(GROUND, store.system.value) as Scenario;
    store.scenario.value = on ? { ...next, ...fresh, alternatives: next.alternatives ?? [] } : next;
  };
  return (
    <>
      <label class="choice">
        <input type="checkbox" checked={isThere} onChange={(e) => toggle(e.currentTarget.checked)} />
        Reckon with crop and soil, so that yield and money can be told
      </label>
      {isThere && (
        <>
          <TextEntry path={["crop", "name"]} label="Crop" list="crops" />
          <datalist id="crops">
            {CROPS.map((crop) => (
              <option key={crop} value={crop} />
            ))}
          </datalist>
          <TextEntry path={["crop", "planted"]} label="Planted" type="date" />
          <OwnCropEntries />
          <Ways path={["soil"]} legend="Soil" ways={SOIL_WAYS}>
            {(key) =>
              key === "texture" ? (
                <ChoiceEntry path={["soil", "texture"]} label="Texture" />
              ) : (
                <>
                  <QuantityEntry path={["soil", "field_capacity"]} label="Field capacity" />
                  <QuantityEntry path={["soil", "wilting_point"]} label="Wilting point" />
                </>
              )
            }
          </Ways>
          <QuantityEntry path={["soil", "start_depletion"]} label="Missing on the first day" isOptional />
          <ClimateEntries />
        </>
      )}
    </>
  );
}
