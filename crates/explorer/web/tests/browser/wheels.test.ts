// Two wheels side by side, undo, and the sections that few scenarios have.

import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { cells, download, drawn, entry, openGroup, openPage, redrawn, summaryOf, withExplorer } from "./harness";

const own = withExplorer();

it("compares the same stops on two wheels, and takes steps back", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "Demo" }).click());
  await page.getByRole("button", { name: "Copy on another wheel Three stops" }).click();
  const twin = page.locator(".card").nth(3);
  expect(await twin.getByRole("textbox", { name: "Name" }).inputValue()).toBe("Three stops, other wheel");
  await twin.getByText("What else differs").click();
  await twin.locator("summary", { hasText: "Wheels" }).click();
  // The diameter takes the place of the measured travel; both at once would be told.
  await entry(twin, "Or their outside diameter").fill("64");
  await twin.locator(".wrongs", { hasText: "travel" }).first().waitFor();
  await redrawn(page, () => entry(twin, "Own wheels: travel a turn").fill(""));
  expect(await twin.locator(".wrongs p").count()).toBe(0);
  // π · 64 in = 16.755 ft; its stops stay a turn on and a turn back.
  expect(await twin.locator(".chip").allInnerTexts()).toEqual(["A 0 ft", "B 16.8 ft", "C −16.8 ft"]);

  const saved = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const written = JSON.parse(readFileSync(saved, "utf8")).alternatives[3];
  expect([written.rotation, written.wheel]).toEqual([["0 ft", "1 turn", "-1 turn"], { outside_diameter: "64 in" }]);
  const last = summaryOf(saved).alternatives.map(({ passes }) => passes[passes.length - 1]!.cumulative.interior);
  const rows = await cells(page.locator(".season-figures .digits").first());
  expect(rows.map((row) => row.slice(3).map((cell) => cell.replace(/\s*%$/, "")))).toEqual(
    last.map(({ cu_percent: cu, du_lq_percent: du }) => [cu.toFixed(1), du.toFixed(1)]),
  );

  // The other ways are compared against whichever stands first.
  await page.getByRole("button", { name: "Compare against this Three stops, other wheel" }).click();
  expect(await page.locator(".card").first().getByRole("textbox", { name: "Name" }).inputValue()).toBe("Three stops, other wheel");
  await page.getByRole("button", { name: "Undo" }).click();
  expect(await page.locator(".card").first().getByRole("textbox", { name: "Name" }).inputValue()).toBe("Fixed");
  await page.waitForTimeout(900);
  await page.getByRole("button", { name: "Remove Two stops" }).click();
  expect(await page.locator(".card").count()).toBe(3);
  await page.locator(".card").first().locator(".chip").first().focus();
  await redrawn(page, () => page.keyboard.press("Control+z"));
  expect(await page.locator(".card").count()).toBe(4);
  expect(wrongs).toEqual([]);
  await page.close();
}, 120_000);

it("has places for oil, cold, records and a crop of one's own, and the command reads what they write", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "Demo" }).click());
  const care = await openGroup(page, "The machine’s care");
  await entry(care, "Outside diameter of the pipe").fill("5");
  await care.getByLabel("It has a hydraulic drive").uncheck();
  await care.getByLabel("It has a hydraulic drive").check();
  // The demo has timed moves already.
  while ((await care.getByRole("button", { name: /Remove move/ }).count()) > 0) {
    await care.getByRole("button", { name: /Remove move/ }).first().click();
  }
  await care.getByRole("button", { name: "Add a move" }).click();
  await care.getByRole("button", { name: "Add a move" }).click();
  const crop = await openGroup(page, "Crop and soil");
  await crop.getByText("Values of its own").click();
  await crop.getByLabel("Depth of its roots").check();
  await crop.getByLabel("None").check();
  await crop.getByLabel("Days of rain").check();
  const prices = await openGroup(page, "Prices");
  await entry(prices, "Name of the currency").fill("EUR");
  await entry(prices, "Or as many as make").fill("2");
  await page.waitForTimeout(800);
  expect(await page.locator(".wrongs p").count()).toBe(0);
  const saved = JSON.parse(readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8"));
  expect(saved.care.timed_moves.length).toBe(2);
  expect([saved.crop.roots.full, saved.worth.currency, saved.worth.precision]).toEqual(["3 ft", "EUR", "2 per ac"]);
  // Left and taken again, a form of the climate holds what it held.
  const before = saved.climate.et0;
  await crop.getByLabel("Worked out from the weather").check();
  await crop.locator(".wrongs p").first().waitFor();
  await crop.getByLabel(typeof before === "string" ? "The same all season" : "Month by month").check();
  await page.waitForTimeout(500);
  const again = JSON.parse(readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8"));
  expect(again.climate.et0).toEqual(before);
  await page.close();
}, 120_000);
