// What the schema says of a key, which is what its row in the program's table of keys says: label, help,
// limits, what holds without it, and where on the page it stands.

import { convert, short } from "./units";
import { text, type Json, type Path } from "./scenario";

export interface Node {
  title?: string;
  description?: string;
  /** Starting value, and why that one; or in words what holds without the key. */
  default?: Json;
  because?: string;
  otherwise?: string;
  /** Group of the page in which a section of the file stands. */
  group?: string;
  type?: string;
  const?: Json;
  pattern?: string;
  required?: string[];
  allOf?: Node[];
  enum?: string[];
  /** What each of these means. */
  enumDescriptions?: string[];
  minimum?: number;
  maximum?: number;
  examples?: Json[];
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

/** How a value is entered. */
export type Kind = "quantity" | "number" | "choice" | "tick" | "text" | "date" | "moment" | "section";

/** A key's row. */
export interface Row {
  label: string;
  /** What the key means, in plain sentences. */
  help: string;
  kind: Kind;
  /** Least and most with their units, as the schema writes them; the first of them where a value may
   * be of several kinds. */
  range: Range | null;
  ranges: Range[];
  choices: string[];
  /** What each choice means. */
  meanings: string[];
  /** An example, whose unit serves where nothing is entered yet. */
  example: string;
  /** Whether the section may stand without the key and all others that could take its place. */
  isOptional: boolean;
  /** What holds where it is left out. */
  otherwise: string;
}

function follow(schema: Node, node: Node): Node {
  const name = node.$ref?.replace("#/$defs/", "");
  return name ? { ...schema.$defs?.[name], ...node, $ref: undefined } : node;
}

function step(schema: Node, node: Node, key: string | number): Node | null {
  const here = follow(schema, node);
  const next = typeof key === "number" ? here.items : here.properties?.[key];
  if (next) return next;
  for (const form of here.anyOf ?? here.oneOf ?? []) {
    const found = step(schema, form, key);
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

/** This node and the forms it may take. */
function formsOf(schema: Node, node: Node): Node[] {
  const here = follow(schema, node);
  return [here, ...(here.anyOf ?? []).flatMap((form) => formsOf(schema, form))];
}

const RANGE = /\bfrom (-?[\d.]+) ([^(;:]+?) to (-?[\d.]+) ([^(;:]+?)(?: \(|;|$| or )/;
/** An upper end so far off that it would only be noise. */
const FAR = 1e6;
const KIND = /(?::\s*)?\b(?:an?|money) [\w ]*?\bfrom -?[\d.]+ .*$/;

/** Names of keys in back-ticks, as words. */
const plain = (says: string): string => says.replace(/`([^`]+)`/g, (_, key: string) => key.replace(/_/g, " "));

const DATE = "^[0-9]{4}-[0-9]{2}-[0-9]{2}";

/** How a value of one of these forms is entered. */
function kindOf(forms: Node[]): Kind {
  const is = (test: (form: Node) => boolean): boolean => forms.some(test);
  if (is((form) => form.enum !== undefined)) return "choice";
  if (is((form) => form.type === "boolean" || form.const !== undefined)) return "tick";
  const dates = forms.find((form) => form.pattern?.startsWith(DATE));
  if (dates) return dates.pattern === `${DATE}$` ? "date" : "moment";
  if (is((form) => form.type === "string" && RANGE.test(form.description ?? ""))) return "quantity";
  if (is((form) => form.type === "string")) return "text";
  return is((form) => form.type === "number" || form.type === "integer") ? "number" : "section";
}

/** Whether a section may stand without a key, whatever else it holds. */
function isLeftOut(schema: Node, path: Path): boolean {
  const key = path[path.length - 1];
  if (typeof key !== "string") return false;
  const section = nodeAt(schema, path.slice(0, -1));
  const form = section && formsOf(schema, section).find((one) => one.properties?.[key]);
  const holds = ({ required, anyOf }: Node): boolean => required?.includes(key) || anyOf?.some(holds) || false;
  const group = form?.allOf?.some(({ oneOf }) => oneOf?.some(holds));
  return form !== undefined && form !== null && !group && !form.required?.includes(key);
}

function otherwiseOf(node: Node): string {
  if (node.default === undefined) return node.otherwise ?? "";
  return `${typeof node.default === "boolean" ? (node.default ? "yes" : "no") : text(node.default)} (${node.because ?? ""})`;
}

const NO_ROW: Row = { label: "", help: "", kind: "section", range: null, ranges: [], choices: [], meanings: [], example: "", isOptional: false, otherwise: "" };

/** Rows by the path of their key; entries ask for them at every stroke. */
const rows = new WeakMap<Node, Map<string, Row>>();

/** The row of the key at a path. */
export function rowAt(schema: Node | null, path: Path): Row {
  if (!schema) return NO_ROW;
  const known = rows.get(schema) ?? new Map<string, Row>();
  rows.set(schema, known);
  const place = path.map((key) => (typeof key === "number" ? 0 : key)).join("/");
  const row = known.get(place) ?? read(schema, path);
  known.set(place, row);
  return row;
}

function read(schema: Node, path: Path): Row {
  const node = nodeAt(schema, path);
  if (!node) return NO_ROW;
  // A value that may be written with its range: the text form is said first and is enough.
  const forms = formsOf(schema, node).filter(({ type }) => type !== "object" && type !== "array");
  const row: Row = {
    ...NO_ROW,
    ranges: [],
    label: node.title ?? "",
    kind: kindOf(forms),
    isOptional: isLeftOut(schema, path),
    otherwise: plain(otherwiseOf(node)),
  };
  for (const form of forms) {
    const says = form.description ?? "";
    row.help ||= plain(says.replace(KIND, "").replace(/; units .*$/, "").trim());
    const found = RANGE.exec(says);
    if (found) {
      const [, low, lowUnit, high, highUnit] = found;
      row.ranges.push({ low: Number(low), lowUnit: lowUnit ?? "", high: Number(high), highUnit: highUnit ?? "" });
    } else if (form.minimum !== undefined && form.maximum !== undefined && row.ranges.length === 0) {
      row.ranges.push({ low: form.minimum, lowUnit: "", high: form.maximum, highUnit: "" });
    }
    row.choices = form.enum ?? row.choices;
    row.meanings = form.enumDescriptions ?? row.meanings;
    row.example ||= text(form.examples?.[0]);
  }
  row.range = row.ranges[0] ?? null;
  return row;
}

/** The keys of the section at a path that one entry holds, in the order of the table. */
export function keysAt(schema: Node | null, path: Path): string[] {
  const section = schema && nodeAt(schema, path);
  const form = schema && section && formsOf(schema, section).find((one) => one.properties);
  return Object.keys(form?.properties ?? {}).filter((key) => rowAt(schema, [...path, key]).kind !== "section");
}

/** The sections of the file, and keys beside them, that stand in a group of the page. */
export const sectionsOf = (schema: Node | null, group: string): string[] =>
  Object.entries(schema?.properties ?? {}).flatMap(([key, node]) => (node.group === group ? [key] : []));

/** The range in the unit that the entry uses: "from 20 to 16404 ft". */
export function rangeIn(row: Row, unit: string): string {
  if (!row.range) return "";
  const isOfKind = (range: Range): boolean => convert(range.low, range.lowUnit, unit) !== null;
  const { low, lowUnit, high, highUnit } = row.ranges.find(isOfKind) ?? row.range;
  const a = unit && convert(low, lowUnit, unit);
  const b = unit && convert(high, highUnit, unit);
  if (typeof a === "number" && typeof b === "number") {
    if (b >= FAR) return `from ${short(a, 4)} ${unit} up`;
    return `${short(a, 4)} to ${short(b, 4)} ${unit}`.replace(/-/g, "\u2212");
  }
  const most = short(high, 16);
  return lowUnit === highUnit ? `${low} to ${most} ${highUnit}`.trim() : `${low} ${lowUnit} to ${most} ${highUnit}`;
}
