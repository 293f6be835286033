// Files that a scenario names: opened, drawn, kept over a reload and in a second tab, counted.

import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { cells, download, drawn, entry, folder, makeOwner, openGroup, openPage, redrawn, serve, settled, summaryOf, unpacked, withExplorer } from "./harness";

const own = withExplorer();
const data = (name: string): string => join(import.meta.dirname, "../../../../../data", name);

/** CU and DUlq of each alternative at the season's end, as the page prints them. */
async function digits(page: Page): Promise<string[][]> {
  const rows = await cells(page.locator(".season-figures .digits").first());
  return rows.map((row) => row.slice(3).map((cell) => cell.replace(/\s*%$/, "")));
}

/** What the command says of a file, which it is asked once. */
const told = new Map<string, string[][]>();

function commandsDigits(scenario: string): string[][] {
  const known = told.get(scenario);
  if (known) return known;
  const digits = summaryOf(scenario).alternatives.map(({ passes }) => {
    const { cu_percent: cu, du_lq_percent: du } = passes[passes.length - 1]!.cumulative.interior;
    return [cu.toFixed(1), du.toFixed(1)];
  });
  told.set(scenario, digits);
  return digits;
}

/** Share of a map's pixels that have the color for no value. */
const blanks = (page: Page): Promise<number> =>
  page.locator(".map canvas").first().evaluate((canvas: HTMLCanvasElement) => {
    const { data: rgba } = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height);
    let found = 0;
    for (let i = 0; i < rgba.length; i += 4) if (rgba[i] === rgba[i + 1] && rgba[i] === rgba[i + 2]) found += 1;
    return (4 * found) / rgba.length;
  });

it("opens a scenario with its boundary, draws both, and loses neither over a reload or in a second tab", async () => {
  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  const chosen = ["scenario.json", "boundary.geojson"].map((name) => data(`hand-move/${name}`));
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles(chosen));
  const expected = commandsDigits(chosen[0]!);
  expect(await digits(page)).toEqual(expected);
  // The hole and the cut corner have no depth, the rest has.
  const share = await blanks(page);
  expect(share).toBeGreaterThan(0.02);
  expect(share).toBeLessThan(0.2);
  expect(await page.locator(".field-picture path.ground").getAttribute("d")).toMatch(/^M.*ZM.*Z$/);
  await settled(page);
  const address = page.url();
  await page.reload();
  await drawn(page);
  expect(await digits(page)).toEqual(expected);
  const { page: second, wrongs: seconds } = await openPage(context, address);
  await drawn(second);
  expect(await digits(second)).toEqual(expected);
  await redrawn(second, () => second.getByRole("button", { name: "Use the whole rectangle" }).click());
  expect(await second.locator(".field-picture path.ground").count()).toBe(0);
  // A bare address takes up the last scenario, here without a boundary; another browser has to ask.
  const { page: stranger } = await openPage(await own.browser.newContext(), address);
  await stranger.getByText("Open boundary.geojson").waitFor();
  await redrawn(stranger, () => stranger.getByLabel("Open boundary.geojson").setInputFiles(chosen[1]!));
  expect(await digits(stranger)).toEqual(expected);
  expect([...wrongs, ...seconds]).toEqual([]);
  await stranger.context().close();
  await context.close();
});

it("runs on a weather record that was opened here, and tells what is wrong with one", async () => {
  const context = await own.browser.newContext();
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  const scenario = JSON.parse(readFileSync(data("greensboro/scenario.json"), "utf8"));
  scenario.season = { ...scenario.season, passes: 4 };
  const beside = folder();
  const [file, record] = [join(beside, "short.json"), join(beside, scenario.wind.record.file)];
  writeFileSync(file, JSON.stringify(scenario));
  copyFileSync(data(`greensboro/${scenario.wind.record.file}`), record);
  // The scenario alone asks for its record, beside the entry that names it.
  await page.locator("#scenario-file").setInputFiles(file);
  await page.getByText(`Open ${scenario.wind.record.file}`).waitFor();
  await redrawn(page, () => page.getByLabel(`Open ${scenario.wind.record.file}`).setInputFiles(record));
  expect(await digits(page)).toEqual(commandsDigits(file));
  await settled(page);
  await page.reload();
  await drawn(page);
  expect(await digits(page)).toEqual(commandsDigits(file));
  // One download has everything needed.
  const saved = unpacked(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()));
  await page.locator(".notice", { hasText: "Saved with its files" }).waitFor();
  const parts = [...saved.keys()].filter((name) => name !== scenario.wind.record.file);
  expect(JSON.parse(saved.get(parts[0]!)!.toString("utf8"))).toEqual(scenario);
  expect(saved.get(scenario.wind.record.file)!.equals(readFileSync(record))).toBe(true);

  const wind = await openGroup(page, "Wind and air");
  const bad = join(folder(), "bad.csv");
  writeFileSync(bad, "no weather at all\n");
  await wind.getByLabel("Weather file").setInputFiles(bad);
  await wind.locator(".wrongs p").first().waitFor();
  await context.close();
});

/** A month of the same wind every hour, from one side. */
function record(speed_m_s: number): string {
  const hours = Array.from({ length: 31 * 24 }, (_, h) => {
    const two = (n: number): string => String(n).padStart(2, "0");
    return `2027-05-${two(1 + Math.floor(h / 24))}T${two(h % 24)}:00,${speed_m_s},200`;
  });
  return `time,wind_speed_m_s,wind_from_deg\n${hours.join("\n")}\n`;
}

/** A scenario that names `wind.csv`, with that file beside it. */
function windy(title: string, speed_m_s: number): { scenario: string; wind: string } {
  const beside = folder();
  const demo = JSON.parse(readFileSync(data("demo/scenario.json"), "utf8"));
  for (const key of ["crop", "soil", "climate", "worth", "maintenance"]) delete demo[key];
  demo.title = title;
  demo.season.passes = 1;
  demo.field.cell = "10 ft";
  demo.wind = { record: { file: "wind.csv", layout: "csv", height: "10 m" } };
  const [scenario, wind] = [join(beside, `${title}.json`), join(beside, "wind.csv")];
  writeFileSync(scenario, JSON.stringify(demo));
  writeFileSync(wind, record(speed_m_s));
  return { scenario, wind };
}

it("does not take one scenario's file for another's of the same name, and offers the kept one", async () => {
  const context = await own.browser.newContext();
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  const [mild, rough] = [windy("mild", 1), windy("rough", 6)];
  const pick = page.locator("#scenario-file");
  await redrawn(page, () => pick.setInputFiles([mild.scenario, mild.wind]));
  expect(await digits(page)).toEqual(commandsDigits(mild.scenario));
  // The other scenario alone: it asks for its own file.
  await pick.setInputFiles(rough.scenario);
  await page.getByText("Open wind.csv").waitFor();
  await redrawn(page, () => page.getByLabel("Open wind.csv").setInputFiles(rough.wind));
  expect(await digits(page)).toEqual(commandsDigits(rough.scenario));
  expect(await digits(page)).not.toEqual(commandsDigits(mild.scenario));
  // Back to the first: what this browser keeps under that name is offered, the latest first.
  await pick.setInputFiles(mild.scenario);
  const offers = page.getByRole("button", { name: /^Use the one from/ });
  await expect.poll(() => offers.count()).toBe(2);
  await redrawn(page, () => offers.nth(1).click());
  expect(await digits(page)).toEqual(commandsDigits(mild.scenario));
  await settled(page);
  await page.reload();
  await drawn(page);
  expect(await digits(page)).toEqual(commandsDigits(mild.scenario));
  // Forgotten, a reload asks again.
  await page.getByText("Files kept in this browser").click();
  await page.getByRole("button", { name: "Forget them all" }).click();
  await page.getByText("Forgotten.").waitFor();
  await page.reload();
  await page.getByText("Open wind.csv").waitFor();
  await context.close();
});

it("packs a scenario with its files, and opens the pack by dropping it", async () => {
  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  const { scenario, wind } = windy("packed", 4);
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles([scenario, wind]));
  const packed = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  expect(packed).toMatch(/packed\.zip$/);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());

  const bytes = readFileSync(packed).toString("base64");
  const drop = await page.evaluateHandle((base64) => {
    const data = new DataTransfer();
    data.items.add(new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], "packed.zip"));
    return data;
  }, bytes);
  await page.dispatchEvent("body", "dragover", { dataTransfer: drop });
  await page.getByText("Drop to open").waitFor();
  await redrawn(page, () => page.dispatchEvent("body", "drop", { dataTransfer: drop }));
  expect(await page.locator(".dropping").count()).toBe(0);
  expect(await entry(page, "Name of this comparison").inputValue()).toBe("packed");
  expect(await digits(page)).toEqual(commandsDigits(scenario));
  expect(wrongs).toEqual([]);
  await context.close();
});

it("holds on to files of the command line when the program is started again without them", async () => {
  const context = await own.browser.newContext();
  const { scenario } = windy("given", 3);
  const given = await serve(0, scenario);
  const { page } = await openPage(context, given.url);
  await drawn(page);
  const expected = commandsDigits(scenario);
  expect(await digits(page)).toEqual(expected);
  await settled(page);
  await given.stop();
  const bare = await serve(given.port);
  await makeOwner(context, bare);
  await page.reload();
  await drawn(page);
  expect(await entry(page, "Name of this comparison").inputValue()).toBe("given");
  expect(await digits(page)).toEqual(expected);
  await context.close();
  await bare.stop();
});

it("works in a browser that keeps nothing, and says so", async () => {
  const context = await own.browser.newContext();
  await context.addInitScript(() => {
    Object.defineProperty(window, "indexedDB", { get: () => undefined });
    const refuse = (): never => {
      throw new DOMException("no", "SecurityError");
    };
    Storage.prototype.setItem = refuse;
    Storage.prototype.getItem = refuse;
  });
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  const { scenario, wind } = windy("private", 2);
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles([scenario, wind]));
  expect(await digits(page)).toEqual(commandsDigits(scenario));
  const group = await openGroup(page, "Wind and air");
  expect(await group.locator(".standing").innerText()).toMatch(/at hand, but this browser keeps no files/);
  await settled(page);
  // The scenario is in the address; only its file is asked for.
  await page.reload();
  await page.getByText("Open wind.csv").waitFor();
  expect(await entry(page, "Name of this comparison").inputValue()).toBe("private");
  // A scenario without its file is refused, which the browser notes.
  expect(wrongs.filter((w) => !/422/.test(w))).toEqual([]);
  await context.close();
});

it("takes a boundary that is dropped alone, shows it over the maps and says what lies beyond it", async () => {
  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  const edge = join(folder(), "edge.geojson");
  writeFileSync(edge, JSON.stringify({ type: "Polygon", coordinates: [[[0, 0], [1320, 0], [1320, 660], [660, 1320], [0, 1320], [0, 0]]] }));
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles(edge));
  const field = await openGroup(page, "Field and lateral");
  expect(await field.getByLabel("Coordinates").inputValue()).toBe("ft");
  const map = page.locator(".map-ground").first();
  expect(await map.locator("path.edge").count()).toBe(1);
  expect(await page.locator(".legend-beyond").innerText()).toMatch(/off the field: not in the figures/);
  // The upper right corner has no color at all, the lower left one has.
  const alpha = (x: number, y: number): Promise<number> =>
    page.locator(".map canvas").first().evaluate((canvas: HTMLCanvasElement, [u, v]) => {
      const [column, row] = [Math.floor(u! * canvas.width), Math.floor(v! * canvas.height)];
      return canvas.getContext("2d")!.getImageData(column, row, 1, 1).data[3]!;
    }, [x, y]);
  expect([await alpha(0.95, 0.05), await alpha(0.1, 0.9)]).toEqual([0, 255]);
  await page.getByLabel("Previous pass").click();
  await page.locator(".scrub, [aria-label='Time in the season']").first().focus();
  await page.keyboard.press("Home");
  await expect.poll(async () => [await alpha(0.95, 0.05), await alpha(0.1, 0.9)]).toEqual([0, 255]);
  const box = (await map.boundingBox())!;
  await map.scrollIntoViewIfNeeded();
  await map.hover({ position: { x: box.width * 0.95, y: box.height * 0.05 } });
  await expect.poll(() => page.locator(".place-panel").innerText()).toMatch(/off the field: not in the figures/);
  await map.hover({ position: { x: box.width * 0.1, y: box.height * 0.9 } });
  await expect.poll(() => page.locator(".place-panel").innerText()).not.toMatch(/off the field: not in the figures/);
  expect(wrongs).toEqual([]);
  await context.close();
});
