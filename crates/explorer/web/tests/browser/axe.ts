// The accessibility tool, for whichever test asks what it finds.

import axe from "axe-core";
import type { Page } from "playwright-core";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** What the tool finds wrong, in one line each. The policy of the page forbids scripts it did not
 * bring, so the tool is put in by the browser's own debugger. */
export async function findings(page: Page): Promise<string[]> {
  // What has been scrolled half under the bar at the top is no small target.
  await page.evaluate(() => scrollTo({ top: 0, behavior: "instant" }));
  await page.evaluate(axe.source);
  return page.evaluate(async (rules) => {
    const run = (globalThis as unknown as { axe: typeof axe }).axe.run;
    const found = await run(document, { runOnly: { type: "tag", values: rules }, resultTypes: ["violations"] });
    return found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")} ${n.failureSummary ?? ""}`));
  }, RULES);
}
