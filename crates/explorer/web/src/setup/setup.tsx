// The set-up: eight groups, each closed to one sentence, in the order a grower would tell them.

import type { ComponentType, JSX } from "preact";
import { useState } from "preact/hooks";
import * as store from "../model/store";
import type { Path } from "../model/scenario";
import { sectionsOf } from "../model/schema";
import { MaintenanceEntries } from "./maintenance";
import { problemsOfRows, sentence, Wrongs } from "./wrongs";
import { FilesKept, FilesWanted } from "./files";
import { CropEntries } from "./ground";
import { FieldEntries, SprinklerEntries, WheelEntries } from "./machine";
import * as precis from "./precis";
import { startingIn } from "./whose";
import { PriceEntries, SeasonEntries, WindEntries } from "./year";

interface Group {
  /** Name in the program's table of keys, which says what belongs here. */
  name: string;
  id: string;
  title: string;
  precis: precis.Precis;
  /** Sections whose keys have entries but that have no place themselves, with their lists' rows. */
  sections: Path[];
  Entries: ComponentType;
}

/** A group's entries, and before them what is wrong with a section as a whole. */
export function GroupBody({ group }: { group: Group }): JSX.Element {
  return (
    <>
      <Wrongs problems={group.sections.flatMap((path) => problemsOfRows(path))} />
      <group.Entries />
    </>
  );
}

export const GROUPS: Group[] = [
  { name: "field", id: "field-group", title: "Field and lateral", precis: precis.field, sections: [["field"], ["lateral"], ["lateral", "pipe"]], Entries: FieldEntries },
  { name: "wheel", id: "wheel-group", title: "Wheels and outlets", precis: precis.wheels, sections: [["outlets"]], Entries: WheelEntries },
  { name: "sprinkler", id: "sprinkler-group", title: "Sprinkler", precis: precis.sprinkler, sections: [["sprinkler"], ["sprinkler", "drag"]], Entries: SprinklerEntries },
  { name: "wind", id: "wind-group", title: "Wind and air", precis: precis.wind, sections: [["air"]], Entries: WindEntries },
  { name: "season", id: "season-group", title: "Season", precis: precis.season, sections: [], Entries: SeasonEntries },
  { name: "crop", id: "crop-group", title: "Crop and soil", precis: precis.crop, sections: [["crop"], ["crop", "kc"], ["crop", "stages"], ["crop", "roots"], ["climate"]], Entries: CropEntries },
  { name: "maintenance", id: "maintenance-group", title: "Maintenance and move sheet", precis: precis.maintenance, sections: [["maintenance"], ["sheet"]], Entries: MaintenanceEntries },
  { name: "price", id: "price-group", title: "Prices", precis: precis.prices, sections: [["worth"], ["worth", "prices"], ["worth", "pumping"]], Entries: PriceEntries },
];

/** Whether what a pointer leads to stands in the group. */
const owns = (group: Group, pointer: string): boolean =>
  sectionsOf(store.schema.value, group.name).includes(pointer.split("/")[1] ?? "");

/** Frames in which an opened group is sure to have its entries. */
const FRAMES = 30;

/** Opens a group, and goes on once its entries are there. */
export function whenOpen(id: string, then: (group: HTMLElement) => void): void {
  const group = document.getElementById(id);
  if (!group) return;
  group.setAttribute("open", "");
  const wait = (left: number): void => {
    if (group.querySelector(".entries")) then(group);
    else if (left > 0) requestAnimationFrame(() => wait(left - 1));
  };
  wait(FRAMES);
}

/** Puts the cursor on the entry at a pointer, or on the nearest one around it that has a place. */
function focusAt(pointer: string): boolean {
  for (let path = pointer; path !== ""; path = path.slice(0, path.lastIndexOf("/"))) {
    const name = path.replace(/\//g, "-");
    const chip = document.getElementById(`chip${name}`);
    chip?.click();
    // A section has no entry of its own: the first below it is the nearest.
    const below = path === pointer ? document.querySelector<HTMLElement>(`:is(input, select)[id^="entry${CSS.escape(name)}-"]`) : null;
    const entry = chip ?? document.getElementById(`entry${name}`) ?? below;
    if (entry) {
      for (let up = entry.closest("details"); up; up = up.parentElement?.closest("details") ?? null) up.open = true;
      entry.focus();
      return true;
    }
  }
  return false;
}

/** Leads to what a pointer is about; a section as a whole is told by its group. */
export function goTo(pointer: string): void {
  const group = GROUPS.find((one) => owns(one, pointer));
  if (!group) return void focusAt(pointer);
  whenOpen(group.id, (there) => {
    if (!focusAt(pointer)) there.querySelector("summary")?.focus();
  });
}

function GroupView({ group }: { group: Group }): JSX.Element {
  const [isOpen, setOpen] = useState(group.id === "field-group" && window.innerWidth > 900);
  // Entries are made when they are first looked at: the page is there sooner.
  const [isMade, setMade] = useState(isOpen);
  const toggle = (open: boolean): void => {
    setOpen(open);
    if (open) setMade(true);
  };
  const starting = startingIn(group.name);
  const wrong = (store.check.value?.problems ?? []).filter((p) => owns(group, p.pointer)).length;
  return (
    <details class="group" id={group.id} open={isOpen} onToggle={(e) => toggle(e.currentTarget.open)}>
      <summary>
        <h3>{group.title}</h3>
        {starting !== "none" && <span class="tag">{starting === "all" ? "starting values" : "some starting values"}</span>}
        {wrong > 0 && <span class="badge">{wrong} to correct</span>}
        <span class="precis">{group.precis(store.scenario.value)}</span>
      </summary>
      {isMade && (
        <div class="entries">
          <GroupBody group={group} />
        </div>
      )}
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
            : {sentence(p)}
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
      {GROUPS.some(({ name }) => startingIn(name) !== "none") && (
        <p class="help">
          Entries and groups marked <span class="tag">starting values</span> hold common values, not yours. Enter your
          own, and the page speaks about your field.
        </p>
      )}
      {check?.ok && check.warnings.length > 0 && (
        <div class="notes">
          <h3>Notes</h3>
          <ul>
            {check.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
          </ul>
        </div>
      )}
      {GROUPS.map((group) => (
        <GroupView key={group.id} group={group} />
      ))}
      {check?.ok && check.assumptions.length > 0 && (
        <details class="group assumed">
          <summary>
            <h3>Starting values</h3>
            <span class="precis">{check.assumptions.length} values that you did not enter, or that were moved to fit.</span>
          </summary>
          <ul>
            {check.assumptions.map((a) => (
              <li key={a.what}>
                <b>{a.what.slice(1).replace(/\//g, " · ").replace(/_/g, " ")}</b> = {a.value} ({a.why})
              </li>
            ))}
          </ul>
        </details>
      )}
      <FilesKept />
      <p class="help">
        <a href="reference" target="_blank" rel="noopener">What every entry means</a>: all entries, commands and figures, to be searched.
      </p>
    </div>
  );
}
