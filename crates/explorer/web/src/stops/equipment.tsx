// What an alternative needs beyond the bare machine, for the money side: counts, purchases by name with
// price and life, labor.

import type { JSX } from "preact";
import { at, pointer, text, type Path, type Scenario } from "../model/scenario";
import * as store from "../model/store";
import { NumberEntry, QuantityEntry, TextEntry } from "../setup/entry";
import { PriceEntry } from "../setup/price";
import { problemsAt, problemsOfRows, Wrongs } from "../setup/wrongs";

/** As the program takes at most. */
const MOST_PURCHASES = 12;

const purchasesAt = (path: Path): Scenario[] => {
  const list = at(store.scenario.value, path);
  return Array.isArray(list) ? (list as Scenario[]) : [];
};

/** Whether the program waits to be told what it needs: it stands farther from its outlets than the
 * baseline does. */
export const isEquipmentOpen = (index: number): boolean => {
  const path = ["alternatives", index, "equipment"];
  if (at(store.scenario.value, path) !== undefined) return false;
  const told = store.check.value?.assumptions.find((one) => one.what === pointer(path));
  return told?.value === "not known";
};

/** What is bought by name, "33 levelers". */
export const purchaseWords = (equipment: unknown): string[] => {
  const list = at(equipment as Scenario, ["purchases"]);
  const words = (one: Scenario): string => `${text(one.count)} ${text(one.what)}`.trim();
  return Array.isArray(list) ? (list as Scenario[]).filter((one) => Number(text(one.count)) > 0).map(words) : [];
};

function PurchaseRows({ path }: { path: Path }): JSX.Element {
  const rows = purchasesAt(path);
  const add = (): void => store.edit([...path, rows.length], { what: "", count: 1 });
  const remove = (i: number): void => store.edit(rows.length === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Other purchases</legend>
      <p class="help">Wheels, nozzles, levelers: what is bought beside joints and outlets, each with its price and life.</p>
      {rows.map((_, i) => (
        <fieldset class="rows" key={i}>
          <legend>Purchase {i + 1}</legend>
          <TextEntry path={[...path, i, "what"]} />
          <NumberEntry path={[...path, i, "count"]} />
          <PriceEntry path={[...path, i, "each"]} />
          <PriceEntry path={[...path, i, "life"]} />
          <button type="button" class="small" onClick={() => remove(i)}>
            Remove purchase {i + 1}
          </button>
        </fieldset>
      ))}
      <Wrongs problems={problemsOfRows(path)} />
      <button type="button" disabled={rows.length >= MOST_PURCHASES} onClick={add}>
        Add a purchase
      </button>
    </fieldset>
  );
}

export function Equipment({ index }: { index: number }): JSX.Element | null {
  if (store.scenario.value.worth === undefined) return null;
  const here = ["alternatives", index, "equipment"];
  const told = (key: string): string => text(at(store.scenario.value, [...here, key]));
  const counts = [["joints", "joint"], ["outlets", "outlet"], ["extra_sets_per_pass", "extra set"]] as const;
  const parts = counts.filter(([key]) => Number(told(key)) > 0).map(([key, what]) => `${told(key)} ${what}${told(key) === "1" ? "" : "s"}`);
  parts.push(...purchaseWords(at(store.scenario.value, here)));
  const labor = told("extra_labor_per_move");
  if (labor && !/^0\b(?!\.)/.test(labor)) parts.push(`${labor} per move`);
  const isOpen = isEquipmentOpen(index);
  return (
    <details class="more" open={problemsAt(here).length > 0 || undefined}>
      <summary>Equipment and labor: {parts.join(", ") || (isOpen ? "not said" : "nothing")}</summary>
      <div class="entries">
        {isOpen && (
          <p class="help">
            It stands farther from its outlets than the baseline does. Say what it needs for that; without, nothing can be said about money.{" "}
            <button type="button" class="small" onClick={() => store.edit([...here, "joints"], 0)}>
              The hoses there are reach
            </button>
          </p>
        )}
        <NumberEntry path={[...here, "joints"]} label="Joints to buy" isOptional />
        <NumberEntry path={[...here, "outlets"]} label="Outlets to add" isOptional />
        <PurchaseRows path={[...here, "purchases"]} />
        <NumberEntry path={[...here, "extra_sets_per_pass"]} label="Extra sets per pass" isOptional />
        <QuantityEntry path={[...here, "extra_labor_per_move"]} label="Extra labor per move" isOptional />
      </div>
    </details>
  );
}
