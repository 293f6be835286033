// What the ten questions write, and whose each value is afterwards.

import { beforeEach, expect, it } from "vitest";
import { at, type Scenario } from "../../src/model/scenario";
import { afterEdit, confirm, isStarting, markStarting, marksOf } from "../../src/model/starting";
import * as store from "../../src/model/store";
import { beginning, rotationsFor } from "../../src/questions/begin";
import { stepOf } from "../../src/questions/steps";
import { CLIMATES, CROPS } from "../../src/questions/tables";
import * as writing from "../../src/questions/write";
import { nextSet } from "../../src/model/next";
import { whole } from "../../src/answer/money";

const now = (): Scenario => store.scenario.value;
const { PATHS, answer } = writing;

beforeEach(() => {
  store.scenario.value = beginning("us", new Date("2026-11-29"));
});

it("begins with every section a starting value, and marks no answer as one", () => {
  expect(marksOf(now())).toContain("/wheel");
  answer(PATHS.NOZZLE, "11/64 in");
  expect(at(now(), PATHS.NOZZLE)).toBe("11/64 in");
  expect(isStarting(now(), PATHS.NOZZLE)).toBe(false);
  // What stands beside it is still nobody's, and its throw follows: 44 ft · (11/10)^0.4.
  expect(isStarting(now(), PATHS.PRESSURE)).toBe(true);
  expect(at(now(), ["sprinkler", "jets", 0, "radius"])).toBe("46 ft");
  answer(PATHS.NOZZLE, "");
  expect([at(now(), PATHS.NOZZLE), isStarting(now(), PATHS.NOZZLE)]).toEqual(["5/32 in", true]);
});

it("takes an answer that is the starting value for an answer", () => {
  writing.writeMachine("7-foot");
  expect([now().wheel, isStarting(now(), ["wheel", "size"]), writing.machineOf(now())]).toEqual([{ size: "7-foot", added_turn: "nearest" }, false, "7-foot"]);
  // What the irrigator does where whole turns do not fit was not asked.
  expect(isStarting(now(), ["wheel", "added_turn"])).toBe(true);
  writing.writeClimate(CLIMATES[1]!);
  expect(writing.climateOf(now(), CLIMATES)).toBe("breezy");
  // Of the direction nothing was said.
  expect(isStarting(now(), ["wind", "generated", "prevailing_from"])).toBe(true);
  expect(isStarting(now(), ["wind", "generated", "day_mean"])).toBe(false);
});

it("turns acres and pipe into sides and sprinklers that have room on it", () => {
  writing.writeSizes({ area: "30 ac", pipe: "1280 ft" }, true);
  // 30 · 43 560 / 1280 ft; 1280 / 40.
  expect([at(now(), PATHS.ALONG), at(now(), PATHS.ACROSS), at(now(), PATHS.PIPE)]).toEqual(["1280 ft", "1020.94 ft", 32]);
  writing.writeSizes({ area: "30 ac", pipe: "660 ft" }, true);
  expect(at(now(), PATHS.PIPE)).toBe(16);
  expect(isStarting(now(), PATHS.APART)).toBe(true);
  expect(writing.sizesOf(now())).toEqual({ area: "30 ac", pipe: "640 ft" });
});

it("compares stops nearest to halves and thirds of the outlet spacing, in whole turns", () => {
  const stops = (scenario: Scenario): unknown => rotationsFor(scenario).map(({ rotation, outlets }) => [rotation, at(outlets, ["reach"])]);
  expect(stops(now())).toEqual([[["0 ft"], undefined], [["0 ft", "1 turn"], undefined], [["0 ft", "1 turn", "-1 turn"], undefined]]);
  // Turns of 14.37 ft miss outlets 60 ft apart, so the line may stand half a turn off its stop: 28.74 + 7.19 ft.
  writing.writeMachine("diameter");
  answer(["wheel", "outside_diameter"], "4 ft 8 in");
  expect(stops(now())).toEqual([[["0 ft"], undefined], [["0 ft", "2 turns"], "36 ft"], [["0 ft", "1 turn", "-1 turn"], undefined]]);
  writing.writeMachine("hand");
  // Carried pipe stands anywhere; half of 60 ft is beyond a hose of 25 ft, so a longer one is bought.
  expect(stops(now())).toEqual([[["0 ft"], undefined], [["0 ft", "30 ft"], "35 ft"], [["0 ft", "20 ft", "-20 ft"], undefined]]);
});

it("leaves rotations alone that somebody has changed", () => {
  store.edit(["alternatives", 1, "name"], "Mine");
  writing.writeMachine("hand");
  expect(at(now(), ["alternatives", 1, "rotation"])).toEqual(["0 ft", "1 turn"]);
});

it("brings days and money with a crop, and asks for money where it knows none", () => {
  for (const { name } of CROPS) {
    writing.writeCrop(name);
    expect(at(now(), ["worth", "prices", "crop", "placeholder"]), name).toBe(true);
  }
  writing.writePrice("crop", "240 per ton");
  writing.writeCrop("soybean");
  expect([at(now(), ["worth", "prices", "crop"]), at(now(), ["worth", "prices", "potential_yield"])]).toEqual(["240 per ton", undefined]);
});

it("makes the line's moves fit the hours a set", () => {
  answer(PATHS.SET, "12 h");
  expect(at(now(), ["season", "move_time"])).toBe("0 h");
  writing.writeSets("1");
  expect(at(now(), ["season", "move_time"])).toBe("0.5 h");
});

it("keeps marks true through edits of sections and single values", () => {
  const before = markStarting({ wheel: { size: "7-foot", riser: "4 in" } }, [["wheel"]]);
  const after = afterEdit(before, { ...before, wheel: { size: "5-foot", riser: "4 in" } }, ["wheel"]);
  expect(marksOf(after)).toEqual(["/wheel/riser"]);
  expect(marksOf(confirm(before, ["wheel", "size"]))).toEqual(["/wheel/riser"]);
  expect(confirm(after, ["wheel"]).starting_values).toBeUndefined();
  expect(marksOf(afterEdit(after, { wheel: { size: "5-foot" }, starting_values: ["/wheel/riser"] }, ["wheel", "riser"]))).toEqual([]);
});

it("finds the question that asks for a value", () => {
  expect([stepOf("/outlets/spacing"), stepOf("/sprinkler/jets"), stepOf("/worth/prices/labor")]).toEqual([3, 4, -1]);
});

it("says the next set, and none after the season", () => {
  const set = (start: string, outlet: number) => ({ start, outlet });
  const layout = { passes: [{ letter: "A", across_m: 0, along_m: 0, sets: [set("2027-05-10T06:00", 0), set("2027-05-10T18:00", 1)] }] } as never;
  expect(nextSet(layout, "2026-11-29T08:00")).toEqual({ day: "Monday, May 10", time: "06:00", outlet: 1, letter: "A", where: "at the outlet", isFirst: true });
  expect(nextSet(layout, "2027-05-10T06:01")).toMatchObject({ outlet: 2, time: "18:00", isFirst: false });
  expect(nextSet(layout, "2027-10-01T00:00")).toBeNull();
});

it("says money in whole amounts, and large ones no finer than two figures", () => {
  expect([whole(13.4, "USD"), whole(-3.6, "EUR"), whole(2772, "USD"), whole(0.3, null), whole(-0.3, "USD")]).toEqual(["$13", "\u2212€4", "$2,800", "0", "$0"]);
});
