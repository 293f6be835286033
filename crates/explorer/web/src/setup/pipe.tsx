// Pressure along the lateral: the pipe, what is known of the water, and the ground under it.

import type { JSX } from "preact";
import { at, type Path, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { ChoiceEntry, NumberEntry, QuantityEntry } from "./entry";
import { HeightRows } from "./rows";
import { Ways, type Way } from "./ways";

/** A pipe to start from; its size is to be changed. */
export const FRESH: Scenario = { inside_diameter: "4.9 in", material: "aluminum" };

const inletWay = (label: string, key: string, value: string): Way => ({
  label,
  key,
  fresh: { [key]: value },
  drops: ["pressure", "flow", "mean_sprinkler_pressure"].filter((other) => other !== key),
});

const INLET_WAYS: Way[] = [
  inletWay("Pressure at the inlet", "pressure", "60 psi"),
  inletWay("Flow at the inlet", "flow", "165 gpm"),
  inletWay("Mean pressure of the nozzles", "mean_sprinkler_pressure", "50 psi"),
];

const LABELS: Record<string, string> = {
  pressure: "Pressure in the pipe",
  flow: "Flow into the pipe",
  mean_sprinkler_pressure: "Mean at the nozzles",
};

export function PipeEntries({ path }: { path: Path }): JSX.Element {
  const isThere = at(store.scenario.value, path) !== undefined;
  const toggle = (on: boolean): void =>
    store.edit(path, on ? (allToSystem(FRESH, store.system.value) as Scenario) : undefined);
  return (
    <details class="more" open={isThere}>
      <summary>Pressure along the pipe</summary>
      <div class="entries">
        <label class="choice">
          <input type="checkbox" checked={isThere} onChange={(e) => toggle(e.currentTarget.checked)} />
          Work out pressure and discharge along the pipe
        </label>
        {isThere && (
          <>
            <QuantityEntry path={[...path, "inside_diameter"]} label="Inside diameter" />
            <QuantityEntry path={[...path, "change_at"]} label="Another size from" isOptional />
            <QuantityEntry path={[...path, "inside_diameter_beyond"]} label="Inside diameter from there" isOptional />
            <ChoiceEntry path={[...path, "material"]} label="Material" isOptional none="given by C" />
            <NumberEntry path={[...path, "roughness_c"]} label="Roughness C" isOptional />
            <NumberEntry path={[...path, "roughness_c_beyond"]} label="Roughness C beyond the change" isOptional />
            <QuantityEntry path={[...path, "inlet_at"]} label="Inlet from the field’s edge" isOptional />
            <QuantityEntry path={[...path, "slope"]} label="Rise of the ground" isOptional />
            <QuantityEntry path={[...path, "riser"]} label="Nozzle above the pipe" isOptional />
            <QuantityEntry path={[...path, "flow_control"]} label="Flow-control nozzles hold from" isOptional />
            <NumberEntry path={[...path, "radius_exponent"]} label="Radius grows with pressure to the power" isOptional />
            <HeightRows path={[...path, "heights"]} />
            <Ways path={[...path, "inlet"]} legend="What is known of the water" ways={INLET_WAYS}>
              {(key) => <QuantityEntry path={[...path, "inlet", key]} label={LABELS[key] ?? key} />}
            </Ways>
          </>
        )}
      </div>
    </details>
  );
}
