// Bad entries, runs that replace each other, a server that goes away, reloads and second tabs.

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { drawn, entry, folder, makeOwner, openPage, redrawn, serve, settled, withExplorer } from "./harness";

const own = withExplorer();

const wrongAt = (page: Page, label: string): Promise<string> =>
  page.locator(".entry", { has: entry(page, label) }).locator(".wrongs").innerText();

it("tells beside the entry what is wrong with it, and lets the rest stand", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  for (const [label, bad, good] of [
    ["Sprinkler spacing", "wide", "40"],
    ["Sprinkler spacing", "4000", "40"],
    ["Number of sprinklers", "2.5", "33"],
    ["Number of sprinklers", "-1", "33"],
    ["Field across the pipe", "", "1320"],
  ] as const) {
    const typed = entry(page, label);
    await typed.fill(bad);
    await expect.poll(() => wrongAt(page, label), { message: `${label} = ${bad}` }).not.toBe("");
    expect(await typed.getAttribute("aria-invalid")).toBe("true");
    expect(await typed.inputValue()).toBe(bad);
    await page.locator(".problems").waitFor();
    await typed.fill(good);
    await expect.poll(() => wrongAt(page, label)).toBe("");
  }
  await drawn(page);
  expect(wrongs.filter((w) => !/422/.test(w))).toEqual([]);
  await page.close();
});

it("leads from the list of problems to the entry", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await entry(page, "Sprinkler spacing").fill("wide");
  await page.locator(".problems button").first().click();
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("entry-lateral-sprinkler_spacing");
  // Of a section as a whole, to its group, which says it before its entries.
  await page.getByRole("button", { name: "Demo" }).click();
  await drawn(page);
  const path = join(folder(), "no-soil.json");
  writeFileSync(path, JSON.stringify({ ...JSON.parse(readFileSync(join(import.meta.dirname, "../../../../../data/demo/scenario.json"), "utf8")), soil: undefined }));
  await page.locator("#scenario-file").setInputFiles(path);
  await page.locator(".problems button", { hasText: "worth" }).first().click();
  const prices = page.locator("#price-group");
  expect(await prices.getAttribute("open")).not.toBeNull();
  // Its entries are made as it opens; the cursor goes there when they are.
  await expect.poll(() => page.evaluate(() => document.activeElement?.closest("details")?.id)).toBe("price-group");
  await prices.locator(".wrongs", { hasText: "`soil` is missing" }).waitFor();
  await page.close();
});

it("refuses files that are no scenario, and keeps what was there", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  const path = join(folder(), "notes.json");
  writeFileSync(path, "not json {");
  await page.locator("#scenario-file").setInputFiles(path);
  await expect.poll(() => page.locator(".notices [role=status]").innerText()).toMatch(/no scenario file/);
  expect(await entry(page, "Name of this comparison").inputValue()).not.toBe("");
  await page.close();
});

it("a second run cancels the first, and a run can be canceled", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await page.getByRole("button", { name: "Demo" }).click();
  await drawn(page);
  const runs: string[] = [];
  page.on("response", async (r) => {
    if (r.url().endsWith("/api/runs") && r.status() === 201 && r.request().postData()?.includes('"worth"')) runs.push(((await r.json()) as { run: string }).run);
  });
  await entry(page, "Seasons of weather").fill("5000");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.getByRole("button", { name: "Run again" }).waitFor();
  await entry(page, "Seasons of weather").fill("3");
  await page.getByRole("button", { name: "Run again" }).click();
  await page.locator(".verdicts li").first().waitFor();
  expect(runs.length).toBe(2);
  const first = await page.request.get(`${own.server.url}api/runs/${runs[0]}`);
  expect(first.status() === 404 || ((await first.json()) as { state: string }).state === "canceled").toBe(true);

  await entry(page, "Seasons of weather").fill("5000");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.getByRole("button", { name: "Cancel" }).click();
  await expect.poll(() => page.getByRole("button", { name: "Cancel" }).count()).toBe(0);
  await page.close();
});

it("says that the program stopped, keeps the entries, and goes on when it is started again", async () => {
  const stopped = await serve();
  const { page } = await openPage(own.browser, stopped.url);
  await drawn(page);
  await entry(page, "Name of this comparison").fill("Kept through a stop");
  await entry(page, "Seasons of weather").fill("5000");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.getByRole("button", { name: "Cancel" }).waitFor();
  await stopped.stop();
  await page.locator(".gone").waitFor();
  expect(await page.locator(".gone").innerText()).toMatch(/does not answer.*Nothing you entered is lost/s);
  await entry(page, "Number of sprinklers").fill("31");

  const again = await serve(stopped.port);
  // It knows this browser again once its new address is opened in it, in whatever tab.
  await expect.poll(() => page.locator(".gone").innerText()).toMatch(/was started again.*Open the address/s);
  await makeOwner(page.context(), again);
  await expect.poll(() => page.locator(".gone").count()).toBe(0);
  await drawn(page);
  expect(await entry(page, "Name of this comparison").inputValue()).toBe("Kept through a stop");
  expect(await entry(page, "Number of sprinklers").inputValue()).toBe("31");
  await entry(page, "Seasons of weather").fill("2");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.locator(".verdicts li").first().waitFor();
  await page.close();
  await again.stop();
});

it("draws its season anew when other tabs have pushed it out of the program's memory", async () => {
  const { page } = await openPage(own.browser, own.server.url);
  await drawn(page);
  const before = await page.locator(".freshness").getAttribute("data-run");
  expect((await page.request.delete(`${own.server.url}api/runs/${before}`)).status()).toBe(204);
  await page.locator(".map-ground").first().focus();
  await page.keyboard.press("ArrowUp");
  await page.waitForFunction((run) => document.querySelector<HTMLElement>(".freshness")?.dataset.run !== run, before);
  await drawn(page);
  await page.keyboard.press("ArrowUp");
  await page.locator(".place-depths").waitFor();
  await page.close();
});

it("a reload and a second tab lose nothing", async () => {
  const context = await own.browser.newContext();
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  await redrawn(page, () => entry(page, "Number of sprinklers").fill("30"));
  await page.getByLabel("Deviation").check();
  await page.locator(".card").nth(1).locator(".chip").nth(1).click();
  await page.getByLabel("Next pass").click();
  await page.getByLabel("Previous pass").click();
  const hour = await page.getByLabel("Time in the season").inputValue();
  await settled(page);
  const address = page.url();

  const check = async (tab: Page): Promise<void> => {
    await drawn(tab);
    expect(await entry(tab, "Number of sprinklers").inputValue()).toBe("30");
    expect(await tab.getByLabel("Deviation").isChecked()).toBe(true);
    expect(await tab.locator(".card").nth(1).locator(".chip").nth(1).getAttribute("aria-pressed")).toBe("true");
    expect(await tab.getByLabel("Time in the season").inputValue()).toBe(hour);
  };
  await page.reload();
  await check(page);
  const { page: second } = await openPage(context, address);
  await check(second);

  // Two tabs do not disturb each other.
  await redrawn(second, () => entry(second, "Number of sprinklers").fill("28"));
  expect(await entry(page, "Number of sprinklers").inputValue()).toBe("30");
  // A bare address takes up what was worked on last.
  const { page: third } = await openPage(context, own.server.url);
  await drawn(third);
  expect(await entry(third, "Number of sprinklers").inputValue()).toBe("28");
  await context.close();
});
