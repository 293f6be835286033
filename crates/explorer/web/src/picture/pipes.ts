// Where the pipe lies in a set: right or left of the mainline, shifted away from it.

import type { AlternativeLayout, SetTime } from "../model/api";

/** Places of the sprinklers along the pipe, m from the field's edge. */
export const sprinklersOf = (layout: AlternativeLayout, side: SetTime["side"], along_m: number): number[] =>
  side === "left" ? layout.left_sprinklers_x_m.map((x) => x - along_m) : layout.sprinklers_x_m.map((x) => x + along_m);

/** The two ends of the pipe, the one nearer to the mainline first. */
export function endsOf(layout: AlternativeLayout, side: SetTime["side"], along_m: number): [number, number] {
  const pipe = sprinklersOf(layout, side, along_m);
  const [first = 0, last = first] = [pipe[0], pipe[pipe.length - 1]];
  return side === "left" ? [last, first] : [first, last];
}
