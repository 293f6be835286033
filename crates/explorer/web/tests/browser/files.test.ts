// Files that a scenario names: opened, drawn, kept over a reload and in a second tab, counted.

import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { cells, download, drawn, folder, openGroup, openPage, redrawn, summaryOf, withExplorer } from "./harness";

const own = withExplorer();
const data = (name: string): string => join(import.meta.dirname, "../../../../../data", name);

/** CU and DUlq of each way at the season's end, as the page prints them. */
async function digits(page: Page): Promise<string[][]> {
  const rows = await cells(page.locator(".season-figures .digits").first());
  return rows.map((row) => row.slice(3).map((cell) => cell.replace(/\s*%$/, "")));
}

function commandsDigits(scenario: string): string[][] {
  return summaryOf(scenario).alternatives.map(({ passes }) => {
    const { cu_percent: cu, du_lq_percent: du } = passes[passes.length - 1]!.cumulative.interior;
    return [cu.toFixed(1), du.toFixed(1)];
  });
}

/** Share of a map's pixels that have the colour for no value. */
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
  await page.waitForTimeout(600);
  const address = page.url();
  await page.reload();
  await drawn(page);
  expect(await digits(page)).toEqual(expected);
  const { page: second, wrongs: seconds } = await openPage(context, address);
  await drawn(second);
  expect(await digits(second)).toEqual(expected);
  await redrawn(second, () => second.getByRole("button", { name: "Take the whole rectangle again" }).click());
  expect(await second.locator(".field-picture path.ground").count()).toBe(0);
  // A bare address takes up the last scenario, here without a boundary; another browser has to ask.
  const { page: stranger } = await openPage(await own.browser.newContext(), address);
  await stranger.getByText("Open boundary.geojson").waitFor();
  await redrawn(stranger, () => stranger.getByLabel("Open boundary.geojson").setInputFiles(chosen[1]!));
  expect(await digits(stranger)).toEqual(expected);
  expect([...wrongs, ...seconds]).toEqual([]);
  await stranger.context().close();
  await context.close();
}, 120_000);

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
  await page.waitForTimeout(600);
  await page.reload();
  await drawn(page);
  expect(await digits(page)).toEqual(commandsDigits(file));
  const saved = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  expect(JSON.parse(readFileSync(saved, "utf8"))).toEqual(scenario);
  await page.locator(".notice", { hasText: `Keep ${scenario.wind.record.file} beside the saved file` }).waitFor();

  const wind = await openGroup(page, "Wind and air");
  const bad = join(folder(), "bad.csv");
  writeFileSync(bad, "no weather at all\n");
  await wind.getByLabel("Weather file").setInputFiles(bad);
  await wind.locator(".wrongs p").first().waitFor();
  await context.close();
}, 120_000);
