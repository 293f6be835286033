// Undo and redo, and shifts as turns.

import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { alternatives, put, type Scenario } from "../../src/model/scenario";
import * as store from "../../src/model/store";
import { followHistory, placeWords, redo, redoable, undo, undoable, whereChanged } from "../../src/model/history";
import { field, wind } from "../../src/setup/precis";
import { inTurns } from "../../src/model/cycle";

describe("undo", () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it("closed: steps back and on; what follows closely is one step; a new change forgets what was undone", () => {
    store.scenario.value = { title: "a" };
    followHistory();
    const type = (title: string, after_ms: number): void => {
      vi.advanceTimersByTime(after_ms);
      store.edit(["title"], title);
    };
    type("b", 5000);
    type("bb", 100);
    type("c", 5000);
    const title = (): unknown => store.scenario.value.title;
    expect([undoable.value, redoable.value]).toEqual(["title", null]);
    undo();
    expect(title()).toBe("bb");
    undo();
    expect([title(), undoable.value, redoable.value]).toEqual(["a", null, "title"]);
    undo();
    expect(title()).toBe("a");
    redo();
    redo();
    expect([title(), redoable.value]).toEqual(["c", null]);
    undo();
    type("d", 100);
    expect([title(), redoable.value]).toEqual(["d", null]);
    undo();
    expect(title()).toBe("bb");
  });

  it("closed: two different values changed at once are two steps, and what was looked at comes back", () => {
    const alternatives = [{ name: "Fixed", rotation: ["0 ft"] }, { name: "Two", rotation: ["0 ft", "1 turn"] }];
    store.scenario.value = { title: "a", alternatives };
    followHistory();
    vi.advanceTimersByTime(5000);
    [store.alternative.value, store.stop.value] = [1, 1];
    store.edit(["title"], "b");
    store.edit(["alternatives", 1], undefined);
    [store.alternative.value, store.stop.value] = [0, 0];
    expect(undoable.value).toBe("Two");
    undo();
    expect([store.scenario.value.title, store.alternative.value, store.stop.value]).toEqual(["b", 1, 1]);
    expect(store.scenario.value.alternatives).toEqual(alternatives);
    undo();
    expect(store.scenario.value.title).toBe("a");
    redo();
    redo();
    expect([store.names.value, store.alternative.value]).toEqual([["Fixed"], 0]);
  });

  it("closed: a step is told by the place that changed", () => {
    const before: Scenario = { title: "a", outlets: { spacing: "60 ft", reach: "25 ft" }, alternatives: [{ name: "Fixed" }, { name: "Two", wheel: { travel_per_turn: "20 ft" } }] };
    const words = (after: Scenario): string => placeWords(whereChanged(before, after), before, after);
    expect(words(put(before, ["outlets", "reach"], "30 ft") as Scenario)).toBe("outlets reach");
    expect(words(put(before, ["alternatives", 1, "wheel", "travel_per_turn"], "16 ft") as Scenario)).toBe("Two: wheel travel per turn");
    expect(words({ ...before, alternatives: [...alternatives(before), { name: "Three" }] })).toBe("Three");
    expect(words({ ...before, alternatives: [...alternatives(before)].reverse() })).toBe("order of the alternatives");
    expect(words({ title: "another field" })).toBe("the scenario");
    expect(words({ ...before, outlets: {}, alternatives: [] })).toBe("several entries");
  });
});

describe("words", () => {
  it("closed: a shift is turns only where it is whole turns", () => {
    expect(inTurns(6.096, 6.096)).toBe("1 turn");
    expect(inTurns(-12.192, 6.096)).toBe("-2 turns");
    expect([inTurns(3.048, 6.096), inTurns(0, 6.096), inTurns(6.096, null)]).toEqual([null, null, null]);
  });

  it("closed: a closed group tells quantities in the units that are shown", () => {
    const scenario = { units: "us", wind: { generated: { day_mean: "3.5 m/s", night_mean: "4.5 mph", prevailing_from: "225 deg" } } };
    expect(wind(scenario)).toBe("Drawn by the hour: by day 7.83 mph, by night 4.5 mph, mostly from 225 deg.");
    expect(field({ units: "si", field: { length_along_pipe: "100 m", width_across: "1320 ft" } })).toMatch(/^100 m along the pipe, 402 m across/);
  });
});
