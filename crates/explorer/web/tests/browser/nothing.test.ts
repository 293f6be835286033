// From nothing, with what a grower knows: acres, length of the pipe, wheels, nozzle, how often.

import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { download, drawn, entry, openGroup, openPage, redrawn, settled, withExplorer } from "./harness";

const own = withExplorer();

const saved = async (page: Page): Promise<Record<string, any>> =>
  JSON.parse(readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8"));

/** Everything typed in the set-up, as it stands in its fields. */
const typed = (page: Page): Promise<string[]> =>
  page.locator(".setup input:not([type=file]):not([type=radio]):not([type=checkbox]), .setup select").evaluateAll((all) =>
    all.map((one) => `${one.id || one.getAttribute("aria-label")}: ${(one as HTMLInputElement).value}`),
  );

it("sets up a field from acres, pipe, wheel, nozzle and weeks, and says what follows", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  const starting = page.locator(".setup .group .tag", { hasText: /^starting values$/ });
  expect(await starting.count()).toBe(5);
  // The season that lies ahead, whatever the year.
  const today = new Date();
  const year = today.getFullYear() + (today.getMonth() >= 8 ? 1 : 0);
  expect((await saved(page)).season.start).toBe(`${year}-05-10T06:00`);

  const field = await openGroup(page, "Field and lateral");
  expect(await entry(field, "Or its area").inputValue()).toBe("40");
  await entry(field, "Or its area").fill("30");
  // 30 ac of 43 560 square feet on 1320 ft of pipe.
  await expect.poll(() => entry(field, "Field across the pipe").inputValue()).toBe("990");
  await entry(field, "Or the length of the pipe").fill("1,280");
  await expect.poll(() => entry(field, "Number of sprinklers").inputValue()).toBe("32");
  await entry(field, "Or its area").fill("none");
  await field.getByText("Enter a number above 0.").waitFor();
  await entry(field, "Field along the pipe").focus();
  expect(await entry(field, "Or its area").inputValue()).toBe("30");
  // Of this group only some are still nobody's, and each entry says whose it is.
  expect(await field.locator("summary .tag").innerText()).toBe("some starting values");
  const whose = (label: string): Promise<string> => field.locator(".entry", { has: entry(page, label) }).locator(".whose").innerText();
  expect([await whose("Field across the pipe"), await whose("Field along the pipe"), await whose("Number of sprinklers")]).toEqual(["yours", "starting value", "yours"]);

  const wheels = await openGroup(page, "Wheels and outlets");
  await wheels.getByLabel("From the wheel's diameter").check();
  await entry(wheels, "Outside diameter").fill("64");
  // π · 64 in less 2 %: 16.42 ft; outlets from 30 ft on, the last on the edge at 990 ft.
  await expect.poll(() => wheels.locator(".facts").innerText()).toMatch(/One turn rolls it 16\.42 ft\. 17 outlets.*reach −16\.4 ft, 0 ft, 16\.4 ft/);

  const sprinkler = await openGroup(page, "Sprinkler");
  expect(await sprinkler.getByLabel("Nozzle and radius").isChecked()).toBe(true);
  await entry(sprinkler, "Nozzle diameter").fill("11/64");

  const season = await openGroup(page, "Season");
  await entry(season, "Pass interval").fill("7");
  const every = season.locator(".entry", { has: entry(page, "Pass interval") });
  // At two sets a day that is too soon: told in days, beside the entry.
  await expect.poll(() => every.locator(".wrongs").innerText()).toMatch(/every 168 h \(7 days\) overlaps.*204 h \(8\.5 days\)/);
  await redrawn(page, () => entry(season, "Pass interval").fill("14"));
  await expect.poll(() => season.locator(".facts").innerText()).toMatch(
    /A pass is 17 sets and takes 8\.5 days\. Every place gets water every 14 days: \d\.\d\d in on the ground each time, \d\.\d\d in a week\. The last set ends on \d+ \w+ \d{4}\./,
  );
  expect(await starting.count()).toBe(1);
  expect(await page.locator("#wind-group .tag").count()).toBe(1);

  // Crop and prices fit the season that was told.
  const crop = await openGroup(page, "Crop and soil");
  await crop.getByLabel("Calculate yield and money too").check();
  await crop.getByLabel("Days of rain").check();
  await crop.getByRole("button", { name: "Add a day" }).click();
  const written = await saved(page);
  expect([written.crop.planted, written.climate.rain.map((day: { date: string }) => day.date)]).toEqual([`${year}-05-01`, [`${year}-05-24`, `${year}-05-31`]]);
  expect(wrongs.filter((w) => !/422/.test(w))).toEqual([]);
  await page.close();
});

it("starts from nothing in the units that are shown, and turns what it put there", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  await redrawn(page, () => page.getByLabel("SI units").check());
  const field = await openGroup(page, "Field and lateral");
  expect(await entry(field, "Field along the pipe").inputValue()).toBe("402.336");
  const turned = await saved(page);
  expect([turned.units, turned.lateral.sprinkler_spacing, turned.sprinkler.jets[0].nozzle]).toEqual(["si", "12.192 m", "3.96875 mm"]);
  // Begun in these units, it has round numbers in them, and still counts as untouched.
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  const round = await saved(page);
  expect([round.units, round.field.length_along_pipe, round.sprinkler.pressure]).toEqual(["si", "400 m", "350 kPa"]);
  const starting = page.locator(".setup .group .tag", { hasText: /^starting values$/ });
  expect(await starting.count()).toBe(5);
  await redrawn(page, () => page.getByLabel("US units").check());
  expect((await saved(page)).outlets.spacing).toMatch(/^59\.055\d* ft$/);
  expect(await starting.count()).toBe(5);
  await page.close();
});

it("changes units there and back with the same text in every field, over a reload too", async () => {
  const context = await own.browser.newContext();
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  const sprinkler = await openGroup(page, "Sprinkler");
  await sprinkler.getByLabel("Nozzle and radius").check();
  await entry(sprinkler, "Nozzle diameter").fill("11/64");
  await entry(sprinkler, "Radius of throw").fill("44.3");
  const before = [await typed(page), await saved(page)];
  await redrawn(page, () => page.getByLabel("SI units").check());
  expect(await typed(page)).not.toEqual(before[0]);
  await settled(page);
  await page.reload();
  await drawn(page);
  // Groups are closed again, and their entries made when they are opened.
  await openGroup(page, "Sprinkler");
  await redrawn(page, () => page.getByLabel("US units").check());
  expect([await typed(page), await saved(page)]).toEqual(before);
  // One entry's own unit goes there and back as well.
  const again = await openGroup(page, "Sprinkler");
  await again.getByLabel("unit of Nozzle diameter").selectOption("mm");
  expect(await entry(again, "Nozzle diameter").inputValue()).toBe("4.365625");
  await again.getByLabel("unit of Nozzle diameter").selectOption("in");
  expect(await entry(again, "Nozzle diameter").inputValue()).toBe("11/64");
  await context.close();
});
