import { describe, expect, it } from "vitest";
import { readFileSync } from "node:fs";
import { allToSystem, convert, leaveSystem, numberOf, rememberUnits, short, split, toSystem, toUnit, typed, unitFor, unitsBefore, unitsLike } from "../../src/model/units";

/** The scenario reader's own table: kind, spellings and where they stand. */
function readersUnits(): { kind: string; names: string[] }[] {
  const source = readFileSync(new URL("../../../../scenario/src/quantity/units.rs", import.meta.url), "utf8");
  const table = source.slice(source.indexOf("const UNITS"), source.indexOf("/// The unit spelt"));
  const rows = [...table.matchAll(/unit\((\w+), &\[(.*?)\],|dimension: (\w+), names: &\[(.*?)\],/g)];
  return rows.map(([, kind, names, other, others]) => ({
    kind: (kind ?? other)!,
    names: JSON.parse(`[${names ?? others}]`) as string[],
  }));
}

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
    expect(typed("$9.50")).toEqual({ number: "9.50", unit: "" });
    expect(typed("\u20ac 1,200 per ha")).toEqual({ number: "1200", unit: "per ha" });
    expect(typed("5,5")).toEqual({ number: "5.5", unit: "" });
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

  it("invariant: every spelling that the scenario reader takes is known, and all of one unit are one", () => {
    const rows = readersUnits().filter(({ kind }) => kind !== "Area");
    expect(rows.length).toBeGreaterThan(45);
    for (const { kind, names } of rows) {
      const [first] = names as [string];
      for (const name of names) expect(convert(3, name, first), `${kind}: ${name}`).toBeCloseTo(3, 9);
      const others = rows.filter((row) => row.kind !== kind).flatMap((row) => row.names);
      for (const other of others) expect(convert(1, first, other), `${first} is no ${other}`).toBeNull();
    }
  });

  it("invariant: there and back by an entry's own unit gives the same text", () => {
    const trips = [["5/32 in", "mm"], ["7 1/2 ft", "m"], ["60 feet", "m"], ["20 per acre", "per ha"], ["75 °F", "C"], ["0.1 in/h", "mm/h"], ["1 1/3 yd", "m"]] as const;
    for (const [text, to] of trips) {
      const there = toUnit(text, to);
      expect(split(there).unit).toBe(to);
      const home = split(text).unit;
      const back = { feet: "ft", "per acre": "per ac", "°F": "F" }[home] ?? home;
      expect(toUnit(there, back)).toBe(text);
    }
    expect(toUnit("abc ft", "m")).toBe("abc ft");
    expect(toUnit("3 ft", "psi")).toBe("3 ft");
  });

  it("invariant: what was before survives a reload", () => {
    const there = toSystem("11/64 in", "si");
    const saved = JSON.parse(JSON.stringify(unitsBefore())) as [string, string][];
    let told = 0;
    rememberUnits(saved, () => (told += 1));
    expect(toSystem(there, "us")).toBe("11/64 in");
    toSystem("123.456 ft", "si");
    expect(told).toBe(1);
  });

  it("invariant: a scenario in mixed units comes back as it was, and a new value in its place is turned", () => {
    const mixed = { field: { length: "1320 ft" }, wind: { height: "10 m", mean: "3.5 m/s", list: ["8 mph", "2 m/s"] } };
    const there = leaveSystem(mixed, "si");
    expect(there).toEqual({ field: { length: "402.336 m" }, wind: { height: "10 m", mean: "3.5 m/s", list: ["3.57632 m/s", "2 m/s"] } });
    expect(leaveSystem(there, "us")).toEqual(mixed);
    expect(leaveSystem({ field: { length: "10 m" }, wind: { height: "12 m" } }, "us")).toEqual({ field: { length: "32.8083989501 ft" }, wind: { height: "39.3700787402 ft" } });
    // Fresh values for an entry are told in the system at hand and leave no trace.
    allToSystem({ wind: { mean: "9 mph" } }, "us");
    expect(leaveSystem({ wind: { mean: "9 mph" } }, "si")).toEqual({ wind: { mean: "4.02336 m/s" } });
  });

  it("closed: a length in yards comes back in yards, whatever the other system's usual unit", () => {
    expect(toSystem(toSystem("5 yd", "si"), "us")).toBe("5 yd");
    expect(unitFor("feet", "si")).toBe("m");
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
