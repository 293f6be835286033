// The figures of uniformity as the season runs: charts, the digits of the pass at hand, and all in one
// table. Which figures there are, and what they are called, comes with the season.

import { useComputed } from "@preact/signals";
import type { JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import type { FigureHead, PassFigures, SeasonSummary, Amount } from "../model/api";
import * as store from "../model/store";
import { LineMark } from "../stops/card";
import { Exactness } from "./freshness";
import { LineChart, type Line } from "./lines";
import { momentNow } from "./timeline";
import { momentWords } from "./player";

/** The figures that tell how uniform a pass is: shares, told pass by pass. */
function headsOf(summary: SeasonSummary): FigureHead[] {
  const some = summary.alternatives.flatMap((a) => a.passes).find((p) => p.alone);
  return summary.figures.filter(({ key, by_pass }) => by_pass && figureOf(some, key, true)?.unit === "%");
}

/** A figure of a pass, of its own water or of all so far; undefined where no water fell. */
const figureOf = (pass: PassFigures | undefined, key: string, isAlone: boolean): Amount | undefined =>
  (isAlone ? pass?.alone : pass?.cumulative)?.[key];

/** Its digits, or what stands in their place. */
const digitsOf = (pass: PassFigures | undefined, key: string, isAlone: boolean): string => (pass ? (figureOf(pass, key, isAlone)?.text ?? "no water") : "–");

/** Passes that are finished at the hour that is shown, by alternative. */
function finishedPasses(summary: SeasonSummary): number[] {
  return summary.alternatives.map((_, i) => {
    const moment = momentNow(i);
    return moment ? (moment.isOver ? moment.pass + 1 : moment.pass) : 0;
  });
}

function linesOf(summary: SeasonSummary, key: string, isAlone: boolean, done: number[], count: number): Line[] {
  return summary.alternatives.map((alternative, index) => {
    const values = Array.from({ length: count }, (_, k) => {
      const pass = alternative.passes[k];
      if (!pass || k >= (done[index] ?? 0)) return null;
      return figureOf(pass, key, isAlone)?.number ?? null;
    });
    return { name: alternative.name, index, values, hasPoints: count <= 40 };
  });
}

/** Ends of the axis: round fives around all values, so that it holds still while playing. */
function rangeOf(summary: SeasonSummary, key: string, isAlone: boolean): [number, number] {
  const values = summary.alternatives
    .flatMap((a) => a.passes.map((p) => figureOf(p, key, isAlone)?.number ?? null))
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
  const heads = useMemo(() => (summary ? headsOf(summary) : []), [summary]);
  const lines = useMemo(
    () => (summary ? heads.map((head) => linesOf(summary, head.key, isAlone, done, count)) : []),
    [summary, isAlone, key],
  );
  if (!summary) return null;
  const last = Math.max(...done);
  return (
    <div class="figures">
      <fieldset class="switch">
        <legend>Uniformity of the interior</legend>
        {[false, true].map((alone) => (
          <label class="choice" key={String(alone)}>
            <input type="radio" name="alone" checked={isAlone === alone} onChange={() => setAlone(alone)} />
            {alone ? "each pass alone" : "all water so far"}
          </label>
        ))}
      </fieldset>
      {heads.map((head, i) => (
        <LineChart
          key={head.key}
          title={`${head.short_label} ${isAlone ? "of each pass" : "of the water so far"}`}
          words={`${head.label} by pass for ${store.names.value.join(", ")}; the numbers are in the table below.`}
          x={x}
          xLabel="pass"
          yLabel={`${head.short_label}, %`}
          lines={lines[i] ?? []}
          range={rangeOf(summary, head.key, isAlone)}
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

const SCOPES = [
  { isAlone: true, words: "pass" },
  { isAlone: false, words: "so far" },
];

/** Heads of the figures of a pass: of its own water, then of all so far. */
function FigureHeads({ heads }: { heads: FigureHead[] }): JSX.Element {
  return <>{SCOPES.flatMap(({ words }) => heads.map((head) => <th scope="col" key={`${head.key} ${words}`}>{head.short_label} {words}</th>))}</>;
}

function FigureCells({ heads, pass }: { heads: FigureHead[]; pass: PassFigures | undefined }): JSX.Element {
  return <>{SCOPES.flatMap(({ isAlone, words }) => heads.map((head) => <td key={`${head.key} ${words}`}>{digitsOf(pass, head.key, isAlone)}</td>))}</>;
}

function Digits({ summary, done }: { summary: SeasonSummary; done: number[] }): JSX.Element {
  const heads = headsOf(summary);
  return (
    <div class="table-scroll" tabIndex={0} role="region" aria-label="Figures of the pass at hand">
      <table class="digits">
        <caption>After the last finished pass</caption>
        <thead>
          <tr>
            <th scope="col">Alternative</th>
            <FigureHeads heads={heads} />
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
                <FigureCells heads={heads} pass={pass} />
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** Of which pass the digits are, and where the alternative stands now if that is another one. */
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
  const heads = headsOf(summary);
  return (
    <details class="more all-passes">
      <summary>All passes in a table</summary>
      <div class="table-scroll" tabIndex={0} role="region" aria-label="All passes">
        <table class="digits">
          <thead>
            <tr>
              <th scope="col">Alternative</th>
              <th scope="col">Pass</th>
              <th scope="col">Stop</th>
              <FigureHeads heads={heads} />
            </tr>
          </thead>
          <tbody>
            {summary.alternatives.flatMap((alternative) =>
              alternative.passes.map((p, k) => (
                <tr key={`${alternative.name} ${k}`}>
                  <th scope="row">{alternative.name}</th>
                  <td>{k + 1}</td>
                  <td>{p.letter}</td>
                  <FigureCells heads={heads} pass={p} />
                </tr>
              )),
            )}
          </tbody>
        </table>
      </div>
    </details>
  );
}
