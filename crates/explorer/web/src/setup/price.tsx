// A price: the value, its plausible range, and whether anybody stands for it.

import type { JSX } from "preact";
import { at, text, type Json, type Path } from "../model/scenario";
import { rangeIn, tell } from "../model/schema";
import { split } from "../model/units";
import * as store from "../model/store";
import { QuantityEntry, TickEntry } from "./entry";

export function PriceEntry({ path, label }: { path: Path; label: string }): JSX.Element {
  const value = at(store.scenario.value, path);
  const isDetailed = value !== null && typeof value === "object";
  if (!isDetailed) {
    const open = (): void =>
      store.edit(path, { value: value ?? " ", placeholder: true } as unknown as Json);
    return (
      <div class="price">
        <QuantityEntry path={path} label={label} isOptional />
        {value !== undefined && (
          <button type="button" class="quiet" onClick={open}>
            Add a range
          </button>
        )}
      </div>
    );
  }
  const told = tell(store.schema.value, path);
  const unit = split(text(at(store.scenario.value, [...path, "value"]))).unit;
  const range = rangeIn(tell(store.schema.value, [...path, "value"]), unit);
  return (
    <fieldset class="price">
      <legend>{label}</legend>
      <div class="row">
        <QuantityEntry path={[...path, "value"]} label="Value" isBare />
        <QuantityEntry path={[...path, "low"]} label="At least" isOptional isBare />
        <QuantityEntry path={[...path, "high"]} label="At most" isOptional isBare />
      </div>
      <p class="help">
        {told.words} {range && `Allowed: ${range}.`}
      </p>
      <TickEntry path={[...path, "placeholder"]} label="A guess that nobody stands for yet" isBare />
    </fieldset>
  );
}
