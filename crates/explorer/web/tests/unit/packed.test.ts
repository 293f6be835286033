// Files as they are opened and taken away.

import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { base, fileName, meant, MOST_BYTES, pack, read, sizeText, Unfit } from "../../src/model/packed";
import { fromNothing, type Scenario } from "../../src/model/scenario";
import { guessCoordinates } from "../../src/setup/boundary";
import { guessLayout } from "../../src/setup/named_file";

const file = (name: string, parts: BlobPart[]): File => new File(parts, name);
const windy = (name: string): Scenario => ({ ...fromNothing(), wind: { record: { file: name, layout: "csv" } } });

describe("what is opened", () => {
  it("invariant: a packed scenario comes back with its files, letter by letter", async () => {
    const record = "time,wind_speed_m_s\n2027-05-01T00:00,3.0 \u00b0\r\n";
    const packed = pack(windy("wind.csv"), { "wind.csv": record, "other.csv": "not named" });
    const opened = await read(file("field.zip", [packed]));
    expect(opened.map(({ name }) => name).sort()).toEqual(["my-field.json", "wind.csv"]);
    expect(meant("wind.csv", opened)!.body).toBe(record);
    expect(JSON.parse(meant("my-field.json", opened)!.body)).toEqual(windy("wind.csv"));
    expect(pack(windy("wind.csv"), { "wind.csv": record })).toEqual(packed);
  });

  it("closed: in a pack every file lies beside the scenario, which names it so", () => {
    const scenario: Scenario = { ...windy("../data/wind.csv"), field: { boundary: { file: "C:\\maps\\wind.csv", coordinates: "m" } } };
    const parts = unzipSync(pack(scenario, { "../data/wind.csv": "a", "C:\\maps\\wind.csv": "b" }));
    const told = JSON.parse(strFromU8(parts["my-field.json"]!)) as Scenario;
    const names = filesIn(told);
    expect(Object.keys(parts).sort()).toEqual(["my-field.json", ...names].sort());
    expect(names.every((name) => !/[\\/]|\.\./.test(name))).toBe(true);
    expect(new Set(names.map((name) => strFromU8(parts[name]!)))).toEqual(new Set(["a", "b"]));
  });

  it("closed: a mark at the start stays, what is no text or too large is refused by name", async () => {
    expect((await read(file("a.csv", ["\ufeffx"])))[0]!.body).toBe("\ufeffx");
    await expect(read(file("old.csv", [new Uint8Array([0x31, 0xb0, 0x0a])]))).rejects.toThrow("old.csv is not UTF-8 text");
    await expect(read(file("years.csv", [new Uint8Array(MOST_BYTES + 1)]))).rejects.toThrow("years.csv has 7.5 MB");
  });

  it("closed: a pack that is damaged, swollen or too full is refused", async () => {
    await expect(read(file("a.zip", ["PK\u0003\u0004nonsense"]))).rejects.toThrow(Unfit);
    const swollen = zipSync({ "a.csv": new Uint8Array(MOST_BYTES + 1) });
    await expect(read(file("a.zip", [swollen as BlobPart]))).rejects.toThrow("a.csv has");
    const many = Object.fromEntries(Array.from({ length: 41 }, (_, k) => [`${k}.csv`, strToU8("x")]));
    await expect(read(file("a.zip", [zipSync(many) as BlobPart]))).rejects.toThrow("more than 40");
  });

  it("closed: names, sizes, layouts", () => {
    expect([base("a/b.csv"), base("C:\\x\\b.csv"), base("b.csv")]).toEqual(["b.csv", "b.csv", "b.csv"]);
    expect([fileName({ title: "Höhe 7, west!" }), fileName({})]).toEqual(["h-he-7-west", "field"]);
    expect([sizeText(12), sizeText(1_716_576)]).toEqual(["1 kB", "1.7 MB"]);
    expect(guessLayout('723170,"X",NC,-5.0,36.1,-79.9,273\r\nDate (MM/DD/YYYY),Time (HH:MM)\r\n')).toBe("tmy3");
    expect(guessLayout("LOCATION,Invented Flat,XX,YYY,test,999999,40.1,-104.2,-7.0,1500.0\n")).toBe("epw");
    expect(guessLayout("time,wind_speed_m_s\n2027-01-01T00:00,2\n")).toBe("csv");
    expect(guessCoordinates('{"coordinates": [[[0, 0], [660, 0]]]}', "us")).toBe("ft");
  });
});

function filesIn(value: unknown): string[] {
  if (value === null || typeof value !== "object") return [];
  return Object.entries(value).flatMap(([key, inner]) => (key === "file" ? [inner as string] : filesIn(inner)));
}
