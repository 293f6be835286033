// Every key that a scenario may hold has a place on the page, or stands here with the reason.

import { readdirSync, readFileSync } from "node:fs";
import { expect, it } from "vitest";
import type { Node } from "../../src/model/schema";

const LEFT_TO_THE_FILE: Record<string, string> = {
  evenfall: "version of the format, written by itself",
  units: "the switch at the top",
  heights: "a survey of the ground, point by point",
  // What the search tries is asked where it is started; these narrow or widen it for a study.
  search: "the search has its own place",
  least_du_lq: "a study's own",
  least_worst_tenth: "a study's own",
  longest: "a study's own",
  repeats: "a study's own",
  orders: "a study's own",
  clocks: "a study's own",
  insets: "a study's own",
  outlet_counts: "a study's own",
  parts_across: "a study's own",
  half_along: "a study's own",
  travels: "a study's own",
  spacings: "a study's own",
  first_seasons: "a study's own",
  joints_per_outlet: "a study's own",
  aim: "a study's own",
};

/** All keys of the schema with the sections that hold them. */
function keysOf(schema: Node): Map<string, string> {
  const found = new Map<string, string>();
  const seen = new Set<Node>();
  const walk = (node: Node | undefined, at: string): void => {
    if (!node || seen.has(node)) return;
    seen.add(node);
    const name = node.$ref?.replace("#/$defs/", "");
    if (name) walk(schema.$defs?.[name], name);
    for (const [key, value] of Object.entries(node.properties ?? {})) {
      if (!found.has(key)) found.set(key, at);
      walk(value, `${at}/${key}`);
    }
    walk(node.items, at);
    for (const way of [...(node.anyOf ?? []), ...(node.oneOf ?? [])]) walk(way, at);
  };
  walk(schema, "");
  return found;
}

it("has an entry for every key of the scenario file", () => {
  const schema = JSON.parse(readFileSync(new URL("../../../../../shared/scenario.schema.json", import.meta.url), "utf8")) as Node;
  const sources = ["setup", "stops"].flatMap((folder) => {
    const at = new URL(`../../src/${folder}/`, import.meta.url);
    return readdirSync(at).map((file) => readFileSync(new URL(file, at), "utf8"));
  });
  const text = sources.join("\n");
  const missing = [...keysOf(schema)].filter(([key]) => !(key in LEFT_TO_THE_FILE) && !new RegExp(`["'.]${key}\\b|\\b${key}:`).test(text));
  expect(missing.map(([key, at]) => `${at}/${key}`)).toEqual([]);
});
