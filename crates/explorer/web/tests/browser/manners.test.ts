// Accessibility by an automatic tool, keyboard, narrow and wide windows.

import { join } from "node:path";
import { expect, it } from "vitest";
import { findings } from "./axe";
import { drawn, entry, frames, openAll, openPage, redrawn, withExplorer } from "./harness";

const own = withExplorer();

it("has no findings of the accessibility tool, at rest, with all groups open, with wrong entries", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  expect(await findings(page)).toEqual([]);
  await openAll(page);
  expect(await findings(page)).toEqual([]);
  // An alternative with all it can have of its own, on a wheel on which its stops cannot be had.
  const two = page.locator(".card").nth(1);
  for (const change of await two.getByRole("button", { name: /^Change/ }).all().then((all) => all.map(() => two.getByRole("button", { name: /^Change/ }).first()))) {
    // Without waiting for the page to stand still: each opens more below it.
    if ((await change.count()) > 0) await change.dispatchEvent("click");
  }
  await entry(two, "Travel per turn").fill("15");
  await two.getByRole("button", { name: "Use the nearest possible stop" }).waitFor();
  expect(await findings(page)).toEqual([]);
  await entry(page, "Sprinkler spacing").fill("many");
  await page.locator(".problems").waitFor();
  await page.locator(".map-ground").first().focus();
  await page.keyboard.press("ArrowUp");
  await page.locator(".place-depths").waitFor();
  expect(await findings(page)).toEqual([]);
  await page.close();
});

it("has no findings on a phone and after an answer", async () => {
  const { page } = await openPage(own.browser, own.server.url, { width: 375, height: 720 });
  await drawn(page);
  await entry(page, "Seasons of weather").fill("2");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.locator(".verdicts li").first().waitFor();
  await page.locator(".search > summary").click();
  await page.locator("#search-seasons").fill("2");
  await page.getByRole("button", { name: "Search", exact: true }).click();
  await page.locator(".found .lead").waitFor();
  expect(await findings(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(375);
  await page.close();
});

it("has no findings on a phone with files missing, at hand and kept, nor from nothing, and does not scroll sideways", async () => {
  const context = await own.browser.newContext();
  const { page } = await openPage(context, own.server.url, { width: 360, height: 740 });
  await drawn(page);
  const widest = (): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);
  const data = join(import.meta.dirname, "../../../../../data/hand-move");
  await page.locator("#scenario-file").setInputFiles(join(data, "scenario.json"));
  await page.getByText("Open boundary.geojson").waitFor();
  expect(await findings(page)).toEqual([]);
  await redrawn(page, () => page.getByLabel("Open boundary.geojson").setInputFiles(join(data, "boundary.geojson")));
  for (const from of ["boundary", "nothing"]) {
    if (from === "nothing") {
      // What is seldom needed is folded away on a phone.
      await page.getByRole("button", { name: "Files and units" }).click();
      await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
    }
    await openAll(page);
    expect(await findings(page), from).toEqual([]);
    expect(await widest(), from).toBeLessThanOrEqual(360);
  }
  await context.close();
});

it("fits narrow and wide windows without scrolling sideways, with targets of 24 px", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  for (const [width, height] of [[320, 640], [375, 720], [768, 1024], [1280, 720], [1920, 1080], [2560, 1440]] as const) {
    await page.setViewportSize({ width, height });
    await frames(page);
    const across = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(across, `${width} px wide`).toBeLessThanOrEqual(width);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("button, select, input, summary, nav a")]
        .filter((e) => e.checkVisibility({ visibilityProperty: true }) && !e.classList.contains("unseen"))
        .map((e) => ({ e, box: (e.closest("label.choice") ?? e).getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && (box.width < 24 || box.height < 24))
        .map(({ e, box }) => `${e.outerHTML.slice(0, 80)} ${box.width}x${box.height}`),
    );
    expect(small, `${width} px wide`).toEqual([]);
  }
  await page.close();
});

it("is worked by keyboard: skip link, play, scrub, a place of the field", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await page.keyboard.press("Tab");
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Skip to the field");
  await page.keyboard.press("Enter");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("field-title");

  const play = page.locator(".play");
  await play.focus();
  await page.keyboard.press("Enter");
  await expect.poll(() => play.innerText()).toBe("Pause");
  const time = page.getByLabel("Time in the season");
  const first = Number(await time.inputValue());
  await expect.poll(async () => Number(await time.inputValue())).toBeGreaterThan(first + 3);
  await page.keyboard.press("Enter");
  await expect.poll(() => play.innerText()).toBe("Play");

  await time.focus();
  await page.keyboard.press("Home");
  const told = await time.getAttribute("aria-valuetext");
  expect(told).toMatch(/pass 1 of 12, stop A, set 1 of 22/);
  for (let i = 0; i < 14; i++) await page.keyboard.press("ArrowRight");
  expect(await time.getAttribute("aria-valuetext")).toMatch(/set 2 of 22/);
  expect(await page.locator(".wind").innerText()).toMatch(/ from |no water/);

  const map = page.locator(".map-ground").first();
  await map.focus();
  await page.keyboard.press("ArrowRight");
  await page.locator(".place-depths").waitFor();
  const here = await page.locator(".place-panel [role=status]").innerText();
  await page.keyboard.press("ArrowUp");
  await expect.poll(() => page.locator(".place-panel [role=status]").innerText()).not.toBe(here);
  expect(await page.locator(".place-depths li").count()).toBe(3);
  // The same ground under each alternative, in the maps' colors, and not the same water.
  await page.locator(".piece canvas").nth(2).waitFor();
  const pieces = await page.locator(".piece canvas").evaluateAll((all) => all.map((c) => (c as HTMLCanvasElement).toDataURL()));
  expect(new Set(pieces).size).toBe(3);
  await page.close();
});

it("rests for who wants little motion", async () => {
  const context = await own.browser.newContext({ reducedMotion: "reduce" });
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  const time = page.getByLabel("Time in the season");
  await page.locator(".play").click();
  // It goes from pass to pass and shows nothing in between, however slow the machine is.
  const shown = await time.evaluate(async (range: HTMLInputElement) => {
    const values = new Set<string>();
    for (let frame = 0; frame < 60; frame += 1) {
      await new Promise(requestAnimationFrame);
      values.add(range.value);
    }
    return values.size;
  });
  // In sixty frames, even of half a second each, there is time for some twenty passes; one that moves
  // on its way would show another hour in every frame.
  expect(shown).toBeLessThan(30);
  await expect.poll(() => time.getAttribute("aria-valuetext")).toMatch(/pass \d+ of 12, stop A, finished/);
  await context.close();
});

it("colors the maps: wetter places differ from drier ones, and the maps of two alternatives differ", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await expect.poll(() => page.locator(".map canvas").first().getAttribute("data-run")).not.toBeNull();
  const sums = await page.locator(".map canvas").evaluateAll((all) =>
    all.map((canvas) => {
      const { width, height } = canvas as HTMLCanvasElement;
      const pixels = (canvas as HTMLCanvasElement).getContext("2d")!.getImageData(0, 0, width, height).data;
      const seen = new Set<number>();
      let sum = 0;
      for (let i = 0; i < pixels.length; i += 4) {
        seen.add((pixels[i]! << 16) | (pixels[i + 1]! << 8) | pixels[i + 2]!);
        sum = (sum * 31 + pixels[i]!) % 1_000_000_007;
      }
      return { colors: seen.size, sum };
    }),
  );
  for (const { colors } of sums) expect(colors).toBeGreaterThan(20);
  expect(new Set(sums.map((s) => s.sum)).size).toBe(sums.length);
  await redrawn(page, () => page.locator(".chip").nth(2).click().then(() => page.getByRole("button", { name: "↓ Back" }).click()).then(() => page.getByRole("button", { name: "↓ Back" }).click()));
  await page.close();
});
