// The water on the ground at any hour, with the field's edge.

import { expect, it, vi } from "vitest";

/** Two rows of two cells; the upper right one lies beyond the edge. */
const fields: Record<string, number[]> = {
  "pass 0": [4, 4, 4, NaN],
  "cumulative 0": [4, 4, 4, NaN],
  "pass 1": [3, 3, 1, NaN],
  "cumulative 1": [7, 7, 5, NaN],
};
vi.mock("../../src/model/grids", () => ({
  grid: async (_run: string, _index: number, what: string, pass: number) => ({ columns: 2, values: Float32Array.from(fields[`${what} ${pass}`]!) }),
  sets: async () => [
    { firstRow: 0, rows: 1, depth: Float32Array.from([3, 3]) },
    { firstRow: 1, rows: 1, depth: Float32Array.from([1, NaN]) },
  ],
}));

const { Stage } = await import("../../src/season/stage");

it("closed: beyond the edge there is no value, before the water, while it runs and after", async () => {
  const ready = vi.fn();
  const stage = new Stage("run", 0, 2, 2, () => true, ready);
  const at = async (pass: number, finished: number, share: number, isOver = false): Promise<number[][]> => {
    const moment = { pass, finished, share, isOver };
    stage.want(moment);
    await vi.waitFor(() => expect(stage.depths(moment)).not.toBeNull());
    const { soFar, alone } = stage.depths(moment)!;
    return [[...soFar], [...alone]];
  };
  expect(await at(-1, 0, 0)).toEqual([[0, 0, 0, NaN], [0, 0, 0, NaN]]);
  expect(await at(0, 0, 0.5)).toEqual([[1.5, 1.5, 0, NaN], [1.5, 1.5, 0, NaN]]);
  // Nothing has wet the upper row yet: the place beyond is no dry ground.
  expect(await at(1, 1, 0)).toEqual([[7, 7, 4, NaN], [3, 3, 0, NaN]]);
  expect(await at(1, 2, 0, true)).toEqual([[7, 7, 5, NaN], [3, 3, 1, NaN]]);
});

it("closed: without an edge dry ground has a depth of nothing", () => {
  const stage = new Stage("run", 0, 2, 2, () => false, () => undefined);
  expect([...stage.depths({ pass: -1, finished: 0, share: 0, isOver: true })!.soFar]).toEqual([0, 0, 0, 0]);
});
