// All state of the page, as signals. Who changes what: the scenario through `edit`, answers of the
// server through follow.ts and runs.ts, what is looked at by the parts themselves.

import { computed, effect, signal, type Signal } from "@preact/signals";
import type { AlternativeLayout, Ask, Caution, Check, FieldLayout, Layout, SearchSummary, SeasonSummary, WorthPartial, WorthSummary } from "./api";
import { pack, sealed, write } from "./address";
import { alternatives, at, cut, filesNamed, put, systemOf, type Json, type Path, type Scenario } from "./scenario";
import type { Node } from "./schema";
import { afterEdit, isStarting, markStarting } from "./starting";
import { rememberUnits, unitsBefore } from "./units";

export interface Shown<S> {
  run: string;
  coarser: number;
  note: string;
  digest: string;
  summary: S;
}

export interface Busy {
  run: string;
  done: number;
  total: number;
  what: string;
  /** When the first of them was begun, ms of the page's own clock; 0 before. */
  since?: number;
}

export const scenario = signal<Scenario>({});
export const schema = signal<Node | null>(null);
export const check = signal<Check | null>(null);
/** The last layout of a scenario without problems: what the season that is shown was made of. */
export const layout = signal<Layout | null>(null);
/** The last layout of all, as far as it goes, and the scenario it is of. */
export const drafted = signal<{ of: Scenario; field: FieldLayout; alternatives: (AlternativeLayout | null)[] } | null>(null);
export const isServerGone = signal(false);
/** It is there again, and does not know this browser. */
export const isStranger = signal(false);

/** Texts of files that were opened here, by the name the scenario gives them. */
export const files = signal<Record<string, string>>({});
/** Digests under which this browser keeps them, by the same names. */
export const shelved = signal<Record<string, string>>({});

/** The scenario with the files it names, as the server is asked about it. */
export function asked(): Ask {
  const known = Object.entries(files.value);
  if (known.length === 0) return { scenario: scenario.value };
  const named = filesNamed(scenario.value);
  const sent = known.filter(([name]) => named.includes(name));
  return { scenario: scenario.value, files: Object.fromEntries(sent) };
}

/** The farm that the scenario is kept as; empty for none. */
export const farm = signal("");
/** Digests of what this page knows to be kept, by farm: what is kept again is based on it. */
export const bases = signal<Record<string, string>>({});

/** What can hurt somebody at this work, and what to do. */
export const cautions = signal<Caution[]>([]);

/** Announced to who cannot see it, and shown at the foot for a while. */
export const notice = signal("");

export const season = signal<Shown<SeasonSummary> | null>(null);
export const seasonBusy = signal<Busy | null>(null);
export const seasonProblem = signal("");
/** A run that takes its time: what it found, how far it is, and its number for after a reload. */
export interface LongRun<S> {
  /** What it is called in messages. */
  name: string;
  run: Signal<string>;
  shown: Signal<Shown<S> | null>;
  busy: Signal<Busy | null>;
  partials: Signal<WorthPartial[]>;
  /** What a search has found so far, in words. */
  soFar: Signal<string>;
  problem: Signal<string>;
  /** Whether what is under way is only a first answer, to be refined. */
  isFirst: Signal<boolean>;
}

const longRun = <S>(name: string): LongRun<S> => ({
  name,
  run: signal(""),
  shown: signal(null),
  busy: signal(null),
  partials: signal([]),
  soFar: signal(""),
  problem: signal(""),
  isFirst: signal(false),
});

/** What the alternatives are worth. */
export const worthOwn = longRun<WorthSummary>("The calculation");
export const { shown: worth, busy: worthBusy, partials: worthPartials, problem: worthProblem, run: worthRun } = worthOwn;
/** Rotations worth considering. */
export const searchOwn = longRun<SearchSummary>("The search");

/** The part of the page that is read; before it, the questions and what they come to. */
export const step = signal("answer");
/** Whether the ten questions, or what they come to, stand in place of the page. */
export const isBefore = computed(() => step.value === "questions" || step.value === "mirror");
/** What was worked on in this browser before, where something else is begun. */
export const leftOff = signal<Scenario | null>(null);
export const alternative = signal(0);
export const stop = signal(0);
/** Hours from midnight of the first day; beyond the end stands for the end. */
export const hour = signal(Infinity);
export const isPlaying = signal(false);
export const isDragging = signal(false);
export const show = signal("depth");
export const maps = signal("both");
export const place = signal<{ x: number; y: number } | null>(null);

export const system = computed(() => systemOf(scenario.value));
export const names = computed(() => alternatives(scenario.value).map((a) => String(a.name ?? "")));
/** Whether what is shown was computed from the scenario as it stands. */
export const isCurrent = computed(
  () => season.value !== null && check.value?.digest === season.value.digest,
);

/** Changes one value of the scenario; undefined removes it. What is changed is from then on the user's
 * own, but for the paths that are named as starting values. */
export function edit(path: Path, value: Json | undefined, starting: Path[] = []): void {
  const now = scenario.value;
  const next = value === undefined ? cut(now, path) : (put(now, path, value) as Scenario);
  scenario.value = markStarting(stoodFor(afterEdit(now, next, path), now, path), starting);
}

/** Who enters the value of a price that was nobody's stands for it: it is no placeholder any more. */
function stoodFor(next: Scenario, before: Scenario, path: Path): Scenario {
  const mark = [...path.slice(0, -1), "placeholder"];
  const isPrice = path[path.length - 1] === "value" && at(next, mark) === true && isStarting(before, path);
  return isPrice ? afterEdit(next, cut(next, mark), mark) : next;
}

/** Says something once, aloud and on the page. */
export function say(words: string): void {
  notice.value = "";
  queueMicrotask(() => (notice.value = words));
}

const KEPT = "evenfall scenario";
const KEPT_FILES = "evenfall scenario's files";
const KEPT_FARM = "evenfall farm";

/** The scenario that was last worked on in this browser. */
export function lastWorkedOn(): Scenario | null {
  try {
    return JSON.parse(localStorage.getItem(KEPT) ?? "null") as Scenario | null;
  } catch {
    return null;
  }
}

const OF_TAB = "evenfall address";

/** The work that this browser would forget if the scenario of an address took its place unasked; null
 * where there is none, where it is the same, or where this tab wrote that address itself. `untouched` is
 * what the page begins with: no work of anybody. */
export function workBefore(fragment: string, opened: Scenario, digests: Record<string, string>, untouched: Scenario): Scenario | null {
  const last = lastWorkedOn();
  if (!last || JSON.stringify(last) === JSON.stringify(untouched)) return null;
  try {
    if (sessionStorage.getItem(OF_TAB) === fragment) return null;
  } catch {
    // Then it is asked for.
  }
  const before = lastFiles();
  const isSame = JSON.stringify(last) === JSON.stringify(opened) && filesNamed(opened).every((name) => before[name] === digests[name]);
  return isSame ? null : last;
}

/** The digests of the files it names. */
export function lastFiles(): Record<string, string> {
  try {
    return JSON.parse(localStorage.getItem(KEPT_FILES) ?? "{}") as Record<string, string>;
  } catch {
    return {};
  }
}

/** The farm that it was kept as, and the digest that was based on. */
export function lastFarm(): { farm: string; base: string } {
  try {
    const [farm = "", base = ""] = JSON.parse(localStorage.getItem(KEPT_FARM) ?? "[]") as string[];
    return { farm, base };
  } catch {
    return { farm: "", base: "" };
  }
}

/** Digests of those files at hand that the scenario names. */
export function digestsNamed(): Record<string, string> {
  const named = filesNamed(scenario.value);
  return Object.fromEntries(Object.entries(shelved.value).filter(([name]) => named.includes(name)));
}

const KEPT_UNITS = "evenfall units";

/** Keeps in this browser what quantities were before their units were changed. */
export function keepUnits(): void {
  let timer = 0;
  const save = (): void => {
    timer = 0;
    try {
      localStorage.setItem(KEPT_UNITS, JSON.stringify(unitsBefore()));
    } catch {
      // Then only this page knows it.
    }
  };
  let known: [string, string][] = [];
  try {
    known = JSON.parse(localStorage.getItem(KEPT_UNITS) ?? "[]") as [string, string][];
  } catch {
    // Nothing is known of before.
  }
  rememberUnits(known, () => {
    if (timer === 0) timer = window.setTimeout(save, 200);
  });
}

function keep(text: string): void {
  try {
    localStorage.setItem(KEPT, text);
    localStorage.setItem(KEPT_FILES, JSON.stringify(digestsNamed()));
    localStorage.setItem(KEPT_FARM, JSON.stringify([farm.value, bases.value[farm.value] ?? ""]));
  } catch {
    // A browser that keeps nothing still has the address.
  }
}

let packed = "";
let keptFor = "";
let packedFrom: [Scenario, Record<string, string>] | null = null;

async function writeAddress(): Promise<void> {
  const now = scenario.value;
  if (packedFrom?.[0] !== now || packedFrom[1] !== shelved.value) {
    packedFrom = [now, shelved.value];
    packed = await pack(now);
    keptFor = "";
  }
  const mark = `${farm.value} ${bases.value[farm.value] ?? ""} `;
  if (keptFor !== mark) keep(JSON.stringify(now));
  keptFor = mark;
  const p = place.value;
  const words = write(
    {
      step: step.value,
      alternative: alternative.value,
      stop: stop.value,
      hour: Number.isFinite(hour.value) ? Math.round(hour.value * 100) / 100 : undefined,
      show: show.value,
      maps: maps.value,
      place: p ? `${p.x.toFixed(2)},${p.y.toFixed(2)}` : "",
      worth: worthRun.value,
      search: searchOwn.run.value,
      farm: farm.value,
      base: bases.value[farm.value] ?? "",
    },
    packed,
    digestsNamed(),
  );
  const whole = await sealed(words);
  // A later change may have been quicker.
  if (scenario.value !== now) return;
  address = whole;
  history.replaceState(null, "", whole);
  try {
    sessionStorage.setItem(OF_TAB, whole);
  } catch {
    // Without it a reload may ask once whether it is meant.
  }
}

let address = "";
/** Puts the address back as it was written last. */
export const restoreAddress = (): void => history.replaceState(null, "", address || location.pathname);

/** Keeps the address in step with the state, a quarter of a second behind; the document says whether
 * it is. */
export function keepAddress(): void {
  let timer = 0;
  const { dataset } = document.documentElement;
  effect(() => {
    void [scenario.value, step.value, alternative.value, stop.value, hour.value, show.value];
    void [maps.value, place.value, worthRun.value, searchOwn.run.value, shelved.value];
    void [farm.value, bases.value];
    if (timer === 0) {
      dataset.address = "behind";
      timer = window.setTimeout(() => {
        timer = 0;
        void writeAddress().then(() => {
          if (timer === 0) dataset.address = "written";
        });
      }, 250);
    }
  });
}
