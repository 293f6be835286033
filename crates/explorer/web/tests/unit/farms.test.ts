// Addresses that are whole, pages that somebody gave, and when something was kept.

import { batch } from "@preact/signals";
import { describe, expect, it } from "vitest";
import { isWhole, pack, read, sealed, write } from "../../src/model/address";
import { whenText } from "../../src/model/farms";
import { followHistory, redo, undo } from "../../src/model/history";
import { read as readFile, Unfit } from "../../src/model/packed";
import { fromNothing } from "../../src/model/scenario";
import * as store from "../../src/model/store";

describe("addresses", () => {
  it("invariant: one that is cut anywhere, or changed in a letter, is not whole", async () => {
    const words = write({ step: "season", farm: "home", base: "12ab" }, await pack({ title: "a – b", evenfall: 1 }), { "w.csv": "0".repeat(24) });
    const whole = await sealed(words);
    expect(await isWhole(whole)).toBe(true);
    expect(read(whole)).toMatchObject({ view: { farm: "home", base: "12ab" }, files: { "w.csv": "0".repeat(24) } });
    // "#" alone says nothing, and so promises nothing.
    for (let end = 2; end < whole.length; end++) expect(await isWhole(whole.slice(0, end)), whole.slice(0, end)).toBe(false);
    for (let at = 1; at < whole.length; at++) {
      const changed = `${whole.slice(0, at)}${whole[at] === "e" ? "f" : "e"}${whole.slice(at + 1)}`;
      if (at < 5) continue;
      expect(await isWhole(changed), changed).toBe(false);
    }
    // Letters that were escaped on the way are the same letters.
    expect(await isWhole(whole.replace("at=season", "at=%73eason"))).toBe(true);
  });

  it("closed: one without a check sum is taken if its scenario can be read", async () => {
    const packed = await pack(fromNothing());
    expect(await isWhole("")).toBe(true);
    expect(await isWhole("#farm=home")).toBe(true);
    expect(await isWhole("#season")).toBe(true);
    expect(await isWhole(`#scenario=${packed}`)).toBe(true);
    expect(await isWhole(`#scenario=${packed.slice(0, -4)}`)).toBe(false);
  });
});

describe("pages that somebody gave", () => {
  const page = (block: string): File => new File([`<html><script type="application/json" id="evenfall-scenario">${block}</script></html>`], "field.html");
  const held = { evenfall_file: 1, version: "0", scenario: '{ "title": "</b>" }', files: { "w.csv": "\ufeffx" } };
  const escaped = JSON.stringify(held).replaceAll("<", "\\u003c");

  it("closed: scenario and files come out letter by letter", async () => {
    expect(await readFile(page(escaped))).toEqual([
      { name: "field.json", body: held.scenario },
      { name: "w.csv", body: "\ufeffx" },
    ]);
  });

  it("closed: what is damaged, of another version or no such page is refused by name", async () => {
    await expect(readFile(page(escaped.slice(0, -3)))).rejects.toThrow("field.html is damaged or cut off");
    await expect(readFile(page(escaped.replace('"evenfall_file":1', '"evenfall_file":7')))).rejects.toThrow("another version");
    await expect(readFile(page(JSON.stringify({ ...held, files: { a: 1 } })))).rejects.toThrow(Unfit);
    await expect(readFile(new File(["<p>x"], "x.html"))).rejects.toThrow("a page without a scenario");
  });
});

it("closed: a time today is a time, another day is named", () => {
  const now = new Date(2026, 10, 29, 18, 0);
  expect(whenText(new Date(2026, 10, 29, 14, 5).getTime(), false, now)).toMatch(/^0?2:05|^14:05/);
  expect(whenText(new Date(2026, 10, 28, 14, 5).getTime(), false, now)).toMatch(/28.*05/);
  expect(whenText(new Date(2025, 10, 28, 14, 5).getTime(), false, now)).toMatch(/2025/);
  expect(whenText(null)).toMatch(/not known/);
});

it("invariant: undo and redo bring back the farm that a scenario belongs to", () => {
  store.farm.value = "home";
  store.scenario.value = { title: "home" };
  followHistory();
  store.scenario.value = { title: "home 2" };
  // Kept under another name: the same scenario, another farm.
  store.farm.value = "copy";
  store.scenario.value = { title: "copy 2" };
  batch(() => {
    store.farm.value = "";
    store.scenario.value = { title: "demo" };
  });
  const now = (): unknown[] => [store.scenario.value.title, store.farm.value];
  undo();
  expect(now()).toEqual(["copy 2", "copy"]);
  undo();
  expect(now()).toEqual(["home 2", "copy"]);
  undo();
  expect(now()).toEqual(["home", "home"]);
  redo();
  redo();
  redo();
  expect(now()).toEqual(["demo", ""]);
});
