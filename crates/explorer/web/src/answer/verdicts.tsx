// The verdict on each alternative: the answer in a word, whole amounts with their range, one thing to do
// next; why, and what was counted, one click away.

import type { JSX } from "preact";
import type { Against, WorthSummary } from "../model/api";
import { momentOf, nextSet } from "../model/next";
import { alternatives, text } from "../model/scenario";
import { standingOf } from "../model/standing";
import * as store from "../model/store";
import { isEquipmentOpen, purchaseWords } from "../stops/equipment";
import { whole, wholeOf } from "./money";

export type Worth = WorthSummary["worth"];

export interface Rival {
  name: string;
  index: number;
  against: Against;
}

/** All but the baseline, the best first. */
export const rivalsOf = (worth: Worth): Rival[] =>
  worth.ranking.flatMap(({ alternative: name, index }) => {
    const against = worth.alternatives[index]?.against_baseline;
    return against ? [{ name, index, against }] : [];
  });

const MARKS = { pays: "✓", does_not_pay: "✕", inconclusive: "?" } as const;

/** Inputs that matter and that nobody has stated or measured. */
export const unknown = (): number => (store.check.value?.matters ?? []).filter(({ is_known }) => !is_known).length;

/** What a verdict rests on where that is not the user's own; empty where it is. */
function restsOn(): string {
  if (store.scenario.value.invented === true) return "on invented values";
  return unknown() > 0 ? "on starting values" : "";
}

/** What it comes to, in whole amounts. */
function sentence({ against }: Rival, worth: Worth): string {
  const { net, certainty } = against;
  if (!net) return against.verdict.sentence;
  const mean = net.figures.mean.number ?? 0;
  const [low, high] = certainty ? [certainty.low, certainty.high] : [net.figures.interval.low, net.figures.interval.high];
  // Beside the word "less" a loss has no minus of its own.
  const isLoss = mean < 0 && (high.number ?? 0) < 0;
  const ends = isLoss ? [-(high.number ?? 0), -(low.number ?? 0)].map((n) => whole(n, worth.currency)) : [wholeOf(low, worth.currency), wholeOf(high, worth.currency)];
  const range = `likely range ${ends[0]} to ${ends[1]}${isLoss ? " less" : ""}`;
  const area = worth.area.number ?? 0;
  const size = whole(Math.abs(mean), worth.currency);
  if (Math.abs(mean) < 0.5) return `No difference in money to ${worth.baseline} (${range}).`;
  const field = area > 0 ? `; ${whole(Math.abs(mean * area), worth.currency)} a year on the field` : "";
  return `About ${size} ${article(worth.area_word)} a year ${mean < 0 ? "less" : "more"} than ${worth.baseline} (${range})${field}.`;
}

const article = (area: string): string => `${/^[aeio]/.test(area) ? "an" : "a"} ${area}`;

/** One thing to do next. */
function NextStep({ best, worth }: { best: Rival; worth: Worth }): JSX.Element | null {
  const { verdict } = best.against;
  // A plan that loses more than any rotation brings comes before the rotation.
  const fault = verdict.plan ? store.season.value?.summary.plan.alternatives[0]?.rows.find(({ status, change }) => status === "fault" && change !== "") : undefined;
  const settles = (fault && `see to the plan first. ${fault.change}`) ?? (verdict.answer === "inconclusive" ? verdict.settling[0] : undefined);
  const index = verdict.answer === "pays" ? best.index : 0;
  const layout = standingOf(index);
  const next = layout && nextSet(layout, momentOf(new Date()));
  if (!settles && !next) return null;
  const name = index === 0 ? worth.baseline : best.name;
  const set = next && `${next.day}: outlet ${next.outlet} at ${next.time}, stop ${next.letter}, ${next.where} (${name}).`;
  return (
    <p class="next-step">
      <b>Next step:</b> {settles ?? set}
    </p>
  );
}

/** The way to what can be printed and taken along. */
function Papers(): JSX.Element {
  const go = (): void => {
    const papers = document.getElementById("take-away");
    papers?.scrollIntoView();
    papers?.focus({ preventScroll: true });
  };
  return (
    <p class="papers">
      <button type="button" class="link" onClick={go}>
        Report and move sheets to print
      </button>
    </p>
  );
}

/** What counts as extra for an alternative: an answer on money hangs on it. */
function Extra({ name }: { name: string }): JSX.Element | null {
  const index = alternatives(store.scenario.value).findIndex((a) => text(a.name) === name);
  const found = alternatives(store.scenario.value)[index];
  // What is not said is asked for beside the verdict.
  if (!found || isEquipmentOpen(index)) return null;
  const equipment = (found.equipment ?? {}) as Record<string, unknown>;
  const count = (key: string, none: string, words: (n: string) => string): string => {
    const value = String(equipment[key] ?? "0");
    return Number.parseFloat(value) > 0 ? words(value) : none;
  };
  const parts = [
    count("joints", "no joints or hoses to buy", (n) => `${n} joints or hoses`),
    count("outlets", "no outlets", (n) => `${n} outlets`),
    ...purchaseWords(equipment),
    count("extra_labor_per_move", "no extra labor per move", (n) => `${n} extra per move`),
    count("extra_sets_per_pass", "no extra sets beyond its schedule", (n) => `${n} extra sets per pass`),
  ];
  return <p class="help">Extra cost counted: {parts.join(", ")}. Not right? Change it on the alternative’s card under “Equipment and labor”.</p>;
}

export function Verdicts({ worth, isOld }: { worth: Worth; isOld: boolean }): JSX.Element {
  const rivals = rivalsOf(worth);
  const rests = restsOn();
  return (
    <>
      <ul class="verdicts">
        {rivals.map((rival, i) => {
          const { verdict } = rival.against;
          const why = [...(verdict.plan ? [verdict.plan] : []), ...verdict.settling];
          return (
            <li key={rival.name} data-verdict={verdict.answer} class={`${i === 0 ? "lead" : ""}${rests ? " resting" : ""}`}>
              <span class="verdict-mark" aria-hidden="true">{MARKS[verdict.answer]}</span>
              <div>
                <b>
                  {rival.name}: {verdict.answer.replaceAll("_", " ")}
                </b>
                {rests && <span class="whose starting">{rests}</span>}
                <p>{sentence(rival, worth)}</p>
                <details class="more">
                  <summary>
                    Why<span class="unseen">: {rival.name}</span>
                  </summary>
                  <p>{verdict.sentence}</p>
                  {why.map((words) => (
                    <p key={words}>{words}</p>
                  ))}
                  {!isOld && <Extra name={rival.name} />}
                </details>
              </div>
            </li>
          );
        })}
      </ul>
      {!isOld && rivals[0] && <NextStep best={rivals[0]} worth={worth} />}
      {!isOld && rivals[0] && <Papers />}
    </>
  );
}
