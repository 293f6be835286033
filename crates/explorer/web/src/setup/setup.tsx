// The set-up: eight groups, each closed to one sentence, in the order a grower would tell them.

import type { ComponentType, JSX } from "preact";
import { useState } from "preact/hooks";
import * as store from "../model/store";
import type { Problem } from "../model/api";
import { FilesWanted } from "./file";
import { CareEntries } from "./care";
import { CropEntries } from "./ground";
import { FieldEntries, SprinklerEntries, WheelEntries } from "./machine";
import * as precis from "./precis";
import { PriceEntries, SeasonEntries, WindEntries } from "./year";

interface Group {
  id: string;
  title: string;
  precis: precis.Precis;
  /** Starts of the pointers that belong here. */
  owns: string[];
  Entries: ComponentType;
}

const GROUPS: Group[] = [
  { id: "field-group", title: "Field and lateral", precis: precis.field, owns: ["/title", "/question", "/invented", "/field", "/lateral"], Entries: FieldEntries },
  { id: "wheel-group", title: "Wheels and outlets", precis: precis.wheels, owns: ["/wheel", "/outlets"], Entries: WheelEntries },
  { id: "sprinkler-group", title: "Sprinkler", precis: precis.sprinkler, owns: ["/sprinkler", "/losses"], Entries: SprinklerEntries },
  { id: "wind-group", title: "Wind and air", precis: precis.wind, owns: ["/wind", "/air", "/seed"], Entries: WindEntries },
  { id: "season-group", title: "Season", precis: precis.season, owns: ["/season"], Entries: SeasonEntries },
  { id: "crop-group", title: "Crop and soil", precis: precis.crop, owns: ["/crop", "/soil", "/climate"], Entries: CropEntries },
  { id: "care-group", title: "The machine’s care", precis: precis.care, owns: ["/care"], Entries: CareEntries },
  { id: "price-group", title: "Prices", precis: precis.prices, owns: ["/worth"], Entries: PriceEntries },
];

const owns = (group: Group, problem: Problem): boolean =>
  group.owns.some((start) => problem.pointer === start || problem.pointer.startsWith(`${start}/`));

/** Puts the cursor on the entry that a problem is about, or on the nearest one that has a place. */
function goTo(pointer: string): void {
  for (let path = pointer; path !== ""; path = path.slice(0, path.lastIndexOf("/"))) {
    const name = path.replace(/\//g, "-");
    const chip = document.getElementById(`chip${name}`);
    chip?.click();
    const entry = chip ?? document.getElementById(`entry${name}`);
    if (entry) {
      entry.closest("details")?.setAttribute("open", "");
      entry.focus();
      return;
    }
  }
}

function GroupView({ group }: { group: Group }): JSX.Element {
  const [isOpen, setOpen] = useState(group.id === "field-group" && window.innerWidth > 900);
  const wrong = (store.check.value?.problems ?? []).filter((p) => owns(group, p)).length;
  return (
    <details class="group" id={group.id} open={isOpen} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>
        <h3>{group.title}</h3>
        {wrong > 0 && <span class="badge">{wrong} to correct</span>}
        <span class="precis">{group.precis(store.scenario.value)}</span>
      </summary>
      <div class="entries">
        <group.Entries />
      </div>
    </details>
  );
}

function Problems(): JSX.Element | null {
  const problems = store.check.value?.problems ?? [];
  if (problems.length === 0) return null;
  return (
    <div class="problems" id="problems">
      <h3>{problems.length === 1 ? "One entry needs correcting" : `${problems.length} entries need correcting`}</h3>
      <ul>
        {problems.map((p) => (
          <li key={`${p.pointer} ${p.problem}`}>
            <button type="button" class="link" onClick={() => goTo(p.pointer)}>
              {p.pointer.slice(1).replace(/\//g, " · ").replace(/_/g, " ") || "The scenario"}
            </button>
            : {[p.problem, p.allowed].filter(Boolean).join("; ")}
          </li>
        ))}
      </ul>
    </div>
  );
}

export function SetUp(): JSX.Element {
  const check = store.check.value;
  return (
    <div class="setup">
      <div role="status" class="unseen">
        {check && check.problems.length > 0 ? `${check.problems.length} entries need correcting` : ""}
      </div>
      <FilesWanted />
      <Problems />
      {GROUPS.map((group) => (
        <GroupView key={group.id} group={group} />
      ))}
      {check?.ok && (check.warnings.length > 0 || check.assumptions.length > 0) && (
        <details class="group assumed">
          <summary>
            <h3>Mind, and what is assumed</h3>
            <span class="precis">
              {check.warnings.length} to mind, {check.assumptions.length} values assumed or fitted.
            </span>
          </summary>
          <ul>
            {check.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
            {check.assumptions.map((a) => (
              <li key={a.what}>
                <b>{a.what.slice(1).replace(/\//g, " · ").replace(/_/g, " ")}</b> = {a.value} ({a.why})
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}
