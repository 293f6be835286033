// The accessibility tool, for whichever test asks what it finds.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type axe from "axe-core";
import type { Page } from "playwright-core";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** The tool as one script, in its small form: the browser reads it anew in every page. */
const SCRIPT = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Puts the tool into a page, once. The policy of the page forbids scripts it did not bring, so that is
 * done by the browser's own debugger. */
export async function withTool(page: Page): Promise<void> {
  const isThere = await page.evaluate(() => "axe" in globalThis);
  // Without a value, which the browser would take apart to hand it over.
  if (!isThere) await page.evaluate(`${SCRIPT}\n;undefined`);
}

/** What the tool finds wrong, in one line each. */
export async function findings(page: Page): Promise<string[]> {
  // What has been scrolled half under the bar at the top is no small target.
  await page.evaluate(() => scrollTo({ top: 0, behavior: "instant" }));
  await withTool(page);
  return page.evaluate(async (rules) => {
    const run = (globalThis as unknown as { axe: typeof axe }).axe.run;
    const found = await run(document, { runOnly: { type: "tag", values: rules }, resultTypes: ["violations"] });
    return found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")} ${n.failureSummary ?? ""}`));
  }, RULES);
}
