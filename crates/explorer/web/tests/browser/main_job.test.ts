// The whole main job, from nothing to a verdict, and its digits against the command line's.

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { cells, command, download, drawn, entry, filesOf, folder, openGroup, openPage, redrawn, summaryOf, unpacked, withExplorer } from "./harness";

const own = withExplorer();

it("sets up a field from nothing, builds a rotation, runs, reads the verdict, takes it all away", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  await entry(page, "Name of this comparison").fill("Kitchen table");
  await entry(page, "Number of sprinklers").fill("15");
  await entry(page, "Field along the pipe").fill("600");
  await entry(page, "Field across the pipe").fill("600");

  // A second alternative, whose second stop is rolled one turn on with the keyboard.
  await page.getByRole("button", { name: "Add an alternative" }).click();
  const second = page.locator(".card").nth(1);
  await entry(second, "Name").fill("Turn by turn");
  await second.getByRole("button", { name: "Add a stop" }).click();
  const lateral = page.getByRole("slider", { name: "Where the lateral stands" });
  await lateral.focus();
  await page.keyboard.press("ArrowUp");
  await expect.poll(() => lateral.getAttribute("aria-valuetext")).toMatch(/No: half a turn/);
  await redrawn(page, () => page.keyboard.press("ArrowUp"));
  await expect.poll(() => lateral.getAttribute("aria-valuetext")).toMatch(/^1 turn forward.*Yes/);
  await expect.poll(() => second.locator(".chip").allInnerTexts()).toEqual(["A 0 ft", "B 20 ft"]);

  const scenario = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const written = JSON.parse(readFileSync(scenario, "utf8"));
  expect(written.alternatives[1]).toEqual({ name: "Turn by turn", rotation: ["0 ft", "1 turn"] });

  // Every printed digit of every pass equals the command line's for the file just saved.
  const summary = summaryOf(scenario);
  await page.getByText("All passes in a table").click();
  const rows = await cells(page.locator(".all-passes table"));
  const expected = summary.alternatives.flatMap((a) =>
    a.passes.map((p, k) => [a.name, String(k + 1), p.alone.interior, p.cumulative.interior] as const),
  );
  expect(rows.length).toBe(expected.length);
  expected.forEach(([name, pass, alone, whole], i) => {
    const [cu, du, cuSoFar, duSoFar] = [alone.cu_percent, alone.du_lq_percent, whole.cu_percent, whole.du_lq_percent].map((v) => v.toFixed(1));
    const told = rows[i]!.map((cell) => cell.replace(/\s*%$/, ""));
    expect([told[0], told[1], ...told.slice(3)], `${name} pass ${pass}`).toEqual([name, pass, cu, du, cuSoFar, duSoFar]);
  });
  // And the closing lines of the command hold the digits of the page's last pass.
  for (const row of await cells(page.locator(".season-figures .digits").first())) {
    const line = summary.said.split("\n").find((l) => l.includes(row[0]!) && l.includes("CU")) ?? "";
    for (const figure of [row[3]!, row[4]!]) expect(line).toContain(figure.replace(/\s*%$/, ""));
  }

  // Crop, soil and a price; then the verdict.
  const crop = await openGroup(page, "Crop and soil");
  await crop.getByLabel("Calculate yield and money too").check();
  await openGroup(page, "Prices");
  await entry(page, "Price of the crop").fill("180");
  await entry(page, "Yield without stress").fill("6");
  await entry(page, "Seasons of weather").fill("4");
  await page.getByRole("button", { name: "Calculate whether it pays" }).click();
  await page.locator(".verdicts li").first().waitFor();
  expect(await page.locator(".verdicts b").innerText()).toMatch(/^Turn by turn: (pays|does not pay|inconclusive)$/);

  const priced = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const said = command(["worth", priced, "--seasons", "4"]);
  for (const row of await cells(page.locator(".worth-table"))) {
    const line = said.split("\n").find((l) => l.startsWith(row[0]!)) ?? "";
    for (const cell of row) expect(line, row[0]).toContain(cell);
  }

  const report = await download(page, () => page.getByRole("link", { name: "The full report" }).click());
  expect(readFileSync(report, "utf8")).toContain("Kitchen table");
  const figures = await download(page, () => page.getByRole("link", { name: /figures and tables/ }).click());
  expect([...unpacked(figures).keys()]).toContain("worth.json");

  // The irrigator's sheet is, file by file, what the command writes for the scenario just saved.
  await page.getByLabel("Calendar reminder before each set").fill("45");
  const sheet = await download(page, () => page.getByRole("link", { name: /calendar and log for Turn by turn/ }).click());
  const into = join(folder(), "sheet");
  command(["sheet", priced, "--alternative", "Turn by turn", "--alarm", "45", "--into", into]);
  const [mine, commands] = [unpacked(sheet), filesOf(into)];
  expect([...mine.keys()].sort()).toEqual([...commands.keys()].sort());
  for (const [name, bytes] of commands) expect(mine.get(name)!.equals(bytes), name).toBe(true);
  const [printed] = await Promise.all([
    page.waitForEvent("popup"),
    page.getByRole("link", { name: /to print for Turn by turn/ }).click(),
  ]);
  await printed.getByRole("heading", { name: "Pass 1: stop A" }).waitFor();
  await printed.close();
  expect(wrongs).toEqual([]);
  await page.close();
});

it("opens a saved scenario file and changes its units there and back", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  await redrawn(page, () => page.getByRole("button", { name: "Demo" }).click());
  const before = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const digits = await cells(page.locator(".season-figures .digits").first());
  await redrawn(page, () => page.getByLabel("SI units").check());
  expect(await entry(page, "Field along the pipe").inputValue()).toBe("402.336");
  expect(await cells(page.locator(".season-figures .digits").first())).toEqual(digits);
  await redrawn(page, () => page.getByLabel("US units").check());
  const after = await download(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  expect(JSON.parse(readFileSync(after, "utf8")).field).toEqual(JSON.parse(readFileSync(before, "utf8")).field);

  await redrawn(page, () => page.getByRole("button", { name: "From nothing" }).click());
  await redrawn(page, () => page.locator("#scenario-file").setInputFiles(before));
  expect(await entry(page, "Name of this comparison").inputValue()).toMatch(/^Demo/);
  expect(wrongs).toEqual([]);
  await page.close();
});

it("rolls the lateral with the mouse: coarse while it moves, its own cells after, said so all along", async () => {
  const { page, wrongs } = await openPage(own.browser, own.server.url);
  await drawn(page);
  const chip = page.locator(".card").nth(1).locator(".chip").nth(1);
  await chip.click();
  await page.locator(".closeup").scrollIntoViewIfNeeded();
  const grip = (await page.locator(".lateral-grip .grip").boundingBox())!;
  const zone = (await page.locator(".closeup .reach").boundingBox())!;
  const [x, from] = [grip.x + grip.width / 2, grip.y + grip.height / 2];
  // From one turn on, over half turns, to one turn back: the stop as far below the outlet.
  const to = 2 * (zone.y + zone.height / 2) - from;
  await page.mouse.move(x, from);
  await page.mouse.down();
  await page.mouse.move(x, (3 * from + to) / 4, { steps: 4 });
  expect(await page.locator(".stop-says").innerText()).toMatch(/No: half a turn.*Stop B stays 20 ft beyond the outlet/s);
  await page.mouse.move(x, to, { steps: 8 });
  await page.waitForFunction(() => Number(document.querySelector<HTMLElement>(".freshness")?.dataset.coarser) > 1);
  expect(await page.locator(".freshness").innerText()).toMatch(/larger than the scenario.*the finer map follows/);
  // Held still with the button down it stays coarse.
  await page.waitForTimeout(1500);
  expect(await page.locator(".freshness").getAttribute("data-coarser")).not.toBe("1");
  await page.mouse.up();
  await drawn(page);
  expect(await chip.innerText()).toMatch(/[−-]20 ft$/);
  expect(wrongs).toEqual([]);
  await page.close();
});
