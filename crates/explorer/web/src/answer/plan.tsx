// The plan before the rotation: what a designer checks by hand, first of all. All numbers and words
// come from the program; here they are only laid out.

import type { JSX } from "preact";
import type { PlanCheck as Found, PlanRow } from "../model/api_document";
import * as store from "../model/store";

const MARKS = { fine: "✓", fault: "✕", not_known: "?" } as const;
const WORDS = { fine: "fine", fault: "fault", not_known: "not known" } as const;

const wordsOf = (row: PlanRow): string => [row.sentence, row.change].filter((text) => text !== "").join(" ");

/** The baseline's rows, and of every other alternative those that say something else. */
export function distinct(plan: Found): { name: string; rows: PlanRow[] }[] {
  const [baseline, ...others] = plan.alternatives;
  if (!baseline) return [];
  const isOwn = (row: PlanRow): boolean => {
    const same = baseline.rows.find(({ key }) => key === row.key);
    return !same || same.status !== row.status || wordsOf(same) !== wordsOf(row);
  };
  const own = others.map(({ name, rows }) => ({ name, rows: rows.filter(isOwn) }));
  return [{ name: baseline.name, rows: baseline.rows }, ...own.filter(({ rows }) => rows.length > 0)];
}

function Rows({ rows }: { rows: PlanRow[] }): JSX.Element {
  return (
    <ul class="plan-rows">
      {rows.map((row) => (
        <li key={row.key} data-plan={row.key} data-status={row.status}>
          <span class="verdict-mark" aria-hidden="true">{MARKS[row.status]}</span>
          <div>
            <b>
              {row.label}: {WORDS[row.status]}
            </b>
            <p>{wordsOf(row)}</p>
            <p class="help">Yardstick: {row.source}.</p>
          </div>
        </li>
      ))}
    </ul>
  );
}

export function PlanCheck(): JSX.Element | null {
  const plan = store.season.value?.summary.plan;
  if (!plan) return null;
  const all = distinct(plan);
  const faults = all[0]?.rows.filter(({ status }) => status === "fault") ?? [];
  const worth = store.worth.value?.summary.worth.plan;
  return (
    <section class={store.isCurrent.value ? "plan" : "plan stale"} aria-labelledby="plan-heading">
      <h3 id="plan-heading">The plan before the rotation</h3>
      <p>{plan.headline}</p>
      <Rows rows={faults} />
      <details class="more">
        <summary>Every check of the plan</summary>
        {worth?.words.map((words) => <p key={words}>{words}</p>)}
        {all.map(({ name, rows }, i) => (
          <div key={name}>
            <h4>{i === 0 ? name : `${name}, where it differs`}</h4>
            <Rows rows={rows} />
          </div>
        ))}
      </details>
    </section>
  );
}
