// The crop's own values in place of the table's: a group of keys is taken or left as a whole.

import type { JSX } from "preact";
import { at, type Json, type Path } from "../model/scenario";
import * as store from "../model/store";
import { NumberEntry, QuantityEntry } from "./entry";

interface Group {
  key: string;
  label: string;
  /** Values to begin with: those of a common field crop, to be changed. */
  fresh: () => Json;
  rows: [key: string, label: string][];
  isNumber?: boolean;
}

const GROUPS: Group[] = [
  {
    key: "kc",
    label: "Crop coefficients of its own",
    fresh: () => ({ ini: 0.4, mid: 1.15, end: 0.6 }),
    rows: [
      ["ini", "Initial stage"],
      ["mid", "Mid-season"],
      ["end", "Last day"],
    ],
    isNumber: true,
  },
  {
    key: "stages",
    label: "Lengths of its stages",
    fresh: () => ({ initial: "25 days", development: "35 days", mid: "45 days", late: "30 days" }),
    rows: [
      ["initial", "Initial"],
      ["development", "Development"],
      ["mid", "Mid-season"],
      ["late", "Late"],
    ],
  },
  {
    key: "roots",
    label: "Depth of its roots",
    fresh: () => (store.system.value === "us" ? { at_planting: "0.5 ft", full: "3 ft" } : { at_planting: "0.15 m", full: "0.9 m" }),
    rows: [
      ["at_planting", "On the day of planting"],
      ["full", "From mid-season on"],
    ],
  },
];

function OwnGroup({ group }: { group: Group }): JSX.Element {
  const path: Path = ["crop", group.key];
  const value = at(store.scenario.value, path);
  // Several cuts are a list, one for each.
  const paths: Path[] = Array.isArray(value) ? value.map((_, i) => [...path, i]) : value === undefined ? [] : [path];
  const Entry = group.isNumber ? NumberEntry : QuantityEntry;
  return (
    <>
      <label class="choice">
        <input
          type="checkbox"
          checked={value !== undefined}
          onChange={(e) => store.edit(path, e.currentTarget.checked ? group.fresh() : undefined)}
        />
        {group.label}
      </label>
      {paths.map((one, i) =>
        group.rows.map(([key, label]) => (
          <Entry key={`${i} ${key}`} path={[...one, key]} label={paths.length > 1 ? `${label}, cut ${i + 1}` : label} />
        )),
      )}
    </>
  );
}

export function OwnCropEntries(): JSX.Element {
  return (
    <details class="more">
      <summary>Values of its own, in place of the table’s</summary>
      <div class="entries">
        {GROUPS.map((group) => (
          <OwnGroup key={group.key} group={group} />
        ))}
        <QuantityEntry path={["crop", "allowable_depletion"]} label="Share used without stress" isOptional />
        <NumberEntry path={["crop", "yield_response"]} label="Yield response Ky" isOptional />
      </div>
    </details>
  );
}
