// A field that is no rectangle: drawn on its picture by pointer, keys and touch, or opened as a shapefile;
// and the reference, which says what every entry means.

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { download, folder, openGroup, openPage, withExplorer } from "./harness";

const own = withExplorer();

/** Where a place of the field lies on the screen, by the ground of its picture. */
async function placeOf(page: Page, along: number, across: number): Promise<{ x: number; y: number }> {
  const box = (await page.locator(".corner-ground").boundingBox())!;
  return { x: box.x + along * box.width, y: box.y + (1 - across) * box.height };
}

const cornerNames = (page: Page): Promise<string[]> =>
  page.locator(".corner").evaluateAll((all) => all.map((one) => one.getAttribute("aria-label") ?? ""));

const corner = async (page: Page, index: number): Promise<string | undefined> => (await cornerNames(page))[index];

/** The picture as it looks, kept where somebody wants to look at it. */
async function keep(page: Page, name: string): Promise<void> {
  const into = process.env.EVENFALL_PICTURES;
  if (into) await page.screenshot({ path: join(into, `${name}.png`) });
}

it("draws a boundary by pointer and by keys, tells its area, and takes each step back", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await page.locator(".field-picture").waitFor();
  await openGroup(page, "Field and lateral");
  await page.getByRole("button", { name: "Draw it on the picture" }).click();
  const tools = page.locator(".corner-tools");
  await expect.poll(() => cornerNames(page)).toEqual([
    "Corner 1 of 4: 0 ft along, 0 ft across", "Corner 2 of 4: 1320 ft along, 0 ft across",
    "Corner 3 of 4: 1320 ft along, 1320 ft across", "Corner 4 of 4: 0 ft along, 1320 ft across",
  ]);
  await tools.getByText("40.00 ac (16.19 ha)").waitFor();
  // A click inside makes a corner in the nearest side, here the right one.
  const inside = await placeOf(page, 1190 / 1320, 0.5);
  await page.mouse.click(inside.x, inside.y);
  await expect.poll(() => corner(page, 2)).toBe("Corner 3 of 5: 1190 ft along, 660 ft across");
  // The upper right corner is drawn halfway in.
  const [from, to] = [await placeOf(page, 1, 1), await placeOf(page, 0.5, 1)];
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move((from.x + to.x) / 2, to.y, { steps: 4 });
  await page.mouse.move(to.x, to.y, { steps: 4 });
  await keep(page, "drawing");
  await page.mouse.up();
  await expect.poll(() => corner(page, 3)).toBe("Corner 4 of 5: 660 ft along, 1320 ft across");
  // Below 660 ft the mean width is (1320 + 1190) / 2, above it (1190 + 660) / 2: 1 438 800 ft².
  await tools.getByText("33.03 ac").waitFor();
  await page.locator("#boundary-area").getByText("33.0").waitFor();
  // By keys: ten feet a stroke, one with Shift; then beyond the edge, which holds it.
  await page.locator(".corner").nth(2).focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Shift+ArrowUp");
  await expect.poll(() => corner(page, 2)).toBe("Corner 3 of 5: 1200 ft along, 661 ft across");
  await page.locator(".corner").nth(1).focus();
  await page.keyboard.press("ArrowRight");
  await tools.getByText("Held at the rectangle’s edge").waitFor();
  await page.locator(".corner").nth(2).focus();
  await page.keyboard.press("Delete");
  await expect.poll(() => cornerNames(page)).toHaveLength(4);
  await page.getByRole("button", { name: /^Undo/ }).click();
  await expect.poll(() => corner(page, 2)).toBe("Corner 3 of 5: 1200 ft along, 661 ft across");
  const saved = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const scenario = JSON.parse(readFileSync(saved, "utf8"));
  expect(scenario.field.boundary.corners).toEqual([["0 ft", "0 ft"], ["1320 ft", "0 ft"], ["1200 ft", "661 ft"], ["660 ft", "1320 ft"], ["0 ft", "1320 ft"]]);
  await page.getByRole("button", { name: "Done" }).click();
  expect(await page.locator(".corner").count()).toBe(0);
  expect(wrongs).toEqual([]);
  await page.close();
});

it("keeps the last sound boundary while the drawn one crosses itself", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await page.locator(".field-picture").waitFor();
  await openGroup(page, "Field and lateral");
  await page.getByRole("button", { name: "Draw it on the picture" }).click();
  const [from, to] = [await placeOf(page, 1, 1), await placeOf(page, 0.3, -0.2)];
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 5 });
  const beyond = await placeOf(page, 0.3, 0);
  await page.mouse.move(beyond.x, beyond.y);
  await page.mouse.up();
  await page.getByText("The boundary crosses itself here").waitFor();
  await keep(page, "crossed");
  expect(await page.locator("#boundary-area").count()).toBe(0);
  expect(wrongs).toEqual([]);
  await page.close();
});

it("is drawn with a finger on a phone", async () => {
  const context = await own.browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 });
  const { page, wrongs } = await openPage(context, own.server.url, { width: 390, height: 844 });
  await page.locator(".field-picture").waitFor();
  await openGroup(page, "Field and lateral");
  const draw = page.getByRole("button", { name: "Draw it on the picture" });
  await draw.scrollIntoViewIfNeeded();
  await draw.tap();
  await page.locator(".corner-ground").scrollIntoViewIfNeeded();
  const inside = await placeOf(page, 0.93, 0.4);
  await page.touchscreen.tap(inside.x, inside.y);
  await expect.poll(() => cornerNames(page)).toHaveLength(5);
  await keep(page, "drawing-phone");
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
  expect(wide).toBe(false);
  const target = (await page.locator(".corner-reach").first().boundingBox())!;
  expect(Math.min(target.width, target.height)).toBeGreaterThanOrEqual(24);
  expect(wrongs).toEqual([]);
  await context.close();
});

/** A `.shp` of one ring, invented. */
function shapefile(ring: [number, number][]): Buffer {
  const content = Buffer.alloc(48 + 16 * ring.length);
  content.writeInt32LE(5, 0);
  content.writeInt32LE(1, 36);
  content.writeInt32LE(ring.length, 40);
  ring.flat().forEach((number, i) => content.writeDoubleLE(number, 48 + 8 * i));
  const head = Buffer.alloc(108);
  head.writeInt32BE(9994, 0);
  head.writeInt32BE((108 + content.length) / 2, 24);
  head.writeInt32LE(1000, 28);
  head.writeInt32LE(5, 32);
  head.writeInt32BE(1, 100);
  head.writeInt32BE(content.length / 2, 104);
  return Buffer.concat([head, content]);
}

it("opens a shapefile with its .prj, and turns it into corners", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await page.locator(".field-picture").waitFor();
  const beside = folder();
  const [shp, prj, dbf] = ["shp", "prj", "dbf"].map((ending) => join(beside, `west.${ending}`)) as [string, string, string];
  // Feet east and north of an invented map; turned to the direction of travel, as large as before.
  const [x, y] = [2_400_000, 750_000];
  writeFileSync(shp, shapefile([[x, y], [x, y + 700], [x + 700, y + 700], [x, y]]));
  writeFileSync(prj, 'PROJCS["Invented_Plane_Feet",GEOGCS["x"],PROJECTION["Transverse_Mercator"],UNIT["Foot_US",0.3048006096012192]]');
  writeFileSync(dbf, Buffer.from([3, 200, 255]));
  await page.locator("#scenario-file").setInputFiles([shp, prj, dbf]);
  const field = await openGroup(page, "Field and lateral");
  // 700 · 700 / 2 ft².
  await field.locator("#boundary-area").getByText("5.6").waitFor();
  await page.getByText("Invented_Plane_Feet").first().waitFor({ state: "attached" });
  await field.getByRole("button", { name: "Turn it into corners you can move" }).click();
  await expect.poll(() => cornerNames(page)).toHaveLength(3);
  await keep(page, "shapefile-corners");
  expect(wrongs).toEqual([]);
  await page.close();
});

it("says what every entry means, and finds it by a word", async () => {
  for (const [name, size] of [["reference", { width: 1280, height: 900 }], ["reference-phone", { width: 390, height: 844 }]] as const) {
    const { page, wrongs } = await openPage(own.browser, `${own.server.url}reference`, size);
    await keep(page, name);
    await page.getByLabel("Find").fill("reach hose");
    await page.getByText(/^\d+ found$/).waitFor();
    expect(await page.locator(".row:visible code", { hasText: /^reach$/ }).count()).toBeGreaterThan(0);
    expect(await page.locator(".row:visible", { hasText: "weibull" }).count()).toBe(0);
    expect(await page.locator(".row:visible", { hasText: "Wheel size" }).count()).toBe(0);
    await keep(page, `${name}-found`);
    await page.getByLabel("Find").fill("xylophone");
    await page.getByText("Nothing here says that").waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth)).toBe(false);
    expect(wrongs).toEqual([]);
    await page.close();
  }
  const { page } = await openPage(own.browser, own.server.url);
  const link = page.getByRole("link", { name: "What every entry means" });
  expect(await link.getAttribute("href")).toBe("reference");
  await page.close();
});
