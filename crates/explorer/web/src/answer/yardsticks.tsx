// The figures that carry the answer, each beside what is usual or good, with the source of that.

import type { JSX } from "preact";
import type { Worth, Rival } from "./verdicts";
import { fixed } from "../model/show";
import * as store from "../model/store";

interface Row {
  what: string;
  of: (alternative: Worth["alternatives"][number]) => string;
  good: string;
}

const number = (value: number | null, decimals: number): string => (value === null ? "–" : fixed(value, decimals));

/** What is good is from memory where it says so. */
const ROWS: Row[] = [
  {
    what: "Driest quarter of the field, of the average (DUlq)",
    of: (a) => `${number(a.du_lq.mean.number, 0)} %`,
    good: "75 % and more is called satisfactory (micro-irrigation reference page, chapter 5.3, as in the plan check).",
  },
  {
    what: "Uniformity of the season’s water (CU)",
    of: (a) => `${number(a.cu.mean.number, 0)} %`,
    good: "84 % is often called satisfactory for a pass (Keller and Bliesner 1990, from memory). A season of shifted passes should reach more. Models like this one miss a measured CU by about 3 points (Playán et al. 2006): treat 1 or 2 points as a tie.",
  },
  {
    what: "Yield, of what the crop makes with no lack of water",
    of: (a) => `${number(a.yield_share.mean.number, 0)} %`,
    good: "100 % is a crop that never runs short.",
  },
  {
    what: "Water lost below the root zone in a season",
    of: (a) => `${number(a.percolation.mean.number, store.system.value === "us" ? 1 : 0)} ${store.system.value === "us" ? "in" : "mm"}`,
    good: "The less the better, where no salt has to be washed down (common practice, no source).",
  },
];

export function Yardsticks({ worth, best }: { worth: Worth; best: Rival }): JSX.Element | null {
  const [base, other] = [worth.alternatives[0], worth.alternatives[best.index]];
  if (!base || !other) return null;
  return (
    <table class="yardsticks stacking">
      <caption class="unseen">Figures behind the answer, beside what is usual or good</caption>
      <thead>
        <tr>
          <th scope="col">Figure</th>
          <th scope="col">{base.name}</th>
          <th scope="col">{other.name}</th>
          <th scope="col">What is good</th>
        </tr>
      </thead>
      <tbody>
        {ROWS.map(({ what, of, good }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td data-label={base.name}>{of(base)}</td>
            <td data-label={other.name}>{of(other)}</td>
            <td class="good" data-label="What is good">{good}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
