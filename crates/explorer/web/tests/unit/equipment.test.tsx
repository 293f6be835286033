// What a card says of an alternative's equipment: told, not told though it stands farther, bought by name.

import { renderToString } from "preact-render-to-string";
import { afterEach, expect, it } from "vitest";
import { fromNothing, type Scenario } from "../../src/model/scenario";
import * as store from "../../src/model/store";
import { Equipment, isEquipmentOpen, purchaseWords } from "../../src/stops/equipment";

const compared = (equipment?: Scenario): Scenario => ({
  ...fromNothing(),
  worth: {},
  alternatives: [{ name: "Fixed", rotation: ["0 ft"] }, { name: "Two stops", rotation: ["0 ft", "20 ft"], ...(equipment ? { equipment } : {}) }],
});

/** The program's answer where nothing is said of the second alternative's equipment. */
const open = { what: "/alternatives/1/equipment", value: "not known", why: "it stands farther" };

afterEach(() => {
  store.check.value = null;
  store.scenario.value = fromNothing();
});

it("never calls equipment nothing where the program waits to be told", () => {
  store.scenario.value = compared();
  store.check.value = { ok: true, digest: "", problems: [], assumptions: [open], warnings: [], has_worth: true, matters: [], matters_words: "" };
  expect(isEquipmentOpen(1)).toBe(true);
  const html = renderToString(<Equipment index={1} />);
  expect(html).toContain("Equipment and labor: not said");
  expect(html).toContain("The hoses there are reach");
  store.scenario.value = compared({ joints: 0 });
  expect(isEquipmentOpen(1)).toBe(false);
  expect(renderToString(<Equipment index={1} />)).toContain("Equipment and labor: nothing");
});

it("tells what is bought by name, and leaves out what is none", () => {
  const equipment = { joints: 2, purchases: [{ what: "levelers", count: 33 }, { what: "nozzles", count: 0 }] };
  store.scenario.value = compared(equipment);
  expect(purchaseWords(equipment)).toEqual(["33 levelers"]);
  const html = renderToString(<Equipment index={1} />);
  expect(html).toContain("Equipment and labor: 2 joints, 33 levelers");
  expect(html).toContain("Remove purchase 2");
});
