// What the schema says about an entry: a plain explanation and its allowed range.

import { convert, short } from "./units";
import type { Path } from "./scenario";

export interface Node {
  description?: string;
  type?: string;
  enum?: string[];
  minimum?: number;
  maximum?: number;
  examples?: string[];
  properties?: Record<string, Node>;
  items?: Node;
  anyOf?: Node[];
  oneOf?: Node[];
  $ref?: string;
  $defs?: Record<string, Node>;
}

interface Range {
  low: number;
  lowUnit: string;
  high: number;
  highUnit: string;
}

export interface Told {
  /** One plain sentence. */
  words: string;
  /** Least and most with their units, as the schema writes them; the first of them where a value may
   * be of several kinds. */
  range: Range | null;
  ranges: Range[];
  choices: string[];
  /** An example, whose unit serves where nothing is entered yet. */
  example: string;
}

function follow(schema: Node, node: Node): Node {
  const name = node.$ref?.replace("#/$defs/", "");
  return name ? { ...schema.$defs?.[name], ...node, $ref: undefined } : node;
}

function step(schema: Node, node: Node, key: string | number): Node | null {
  const here = follow(schema, node);
  const next = typeof key === "number" ? here.items : here.properties?.[key];
  if (next) return next;
  for (const way of here.anyOf ?? here.oneOf ?? []) {
    const found = step(schema, way, key);
    if (found) return found;
  }
  return null;
}

/** The schema's node at a path of the scenario. */
export function nodeAt(schema: Node, path: Path): Node | null {
  let node: Node | null = schema;
  for (const key of path) node = node && step(schema, node, key);
  return node && follow(schema, node);
}

/** This node and the ways it may be written. */
function ways(schema: Node, node: Node): Node[] {
  const here = follow(schema, node);
  return [here, ...(here.anyOf ?? []).flatMap((way) => ways(schema, way))];
}

const RANGE = /\bfrom (-?[\d.]+) ([^(;:]+?) to (-?[\d.]+) ([^(;:]+?)(?: \(|;|$| or )/;
/** An upper end so far off that it would only be noise. */
const FAR = 1e6;
const KIND = /(?::\s*)?\b(?:an?|money) [\w ]*?\bfrom -?[\d.]+ .*$/;

/** Names of keys in back-ticks, as words. */
const plain = (says: string): string => says.replace(/`([^`]+)`/g, (_, key: string) => key.replace(/_/g, " "));

/** Explanation, range and choices of the entry at a path. */
export function tell(schema: Node | null, path: Path): Told {
  const node = schema && nodeAt(schema, path);
  const told: Told = { words: "", range: null, ranges: [], choices: [], example: "" };
  if (!schema || !node) return told;
  for (const way of ways(schema, node)) {
    // A value that may be written with its range: the text form is told first and is enough.
    if (way.type === "object") continue;
    const says = way.description ?? "";
    told.words ||= plain(says.replace(KIND, "").replace(/; units .*$/, "").trim());
    const found = RANGE.exec(says);
    if (found) {
      const [, low, lowUnit, high, highUnit] = found;
      told.ranges.push({ low: Number(low), lowUnit: lowUnit ?? "", high: Number(high), highUnit: highUnit ?? "" });
    } else if (way.minimum !== undefined && way.maximum !== undefined) {
      told.ranges.push({ low: way.minimum, lowUnit: "", high: way.maximum, highUnit: "" });
    }
    told.range = told.ranges[0] ?? null;
    told.choices = way.enum ?? told.choices;
    told.example ||= way.examples?.[0] ?? "";
  }
  return told;
}

/** The range in the unit that the entry uses: "from 20 to 16404 ft". */
export function rangeIn(told: Told, unit: string): string {
  if (!told.range) return "";
  const isOfKind = (range: Range): boolean => convert(range.low, range.lowUnit, unit) !== null;
  const { low, lowUnit, high, highUnit } = told.ranges.find(isOfKind) ?? told.range;
  const a = unit && convert(low, lowUnit, unit);
  const b = unit && convert(high, highUnit, unit);
  if (typeof a === "number" && typeof b === "number") {
    if (b >= FAR) return `from ${short(a, 4)} ${unit} up`;
    return `${short(a, 4)} to ${short(b, 4)} ${unit}`.replace(/-/g, "\u2212");
  }
  const most = short(high, 16);
  return lowUnit === highUnit ? `${low} to ${most} ${highUnit}`.trim() : `${low} ${lowUnit} to ${most} ${highUnit}`;
}
