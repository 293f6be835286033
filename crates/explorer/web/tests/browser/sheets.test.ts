// The irrigator's move sheet after something went otherwise: a log, its sheet, its problems.

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { command, download, drawn, entry, filesOf, folder, openPage, redrawn, unpacked, withExplorer } from "./harness";

const own = withExplorer();

const REPLANNED = /calendar and log for .* replanned/;

/** A small field of one alternative, with its scenario saved and the log of its packed sheet. */
async function smallField(page: Page): Promise<{ scenario: string; log: Record<string, unknown>; start: string }> {
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  await entry(page, "Name of this comparison").fill("Kitchen table");
  await redrawn(page, () => entry(page, "Number of sprinklers").fill("15"));
  const scenario = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const packed = unpacked(await download(page, () => page.getByRole("link", { name: /calendar and log for/ }).click()));
  const log = JSON.parse(packed.get("log.json")!.toString()) as Record<string, unknown>;
  const { season } = JSON.parse(readFileSync(scenario, "utf8")) as { season: { start: string } };
  return { scenario, log, start: season.start.slice(0, 10) };
}

async function open(page: Page, log: unknown): Promise<string> {
  const path = join(folder(), "log.json");
  writeFileSync(path, JSON.stringify(log, null, 2));
  await page.getByLabel("Did something go differently?").setInputFiles(path);
  return path;
}

it("plans the rest anew from a log, to print and packed, as the command does", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  const { scenario, log, start } = await smallField(page);
  const alarm = page.getByLabel("Calendar reminder before each set");
  await alarm.fill("45");
  const path = await open(page, { ...log, now: `${start}T20:00`, events: [{ pass: 1, outlet: 1, what: "missed" }] });
  const [tab] = await Promise.all([page.waitForEvent("popup"), page.getByRole("link", { name: /to print for .* replanned/ }).click()]);
  await tab.getByText("CATCH-UP").first().waitFor();
  // The page's own style is there: headings are far larger than the browser's own.
  expect(await tab.locator("h1").first().evaluate((h) => parseFloat(getComputedStyle(h).fontSize))).toBe(40);
  await tab.close();

  const mine = unpacked(await download(page, () => page.getByRole("button", { name: REPLANNED }).click()));
  const into = join(folder(), "sheet");
  const said = command(["sheet", scenario, "--log", path, "--alarm", "45", "--into", into]);
  const commands = filesOf(into);
  expect([...mine.keys()].sort()).toEqual([...commands.keys()].sort());
  for (const [name, bytes] of commands) expect(mine.get(name)!.equals(bytes), name).toBe(true);
  expect(mine.get("sheet.csv")!.toString()).toContain("missed");
  // What the command warns of stands beside the links.
  const warned = said.split("\n").filter((line) => line.startsWith("Note: "));
  expect(warned.length).toBeGreaterThan(0);
  const beside = await page.locator(".replan [role=status]").innerText();
  for (const line of warned) expect(beside).toContain(line);

  // Minutes that make no sense pack nothing.
  await alarm.fill("soon");
  await page.getByText("Enter a whole number from 0 to 1440.").waitFor();
  expect(await page.locator(".sheets").getByText(/with table, calendar and log/).count()).toBe(0);
  await alarm.fill("20");

  // The sheet goes with the entries it was made from.
  await redrawn(page, () => entry(page, "Number of sprinklers").fill("14"));
  await page.locator(".replan .problem", { hasText: "entries have changed" }).waitFor();
  expect(await page.getByRole("button", { name: REPLANNED }).count()).toBe(0);
  expect(await alarm.inputValue()).toBe("20");
  expect(wrongs).toEqual([]);
  await page.close();
});

it("tells all that is wrong with a log beside it, each with its place", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  const { log, start } = await smallField(page);
  const problems = page.locator(".replan .problem");
  await open(page, { ...log, now: "yesterday", events: [{ what: "lost" }] });
  await expect.poll(() => problems.locator("li").count()).toBe(2);
  const told = await problems.innerText();
  expect(told).toMatch(/log\.json needs correcting/);
  expect(told).toMatch(/line 6, now: .*line 10, event 1: Kind of event is "lost".*allowed: "done"/s);
  await open(page, { ...log, scenario: "Another table" });
  await expect.poll(() => problems.innerText()).toMatch(/line 3, scenario: this log belongs to another scenario, "Another table"/);
  const path = join(folder(), "log.json");
  writeFileSync(path, "nothing");
  await page.getByLabel("Did something go differently?").setInputFiles(path);
  await expect.poll(() => problems.innerText()).toContain("not JSON");
  writeFileSync(path, "x".repeat(3e6));
  await page.getByLabel("Did something go differently?").setInputFiles(path);
  await expect.poll(() => problems.innerText()).toBe("log.json is larger than any log.");
  expect(await page.getByRole("button", { name: REPLANNED }).count()).toBe(0);
  // A log mended is taken, and one that is written as the page shows.
  await page.getByText("How to write the log").click();
  const examples = JSON.parse(`[${await page.getByLabel("Examples of events").innerText()}]`) as { what: string }[];
  expect(examples.map((e) => e.what)).toEqual(["done", "missed", "wrong stop", "breakdown"]);
  const later = new Date(Date.parse(start) + 3 * 86_400_000).toISOString().slice(0, 10);
  await open(page, { ...log, now: `${later}T07:00`, events: examples });
  await page.getByRole("button", { name: REPLANNED }).waitFor();
  expect(await problems.count()).toBe(0);
  // The browser itself notes the refusals.
  expect(wrongs.filter((w) => !/422/.test(w))).toEqual([]);
  await page.close();
});
