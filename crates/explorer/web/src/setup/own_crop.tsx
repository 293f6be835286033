// The crop's own values in place of the table's: a group of keys is taken or left as a whole.

import type { JSX } from "preact";
import { at, type Json, type Path } from "../model/scenario";
import * as store from "../model/store";
import { keysAt, rowAt } from "../model/schema";
import { Entries, Entry } from "./entry";

interface Group {
  key: string;
  label: string;
  /** Values to begin with: those of a common field crop, to be changed. */
  fresh: () => Json;
}

const GROUPS: Group[] = [
  {
    key: "kc",
    label: "Your own crop coefficients",
    fresh: () => ({ ini: 0.4, mid: 1.15, end: 0.6 }),
  },
  {
    key: "stages",
    label: "Your own growth stages",
    fresh: () => ({ initial: "25 days", development: "35 days", mid: "45 days", late: "30 days" }),
  },
  {
    key: "roots",
    label: "Your own root depth",
    fresh: () => (store.system.value === "us" ? { at_planting: "0.5 ft", full: "3 ft" } : { at_planting: "0.15 m", full: "0.9 m" }),
  },
];

function OwnGroup({ group }: { group: Group }): JSX.Element {
  const path: Path = ["crop", group.key];
  const value = at(store.scenario.value, path);
  // Several cuts are a list, one for each.
  const paths: Path[] = Array.isArray(value) ? value.map((_, i) => [...path, i]) : value === undefined ? [] : [path];
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
        keysAt(store.schema.value, one).map((key) => {
          const { label } = rowAt(store.schema.value, [...one, key]);
          return <Entry key={`${i} ${key}`} path={[...one, key]} label={paths.length > 1 ? `${label}, cut ${i + 1}` : label} />;
        }),
      )}
    </>
  );
}

export function OwnCropEntries(): JSX.Element {
  return (
    <details class="more">
      <summary>Your own values, in place of the table’s</summary>
      <div class="entries">
        {GROUPS.map((group) => (
          <OwnGroup key={group.key} group={group} />
        ))}
        <Entries path={["crop"]} except={["name", "planted"]} />
      </div>
    </details>
  );
}
