// Farms that stay: kept, found again at another port, changed in two tabs, put away; addresses that were
// cut; the page for somebody else.

import type axe from "axe-core";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { withTool } from "./axe";
import { download, drawn, entry, folder, openPage, redrawn, serve, settled, withExplorer } from "./harness";

const own = withExplorer();
const data = (name: string): string => join(import.meta.dirname, "../../../../../data", name);
const title = (page: Page): Promise<string> => entry(page, "Name of this comparison").inputValue();
const standing = (page: Page): Promise<string> => page.locator(".farm-standing").innerText();
const button = (page: Page, name: string): ReturnType<Page["locator"]> => page.getByRole("button", { name, exact: true });

async function keepAs(page: Page, name: string): Promise<void> {
  await button(page, "Keep").click();
  const sheet = page.getByRole("dialog", { name: "Farms" });
  await sheet.getByRole("textbox", { name: "Keep it as a farm, called" }).fill(name);
  await sheet.getByRole("button", { name: "Keep", exact: true }).click();
  await sheet.waitFor({ state: "hidden" });
}

it("keeps a farm with its files, and finds it again at another port in another browser", async () => {
  const farms = folder();
  const before = await serve(0, undefined, farms);
  const { page, wrongs } = await openPage(await own.browser.newContext(), before.url);
  await drawn(page);
  expect(await standing(page)).toMatch(/not kept: in this browser only/);
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles(["scenario.json", "boundary.geojson"].map((name) => data(`hand-move/${name}`))));
  const name = await title(page);
  await keepAs(page, "Höhe 7 / west");
  expect(await standing(page)).toMatch(/^Höhe 7 \/ west kept \d/);
  expect(JSON.parse(readFileSync(join(farms, "h-he-7-west/scenario.json"), "utf8"))).toEqual(JSON.parse(readFileSync(data("hand-move/scenario.json"), "utf8")));
  expect(readFileSync(join(farms, "h-he-7-west/boundary.geojson"))).toEqual(readFileSync(data("hand-move/boundary.geojson")));
  await entry(page, "Name of this comparison").fill("Another name");
  expect(await standing(page)).toMatch(/changes not kept yet/);
  await page.keyboard.press("Control+s");
  await expect.poll(() => standing(page)).toMatch(/kept \d/);
  // A reload still knows which farm it is, and that all of it is kept.
  await settled(page);
  await page.reload();
  await drawn(page);
  expect(await standing(page)).toMatch(/^Höhe 7 \/ west kept \d/);
  expect(wrongs).toEqual([]);
  // A page that is left open would go on asking for a program that is not there.
  await page.context().close();
  await before.stop();

  const after = await serve(0, undefined, farms);
  expect(after.port).not.toBe(before.port);
  const { page: later, wrongs: laters } = await openPage(await own.browser.newContext(), after.url);
  await drawn(later);
  expect(await title(later)).toBe("Another name");
  expect(await standing(later)).toMatch(/^Höhe 7 \/ west kept \d/);
  expect(await later.locator(".field-picture path.ground").count()).toBe(1);
  // The first version is there to go back to.
  await button(later, "Farms").click();
  await later.getByRole("button", { name: "Versions Höhe 7 / west" }).click();
  await redrawn(later, () => later.getByRole("button", { name: /^Go back to this/ }).click());
  expect(await title(later)).toBe(name);
  expect(await standing(later)).toMatch(/kept \d/);
  expect(laters).toEqual([]);
  await later.context().close();
  await after.stop();
});

it("never overwrites a farm with another scenario, nor what another tab kept", async () => {
  const farms = folder();
  const server = await serve(0, undefined, farms);
  const context = await own.browser.newContext();
  const { page } = await openPage(context, server.url);
  await drawn(page);
  await keepAs(page, "Home");
  await settled(page);
  const { page: second } = await openPage(context, page.url());
  await drawn(second);
  await entry(second, "Name of this comparison").fill("From the second tab");
  await button(second, "Keep").click();
  await expect.poll(() => standing(second)).toMatch(/^Home kept/);

  // A tab that lies behind another draws once a second, and each click waits for two drawings.
  await page.bringToFront();
  await entry(page, "Name of this comparison").fill("From the first tab");
  await button(page, "Keep").click();
  const sheet = page.getByRole("dialog", { name: "Farms" });
  await sheet.getByText("“Home” was changed elsewhere meanwhile").waitFor();
  const kept = (): string => (JSON.parse(readFileSync(join(farms, "home/scenario.json"), "utf8")) as { title: string }).title;
  expect(kept()).toBe("From the second tab");
  await sheet.getByRole("button", { name: "Keep the copy" }).click();
  await expect.poll(() => standing(page)).toMatch(/^Home \(copy\) kept/);
  expect(kept()).toBe("From the second tab");

  // Another farm while changes are not kept: asked first. Then the demo, which is no farm; an undo
  // brings the farm back with its name.
  await entry(page, "Name of this comparison").fill("Not kept yet");
  await button(page, "Farms").click();
  await sheet.getByRole("button", { name: "Open Home", exact: true }).click();
  await sheet.getByRole("button", { name: "Keep them, then open Home" }).click();
  await expect.poll(() => title(page)).toBe("From the second tab");
  expect((JSON.parse(readFileSync(join(farms, "home-copy/scenario.json"), "utf8")) as { title: string }).title).toBe("Not kept yet");
  await button(page, "Demo").click();
  await expect.poll(() => standing(page)).toMatch(/not kept: in this browser only/);
  await button(page, "Keep").click();
  await sheet.getByRole("textbox", { name: "Keep it as a farm, called" }).fill("HOME");
  await sheet.getByRole("button", { name: "Keep", exact: true }).click();
  await sheet.getByText("There is a farm called “HOME” already").waitFor();
  await page.keyboard.press("Escape");
  await sheet.waitFor({ state: "hidden" });
  await page.getByRole("button", { name: /^Undo/ }).click();
  await expect.poll(() => standing(page)).toMatch(/^Home kept/);

  // Copied, renamed, put away and back.
  await button(page, "Farms").click();
  await sheet.getByRole("button", { name: "Copy Home", exact: true }).click();
  await sheet.getByRole("textbox", { name: "Name of the copy" }).fill("South");
  await sheet.getByRole("button", { name: "Copy", exact: true }).click();
  await sheet.getByRole("button", { name: "Rename South" }).click();
  await sheet.getByRole("textbox", { name: "New name" }).fill("South 40");
  await sheet.getByRole("button", { name: "Rename", exact: true }).click();
  await sheet.getByRole("button", { name: "Put away South 40" }).click();
  await sheet.getByText("Put away (1)").click();
  expect(existsSync(join(farms, "put-away/south/scenario.json"))).toBe(true);
  await sheet.getByRole("button", { name: "Take back South 40" }).click();
  await sheet.getByRole("button", { name: "Open South 40" }).waitFor();
  await context.close();
  await server.stop();
});

it("opens nothing for an address that was cut, and keeps what was there", async () => {
  const farms = folder();
  const server = await serve(0, undefined, farms);
  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, server.url);
  await drawn(page);
  await keepAs(page, "Home");
  await entry(page, "Name of this comparison").fill("Worked on");
  await settled(page);
  const whole = page.url();
  for (const cut of [whole.slice(0, -1), whole.slice(0, -400), whole.slice(0, whole.indexOf("#") + 9), whole.replace("stop=", "stap=").replace("scenario=7", "scenario=8")]) {
    if (cut === whole) continue;
    const { page: other } = await openPage(context, cut);
    await other.getByRole("alert").filter({ hasText: "nothing was opened" }).waitFor();
    expect(await other.locator(".contents").count(), cut.slice(-30)).toBe(0);
    await other.close();
  }
  // In the page that is open, all stays as it is.
  await page.evaluate((hash) => (location.hash = hash), new URL(whole.slice(0, -5)).hash);
  await page.locator(".notice", { hasText: "What was here stays" }).waitFor();
  expect(await title(page)).toBe("Worked on");
  expect(page.url()).toBe(whole);
  // From the page of a cut address to a farm, in a browser that remembers nothing.
  const { page: fresh } = await openPage(await own.browser.newContext(), whole.slice(0, -3));
  await fresh.getByRole("link", { name: "Home" }).click();
  await drawn(fresh);
  expect(await standing(fresh)).toMatch(/^Home kept/);
  // A bookmark of a farm that is not there any more says so, too.
  const { page: stale } = await openPage(fresh.context(), `${server.url}#farm=gone`);
  await stale.getByRole("alert").filter({ hasText: "There is no such farm" }).waitFor();
  // The whole address opens what it holds: changes to Home that are not kept.
  const { page: second } = await openPage(await own.browser.newContext(), whole);
  await drawn(second);
  expect([await title(second), await standing(second)]).toEqual(["Worked on", expect.stringMatching(/^Home changes not kept yet/)]);
  expect(wrongs).toEqual([]);
  await fresh.context().close();
  await second.context().close();
  await context.close();
  await server.stop();
});

it("gives one page that is read without the program, and opens it again", async () => {
  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles(["scenario.json", "boundary.geojson"].map((name) => data(`hand-move/${name}`))));
  const evil = "</script><script>document.title='ran'</script><img src=x onerror=document.title='ran'>";
  await redrawn(page, () => entry(page, "Name of this comparison").fill(evil));
  const given = await download(page, () => button(page, "For somebody else").click());
  expect(given).toMatch(/\.html$/);

  // Somebody else: no program, no network.
  const offline = await own.browser.newContext({ offline: true });
  const reader = await offline.newPage();
  const noise: string[] = [];
  reader.on("console", (m) => noise.push(m.text()));
  reader.on("request", (r) => r.url().startsWith("http") && noise.push(r.url()));
  await reader.goto(pathToFileURL(given).href);
  expect(await reader.title()).toBe(`${evil}: Evenfall`);
  expect(await reader.locator("h1").innerText()).toContain("<script>");
  expect(await reader.locator("figure svg").count()).toBeGreaterThan(3);
  await reader.getByRole("heading", { name: "What was entered" }).waitFor();
  expect(await reader.locator("td", { hasText: "boundary.geojson" }).count()).toBe(1);
  expect(noise).toEqual([]);
  await offline.close();

  const { page: second } = await openPage(await own.browser.newContext(), own.server.url);
  await drawn(second);
  await redrawn(second, () => second.locator("#scenario-file").setInputFiles(given));
  expect(await title(second)).toBe(evil);
  expect(await second.locator(".field-picture path.ground").count()).toBe(1);
  expect(await second.getByText("Open boundary.geojson").count()).toBe(0);
  const bad = join(folder(), "cut.html");
  writeFileSync(bad, readFileSync(given, "utf8").slice(0, -60));
  await second.locator("#scenario-file").setInputFiles(bad);
  await second.locator(".notice", { hasText: "damaged or cut off" }).waitFor();
  expect(await title(second)).toBe(evil);
  // The program opens it too.
  const started = await serve(0, given);
  const { page: third } = await openPage(await own.browser.newContext(), started.url);
  await drawn(third);
  expect(await title(third)).toBe(evil);
  expect(await standing(third)).toMatch(/not kept: in this browser only/);
  expect(wrongs).toEqual([]);
  await second.context().close();
  await third.context().close();
  await context.close();
  await started.stop();
});

it("opens the file it is started with, and keeps that very file", async () => {
  const farms = folder();
  const beside = folder();
  const path = join(beside, "my-field.json");
  writeFileSync(path, readFileSync(data("demo/scenario.json")));
  const server = await serve(0, path, farms);
  const { page } = await openPage(await own.browser.newContext(), server.url);
  await drawn(page);
  expect(await standing(page)).toMatch(/^my-field\.json kept/);
  await entry(page, "Name of this comparison").fill("Mine now");
  await button(page, "Keep").click();
  await expect.poll(() => standing(page)).toMatch(/^my-field\.json kept \d/);
  expect((JSON.parse(readFileSync(path, "utf8")) as { title: string }).title).toBe("Mine now");
  await page.context().close();
  await server.stop();
});

it("has no findings of the accessibility tool, wide and on a phone, and is worked by keyboard", async () => {
  const server = await serve();
  const context = await own.browser.newContext();
  const { page } = await openPage(context, server.url, { width: 375, height: 720 });
  await drawn(page);
  await keepAs(page, "Home");
  await page.getByRole("button", { name: "Farms" }).focus();
  await page.keyboard.press("Enter");
  const sheet = page.getByRole("dialog", { name: "Farms" });
  for (const name of ["Versions Home", "Rename Home"]) {
    await sheet.getByRole("button", { name }).focus();
    await page.keyboard.press("Enter");
    await withTool(page);
    const found = await page.evaluate(async () => {
      const { run } = (globalThis as unknown as { axe: typeof axe }).axe;
      const { violations } = await run(document.querySelector("dialog")!, { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"] }, resultTypes: ["violations"] });
      return violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")} ${n.failureSummary ?? ""}`));
    });
    expect(found, name).toEqual([]);
  }
  expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("INPUT");
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(375);
  await page.keyboard.press("Escape");
  await sheet.waitFor({ state: "hidden" });
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Farms");
  await context.close();
  await server.stop();
});
