import { describe, expect, it } from "vitest";
import { split, toUnit, typed } from "../../src/model/units";
import { pointOf, written } from "../../src/model/written";

describe("quantities as people write them", () => {
  it("closed: feet and inches are inches, hours and minutes are minutes", () => {
    for (const text of ["4' 8\"", "4'8\"", "4 ft 8 in", "4\u2019 8\u201d", "4\u2032 8\u2033", "4'-8\"", "4 feet 8 inches", "4' 8''"]) {
      expect(split(text), text).toEqual({ number: "56", unit: "in" });
    }
    expect(split("-4' 8\"")).toEqual({ number: "-56", unit: "in" });
    expect(typed("5' 6 1/2\"")).toEqual({ number: "66.5", unit: "in" });
    expect(typed("5' 6½\"")).toEqual({ number: "66.5", unit: "in" });
    expect(typed("11 h 30 min")).toEqual({ number: "690", unit: "min" });
    // Not of two units: the check says so.
    for (const text of ["4 ft 14 in", "4 m 8 in", "4 ft 8 psi"]) expect(typed(text), text).toEqual({ number: text, unit: "" });
    expect(typed("4-8")).toEqual({ number: "4-8", unit: "" });
  });

  it("closed: fractions", () => {
    expect(typed("5/32\"")).toEqual({ number: "5/32", unit: "in" });
    expect(typed("2½ in")).toEqual({ number: "2 1/2", unit: "in" });
    expect(typed("2-1/2 in")).toEqual({ number: "2 1/2", unit: "in" });
    expect(typed("1/4 mile")).toEqual({ number: "1/4", unit: "mi" });
  });

  it("closed: commas between thousands and decimal commas", () => {
    expect(typed("1,320 ft")).toEqual({ number: "1320", unit: "ft" });
    expect(typed("1,320.5 ft")).toEqual({ number: "1320.5", unit: "ft" });
    expect(typed("4,67 m")).toEqual({ number: "4.67", unit: "m" });
    expect(typed("0,500 in")).toEqual({ number: "0.500", unit: "in" });
    expect(typed("1,32,000 m")).toEqual({ number: "1,32,000 m", unit: "" });
    expect(toUnit("1,320 ft", "m")).toBe("402.336 m");
  });

  it("closed: currency signs", () => {
    expect(typed("$180/ton")).toEqual({ number: "180", unit: "per ton" });
    expect(typed("$12 an hour")).toEqual({ number: "12", unit: "per h" });
    expect(typed("180 \u20ac/t")).toEqual({ number: "180", unit: "per t" });
    expect(typed("$3.50/cwt")).toEqual({ number: "3.50", unit: "per cwt" });
    expect(typed("12 \u00a2/kWh")).toEqual({ number: "0.12", unit: "per kWh" });
    expect(typed("-$5")).toEqual({ number: "-5", unit: "" });
    expect(typed("$4.20/bu")).toEqual({ number: "4.20", unit: "per bu" });
  });

  it("closed: points of the compass, where a bearing is asked for", () => {
    expect([pointOf("N"), pointOf("sw"), pointOf("South-Southwest"), pointOf("southish")]).toEqual([0, 225, 202.5, null]);
    expect(typed("nne", true)).toEqual({ number: "22.5", unit: "deg" });
    expect(typed("nne")).toEqual({ number: "nne", unit: "" });
    expect(typed("90 deg", true)).toEqual({ number: "90", unit: "deg" });
  });

  it("invariant: a plain quantity stays as it is", () => {
    for (const text of ["60 ft", "5/32 in", "7 1/2 ft", "20 per ac-ft", "1 per 1000 gal", "20 m3/h", "3 ft of water", "-2 turns", "1e-3 m", "half joint", ""]) {
      expect(written(text)).toBe(text);
    }
  });
});
