// The one browser of all tests: started before them, ended after them, wherever they run.

import { existsSync } from "node:fs";
import { chromium } from "playwright-core";
import type { TestProject } from "vitest/node";

/** The shell is the same engine without windows, tabs and bars around the page, which nobody sees here and
 * which take more than half of the browser's own time. People wait for the whole browser: that is measured. */
const [SHELL, WHOLE] = ["/usr/bin/chromium-headless-shell", "/usr/bin/chromium"] as const;
const isShell = process.env.EVENFALL_MEASURE === undefined && existsSync(SHELL);
export const CHROMIUM = process.env.EVENFALL_CHROMIUM ?? (isShell ? SHELL : WHOLE);
const QUIET = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

declare module "vitest" {
  interface ProvidedContext {
    browser: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = await chromium.launchServer({ executablePath: CHROMIUM, args: QUIET });
  project.provide("browser", server.wsEndpoint());
  return () => server.close();
}
