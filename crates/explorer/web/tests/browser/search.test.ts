// The rotation search: the command's digits, and what is liked becomes an alternative.

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { cells, command, download, drawn, entry, folder, openPage, redrawn, settled, withExplorer } from "./harness";

const own = withExplorer();

it("looks for rotations, tells what the command tells, and takes one over", async () => {
  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  await entry(page, "Number of sprinklers").fill("12");
  await entry(page, "Field along the pipe").fill("480");
  await page.getByText("Advanced inputs").click();
  await entry(page, "Grid cell").fill("4");
  await redrawn(page, () => entry(page, "Field across the pipe").fill("480"));
  await page.locator(".search > summary").click();
  const aims = page.getByLabel("Search for");
  expect(await aims.locator("option:disabled").count()).toBe(2);
  await page.getByLabel("Seasons of weather").fill("1");
  await page.locator("#search-seasons-help.wrongs", { hasText: "whole number from 2" }).waitFor();
  await page.getByLabel("Seasons of weather").fill("3");
  await page.getByRole("button", { name: "Search", exact: true }).click();
  await page.locator(".found .lead").waitFor();

  const saved = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const said = command(["search", saved, "--aim", "dulq", "--seasons", "3", "--into", join(folder(), "found")]);
  const spaceless = (words: string): string => words.replace(/\s+/g, " ");
  expect(spaceless(said)).toContain(spaceless(await page.locator(".found .lead").innerText()));
  const rows = (await cells(page.locator(".found table"))).map(([name, ...rest]) => [name!.replace(/Add it.*$/, ""), ...rest]);
  expect(rows.length).toBeGreaterThan(3);
  for (const row of rows) {
    const line = said.split("\n").find((l) => l.startsWith(`${row[0]} `) && row.slice(1).every((cell) => l.includes(cell)));
    expect(line, row.join(" | ")).toBeDefined();
  }

  await redrawn(page, () => page.getByRole("button", { name: /^Add it/ }).first().click());
  expect(await page.locator(".card").count()).toBe(2);
  const taken = JSON.parse(readFileSync(await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click()), "utf8")).alternatives[1];
  expect(taken.name).toBe(rows[0]![0]);
  const digits = await cells(page.locator(".season-figures .digits").first());
  expect(Number.parseFloat(digits[1]![4]!)).toBeGreaterThan(Number.parseFloat(digits[0]![4]!));

  // A reload finds the ranking again; a second search takes the place of the first.
  await settled(page);
  await page.reload();
  await drawn(page);
  await page.locator(".found .lead").waitFor();
  const before = await page.locator(".found").getAttribute("data-run");
  await page.getByLabel("Seasons of weather").fill("900");
  await page.getByRole("button", { name: "Search", exact: true }).click();
  await page.getByRole("button", { name: "Search again" }).waitFor();
  await page.getByLabel("Seasons of weather").fill("2");
  await page.getByRole("button", { name: "Search again" }).click();
  await page.waitForFunction((run) => {
    const shown = document.querySelector<HTMLElement>(".found")?.dataset.run;
    return shown !== undefined && shown !== run && !document.querySelector(".search progress");
  }, before);
  expect(wrongs).toEqual([]);
  await context.close();
});
