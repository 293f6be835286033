import { describe, expect, it } from "vitest";
import { allToSystem, convert, numberOf, short, split, toSystem, typed, unitsLike } from "../../src/model/units";

describe("quantities", () => {
  it("closed: a quantity is taken apart into number and unit", () => {
    expect(split("60 ft")).toEqual({ number: "60", unit: "ft" });
    expect(split("5/32 in")).toEqual({ number: "5/32", unit: "in" });
    expect(split("7 1/2 ft")).toEqual({ number: "7 1/2", unit: "ft" });
    expect(split("20 per ac-ft")).toEqual({ number: "20", unit: "per ac-ft" });
    expect(split(" ft")).toEqual({ number: "", unit: "ft" });
    expect(split("abc ft")).toEqual({ number: "abc ft", unit: "" });
  });

  it("closed: a unit typed with the number is taken, thousands may have commas", () => {
    expect(typed("1,320")).toEqual({ number: "1320", unit: "" });
    expect(typed("1320'")).toEqual({ number: "1320", unit: "ft" });
    expect(typed("11/64 inch")).toEqual({ number: "11/64", unit: "in" });
    expect(typed("12 hours")).toEqual({ number: "12", unit: "h" });
    expect(typed("3.5 m/s")).toEqual({ number: "3.5", unit: "m/s" });
    // What is not understood stays as it was typed, so that the check can say so.
    expect(typed("5,5")).toEqual({ number: "5,5", unit: "" });
    expect(typed("20 cubits")).toEqual({ number: "20 cubits", unit: "" });
    expect(typed("")).toEqual({ number: "", unit: "" });
  });

  it("closed: fractions and signs", () => {
    expect(numberOf("5/32")).toBe(0.15625);
    expect(numberOf("-7 1/2")).toBe(-7.5);
    expect(numberOf("\u221220")).toBe(-20);
    expect(numberOf("")).toBeNaN();
  });

  // NIST SP 811 (2008), Appendix B: exact factors.
  it("published: factors of NIST SP 811", () => {
    expect(convert(1, "ft", "m")).toBeCloseTo(0.3048, 12);
    expect(convert(1, "mi", "km")).toBeCloseTo(1.609344, 12);
    expect(convert(1, "psi", "kPa")).toBeCloseTo(6.894757293168, 9);
    expect(convert(1, "gpm", "L/s")).toBeCloseTo(0.0630901964, 10);
    expect(convert(1, "mph", "m/s")).toBeCloseTo(0.44704, 12);
    expect(convert(212, "F", "C")).toBeCloseTo(100, 10);
    expect(convert(1, "per ac-ft", "per m3")).toBeCloseTo(1 / 1233.48183754752, 12);
    expect(convert(1, "ft", "psi")).toBeNull();
  });

  it("invariant: there and back gives the same text", () => {
    const texts = ["60 ft", "5/32 in", "4.98 gpm", "0.165 in/h", "75 F", "180 per ton", "8 mph", "7 ton/ac", "2 per ac"];
    for (const text of texts) expect(toSystem(toSystem(text, "si"), "us")).toBe(text);
  });

  it("invariant: units that both systems use stay", () => {
    for (const text of ["11.5 h", "25 deg", "50 %", "1 turn", "60 each"]) expect(toSystem(text, "si")).toBe(text);
  });

  it("closed: words of a scenario are no quantities", () => {
    const turned = allToSystem({ title: "60 ft", alternatives: [{ name: "20 ft", rotation: ["0 ft", "20 ft"] }] }, "si");
    expect(turned).toEqual({ title: "60 ft", alternatives: [{ name: "20 ft", rotation: ["0 m", "6.096 m"] }] });
  });

  it("closed: units of the wanted system come first", () => {
    expect(unitsLike("ft", "si")[0]).toBe("m");
    expect(unitsLike("kPa", "us")[0]).toBe("psi");
    expect(unitsLike("furlong", "us")).toEqual([]);
  });

  it("closed: numbers are told as short as they are", () => {
    expect(short(0.1 + 0.2)).toBe("0.3");
    expect(short(65.6167979, 4)).toBe("65.62");
  });
});
