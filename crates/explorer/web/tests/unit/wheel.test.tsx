// Wheels by the trade's name: offered first, told with what they roll, asked for where a diameter is a name.

import { readFileSync } from "node:fs";
import { renderToString } from "preact-render-to-string";
import { beforeEach, describe, expect, it } from "vitest";
import { fromNothing, type Scenario } from "../../src/model/scenario";
import type { Node } from "../../src/model/schema";
import * as store from "../../src/model/store";
import { isNameOf } from "../../src/model/wheel";
import { WheelChoice } from "../../src/setup/machine";
import * as precis from "../../src/setup/precis";
import { Search } from "../../src/stops/search";

const schema = JSON.parse(readFileSync(new URL("../../../../../shared/scenario.schema.json", import.meta.url), "utf8")) as Node;

beforeEach(() => {
  store.schema.value = schema;
});

const shown = (wheel: Scenario): string => {
  store.scenario.value = { ...fromNothing(), wheel };
  return renderToString(<WheelChoice path={["wheel"]} />);
};

describe("the entry of a wheel", () => {
  it("closed: offers the trade sizes first, each with what it rolls, and the measured roll beside them", () => {
    const html = shown({ size: "7-foot" });
    expect([...html.matchAll(/data-sets="\/wheel\/(\w+)"/g)].map(([, key]) => key)).toEqual(["size", "travel_per_turn", "outside_diameter"]);
    const options = [...html.matchAll(/<option[^>]*>([^<]*)</g)].map(([, words]) => words);
    expect(options.slice(0, 3)).toEqual(["5-foot: 15 ft (4.572 m) a turn", "7-foot: 20 ft (6.096 m) a turn", "9-foot: 30 ft (9.144 m) a turn"]);
    expect(html).toMatch(/id="entry-wheel-travel_per_turn"/);
    expect(html).toMatch(/ten turns along a tape/);
    expect(html).not.toMatch(/id="entry-wheel-(outside_diameter|slip_and_sinkage)"/);
  });

  it("closed: a scenario from nothing has a wheel by its name", () => {
    expect(fromNothing("us").wheel).toEqual({ size: "7-foot" });
    expect(precis.wheels(fromNothing("us"))).toMatch(/^7-foot wheels; outlets 60 ft/);
    expect(precis.wheels({ ...fromNothing("us"), wheel: { size: "7-foot", travel_per_turn: "19.7 ft" } })).toMatch(/^Rolls 19.7 ft a turn/);
    expect(precis.wheels({ ...fromNothing("us"), wheel: { outside_diameter: "76 in" } })).toMatch(/^Wheels of 76 in diameter/);
  });

  it("closed: asks whether a diameter is a name, in whatever unit, and not of a measured one", () => {
    const asked = (diameter: string): string => /Do you mean the ([^.]*)\./.exec(shown({ outside_diameter: diameter }))?.[1] ?? "";
    expect([asked("7 ft"), asked("84 in"), asked("2.1 m")]).toEqual(Array(3).fill("7-foot wheel? By that name it rolls 20 ft (6"));
    expect([asked("76 in"), asked("64 in"), asked("wide"), asked("7 psi")]).toEqual(["", "", "", ""]);
    expect([isNameOf("5-foot", "60 in"), isNameOf("9-foot", "2.7 m"), isNameOf("9-foot", "114 in")]).toEqual([true, true, false]);
  });

  it("closed: what is wrong with a measured travel beside a size is told once, at its entry", () => {
    const problem = { pointer: "/wheel/travel_per_turn", problem: "this is odd", allowed: null, hint: null, line: null };
    store.check.value = { ok: false, digest: null, problems: [problem], assumptions: [], warnings: [], has_worth: false, matters: [], matters_words: "" };
    expect(shown({ size: "7-foot", travel_per_turn: "x" }).split("This is odd").length - 1).toBe(1);
    store.check.value = null;
  });
});

describe("the search", () => {
  it("closed: compares the trade's wheels at one click, on a wheel line", () => {
    store.scenario.value = fromNothing();
    expect(renderToString(<Search />)).toMatch(/type="checkbox"[^>]*>Compare the trade’s wheels on this field: 5-foot, 7-foot, 9-foot/);
    store.scenario.value = { ...fromNothing(), lateral: { machine: "hand move" } };
    expect(renderToString(<Search />)).not.toMatch(/type="checkbox"/);
  });
});
