// Every key that a scenario may hold has an entry on the page, or stands here with the reason. The
// page is really laid out, with a scenario that holds the key, and looked through for its entry.

import { readFileSync } from "node:fs";
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { expect, it } from "vitest";
import { at, fromNothing, pointer, put, type Json, type Path, type Scenario } from "../../src/model/scenario";
import { rowAt, sectionsOf, type Node } from "../../src/model/schema";
import * as store from "../../src/model/store";
import { idOf } from "../../src/setup/wrongs";
import { GroupBody, GROUPS } from "../../src/setup/setup";
import { Card } from "../../src/stops/card";

const schema = JSON.parse(readFileSync(new URL("../../../../../shared/scenario.schema.json", import.meta.url), "utf8")) as Node;

/** Starts of pointers without an entry, and why. */
const LEFT_TO_THE_FILE: Record<string, string> = {
  "/evenfall": "version of the format, which the page writes by itself",
  "/starting_values": "what nobody has confirmed: the page keeps the list by itself, entry by entry",
  "/units": "the switch at the top, not an entry of a group",
  "/calibration": "what catch tests leave, made by `evenfall catch --calibrate` and never typed",
  "/search": "what a study narrows or widens; the page's search asks for its aim and seasons where it is started",
  "/alternatives/0/rotation": "stops are rolled to in the close-up, or typed beside it",
  "/alternatives/0/lateral/odd_sprinklers": "one list for the field; an alternative's own is for the file",
  "/alternatives/0/lateral/survey": "one survey for the field; an alternative's own is for the file",
  "/alternatives/0/sprinkler/flow_control": "a range of two pressures; an alternative's own is for the file",
  "/alternatives/0/season/closed": "times without water are the field's; an alternative's own are for the file",
  "/alternatives/0/season/days_off": "whoever moves the line is the same for all; an alternative's own are for the file",
  "/alternatives/0/season/labor_": "whoever moves the line is the same for all; an alternative's own are for the file",
  "/alternatives/0/season/outlet_order": "one list for the field; an alternative's own is for the file",
  "/alternatives/0/season/irrigate_at_depletion": "all alternatives wait alike, for the baseline's soil",
  "/alternatives/0/season/min_pass_interval": "all alternatives wait alike, for the baseline's soil",
};

const follow = (node: Node): Node => (node.$ref ? { ...schema.$defs?.[node.$ref.replace("#/$defs/", "")], ...node, $ref: undefined } : node) as Node;

/** A value as one would write it. */
function sample(node: Node): Json {
  const here = follow(node) as Node & { const?: Json; pattern?: string; format?: string };
  if (here.examples?.[0] !== undefined) return here.examples[0];
  if (here.const !== undefined) return here.const;
  if (here.enum) return here.enum[0]!;
  if (here.minimum !== undefined) return here.minimum;
  if (here.type === "boolean") return true;
  if (here.type === "array") return [sample(here.items!)];
  if (here.type === "object") return {};
  return "2027-05-01";
}

interface Leaf {
  path: Path;
  value: Json;
}

/** Every place where a value may stand: lists by their first item, each form of writing by itself. */
function leaves(node: Node, path: Path): Leaf[] {
  const here = follow(node);
  const forms = [...(here.anyOf ?? []), ...(here.oneOf ?? [])];
  if (here.properties) return Object.entries(here.properties).flatMap(([key, inner]) => leaves(inner, [...path, key]));
  if (here.items) return leaves(here.items, [...path, 0]);
  if (forms.length > 0) return forms.flatMap((form) => leaves(form, path));
  return [{ path, value: sample(here) }];
}

/** Groups of keys of a section of which one is given. */
function groupsOf(node: Node): string[][] {
  const keysOf = ({ required, anyOf }: Node): string[] => [...(required ?? []), ...(anyOf ?? []).flatMap(keysOf)];
  return (follow(node).allOf ?? []).map(({ oneOf }) => (oneOf ?? []).flatMap(keysOf));
}

/** What else a scenario holds where such a key means anything; its entry comes with that. */
const TOGETHER: Record<string, [Path, Json][]> = {
  "/wheel/slip_and_sinkage": [[["wheel"], { outside_diameter: "76 in" }]],
  "/losses/nozzle_diameter": [[["losses"], { formula: "Trimmer 1987" }]],
  "/losses/reference_et": [[["losses"], { formula: "Keller and Bliesner 1990" }]],
  "/soil/wilting_point": [[["soil"], { field_capacity: "30 %" }]],
  "/seed": [[["wind"], { generated: { day_mean: "8 mph", night_mean: "4 mph", prevailing_from: "225 deg" } }]],
  "/alternatives/0/sprinkler/jets": [[["alternatives", 0, "sprinkler"], { jets: [{ nozzle: "5/32 in" }] }]],
  "/alternatives/0/equipment": [[["worth"], {}]],
};

/** The scenario with a value put in; what may not stand beside it goes. */
function holding({ path, value }: Leaf): Scenario {
  let scenario: Scenario = { ...fromNothing(), crop: { name: "maize, grain", planted: "2027-05-01" }, soil: { texture: "silt loam" }, climate: { et0: "0.2 in/d" } };
  for (const [start, puts] of Object.entries(TOGETHER)) {
    if (pointer(path).startsWith(start)) for (const [at, what] of puts) scenario = put(scenario, at, what) as Scenario;
  }
  let node: Node | undefined = schema;
  path.forEach((key, depth) => {
    const section = path.slice(0, depth);
    const forms: Node[] = node ? [follow(node), ...(follow(node).anyOf ?? []).map(follow)] : [];
    const form = forms.find((one) => (typeof key === "number" ? one.items : one.properties?.[key]));
    for (const group of form ? groupsOf(form) : []) {
      if (!group.includes(String(key))) continue;
      for (const other of group) if (other !== key && at(scenario, [...section, other]) !== undefined) scenario = put(scenario, [...section, other], undefined) as Scenario;
    }
    const there = at(scenario, section);
    // A section written in another form is written anew.
    if (there !== undefined && (there === null || typeof there !== "object" || Array.isArray(there) !== (typeof key === "number"))) {
      scenario = put(scenario, section, typeof key === "number" ? [] : {}) as Scenario;
    }
    node = typeof key === "number" ? form?.items : form?.properties?.[key];
  });
  return put(scenario, path, value) as Scenario;
}

function Page(): JSX.Element {
  return (
    <>
      {GROUPS.map((group) => (
        <GroupBody key={group.id} group={group} />
      ))}
      <Card index={0} count={1} />
    </>
  );
}

/** The part of the page where a key has its entry: its group, or the card of an alternative. */
function Place({ path }: { path: Path }): JSX.Element {
  const group = GROUPS.find(({ name }) => sectionsOf(schema, name).includes(String(path[0])));
  return group ? <GroupBody group={group} /> : <Card index={0} count={1} />;
}

const isLeft = (path: Path): boolean => Object.keys(LEFT_TO_THE_FILE).some((start) => pointer(path).startsWith(start));

it("has an entry for every key of the scenario file, each in every form it may take", () => {
  store.schema.value = schema;
  const all = leaves(schema, []);
  expect(all.length).toBeGreaterThan(180);
  const missing = all.filter(({ path }) => !isLeft(path)).filter((leaf) => {
    store.scenario.value = holding(leaf);
    const html = renderToString(<Place path={leaf.path} />);
    return !html.includes(`id="${idOf(leaf.path)}"`) && !html.includes(`data-sets="${pointer(leaf.path)}"`);
  });
  expect(missing.map(({ path }) => pointer(path))).toEqual([]);
});

it("leaves nothing to the file that is no key", () => {
  const known = leaves(schema, []).map(({ path }) => pointer(path));
  for (const start of Object.keys(LEFT_TO_THE_FILE)) expect(known.some((one) => one.startsWith(start)), start).toBe(true);
});

it("shows what is wrong with a section beside it, as with an entry", () => {
  store.schema.value = schema;
  const unseen: string[] = [];
  const seen = new Set<string>();
  for (const leaf of leaves(schema, []).filter(({ path }) => !isLeft(path) && path[0] !== "alternatives")) {
    for (let length = 1; length <= leaf.path.length; length++) {
      const path = leaf.path.slice(0, length);
      if (seen.has(pointer(path))) continue;
      seen.add(pointer(path));
      store.scenario.value = holding(leaf);
      store.check.value = { ok: false, digest: null, problems: [{ pointer: pointer(path), problem: "this is odd", allowed: null, hint: null, line: null }], assumptions: [], warnings: [], has_worth: false, matters: [], matters_words: "" };
      const told = renderToString(<Page />).split("This is odd").length - 1;
      if (told !== 1) unseen.push(`${pointer(path)}: ${told} times`);
    }
  }
  store.check.value = null;
  expect(unseen).toEqual([]);
});

it("tells for every entry what it means, and for every number what it may be", () => {
  store.schema.value = schema;
  const untold: string[] = [];
  for (const leaf of leaves(schema, []).filter(({ path }) => !isLeft(path))) {
    store.scenario.value = holding(leaf);
    const html = renderToString(<Place path={leaf.path} />);
    const id = idOf(leaf.path);
    // Read on from the entry itself: its explanation follows it.
    const from = html.indexOf(`id="${id}"`);
    if (from < 0) continue;
    const help = new RegExp(`id="${id}-help"[^>]*>([^<]*)<`).exec(html)?.[1] ?? "";
    const isNumber = typeof leaf.value === "number" || /^-?[\d./]+ /.test(String(leaf.value));
    if (help.trim() === "" || (isNumber && !/Allowed: /.test(help))) untold.push(`${pointer(leaf.path)}: ${help}`);
  }
  expect(untold).toEqual([]);
});

/** Entries that the page calls otherwise: rows of lists by their number, files and cuts by what they are for. */
const CALLED_OTHERWISE = /^\/alternatives|\/(rain|heights|odd_sprinklers|outlet_order|corners|days_off|contact|timed_moves|leg|monthly|file|et0|stages)(\/|$)/;

it("calls every entry as its row in the table does, and says what holds without it", () => {
  store.schema.value = schema;
  const wrong: string[] = [];
  for (const leaf of leaves(schema, []).filter(({ path }) => !isLeft(path) && !CALLED_OTHERWISE.test(pointer(path)))) {
    store.scenario.value = holding(leaf);
    const html = renderToString(<Place path={leaf.path} />);
    const { label } = rowAt(schema, leaf.path);
    const id = idOf(leaf.path);
    if (!html.includes(`id="${id}"`)) continue;
    const isTick = new RegExp(`id="${id}" type="checkbox"[^>]*>${label}<`).test(html);
    if (label === "" || !(html.includes(`for="${id}">${label}<`) || isTick)) wrong.push(`${pointer(leaf.path)}: ${label}`);
  }
  expect(wrong).toEqual([]);
  store.scenario.value = fromNothing();
  expect(renderToString(<Page />)).toContain("If left empty: as many as the field holds.");
});

it("finds every section of the file in a group of the page, or has it elsewhere", () => {
  const placed = GROUPS.flatMap(({ name }) => sectionsOf(schema, name));
  const elsewhere = ["evenfall", "units", "search", "alternatives", "calibration", "starting_values"];
  expect([...placed, ...elsewhere].sort()).toEqual(Object.keys(schema.properties ?? {}).sort());
});
