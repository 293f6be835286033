// What people take home, printed: one page for the grower, two for the client, on both sizes of paper.

import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type axe from "axe-core";
import { beforeAll, expect, it } from "vitest";
import { withTool } from "./axe";
import { command, folder, withExplorer } from "./harness";

const own = withExplorer();
const REPORTS: { title: string; into: string }[] = [];

/** Invented fields whose papers are longer stand beside the demo. */
const FIELDS = ["demo/scenario.json", "orders/sandy-shallow.json", "survey/scenario.json"];
const data = (name: string): string => join(import.meta.dirname, "../../../../../data", name);

beforeAll(() => {
  for (const field of FIELDS) {
    const into = join(folder(), "report");
    command(["worth", data(field), "--seasons", "2", "--into", into]);
    REPORTS.push({ title: field, into });
  }
});

/** Pages of a PDF: each page object says that it is one. */
const pagesOf = (pdf: Buffer): number => pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;

it.each(["Letter", "A4"])("prints one page for the grower and two for the client on %s", async (format) => {
  const page = await own.browser.newPage();
  for (const { title, into } of REPORTS) {
    for (const [name, pages] of [["grower.html", 1], ["client.html", 2]] as const) {
      await page.goto(pathToFileURL(join(into, name)).href);
      const pdf = await page.pdf({ format });
      expect([title, name, pagesOf(pdf)]).toEqual([title, name, pages]);
    }
  }
  await page.close();
});

it("fits a phone and keeps its contrast", async () => {
  const page = await own.browser.newPage({ viewport: { width: 360, height: 800 } });
  for (const name of ["grower.html", "client.html"]) {
    await page.goto(pathToFileURL(join(REPORTS[0]!.into, name)).href);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await withTool(page);
    const found = await page.evaluate(async () => {
      const { run } = (globalThis as unknown as { axe: typeof axe }).axe;
      return (await run(document, { resultTypes: ["violations"] })).violations.map((violation) => `${violation.id}: ${violation.nodes.map((n) => n.html).join(" ")}`);
    });
    expect(found).toEqual([]);
  }
  await page.close();
});
