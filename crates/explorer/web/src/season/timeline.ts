// Where each alternative is at an hour of the season: which pass, which set, how much of it.

import type { AlternativeLayout, SeasonSummary } from "../model/api";
import * as store from "../model/store";

export interface Moment {
  /** -1 before the first water. */
  pass: number;
  /** Sets of that pass that are finished. */
  finished: number;
  /** Share of the set under way; 0 between sets. */
  share: number;
  /** Whether the pass is over. */
  isOver: boolean;
}

type Alternative = SeasonSummary["alternatives"][number];

export function momentOf(alternative: Alternative, layout: AlternativeLayout | undefined, hour: number): Moment {
  const passes = alternative.passes;
  let pass = -1;
  while (pass + 1 < passes.length && passes[pass + 1]!.start_h <= hour) pass += 1;
  const now = passes[pass];
  if (!now) return { pass: -1, finished: 0, share: 0, isOver: true };
  const sets = layout?.passes[pass]?.sets ?? [];
  if (hour >= now.end_h || sets.length === 0) return { pass, finished: sets.length, share: 0, isOver: true };
  const finished = sets.filter((set) => set.end_h <= hour).length;
  const current = sets[finished];
  const isRunning = current !== undefined && current.start_h < hour;
  const share = isRunning ? (hour - current.start_h) / (current.end_h - current.start_h) : 0;
  return { pass, finished, share, isOver: false };
}

/** First and last hour with water, over all alternatives. */
export function span(summary: SeasonSummary): [number, number] {
  const passes = summary.alternatives.flatMap((a) => a.passes);
  const starts = passes.map((p) => p.start_h);
  const ends = passes.map((p) => p.end_h);
  return passes.length === 0 ? [0, 1] : [Math.min(...starts), Math.max(...ends)];
}

/** The hour that is shown: the wanted one, held within the season. */
export function hourNow(): number {
  const summary = store.season.value?.summary;
  if (!summary) return 0;
  const [from, to] = span(summary);
  return Math.min(to, Math.max(from, store.hour.value));
}

/** The moment of one alternative at the hour that is shown. */
export function momentNow(index: number): Moment | null {
  const alternative = store.season.value?.summary.alternatives[index];
  return alternative ? momentOf(alternative, store.layout.value?.alternatives[index], hourNow()) : null;
}

/** Where the next or the previous pass of the first alternative begins or ends. */
export function neighborPass(by: 1 | -1): number {
  const passes = store.season.value?.summary.alternatives[0]?.passes ?? [];
  const now = hourNow();
  const ends = passes.map((p) => p.end_h);
  const found = by > 0 ? ends.find((h) => h > now + 1e-6) : [...ends].reverse().find((h) => h < now - 1e-6);
  return found ?? (by > 0 ? Infinity : (passes[0]?.start_h ?? 0));
}
