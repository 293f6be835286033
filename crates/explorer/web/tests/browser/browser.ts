// The one browser of all tests: started before them, ended after them, wherever they run.

import { chromium } from "playwright-core";
import type { TestProject } from "vitest/node";

const CHROMIUM = process.env.EVENFALL_CHROMIUM ?? "/usr/bin/chromium";
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
