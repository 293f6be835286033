// Two wheels side by side, undo, and the sections that few scenarios have.

import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { cells, checked, download, drawn, entry, openGroup, openPage, redrawn, settled, summaryOf, withExplorer } from "./harness";

const own = withExplorer();

interface Written {
  name: string;
  rotation: unknown[];
  [section: string]: unknown;
}

const save = (page: Page): Promise<string> => download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());

const alternativesIn = (file: string): Written[] => JSON.parse(readFileSync(file, "utf8")).alternatives as Written[];

/** That the page's last digits are the command's for the file. */
async function expectTheCommandsDigits(page: Page, file: string): Promise<void> {
  const last = summaryOf(file).alternatives.map(({ passes }) => passes[passes.length - 1]!.cumulative.interior);
  const rows = await cells(page.locator(".season-figures .digits").first());
  expect(rows.map((row) => row.slice(3).map((cell) => cell.replace(/\s*%$/, "")))).toEqual(
    last.map(({ cu_percent: cu, du_lq_percent: du }) => [cu.toFixed(1), du.toFixed(1)]),
  );
}

const names = (page: Page): Promise<string[]> => page.locator(".card").evaluateAll((all) => all.map((card) => card.getAttribute("aria-label") ?? ""));

it("compares the same stops on two wheels: one click and the trade's name", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, async () => {
    await page.getByRole("button", { name: "Same stops on another wheel Three stops" }).click();
    // The cursor stands in the size.
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe("entry-alternatives-3-wheel-size");
    await page.locator("#entry-alternatives-3-wheel-size").selectOption("5-foot");
  });
  const [three, twin] = [page.locator(".card").nth(2), page.locator(".card").nth(3)];
  expect(await names(page)).toEqual(["Fixed", "Two stops", "Three stops", "Three stops, other wheel"]);
  // 15 ft a turn by its name; its stops stay a turn on and a turn back.
  await expect.poll(() => twin.locator(".chip").allInnerTexts()).toEqual(["A 0 ft", "B 15 ft", "C −15 ft"]);
  expect(await three.locator(".chip").allInnerTexts()).toEqual(["A 0 ft", "B 20 ft", "C −20 ft"]);
  await twin.getByText("Rolls 15 ft per turn").click();
  expect(await twin.locator(".facts").innerText()).toMatch(/turns from outlet to outlet\s*4\s[\s\S]*0\.00 ft/);
  const [a, b] = [(await three.boundingBox())!, (await twin.boundingBox())!];
  await page.setViewportSize({ width: 1440, height: 900 });
  expect([(await twin.boundingBox())!.y, a.width], "side by side").toEqual([(await three.boundingBox())!.y, b.width]);

  const saved = await save(page);
  const written = alternativesIn(saved)[3]!;
  expect([written.rotation, written.wheel]).toEqual([["0 ft", "1 turn", "-1 turn"], { size: "5-foot" }]);
  await expectTheCommandsDigits(page, saved);

  // Back to the common wheel, and undone.
  await redrawn(page, () => twin.getByRole("button", { name: /^Wheels: back to common: 7-foot, 20 ft a turn/ }).click());
  expect(alternativesIn(await save(page))[3]!.wheel).toBeUndefined();
  await redrawn(page, () => page.getByRole("button", { name: "Undo" }).click());
  expect(alternativesIn(await save(page))[3]!.wheel).toEqual({ size: "5-foot" });
  expect(wrongs).toEqual([]);
  await page.close();
});

it("tells which stops another wheel allows, in the close-up too, and takes the nearest", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  const two = page.locator(".card").nth(1);
  await two.locator(".chip").nth(1).click();
  await two.getByText("Other inputs").click();
  await two.getByRole("button", { name: "Change wheel" }).click();
  await two.getByLabel("Travel measured in the field").check();
  const travel = entry(two, "Travel per turn");
  expect(await travel.inputValue()).toBe("20");
  await travel.fill("15");
  const wrong = two.locator("#rotation-wrong-1");
  await expect.poll(() => wrong.innerText()).toMatch(/not a whole turn.*possible: -15 ft .*0 ft .*15 ft/);
  expect(await two.locator(".chip.wrong").count()).toBe(1);
  expect(await page.locator(".stop-says").innerText()).toMatch(/1 turn forward, 15 ft beyond the outlet. Yes/);
  // The other alternatives stay drawn, and the field says that this one cannot stand so.
  expect(await page.locator(".card").nth(2).locator(".sketch-line").count()).toBeGreaterThan(6);
  expect(await page.locator(".field-picture figcaption").innerText()).toMatch(/Two stops cannot stand at the stops you entered/);

  await redrawn(page, () => wrong.getByRole("button", { name: "Use the nearest possible stop" }).click());
  await expect.poll(() => two.locator(".chip").allInnerTexts()).toEqual(["A 0 ft", "B 15 ft"]);
  expect(alternativesIn(await save(page))[1]!.rotation).toEqual(["0 ft", "1 turn"]);

  // Bad entries of its own are told beside them, and undoing goes through all of it.
  for (const bad of ["wide", "0.2", ""]) {
    await travel.fill(bad);
    const told = two.locator(".entry", { has: page.locator("[id=entry-alternatives-1-wheel-travel_per_turn]") }).locator(".wrongs");
    await expect.poll(() => told.innerText(), { message: bad }).not.toBe("");
    expect([await travel.getAttribute("aria-invalid"), await travel.inputValue()]).toEqual(["true", bad]);
  }
  await redrawn(page, () => two.getByRole("button", { name: /^Wheels: back to/ }).click());
  expect(await page.locator(".wrongs p").count()).toBe(0);
  await page.close();
});

it("gives an alternative outlets, pipe, edges and clock of its own, drawn and calculated as the command does", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  const three = page.locator(".card").nth(2);
  const shared = three.getByText("Other inputs");
  await shared.click();
  expect(await three.locator(".shared").first().innerText()).toMatch(/Wheels: 7-foot, 20 ft a turn/);
  for (const [change, label, value] of [
    ["pass interval", "Own pass interval", "20"],
    ["outlet spacing", "Own outlet spacing", "40"],
    ["number of sprinklers", "Own number of sprinklers", "22"],
    ["sprinkler spacing", "Own sprinkler spacing", "60"],
  ] as const) {
    await three.getByRole("button", { name: `Change ${change}`, exact: true }).click();
    await entry(three, label).fill(value);
  }
  await redrawn(page, () => three.getByRole("button", { name: "Change at the edges" }).click());
  await three.locator(".chip").nth(1).click();
  // 33 outlets 40 ft apart from 20 ft on, and one set more before the first of pass 2.
  expect(await page.locator(".field-picture svg .outlet").count()).toBe(33);
  expect(await page.locator(".field-picture svg > circle.sprinkler").count()).toBe(22);
  expect(await page.locator(".field-picture .stop-line.extra.chosen").count()).toBe(1);
  expect(await page.locator(".field-picture figcaption").innerText()).toMatch(/At outlet 1 it runs an extra set/);
  await page.locator(".card").nth(1).locator(".chip").nth(1).click();
  expect(await page.locator(".field-picture svg .outlet").count()).toBe(22);
  const saved = await save(page);
  const third = alternativesIn(saved)[2]!;
  expect([third.outlets, third.lateral, third.season, third.edges]).toEqual([
    { spacing: "40 ft" },
    { sprinklers: 22, sprinkler_spacing: "60 ft" },
    { pass_interval: "20 days" },
    "extra set",
  ]);
  await expectTheCommandsDigits(page, saved);
  expect(wrongs).toEqual([]);
  await page.close();
});

it("orders alternatives and stops, makes cycles longer, and takes every step back, in the address too", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await page.getByRole("button", { name: "Make it the baseline Three stops" }).click();
  expect(await names(page)).toEqual(["Three stops", "Fixed", "Two stops"]);
  await page.getByRole("button", { name: "Move Fixed to the right" }).click();
  expect(await names(page)).toEqual(["Three stops", "Two stops", "Fixed"]);
  const first = page.locator(".card").first();
  await first.locator(".chip").nth(1).click();
  await first.getByRole("button", { name: "Start with this stop" }).click();
  await expect.poll(() => first.locator(".chip").allInnerTexts()).toEqual(["A 20 ft", "B −20 ft", "C 0 ft"]);
  await first.getByRole("button", { name: "Repeat the cycle" }).click();
  await expect.poll(() => first.locator(".chip").count()).toBe(6);
  await first.getByText("12 passes: 2 times through the cycle of 6.").waitFor();
  await page.getByRole("button", { name: "Remove Two stops" }).click();
  expect(await names(page)).toEqual(["Three stops", "Fixed"]);

  await first.locator(".chip").first().focus();
  await page.keyboard.press("Control+z");
  expect(await names(page)).toEqual(["Three stops", "Two stops", "Fixed"]);
  await page.keyboard.press("Control+Shift+z");
  expect(await names(page)).toEqual(["Three stops", "Fixed"]);
  const undo = page.getByRole("button", { name: "Undo" });
  expect(await undo.innerText()).toMatch(/Two stops/);
  for (let i = 0; i < 5; i++) await undo.click();
  expect(await names(page)).toEqual(["Fixed", "Two stops", "Three stops"]);
  // A reload shows what was gone back to.
  await settled(page);
  await page.reload();
  await drawn(page);
  expect(await names(page)).toEqual(["Fixed", "Two stops", "Three stops"]);
  expect(alternativesIn(await save(page))[2]!.rotation).toEqual(["0 ft", "20 ft", "-20 ft"]);
  await page.close();
});

it("has places for oil, cold, records and a crop of one's own, and the command reads what they write", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  const maintenance = await openGroup(page, "Maintenance");
  await entry(maintenance, "Outside diameter of the pipe").fill("5");
  await maintenance.getByLabel("It has a hydraulic drive").uncheck();
  await maintenance.getByLabel("It has a hydraulic drive").check();
  // The demo has timed moves already.
  while ((await maintenance.getByRole("button", { name: /Remove move/ }).count()) > 0) {
    await maintenance.getByRole("button", { name: /Remove move/ }).first().click();
  }
  await maintenance.getByRole("button", { name: "Add a move" }).click();
  await maintenance.getByRole("button", { name: "Add a move" }).click();
  const crop = await openGroup(page, "Crop and soil");
  await crop.getByText("Your own values, in place of the table’s").click();
  await crop.getByLabel("Your own root depth").check();
  await crop.getByLabel("None").check();
  await crop.getByLabel("Days of rain").check();
  const prices = await openGroup(page, "Prices");
  await entry(prices, "Currency").fill("EUR");
  await entry(prices, "Target precision").fill("2");
  await checked(page);
  expect(await page.locator(".wrongs p").count()).toBe(0);
  const saved = JSON.parse(readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8"));
  expect(saved.maintenance.timed_moves.length).toBe(2);
  expect([saved.crop.roots.full, saved.worth.currency, saved.worth.target_precision]).toEqual(["3 ft", "EUR", "2 per ac"]);
  // Left and taken again, a form of the climate holds what it held.
  const before = saved.climate.et0;
  await crop.getByLabel("Calculated from the weather").check();
  await crop.locator(".wrongs p").first().waitFor();
  await crop.getByLabel(typeof before === "string" ? "The same all season" : "Month by month").check();
  await checked(page);
  const again = JSON.parse(readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8"));
  expect(again.climate.et0).toEqual(before);
  await page.close();
});

it("keeps the names under which money was calculated, and digits that were typed before their unit", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await entry(page, "Seasons of weather").fill("2");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.locator(".verdicts li").first().waitFor();
  await page.locator(".verdicts li").first().getByText("Why").click();
  await page.getByText("Extra cost counted").first().waitFor();
  await page.getByRole("radio", { name: /^Yield/ }).check();
  await page.locator(".map canvas[data-run]").nth(2).waitFor();
  const maps = (): Promise<string[]> =>
    page.locator(".map").evaluateAll((all) => all.map((map) => `${map.querySelector("b")!.textContent} ${map.querySelector("canvas")!.toDataURL()}`));
  const before = await maps();
  await redrawn(page, () => page.getByRole("button", { name: "Make it the baseline Three stops" }).click());
  expect(await maps()).toEqual(before);
  await page.getByText("from before your last change").waitFor();
  expect(await page.locator(".bars figcaption").first().innerText()).toContain("compared with Fixed");

  const prices = await openGroup(page, "Prices");
  const crop = prices.locator("fieldset", { hasText: "Price of the crop" });
  await crop.getByRole("textbox", { name: "Value" }).fill("9");
  await crop.getByLabel("unit of Value").selectOption("per cwt");
  expect(await crop.getByRole("textbox", { name: "Value" }).inputValue()).toBe("9");
  // What was not typed but stood there stays the same amount.
  await openGroup(page, "Wheels and outlets");
  await page.getByLabel("unit of Outlet spacing").selectOption("m");
  expect(await entry(page, "Outlet spacing").inputValue()).toBe("18.288");

  // Units there and back give the scenario to the letter; what is no quantity can be mended in its box.
  const saved = async (): Promise<string> => readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8");
  const text = await saved();
  await redrawn(page, () => page.getByLabel("SI units").check());
  await redrawn(page, () => page.getByLabel("US units").check());
  expect(await saved()).toBe(text);
  await entry(page, "Sprinkler spacing").fill("39' 16\"");
  await page.locator(".problems").waitFor();
  await settled(page);
  await page.reload();
  await page.locator(".problems").waitFor();
  await redrawn(page, () => entry(page, "Sprinkler spacing").fill("40"));
  expect(await page.locator(".problems").count()).toBe(0);
  // The browser itself notes that the wrong entry was refused.
  expect(wrongs.filter((w) => !/422/.test(w))).toEqual([]);
  await page.close();
});
