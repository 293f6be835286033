import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { pack, read, unpack, write } from "../../src/model/address";
import { parseSets } from "../../src/model/grids";
import { at, filesNamed, fromNothing, pointer, put, type Scenario } from "../../src/model/scenario";
import { rangeIn, rowAt, type Node } from "../../src/model/schema";
import { toDrop } from "../../src/model/shelf";
import { deviation, meanBy } from "../../src/season/color";
import { guessCoordinates } from "../../src/setup/boundary";
import { momentOf } from "../../src/season/timeline";
import { ticks } from "../../src/answer/bars";

const schema = JSON.parse(
  readFileSync(new URL("../../../../../shared/scenario.schema.json", import.meta.url), "utf8"),
) as Node;

describe("the scenario", () => {
  it("invariant: a change leaves the original as it was", () => {
    const before: Scenario = { field: { cell: "2 ft" }, alternatives: [{ rotation: ["0 ft"] }] };
    const kept = JSON.stringify(before);
    const after = put(before, ["alternatives", 0, "rotation", 1], "20 ft") as Scenario;
    expect(JSON.stringify(before)).toBe(kept);
    expect(at(after, ["alternatives", 0, "rotation"])).toEqual(["0 ft", "20 ft"]);
    expect(put(after, ["field", "cell"], undefined)).toEqual({ ...after, field: {} });
  });

  it("closed: all files that a scenario names, each once", () => {
    const record = { file: "wind.csv", layout: "csv" };
    const scenario: Scenario = { title: "x", wind: { record }, climate: { et0: { record } }, field: { boundary: { file: "edge.geojson" } } };
    expect(filesNamed(scenario)).toEqual(["wind.csv", "edge.geojson"]);
  });

  it("closed: pointers are escaped as RFC 6901 says", () => {
    expect(pointer(["a/b", "c~d", 0])).toBe("/a~1b/c~0d/0");
  });
});

describe("the schema", () => {
  it("closed: explanation and range of a length, in either system", () => {
    const told = rowAt(schema, ["outlets", "spacing"]);
    expect(told.help).toBe("Distance between outlets");
    expect(rangeIn(told, "m")).toBe("1 to 150 m");
    expect(rangeIn(told, "ft")).toBe("3.281 to 492.1 ft");
  });

  it("closed: whole numbers, fractions, prices and choices", () => {
    expect(rangeIn(rowAt(schema, ["lateral", "sprinklers"]), "")).toBe("1 to 500");
    expect(rangeIn(rowAt(schema, ["losses", "fraction"]), "%")).toMatch(/^0 to \d+ %$/);
    expect(rowAt(schema, ["worth", "prices", "labor"]).help).toBe("Price of labor.");
    expect(rangeIn(rowAt(schema, ["worth", "prices", "labor_per_move"]), "min")).toMatch(/^0 to \d+ min$/);
    // A precision is money by area or a share: the range is of the kind that is entered.
    expect(rangeIn(rowAt(schema, ["worth", "target_precision"]), "per ac")).toMatch(/^from 0\.0004\d* per ac up$/);
    expect(rangeIn(rowAt(schema, ["worth", "target_precision"]), "%")).toBe("0.001 to 50 %");
    expect(rowAt(schema, ["soil", "texture"]).choices).toContain("silt loam");
  });

  it("invariant: every quantity of the scenario from nothing has an explanation and a range, or choices", () => {
    const walk = (value: unknown, path: (string | number)[]): void => {
      if (value !== null && typeof value === "object") {
        for (const [k, v] of Object.entries(value)) walk(v, [...path, Array.isArray(value) ? Number(k) : k]);
      } else if (typeof value === "string" && /^\d/.test(value) && !/T/.test(value)) {
        const told = rowAt(schema, path);
        if (path.includes("rotation")) return;
        expect(told.help, pointer(path)).not.toBe("");
        if (told.kind === "choice") expect(told.choices, pointer(path)).toContain(value);
        else expect(told.range, pointer(path)).not.toBeNull();
      }
    };
    walk(fromNothing(), []);
  });
});

describe("the address", () => {
  it("invariant: a scenario comes back from the address as it went in", async () => {
    const scenario = fromNothing();
    const { view, packed } = read(write({ step: "season", alternative: 2, hour: 310.5, place: "12.50,3.00" }, await pack(scenario)));
    expect(await unpack(packed)).toEqual(scenario);
    expect(view).toEqual({ step: "season", alternative: 2, hour: 310.5, place: "12.50,3.00" });
  });

  it("closed: a damaged address gives no scenario and no nonsense", async () => {
    expect(await unpack("AAAA!")).toBeNull();
    expect(await unpack("q1ZKLS7JzEsHAA")).toBeNull();
    expect(read("#hour=abc").view).toEqual({});
  });
});

describe("the season", () => {
  const sets = [0, 1, 2].map((k) => ({ outlet: k + 1, y_m: k, start_h: 12 * k, end_h: 12 * k + 10, start: "", end: "" }));
  const layout = { passes: [{ letter: "A", across_m: 0, along_m: 0, sets }] } as never;
  const alternative = { name: "a", final: {}, passes: [{ letter: "A", start_h: 0, end_h: 34 }] } as never;

  it("closed: before, within, between and after sets", () => {
    expect(momentOf(alternative, layout, -1).pass).toBe(-1);
    expect(momentOf(alternative, layout, 5)).toEqual({ pass: 0, finished: 0, share: 0.5, isOver: false });
    expect(momentOf(alternative, layout, 11)).toEqual({ pass: 0, finished: 1, share: 0, isOver: false });
    expect(momentOf(alternative, layout, 34)).toEqual({ pass: 0, finished: 3, share: 0, isOver: true });
  });

  it("closed: sets of a pass are read from the stream", () => {
    const buffer = new ArrayBuffer(8 + 8 + 8 + 16);
    const view = new DataView(buffer);
    [[0, 3, 1], [16, 5, 2]].forEach(([at, first, rows]) => {
      view.setInt32(at!, first!, true);
      view.setInt32(at! + 4, rows!, true);
    });
    view.setFloat32(8, 1.5, true);
    view.setFloat32(36, 2.5, true);
    const found = parseSets(buffer, 2);
    expect(found.map((s) => [s.firstRow, s.rows, [...s.depth]])).toEqual([[3, 1, [1.5, 0]], [5, 2, [0, 0, 0, 2.5]]]);
  });

  it("closed: deviation is told from the mean of the interior", () => {
    const field = Float32Array.from([9, 9, 9, 9, 2, 9, 9, 9, 9]);
    const middle = Float32Array.from([0, 0, 0, 0, 4, 0, 0, 0, 0]);
    expect([...deviation(field, meanBy(field, middle))][4]).toBe(0);
    expect([...deviation(field, meanBy(field, middle))][0]).toBe(3.5);
  });

  it("closed: cells beyond the field's edge count in no mean", () => {
    const field = Float32Array.from([1, NaN, 3, NaN]);
    expect(meanBy(field, Float32Array.from([1, 0, 1, 0]))).toBe(2);
    // A cell that holds more of the interior's own cells counts for more.
    expect(meanBy(field, Float32Array.from([1, 0, 3, 0]))).toBe(2.5);
    expect(meanBy(field, new Float32Array(4))).toBeNaN();
    expect([...deviation(field, 2)]).toEqual([-0.5, NaN, 0.5, NaN]);
  });

  it("closed: of kept files those go that were used longest ago", () => {
    const file = (length: number, used: number) => ({ body: "x".repeat(length), used });
    const kept = [["a", file(4, 1)], ["b", file(4, 3)], ["c", file(4, 2)]] as [string, { body: string; used: number }][];
    expect(toDrop(kept, 12)).toEqual([]);
    expect(toDrop(kept, 8)).toEqual(["a"]);
    expect(toDrop(kept, 3)).toEqual(["b", "c", "a"]);
  });

  it("closed: files stand in the address by name and digest, damaged ones are left out", () => {
    const files = { "my field.geojson": "0123456789abcdef01234567" };
    expect(read(write({}, "", files)).files).toEqual(files);
    expect(read("#file=zz+x&file=0123456789abcdef01234567").files).toEqual({});
  });

  it("closed: a boundary's numbers are degrees where they can be", () => {
    expect(guessCoordinates('{"coordinates": [[[-119.5, 46.2], [-119.4, 46.2]]]}', "us")).toBe("lon/lat");
    expect(guessCoordinates('{"coordinates": [[[0, 0], [660, 0], [660, 95]]]}', "us")).toBe("ft");
    expect(guessCoordinates('{"coordinates": [[[0, 0], [80, 0], [80, 95]]]}', "si")).toBe("m");
  });

  it("closed: marks of an axis are round", () => {
    expect(ticks(0, 10)).toEqual([0, 5, 10]);
    expect(ticks(-3, 17)).toEqual([0, 5, 10, 15]);
  });
});
