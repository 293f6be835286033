// Undo and redo, and shifts as turns.

import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import * as store from "../../src/model/store";
import { canRedo, canUndo, followHistory, redo, undo } from "../../src/model/history";
import { field, wind } from "../../src/setup/precis";
import { inTurns } from "../../src/stops/card";

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
    expect([canUndo.value, canRedo.value]).toEqual([true, false]);
    undo();
    expect(title()).toBe("bb");
    undo();
    expect([title(), canUndo.value, canRedo.value]).toEqual(["a", false, true]);
    undo();
    expect(title()).toBe("a");
    redo();
    redo();
    expect([title(), canRedo.value]).toEqual(["c", false]);
    undo();
    type("d", 100);
    expect([title(), canRedo.value]).toEqual(["d", false]);
    undo();
    expect(title()).toBe("bb");
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
