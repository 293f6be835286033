// Alternatives: their own values, their stops, their picture.

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { AlternativeLayout, Check, FieldLayout, SetTime } from "../../src/model/api";
import { begunAt, cycleWords, nearestStop, written } from "../../src/model/cycle";
import { cut, freeName, type Scenario } from "../../src/model/scenario";
import { nodeAt, rowAt as keyRow, type Node } from "../../src/model/schema";
import { acrossOf, standingOf } from "../../src/model/standing";
import * as store from "../../src/model/store";
import { edgeWords } from "../../src/picture/field";
import { endOf, linesOf } from "../../src/picture/sketch";
import { sameWheel } from "../../src/stops/card";
import { commonWords, isOwn, rowsFor, startOf, withOwn, type OwnRow } from "../../src/stops/own_rows";

const schema = JSON.parse(
  readFileSync(new URL("../../../../../shared/scenario.schema.json", import.meta.url), "utf8"),
) as Node;

const FT = 0.3048;

const scenario: Scenario = {
  units: "us",
  lateral: { machine: "wheel line", sprinklers: 33, sprinkler_spacing: "40 ft" },
  wheel: { outside_diameter: "76 in", slip_and_sinkage: "2 %" },
  outlets: { spacing: "60 ft", reach: "25 ft" },
  sprinkler: { jets: [{ leg: {} }, { nozzle: "3/32 in", radius: "30 ft" }] },
  season: { start: "2027-05-10T06:00", passes: 12, set_time: "11.5 h", idle_between_passes: "0 h" },
  alternatives: [{ name: "Fixed", rotation: ["0 ft"] }, { name: "Two", rotation: ["0 ft", "1 turn"], wheel: { leveler_range: "20 deg" } }],
};

const check = { assumptions: [{ what: "/outlets/first", value: "30 ft (9.144 m)", why: "" }, { what: "/outlets/count", value: "22", why: "" }] } as unknown as Check;

const rowAt = (...path: string[]): OwnRow => rowsFor(scenario, 1).find((own) => own.path.join("/") === path.join("/"))!;

describe("what an alternative has of its own", () => {
  it("invariant: every row is a key of the schema, with an explanation, for an alternative as for the scenario", () => {
    for (const { path, kind } of rowsFor(scenario, 1)) {
      const here = ["alternatives", 1, ...path];
      expect(nodeAt(schema, here), here.join("/")).not.toBeNull();
      if (["quantity", "number"].includes(kind)) {
        expect(keyRow(schema, here).help, here.join("/")).not.toBe("");
        expect(keyRow(schema, here).range, here.join("/")).not.toBeNull();
      }
    }
  });

  it("closed: the common value is given, also one that is a starting value", () => {
    const words = (...path: string[]): string => commonWords(scenario, check, 1, rowAt(...path));
    expect(words("wheel")).toBe("76 in high, 2 % lost");
    expect(words("outlets", "spacing")).toBe("60 ft");
    expect(words("outlets", "first")).toBe("30 ft");
    expect(words("sprinkler", "jets")).toBe("measured leg and nozzle 3/32 in");
    expect(words("season", "start")).toBe("2027-05-10, 06:00");
    expect(words("lateral", "pipe")).toBe("not worked out");
    expect(words("edges")).toBe("every stop shifted");
    const metric = { ...scenario, units: "si" };
    expect(commonWords(metric, check, 1, rowAt("outlets", "first"))).toBe("9.144 m");
  });

  it("closed: a value of its own starts from the common one and goes back to it", () => {
    const start = (...path: string[]): unknown => startOf(scenario, check, schema, 1, rowAt(...path));
    expect(start("wheel")).toEqual({ outside_diameter: "76 in", slip_and_sinkage: "2 %" });
    expect([start("outlets", "first"), start("outlets", "count"), start("season", "sets_per_day")]).toEqual(["30 ft", 22, 2]);
    expect([start("season", "pass_interval"), start("edges")]).toEqual(["14 days", "extra set"]);
    expect(start("lateral", "pipe")).toEqual({ inside_diameter: "4.9 in", material: "aluminum" });
    expect(rowsFor(scenario, 1).filter((own) => [undefined, ""].includes(startOf(scenario, check, schema, 1, own) as string))).toEqual([]);
    const wheel = rowAt("wheel");
    expect(isOwn(scenario, 1, wheel)).toBe(false);
    const own = withOwn(scenario, 1, wheel, { travel_per_turn: "16 ft" });
    expect(isOwn(own, 1, wheel)).toBe(true);
    expect((own.alternatives as Scenario[])[1]!.wheel).toEqual({ leveler_range: "20 deg", travel_per_turn: "16 ft" });
    expect(withOwn(own, 1, wheel, undefined)).toEqual(scenario);
    const outlets = withOwn(scenario, 1, rowAt("outlets", "reach"), "40 ft");
    expect(withOwn(outlets, 1, rowAt("outlets", "reach"), undefined)).toEqual(scenario);
  });

  it("closed: a wheel by the trade's name is told with what it rolls, and goes before the common one", () => {
    const named = { ...scenario, wheel: { size: "7-foot", leveler_range: "15 deg" } };
    const rolls = { assumptions: [{ what: "/wheel/travel_per_turn", value: "20 ft (6.096 m)", why: "" }] } as unknown as Check;
    expect(commonWords(named, rolls, 1, rowAt("wheel"))).toBe("7-foot, 20 ft a turn");
    const measured = { ...scenario, wheel: { size: "7-foot", travel_per_turn: "19.7 ft" } };
    expect(commonWords(measured, rolls, 1, rowAt("wheel"))).toBe("7-foot, 19.7 ft a turn");
    expect(startOf(named, rolls, schema, 1, rowAt("wheel"))).toEqual({ size: "7-foot" });
    expect(startOf({ ...scenario, wheel: {} }, rolls, schema, 1, rowAt("wheel"))).toEqual({ size: "7-foot" });
    const own = withOwn(named, 1, rowAt("wheel"), { size: "5-foot" });
    expect(isOwn(own, 1, rowAt("wheel"))).toBe(true);
    expect((own.alternatives as Scenario[])[1]!.wheel).toEqual({ leveler_range: "20 deg", size: "5-foot" });
    expect(withOwn(own, 1, rowAt("wheel"), undefined)).toEqual(named);
  });

  it("closed: only what makes sense is offered", () => {
    const keys = (s: Scenario): string[] => rowsFor(s, 0).map((own) => own.path.join("/"));
    expect(keys(scenario)).toContain("season/passes");
    expect(keys(scenario)).not.toContain("season/until");
    const byHand = { ...scenario, lateral: { machine: "hand move" } };
    expect(keys(byHand).filter((key) => key.startsWith("wheel"))).toEqual([]);
    const called = { ...scenario, season: { passes: 12, irrigate_at_depletion: "80 %" } };
    expect(keys(called)).not.toContain("season/pass_interval");
  });

  it("closed: a twin's wheel rolls as far as before until it is changed", () => {
    store.scenario.value = scenario;
    expect(sameWheel(scenario.wheel, 6)).toEqual({ outside_diameter: "76 in", slip_and_sinkage: "2 %" });
    expect(sameWheel({ size: "7-foot" }, 20 * FT)).toEqual({ size: "7-foot" });
    expect(sameWheel({ size: "7-foot", travel_per_turn: "19.7 ft" }, 6)).toEqual({ size: "7-foot", travel_per_turn: "19.7 ft" });
    // 20 ft a turn: 240 in / π.
    expect(sameWheel({ travel_per_turn: "20 ft" }, 20 * FT)).toEqual({ outside_diameter: "76.39 in" });
    store.scenario.value = { ...scenario, units: "si" };
    expect(sameWheel(undefined, Math.PI)).toEqual({ outside_diameter: "1 m" });
  });
});

describe("the scenario’s alternatives", () => {
  it("closed: names are kept apart, and what is left empty goes", () => {
    expect(freeName("Two stops", ["two stops", "Two stops 2"])).toBe("Two stops 3");
    expect(freeName("x".repeat(99), []).length).toBe(76);
    expect(cut({ a: { b: { c: 1 } }, d: 2 }, ["a", "b", "c"])).toEqual({ d: 2 });
  });
});

const stop = (feet: number, turns: number | null, reachable = true) => ({ across_m: feet * FT, along_m: 0, turns, reachable, reason: "" });

const layoutOf = (sets: [number, SetTime["role"], number][][], rotation: { letter: string; across_m: number; along_m: number }[]): AlternativeLayout =>
  ({
    name: "alternative",
    sprinklers_x_m: [6, 18],
    left_sprinklers_x_m: [],
    mainline_x_m: null,
    lines: 1,
    outlets_y_m: [30 * FT, 90 * FT, 150 * FT],
    reach_m: 25 * FT,
    travel_per_turn_m: 16 * FT,
    wheel: [],
    stops: [stop(-16, -1), stop(-8, -0.5, false), stop(0, 0), stop(8, 0.5, false), stop(16, 1)],
    rotation,
    passes: sets.map((pass, k) => ({
      letter: rotation[k]!.letter,
      across_m: 0,
      along_m: 0,
      sets: pass.map(([feet, role, outlet]) => ({ outlet, role, y_m: feet * FT, start_h: 0, end_h: 1, start: "", end: "" })),
    })),
  }) as unknown as AlternativeLayout;

const A = { letter: "A", across_m: 0, along_m: 0 };
const B = { letter: "B", across_m: 20 * FT, along_m: 0 };

describe("stops", () => {
  it("closed: how far a written shift lies", () => {
    expect(acrossOf("-20 ft", null)).toBeCloseTo(-20 * FT, 12);
    expect([acrossOf("2 turns", 5), acrossOf("1 turn", null)]).toEqual([10, null]);
    expect([acrossOf({ across: "3 m", along: "1 m" }, null), acrossOf({ along: "half joint" }, null)]).toEqual([3, 0]);
    expect([acrossOf("far", 5), acrossOf(7, 5), acrossOf(undefined, 5)]).toEqual([null, null, null]);
  });

  it("closed: the nearest possible stop, as the scenario writes it", () => {
    store.scenario.value = scenario;
    const here = layoutOf([], []);
    expect(written(nearestStop("20 ft", here)!)).toBe("1 turn");
    expect(written(nearestStop("-7 ft", here)!)).toBe("0 ft");
    expect(written(nearestStop("-1 turn", here)!)).toBe("-1 turn");
    expect(nearestStop("far", here)).toBeUndefined();
  });

  it("closed: how often a season goes through a cycle", () => {
    expect(cycleWords(3, 12)).toBe("12 passes: 4 times through the cycle of 3.");
    expect(cycleWords(5, 12)).toBe("12 passes: 2 times through the cycle of 5, and 2 stops more.");
    expect(cycleWords(5, 6)).toBe("6 passes: once through the cycle of 5, and 1 stop more.");
    expect(cycleWords(4, 2)).toBe("The season ends before the cycle of 4 is complete: 2 passes.");
    expect([cycleWords(1, 12), cycleWords(3, 0)]).toEqual(["", ""]);
    expect(begunAt(["a", "b", "c"], 2)).toEqual(["c", "a", "b"]);
  });

  it("closed: an alternative keeps its own picture while others come, go and move", () => {
    const [fixed, two] = scenario.alternatives as Scenario[];
    const [of, drawn] = [scenario, [layoutOf([], [A]), layoutOf([], [A, B])]];
    store.drafted.value = { of, field: {} as FieldLayout, alternatives: drawn };
    store.scenario.value = { ...scenario, alternatives: [two!, { ...fixed!, name: "New" }, fixed!] };
    expect([0, 1, 2].map(standingOf)).toEqual([drawn[1], null, drawn[0]]);
    store.scenario.value = { ...scenario, alternatives: [fixed!, { ...two!, name: "Renamed" }] };
    expect(standingOf(1)).toBe(drawn[1]);
  });
});

describe("the picture of an alternative", () => {
  const extra = layoutOf([[[30, "shifted", 0], [90, "shifted", 1], [150, "shifted", 2]], [[10, "extra", 0], [50, "shifted", 0], [110, "shifted", 1], [170, "shifted", 2]]], [A, B]);
  const held = layoutOf([[[30, "shifted", 0], [90, "shifted", 1], [150, "shifted", 2]], [[30, "held", 0], [110, "shifted", 1], [150, "held", 2]]], [A, B]);

  it("closed: lines stand where the sets do, a set more is marked, a held one shares its outlet's line", () => {
    const told = (w: AlternativeLayout): [number, string][] => linesOf(w).map((l) => [Math.round(l.y_m / FT), l.letters]);
    expect(told(extra)).toEqual([[10, "B+"], [30, "A"], [50, "B"], [90, "A"], [110, "B"], [150, "A"], [170, "B"]]);
    expect(told(held)).toEqual([[30, "AB"], [90, "A"], [110, "B"], [150, "AB"]]);
  });

  it("closed: words on the edges", () => {
    expect(edgeWords(extra.passes[0]!.sets)).toBe("");
    expect(edgeWords(extra.passes[1]!.sets)).toMatch(/At outlet 1 it runs an extra set/);
    expect(edgeWords(held.passes[1]!.sets)).toMatch(/At outlets 1 and 3 it stands unshifted/);
  });

  it("closed: all alternatives are drawn on the scale of the one that needs most, within the field", () => {
    const field = { across_m: 180 * FT } as FieldLayout;
    const dense = { ...extra, outlets_y_m: [10 * FT, 50 * FT] };
    expect(endOf([extra, dense, null], field)).toBeCloseTo(90 * FT, 9);
    expect(endOf([extra, dense, null], { across_m: 1320 * FT } as FieldLayout)).toBeCloseTo(126 * FT, 9);
    expect(endOf([null], field)).toBeCloseTo(90 * FT, 9);
  });
});
