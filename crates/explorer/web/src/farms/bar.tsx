// The farm at hand, in the header: its name, whether it is kept, and the way to all others.

import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { signal } from "@preact/signals";
import { current, isKeeping, isKept, keep, whenText } from "../model/farms";
import * as store from "../model/store";

/** What the sheet of farms is opened for; null where it is closed. */
export type Asked = { what: "list" } | { what: "name" } | { what: "elsewhere"; words: string } | { what: "problem"; words: string };
export const asked = signal<Asked | null>(null);

/** Keeps what is at hand, or asks for a name where it has none yet. */
export async function keepNow(): Promise<void> {
  if (isKeeping.value) return;
  if (store.farm.value === "") {
    asked.value = { what: "name" };
    return;
  }
  const outcome = await keep();
  if (outcome.kind === "kept") {
    const { name, missing } = outcome.kept;
    store.say(missing.length > 0 ? `“${name}” is kept without ${missing.join(", ")}: not at hand here.` : `“${name}” is kept.`);
    return;
  }
  asked.value = { what: outcome.kind === "elsewhere" ? "elsewhere" : "problem", words: outcome.words };
}

function standing(): string {
  const farm = current.value;
  if (!farm) return "not kept: in this browser only";
  return isKept.value ? `kept ${whenText(farm.kept_ms)}` : "changes not kept yet";
}

export function FarmBar(): JSX.Element {
  useEffect(() => {
    const byKey = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.shiftKey || event.key.toLowerCase() !== "s") return;
      event.preventDefault();
      void keepNow();
    };
    addEventListener("keydown", byKey);
    return () => removeEventListener("keydown", byKey);
  }, []);
  const farm = current.value;
  const isOpen = farm !== null && !isKept.value;
  return (
    <div class="farmbar">
      <p class="farm-standing" role="status" data-kept={farm ? String(isKept.value) : "none"}>
        {farm && <b>{farm.name}</b>} <span class={isOpen ? "unkept" : "quiet-words"}>{standing()}</span>
      </p>
      <button type="button" class={isOpen ? "main" : ""} disabled={isKeeping.value} title="Ctrl+S" onClick={() => void keepNow()}>
        Keep
      </button>
      <button type="button" aria-haspopup="dialog" onClick={() => (asked.value = { what: "list" })}>
        Farms
      </button>
    </div>
  );
}
