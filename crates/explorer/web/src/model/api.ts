// Asking the server. The shapes of its answers come from the interface's document: `api_document.ts`
// is written from it by `npm run types`; here they have the names that the page uses.

import type * as document from "./api_document";
import type { Scenario } from "./scenario";

export type { Against, Amount, Caution, CloserLook, FigureHead, Problem, SeasonSummary, SearchPartial, SheetMade, Steps, WorthPartial, WorthSummary } from "./api_document";

export type StopPlace = document.StopView;
export type SetTime = document.SetView;
export type AlternativeLayout = document.AlternativeView;
export type FieldLayout = document.FieldView;
export type PassFigures = document.PassSeason;
export type PlaceHistory = document.PlaceView;

/** A layout as far as the scenario holds: an alternative that does not is left out, or has no passes. */
export type Drafted = document.LayoutView;
/** The layout of a scenario without problems. */
export type Layout = Omit<Drafted, "field" | "alternatives"> & { field: FieldLayout; alternatives: AlternativeLayout[] };

/** What a search found; each candidate is an alternative of the scenario. */
export type SearchSummary = Omit<document.SearchSummary, "alternatives"> & { alternatives: Scenario[] };

export type RunState<S> = Omit<document.RunView, "summary"> & { summary: S | null };

/** An input that the answer rests on, and whose it is. */
export interface Matter {
  /** Its pointer. */
  what: string;
  label: string;
  value: string;
  whose: string;
  is_known: boolean;
}

/** What a check found, with the inputs that matter. */
export type Check = document.Check & { matters: Matter[]; matters_words: string };

/** What the program was started with. */
export type Start = Omit<document.StartView, "scenario"> & { scenario: Scenario | null };

/** A scenario and the texts of the files that it names. */
export interface Ask {
  scenario: Scenario;
  files?: Record<string, string>;
}

/** A move sheet; with a log, of the alternative that the log names, with the rest of the season
 * planned again. */
export type SheetWish = Ask & document.SheetRequest;
export type RunWish = Ask & document.RunRequest;

/** A refusal in the server's own words. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly problems: document.Problem[] = [],
  ) {
    super(message);
  }
}

/** The server did not answer at all. */
export class Gone extends Error {}

/** The server answers, and does not know this browser: it was started again since, with another key. */
export class Stranger extends Gone {}

/** Called when the server no longer has a run that was asked about: other tabs took its place. */
export const lost: { run: (run: string) => void } = { run: () => undefined };

export async function ask(path: string, init?: RequestInit): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(path, init);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Gone("no answer");
  }
  if (answer.ok) return answer;
  if (answer.status === 401) throw new Stranger("another key");
  const gone = answer.status === 404 && /^api\/runs\/([^/]+)\//.exec(path);
  if (gone) lost.run(gone[1]!);
  const said = (await answer.json().catch(() => ({}))) as Partial<document.Refusal>;
  const words = [said.problem, said.hint].filter(Boolean).join(" ");
  throw new Refused(answer.status, words || `The program answered ${answer.status}.`, said.problems);
}

export const json = async <T>(path: string, init?: RequestInit): Promise<T> =>
  (await ask(path, init)).json() as Promise<T>;

export const post = (body: unknown, signal?: AbortSignal): RequestInit => ({
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

export const api = {
  demo: () => json<Scenario>("api/demo"),
  start: () => json<Start>("api/start"),
  /** A file that came with the scenario of the command line. */
  startFile: (name: string) => ask(`api/start/file?name=${encodeURIComponent(name)}`).then((answer) => answer.blob()),
  /** Asks whether the program is there and knows this browser: what is asked for is small. */
  health: () => ask("api/palette?name=depth").then(() => undefined),
  schema: () => json<Record<string, unknown>>("api/schema"),
  check: (about: Ask, signal: AbortSignal) => json<Check>("api/check", post(about, signal)),
  /** A shapefile as text. */
  shapefile: (wish: document.BoundaryRequest) => json<document.BoundaryView>("api/boundary", post(wish)),
  layout: (about: Ask, signal: AbortSignal) => json<Drafted>("api/layout", post(about, signal)),
  begin: (wish: RunWish) => json<document.RunStarted>("api/runs", post(wish)),
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
  makeSheet: (wish: SheetWish) => json<document.SheetMade>("api/sheets", post(wish)),
  closer: (run: string, x: number, y: number, span: number) =>
    json<document.CloserLook>(`api/runs/${run}/closer?x_m=${x.toFixed(3)}&y_m=${y.toFixed(3)}&span_m=${span.toFixed(3)}`),
  palette: (name: string) => json<[number, number, number][]>(`api/palette?name=${name}`),
};
