// The move sheet on paper: one page for each pass, and nothing over the edge of Letter or A4.

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import type { Browser } from "playwright-core";
import { command, folder, launch } from "./harness";

let browser: Browser;

beforeAll(async () => {
  browser = await launch();
});

type Demo = Record<string, object>;

const PASSES = 12;

/** Width between the margins of the paper, CSS pixels (96 to the inch): paper less 9 mm on either side. */
const PAPERS: [string, number][] = [
  ["Letter", Math.floor((8.5 - 18 / 25.4) * 96)],
  ["A4", Math.floor(((210 - 18) / 25.4) * 96)],
];

/** The demo with a few keys laid over it, and its sheet. */
function sheetOf(change: (demo: Demo) => void, more: string[]): string {
  const at = folder();
  const demo = JSON.parse(command(["demo"])) as Demo;
  change(demo);
  const scenario = join(at, "scenario.json");
  writeFileSync(scenario, JSON.stringify(demo));
  command(["sheet", scenario, "--alternative", "Two stops", "--into", join(at, "sheet"), ...more]);
  return join(at, "sheet", "sheet.html");
}

const pagesOf = (pdf: Buffer): number => pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;

const CASES: [string, (demo: Demo) => void, string[]][] = [
  ["in English by the clock of a zone", (demo) => Object.assign(demo.field!, { time_zone: "Mountain" }), []],
  ["in Spanish with whom to call", (demo) => Object.assign(demo, { sheet: { contact: ["Pump house: 555-0100", "Ana: 555-0101"] } }), ["--language", "es"]],
  ["in metric units", (demo) => Object.assign(demo, { units: "si" }), []],
];

it.each(CASES)("fits on paper, a page for each pass, %s", async (_, change, more) => {
  const path = sheetOf(change, more);
  const page = await browser.newPage();
  await page.goto(`file://${path}`);
  await page.emulateMedia({ media: "print" });
  const sections = await page.locator("section.page").count();
  expect(await page.locator("section.pass").count()).toBe(PASSES);
  for (const [format, width] of PAPERS) {
    const pdf = await page.pdf({ format, path: path.replace(/html$/, `${format}.pdf`) });
    // Passes, season calendar and all the rest: a section is a page, so a pass is one.
    expect(pagesOf(pdf), format).toBe(sections);
    await page.setViewportSize({ width, height: 1000 });
    const over = await page.evaluate(() => {
      const edge = document.documentElement.clientWidth;
      const all = [...document.querySelectorAll("body *")].filter((one) => !one.closest("svg svg, g"));
      const wide = all.filter((one) => one.getBoundingClientRect().right > edge + 0.5 || one.getBoundingClientRect().left < -0.5);
      const cut = [...document.querySelectorAll("td, th")].filter((cell) => cell.scrollWidth > cell.clientWidth + 1);
      return [...wide, ...cut].map((one) => `${one.tagName}.${one.className} ${one.textContent?.trim().slice(0, 40)}`);
    });
    expect(over, format).toEqual([]);
  }
  expect(readFileSync(path, "utf8")).not.toContain("<script");
  await page.close();
});
