// How long a person waits: first picture, redraw after a change of stop, frames while playing.
// No test: it prints what it measured, on whatever machine it runs, and writes it as JSON to the file
// that EVENFALL_MEASURED names, for the table of benches.

import type { Page } from "playwright-core";
import { writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import { drawn, openPage, QUESTIONS, withExplorer } from "./browser/harness";

const own = withExplorer();

interface Marks {
  field?: number;
  map?: number;
  key?: number;
  redrawn?: number;
}

/** Notes the moments at which things first stand on the page. */
function watch(): void {
  const marks: Marks = {};
  (globalThis as unknown as { marks: Marks }).marks = marks;
  new MutationObserver((changes) => {
    const after = (then: (t: number) => void): void => {
      requestAnimationFrame(() => then(performance.now()));
    };
    if (marks.field === undefined && document.querySelector(".field-picture")) after((t) => (marks.field ??= t));
    if (marks.map === undefined && document.querySelector(".map canvas[data-run]")) after((t) => (marks.map ??= t));
    if (marks.key !== undefined && changes.some((c) => c.attributeName === "data-run" && c.target instanceof HTMLCanvasElement)) {
      after((t) => (marks.redrawn ??= t));
    }
  }).observe(document, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-run"] });
  addEventListener("keydown", () => {
    marks.key = performance.now();
    delete marks.redrawn;
  }, true);
}

const marksOf = (page: Page): Promise<Marks> => page.evaluate(() => (globalThis as unknown as { marks: Marks }).marks);
const middle = (values: number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** One row of the table: middle, least and most of what was measured. */
interface Measured {
  what: string;
  unit: string;
  middle: number;
  low: number;
  high: number;
}

const measured: Measured[] = [];
const note = (what: string, unit: string, values: number[]): void => {
  measured.push({ what, unit, middle: middle(values), low: Math.min(...values), high: Math.max(...values) });
};

const ms = (values: number[]): string => `${middle(values).toFixed(0)} ms (${Math.min(...values).toFixed(0)} to ${Math.max(...values).toFixed(0)})`;

it("measures", async () => {
  const lines: string[] = [];
  const [fields, maps]: number[][] = [[], []];
  for (let i = 0; i < 5; i++) {
    const context = await own.browser.newContext();
    await context.addInitScript(watch);
    const { page } = await openPage(context, own.server.url);
    await page.locator(".map canvas[data-run]").first().waitFor();
    const marks = await marksOf(page);
    fields!.push(marks.field!);
    maps!.push(marks.map!);
    await context.close();
  }
  note("page opened: first picture of the field", "ms", fields!);
  note("page opened: first maps of the season (coarse)", "ms", maps!);
  lines.push(`first picture of the field: ${ms(fields!)}`, `first maps of the season: ${ms(maps!)}`);

  const context = await own.browser.newContext();
  await context.addInitScript(watch);
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  await page.locator(".card").nth(2).locator(".chip").nth(2).click();
  await page.getByRole("slider", { name: "Where the lateral stands" }).focus();
  const redraws: number[] = [];
  for (const key of ["ArrowUp", "ArrowDown", "ArrowUp", "ArrowDown", "ArrowUp"]) {
    // From -1 turn to 0 and back: the half turn between is not taken.
    await page.keyboard.press(key);
    await page.keyboard.press(key);
    await page.waitForFunction(() => (globalThis as unknown as { marks: Marks }).marks.redrawn !== undefined);
    const marks = await marksOf(page);
    redraws.push(marks.redrawn! - marks.key!);
    await drawn(page);
  }
  note("a key that changes a stop: maps drawn anew (coarse)", "ms", redraws);
  lines.push(`coarse maps after a change of stop: ${ms(redraws)}`);

  for (const pace of [0, 1, 2]) {
    await page.locator(".pace select").selectOption(String(pace));
    await page.locator(".play").click();
    await page.waitForTimeout(1500);
    const gaps = await page.evaluate(
      () =>
        new Promise<number[]>((resolve) => {
          const found: number[] = [];
          let last = performance.now();
          const go = (now: number): void => {
            found.push(now - last);
            last = now;
            if (found.length < 240) requestAnimationFrame(go);
            else resolve(found.slice(1));
          };
          requestAnimationFrame(go);
        }),
    );
    await page.locator(".play").click();
    const rate = (1000 * gaps.length) / gaps.reduce((a, b) => a + b, 0);
    const pacing = await page.locator(".pace select option").nth(pace).innerText();
    note(`playing ${pacing}: frames a second, by their gaps`, "1/s", gaps.map((gap) => 1000 / gap));
    note(`playing ${pacing}: longest gap between frames`, "ms", [Math.max(...gaps)]);
    lines.push(`playing, pace ${pace}: ${rate.toFixed(0)} frames a second, longest gap ${Math.max(...gaps).toFixed(0)} ms`);
    expect(gaps.length).toBeGreaterThan(100);
  }
  // The last of the ten questions, on starting values: the first answer is wanted within 3 s.
  const answers: number[] = [];
  for (let i = 0; i < 5; i++) {
    const other = await own.browser.newContext();
    const { page: asked } = await openPage(other, `${own.server.url}${QUESTIONS}`);
    await asked.getByRole("button", { name: "All on one screen" }).click();
    await asked.getByLabel("Area under this line", { exact: true }).fill(String(30 + i));
    await asked.waitForTimeout(3000);
    const begun = Date.now();
    await asked.getByRole("button", { name: "Show what it comes to" }).click();
    await asked.locator(".mirror-words").waitFor();
    answers.push(Date.now() - begun);
    await asked.getByRole("button", { name: "Yes, show the answer" }).click();
    await asked.getByRole("button", { name: "Stop refining" }).click();
    await asked.waitForTimeout(1000);
    await other.close();
  }
  note("ten questions answered: first answer", "ms", answers);
  lines.push(`first answer after the last question: ${ms(answers)}`);
  const heap = await page.evaluate(() => (performance as unknown as { memory?: { usedJSHeapSize: number } }).memory?.usedJSHeapSize);
  if (heap) note("script memory after playing", "MB", [heap / 1e6]);
  if (heap) lines.push(`script memory after playing: ${(heap / 1e6).toFixed(0)} MB`);
  if (process.env.EVENFALL_MEASURED) writeFileSync(process.env.EVENFALL_MEASURED, JSON.stringify(measured));
  process.stdout.write(`${lines.join("\n")}\n`);
}, 180_000);
