// The next set that somebody has to see to, from the layout's own times.

import type { AlternativeLayout } from "./api";
import { shiftText } from "./show";

export interface NextSet {
  /** "Monday, May 10". */
  day: string;
  time: string;
  /** Counted from 1. */
  outlet: number;
  letter: string;
  /** Where the line stands, in words. */
  where: string;
  isFirst: boolean;
}

const DAYS = "Sunday Monday Tuesday Wednesday Thursday Friday Saturday".split(" ");
const MONTHS = "January February March April May June July August September October November December".split(" ");
const two = (n: number): string => String(n).padStart(2, "0");

/** A moment of the user's own clock, as the layout writes moments. */
export const momentOf = (now: Date): string =>
  `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}T${two(now.getHours())}:${two(now.getMinutes())}`;

/** The first set that begins at a moment or after it; null where the season is over by then. */
export function nextSet(layout: AlternativeLayout, now: string): NextSet | null {
  const all = layout.passes.flatMap((pass, k) => pass.sets.map((set, i) => ({ pass, set, isFirst: k + i === 0 })));
  const found = all.find(({ set }) => set.start >= now);
  if (!found) return null;
  const { pass, set, isFirst } = found;
  const [, year, month, day, time] = /^(\d{4})-(\d\d)-(\d\d)T(\d\d:\d\d)/.exec(set.start) ?? [];
  if (!time) return null;
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  return {
    day: `${DAYS[date.getUTCDay()]}, ${MONTHS[Number(month) - 1]} ${Number(day)}`,
    time,
    outlet: set.outlet + 1,
    letter: pass.letter,
    where: shiftText(pass.across_m, pass.along_m),
    isFirst,
  };
}
