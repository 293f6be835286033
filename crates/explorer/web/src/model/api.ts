// Shapes of the server's answers; the OpenAPI document the server publishes is the final word.

import type { Scenario } from "./scenario";

export interface Problem {
  pointer: string;
  /** Line of a log; scenarios have none. */
  line?: number;
  problem: string;
  allowed?: string | null;
  hint?: string | null;
}

export interface Check {
  ok: boolean;
  digest?: string;
  problems: Problem[];
  assumptions: { what: string; value: string; why: string }[];
  warnings: string[];
  has_worth: boolean;
}

export interface StopPlace {
  across_m: number;
  along_m: number;
  turns: number | null;
  reachable: boolean;
  reason: string;
}

export interface SetTime {
  outlet: number;
  y_m: number;
  /** `shifted` with its pass, `held` at its outlet, or an `extra` set at an opened edge. */
  role: "shifted" | "held" | "extra";
  start_h: number;
  end_h: number;
  start: string;
  end: string;
}

export interface PassLayout {
  letter: string;
  across_m: number;
  along_m: number;
  sets: SetTime[];
}

export interface AlternativeLayout {
  name: string;
  machine: string;
  sprinklers_x_m: number[];
  outlets_y_m: number[];
  reach_m: number;
  travel_per_turn_m: number | null;
  /** What the wheel does from outlet to outlet, as the command prints it. */
  wheel: { what: string; value: string }[];
  stops: StopPlace[];
  rotation: { letter: string; across_m: number; along_m: number }[];
  passes: PassLayout[];
}

export interface FieldLayout {
  along_m: number;
  across_m: number;
  travel_bearing_deg: number;
  cell_m: number;
  /** Rings of the field's edge; none where the field is the whole rectangle. */
  boundary: [number, number][][];
}

export interface Layout {
  ok: boolean;
  problems?: Problem[];
  field: FieldLayout;
  units: "us" | "si";
  alternatives: AlternativeLayout[];
}

/** A layout as far as the scenario holds: a way that does not is left out, or has no passes. */
export interface Drafted extends Omit<Layout, "field" | "alternatives"> {
  field: FieldLayout | null;
  alternatives: (AlternativeLayout | null)[];
}

export interface PassFigures {
  letter: string;
  start_h: number;
  end_h: number;
  cu: number | null;
  du_lq: number | null;
  cu_text: string;
  du_lq_text: string;
  cumulative_mean_mm: number | null;
  cumulative_cu: number | null;
  cumulative_du_lq: number | null;
  cumulative_cu_text: string;
  cumulative_du_lq_text: string;
  mean_mm: number | null;
}

export interface SeasonSummary {
  grid: { columns: number; rows: number; cell_m: number; own_cell_m: number };
  start?: string;
  depth_scale_mm: [number, number];
  pass_scale_mm: [number, number];
  wind: { hour_h: number; speed_m_s: number; from_deg: number }[];
  alternatives: {
    name: string;
    passes: PassFigures[];
    final: Record<string, Record<string, string | number>>;
  }[];
  headline: string;
  /** All paragraphs of the answer. */
  answer: string[];
  /** The paragraph that holds only while nothing but water was reckoned. */
  only_water: string;
  /** What the figures are taken over. */
  interior: string;
  /** What it cannot say. */
  limits: string[];
  notices: string[];
}

export interface WorthSummary {
  /** The ways as they stood when it was reckoned: maps are in this order. */
  names: string[];
  headline: string;
  answer: string[];
  /** What the answer leaves out. */
  limits: string[];
  /** The best-ranked first. */
  verdicts: { alternative: number; name: string; verdict: string; words: string; net_text: string | null }[];
  table: { head: string[]; rows: string[][] };
  sensitivity: Sensitivity[];
  seasons: number;
  area_word: string;
  yield_scale: [number, number];
  percolation_scale_mm: [number, number];
}

/** What one verdict hangs on; nets by the shown area and year. */
export interface Sensitivity {
  name: string;
  inputs: {
    input: string;
    is_placeholder: boolean;
    low_text: string;
    high_text: string;
    net_low: number;
    net_high: number;
    net_low_text: string;
    net_high_text: string;
    turns_at_text: string | null;
  }[];
}

export interface WorthPartial {
  reference: string;
  seasons: number;
  wanted: number;
  area_word: string;
  alternatives: {
    alternative: number;
    name: string;
    net_per_area: { mean: number; low: number; high: number } | null;
    net_text: string | null;
    verdict: string;
  }[];
}

export interface RunState<S> {
  state: string;
  kind: string;
  coarser: number;
  note: string;
  digest: string;
  summary: S | null;
  problem?: string;
}

/** The season's water around one place; null beyond the field's edge. */
export interface CloserLook {
  columns: number;
  rows: number;
  cell_m: number;
  corner_m: [number, number];
  depths_mm: (number | null)[][];
}

export interface SearchSummary {
  answer: string[];
  tried: string[];
  table: { head: string[]; rows: string[][] };
  /** For each row, the candidate as an alternative of the scenario. */
  alternatives: Scenario[];
  fixed: number | null;
  left: number;
  foot: string;
  seasons: number;
}

export interface PlaceHistory {
  /** Whether the place lies beyond the field's edge. */
  beyond: boolean;
  alternatives: {
    name: string;
    pass_mm: number[];
    cumulative_mm: number[];
    depletion_mm: number[] | null;
    taw_mm: number[] | null;
    days: string[] | null;
  }[];
}

/** A refusal in the server's own words. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly problems: Problem[] = [],
  ) {
    super(message);
  }
}

/** The server did not answer at all. */
export class Gone extends Error {}

/** Called when the server no longer has a run that was asked about: other tabs took its place. */
export const lost: { run: (run: string) => void } = { run: () => undefined };

async function ask(path: string, init?: RequestInit): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(path, init);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Gone("no answer");
  }
  if (answer.ok) return answer;
  const gone = answer.status === 404 && /^api\/runs\/([^/]+)\//.exec(path);
  if (gone) lost.run(gone[1]!);
  const said = (await answer.json().catch(() => ({}))) as {
    problem?: string;
    hint?: string;
    problems?: Problem[];
  };
  const words = [said.problem, said.hint].filter(Boolean).join(" ");
  throw new Refused(answer.status, words || `The program answered ${answer.status}.`, said.problems);
}

const json = async <T>(path: string, init?: RequestInit): Promise<T> =>
  (await ask(path, init)).json() as Promise<T>;

const post = (body: unknown, signal?: AbortSignal): RequestInit => ({
  method: "POST",
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
  ...(signal ? { signal } : {}),
});

/** Numbers of a grid as they come over the wire, and how many stand in a row. */
export interface Wire {
  columns: number;
  buffer: ArrayBuffer;
}

async function wire(path: string): Promise<Wire> {
  const answer = await ask(path);
  return { columns: Number(answer.headers.get("x-columns")), buffer: await answer.arrayBuffer() };
}

/** What the program was started with. */
export interface Start {
  scenario: Scenario | null;
  from_command_line: boolean;
  files: string[];
  /** What can hurt somebody at this work, and what to do. */
  cautions: [string, string][];
}

/** A scenario and the texts of the files that it names. */
export interface Ask {
  scenario: Scenario;
  files?: Record<string, string>;
}

/** A move sheet; with a log, of the way the log names, the rest of the season planned anew. */
export interface SheetWish extends Ask {
  log: string;
  alarm_min?: number;
}

/** A move sheet that was made. */
export interface SheetMade {
  sheet: string;
  name: string;
  warnings: string[];
}

export interface RunWish extends Ask {
  kind: "season" | "worth" | "search";
  coarser: number;
  seasons?: number;
  aim?: string;
  replaces?: string;
}

export const api = {
  demo: () => json<Scenario>("api/demo"),
  start: () => json<Start>("api/start"),
  /** A file that came with the scenario of the command line. */
  startFile: (name: string) => ask(`api/start/file?name=${encodeURIComponent(name)}`).then((answer) => answer.blob()),
  health: () => ask("api/health").then(() => undefined),
  schema: () => json<Record<string, unknown>>("api/schema"),
  check: (about: Ask, signal: AbortSignal) => json<Check>("api/check", post(about, signal)),
  layout: (about: Ask, signal: AbortSignal) => json<Drafted>("api/layout", post(about, signal)),
  begin: (wish: RunWish) => json<{ run: string }>("api/runs", post(wish)),
  run: <S>(run: string) => json<RunState<S>>(`api/runs/${run}`),
  forget: (run: string) => ask(`api/runs/${run}`, { method: "DELETE" }).then(() => undefined),
  /** The same on the way out: the browser sends it though the page is gone. */
  leave: (run: string) => void fetch(`api/runs/${run}`, { method: "DELETE", keepalive: true }).catch(() => undefined),
  events: (run: string) => new EventSource(`api/runs/${run}/events`),
  grid: (run: string, alternative: number, what: string, pass: number) =>
    wire(`api/runs/${run}/grid?alternative=${alternative}&what=${what}&pass=${pass}`),
  sets: (run: string, alternative: number, pass: number) =>
    wire(`api/runs/${run}/sets?alternative=${alternative}&pass=${pass}`),
  place: (run: string, x: number, y: number) =>
    json<PlaceHistory>(`api/runs/${run}/place?x_m=${x.toFixed(3)}&y_m=${y.toFixed(3)}`),
  /** A move sheet, packed. */
  packSheet: (wish: SheetWish) => ask("api/sheet", post(wish)).then((answer) => answer.blob()),
  /** A move sheet that the program keeps, to be opened in a tab of its own. */
  makeSheet: (wish: SheetWish) => json<SheetMade>("api/sheets", post(wish)),
  closer: (run: string, x: number, y: number, span: number) =>
    json<CloserLook>(`api/runs/${run}/closer?x_m=${x.toFixed(3)}&y_m=${y.toFixed(3)}&span_m=${span.toFixed(3)}`),
  palette: (name: string) => json<[number, number, number][]>(`api/palette?name=${name}`),
};
