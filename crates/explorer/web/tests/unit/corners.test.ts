// Corners of a field: rings worked by hand, and what becomes of them in the scenario.

import { beforeEach, describe, expect, it } from "vitest";
import { areaText, cornersOf, CORNERS, take } from "../../src/model/corners";
import { areaOf, halfway, heldIn, isSound, placeFor, withCorner, without, withMoved, type Corner } from "../../src/model/ring";
import { at, fromNothing } from "../../src/model/scenario";
import * as store from "../../src/model/store";
import { boundaryOf, guessCoordinates } from "../../src/setup/boundary";

const trapezoid: Corner[] = [[0, 0], [8, 0], [6, 4], [0, 4]];

describe("a ring of corners", () => {
  it("closed: has its area, whichever way round it runs", () => {
    expect([areaOf(trapezoid), areaOf([...trapezoid].reverse()), areaOf([])]).toEqual([28, 28, 0]);
  });

  it("closed: is sound where it goes once round and nowhere meets itself", () => {
    expect([isSound(trapezoid), isSound([...trapezoid].reverse())]).toEqual([true, true]);
    expect(isSound([[0, 0], [9, 9], [9, 0], [0, 9]])).toBe(false);
    expect([isSound([[0, 0], [9, 0]]), isSound([[0, 0], [4, 0], [9, 0]]), isSound([])]).toEqual([false, false, false]);
    // A corner that lies on another side, one that comes twice, and a side that goes back.
    expect(isSound([[0, 0], [8, 0], [8, 8], [4, 0], [0, 8]])).toBe(false);
    expect(isSound([[0, 0], [8, 0], [8, 0], [8, 8]])).toBe(false);
    expect(isSound([[0, 0], [8, 0], [8, 8], [8, 4], [0, 8]])).toBe(false);
    // One that lies straight between its neighbors is only not needed.
    expect(isSound([[0, 0], [4, 0], [8, 0], [8, 8], [0, 8]])).toBe(true);
  });

  it("closed: takes a new corner into the side nearest to it", () => {
    expect([placeFor(trapezoid, [4, 0.5]), placeFor(trapezoid, [7, 2]), placeFor(trapezoid, [3, 5]), placeFor(trapezoid, [0, 2])]).toEqual([1, 2, 3, 4]);
    expect(placeFor([[0, 0]], [5, 5])).toBe(1);
    expect(withCorner(trapezoid, 1, [4, 0])[1]).toEqual([4, 0]);
    expect(without(trapezoid, 0)).toHaveLength(3);
    expect(withMoved(trapezoid, 2, [7, 4])[2]).toEqual([7, 4]);
    expect(halfway(trapezoid, 3)).toEqual([0, 2]);
  });

  it("closed: a corner is held in the rectangle, on whole steps or its edge", () => {
    expect([heldIn([-3, 2.26], [10.2, 5], 0.5), heldIn([10.1, 99], [10.2, 5], 0.5), heldIn([10.9, 0], [10.2, 5], 0.5)]).toEqual([[0, 2.5], [10, 5], [10.2, 0]]);
  });
});

describe("corners in the scenario", () => {
  beforeEach(() => (store.scenario.value = fromNothing("us", new Date("2027-01-01"))));

  it("closed: are written in feet, read back in meters, and changed by no more than what moved", () => {
    const square: Corner[] = [[0, 0], [304.8, 0], [304.8, 152.4]];
    expect(take(square)).toBe(true);
    expect(at(store.scenario.value, CORNERS)).toEqual([["0 ft", "0 ft"], ["1000 ft", "0 ft"], ["1000 ft", "500 ft"]]);
    const found = cornersOf(store.scenario.value)!;
    found.flat().forEach((number, i) => expect(number).toBeCloseTo(square.flat()[i]!, 9));
    const before = at(store.scenario.value, [...CORNERS, 0]);
    expect(take(withMoved(square, 2, [304.8, 155.448]))).toBe(true);
    expect(at(store.scenario.value, [...CORNERS, 2])).toEqual(["1000 ft", "510 ft"]);
    expect(at(store.scenario.value, [...CORNERS, 0])).toBe(before);
  });

  it("closed: what crosses itself is not taken, and what is no length not read", () => {
    expect(take([[0, 0], [9, 9], [9, 0], [0, 9]])).toBe(false);
    expect(cornersOf(store.scenario.value)).toBeNull();
    store.edit([...CORNERS], [["0 ft", "x"], ["9 ft", "0 ft"], ["9 ft", "9 ft"]]);
    expect(cornersOf(store.scenario.value)).toBeNull();
  });

  it("closed: areas are told in both units", () => {
    expect(areaText(40_468.564224)).toBe("10.00 ac (4.05 ha)");
    store.edit(["units"], "si");
    expect(areaText(40_468.564224)).toBe("4.05 ha (10.00 ac)");
  });
});

describe("a boundary's file", () => {
  it("closed: numbers too far for a field are a map's, and what the file says of itself needs no guess", () => {
    const map = '{"coordinates": [[[500321.5, 4805432], [500400, 4805500]]]}';
    expect([guessCoordinates(map, "us"), guessCoordinates(map, "si")]).toEqual(["projected ft", "projected m"]);
    expect(boundaryOf("a.geojson", `{"crs": {}, ${map.slice(1)}`)).toEqual({ file: "a.geojson" });
    store.edit(["units"], "si");
    expect(boundaryOf("a.geojson", map)).toEqual({ file: "a.geojson", coordinates: "projected m" });
  });
});
