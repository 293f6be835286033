// CU and DUlq as the season runs: charts, the digits of the pass at hand, and all in one table.

import { useComputed } from "@preact/signals";
import type { JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import type { PassFigures, SeasonSummary } from "../model/api";
import * as store from "../model/store";
import { LineMark } from "../stops/card";
import { Exactness } from "./freshness";
import { LineChart, type Line } from "./lines";
import { momentNow } from "./timeline";
import { momentWords } from "./player";

type Kind = "cu" | "du_lq";

/** Passes that are finished at the hour that is shown, by alternative. */
function finishedPasses(summary: SeasonSummary): number[] {
  return summary.alternatives.map((_, i) => {
    const moment = momentNow(i);
    return moment ? (moment.isOver ? moment.pass + 1 : moment.pass) : 0;
  });
}

const percent = (share: number | null): number | null => (share === null ? null : share * 100);

function linesOf(summary: SeasonSummary, kind: Kind, isAlone: boolean, done: number[], count: number): Line[] {
  return summary.alternatives.map((alternative, index) => {
    const values = Array.from({ length: count }, (_, k) => {
      const pass = alternative.passes[k];
      if (!pass || k >= (done[index] ?? 0)) return null;
      return percent(isAlone ? pass[kind] : pass[`cumulative_${kind}`]);
    });
    return { name: alternative.name, index, values, hasPoints: count <= 40 };
  });
}

/** Ends of the axis: round fives around all values, so that it holds still while playing. */
function rangeOf(summary: SeasonSummary, kind: Kind, isAlone: boolean): [number, number] {
  const values = summary.alternatives
    .flatMap((a) => a.passes.map((p) => percent(isAlone ? p[kind] : p[`cumulative_${kind}`])))
    .filter((v) => v !== null);
  if (values.length === 0) return [0, 100];
  const low = Math.floor(Math.min(...values) / 5) * 5;
  const high = Math.min(100, Math.ceil(Math.max(...values) / 5) * 5);
  return low < high ? [low, high] : [low - 5, low + 5];
}

export function Figures(): JSX.Element | null {
  const [isAlone, setAlone] = useState(false);
  const summary = store.season.value?.summary;
  const key = useComputed(() => {
    const now = store.season.value?.summary;
    return now ? finishedPasses(now).join(",") : "";
  }).value;
  const count = Math.max(0, ...(summary?.alternatives.map((a) => a.passes.length) ?? []));
  const x = useMemo(() => Array.from({ length: count }, (_, k) => k + 1), [count]);
  const done = key.split(",").map(Number);
  const lines = useMemo(
    () => (summary ? (["cu", "du_lq"] as const).map((kind) => linesOf(summary, kind, isAlone, done, count)) : []),
    [summary, isAlone, key],
  );
  if (!summary) return null;
  const last = Math.max(...done);
  const names = { cu: "CU", du_lq: "DUlq" };
  return (
    <div class="figures">
      <fieldset class="switch">
        <legend>Evenness of the interior</legend>
        {[false, true].map((alone) => (
          <label class="choice" key={String(alone)}>
            <input type="radio" name="alone" checked={isAlone === alone} onChange={() => setAlone(alone)} />
            {alone ? "each pass alone" : "all water so far"}
          </label>
        ))}
      </fieldset>
      {(["cu", "du_lq"] as const).map((kind, i) => (
        <LineChart
          key={kind}
          title={`${names[kind]} ${isAlone ? "of each pass" : "of the water so far"}`}
          words={`${names[kind]} by pass for ${store.names.value.join(", ")}; the digits are in the table below.`}
          x={x}
          xLabel="pass"
          yLabel={`${names[kind]}, %`}
          lines={lines[i] ?? []}
          range={rangeOf(summary, kind, isAlone)}
          now={last > 0 ? last : null}
          height={170}
        />
      ))}
      <Digits summary={summary} done={done} />
      <p class="exactness">{summary.interior}</p>
      <Exactness />
    </div>
  );
}

function Digits({ summary, done }: { summary: SeasonSummary; done: number[] }): JSX.Element {
  return (
    <div class="table-scroll" tabIndex={0} role="region" aria-label="Figures of the pass at hand">
      <table class="digits">
        <caption>After the last finished pass</caption>
        <thead>
          <tr>
            <th scope="col">Way</th>
            <th scope="col">CU pass</th>
            <th scope="col">DUlq pass</th>
            <th scope="col">CU so far</th>
            <th scope="col">DUlq so far</th>
          </tr>
        </thead>
        <tbody>
          {summary.alternatives.map((alternative, i) => {
            const pass: PassFigures | undefined = alternative.passes[(done[i] ?? 0) - 1];
            return (
              <tr key={alternative.name}>
                <th scope="row">
                  <LineMark index={i} /> {alternative.name}
                  <MomentLine index={i} />
                </th>
                <td>{pass?.cu_text ?? "–"}</td>
                <td>{pass?.du_lq_text ?? "–"}</td>
                <td>{pass?.cumulative_cu_text ?? "–"}</td>
                <td>{pass?.cumulative_du_lq_text ?? "–"}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** Of which pass the digits are, and where the way stands now if that is another one. */
function MomentLine({ index }: { index: number }): JSX.Element {
  const words = useComputed(() => {
    const moment = momentNow(index);
    const now = momentWords(index);
    return !moment || moment.pass < 1 || moment.isOver ? now : `digits of pass ${moment.pass}; now ${now}`;
  });
  return <small>{words}</small>;
}

/** Every pass of every alternative, for who wants the digits. */
export function AllPasses(): JSX.Element | null {
  const summary = store.season.value?.summary;
  if (!summary) return null;
  return (
    <details class="more all-passes">
      <summary>All passes in a table</summary>
      <div class="table-scroll" tabIndex={0} role="region" aria-label="All passes">
        <table class="digits">
          <thead>
            <tr>
              <th scope="col">Way</th>
              <th scope="col">Pass</th>
              <th scope="col">Stop</th>
              <th scope="col">CU pass</th>
              <th scope="col">DUlq pass</th>
              <th scope="col">CU so far</th>
              <th scope="col">DUlq so far</th>
            </tr>
          </thead>
          <tbody>
            {summary.alternatives.flatMap((alternative) =>
              alternative.passes.map((p, k) => (
                <tr key={`${alternative.name} ${k}`}>
                  <th scope="row">{alternative.name}</th>
                  <td>{k + 1}</td>
                  <td>{p.letter}</td>
                  <td>{p.cu_text}</td>
                  <td>{p.du_lq_text}</td>
                  <td>{p.cumulative_cu_text}</td>
                  <td>{p.cumulative_du_lq_text}</td>
                </tr>
              )),
            )}
          </tbody>
        </table>
      </div>
    </details>
  );
}
