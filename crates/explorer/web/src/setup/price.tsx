// A price: the value, its plausible range, and whether it is a placeholder.

import type { JSX } from "preact";
import { at, text, type Json, type Path } from "../model/scenario";
import { rangeIn, rowAt } from "../model/schema";
import { split } from "../model/units";
import * as store from "../model/store";
import { QuantityEntry, TickEntry } from "./entry";

export function PriceEntry({ path }: { path: Path }): JSX.Element {
  const value = at(store.scenario.value, path);
  const isDetailed = value !== null && typeof value === "object";
  if (!isDetailed) {
    const open = (): void =>
      store.edit(path, { value: value ?? " ", placeholder: true } as unknown as Json);
    return (
      <div class="price">
        <QuantityEntry path={path} />
        {value !== undefined && (
          <button type="button" class="quiet" onClick={open}>
            Add a range
          </button>
        )}
      </div>
    );
  }
  const row = rowAt(store.schema.value, path);
  const unit = split(text(at(store.scenario.value, [...path, "value"]))).unit;
  const range = rangeIn(rowAt(store.schema.value, [...path, "value"]), unit);
  return (
    <fieldset class="price">
      <legend>{row.label}</legend>
      <div class="row">
        {["value", "low", "high"].map((key) => (
          <QuantityEntry key={key} path={[...path, key]} isBare />
        ))}
      </div>
      <p class="help">
        {row.help} {range && `Allowed: ${range}.`}
      </p>
      <TickEntry path={[...path, "placeholder"]} isBare />
    </fieldset>
  );
}
