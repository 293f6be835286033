// The browser of the tests: one for all files of a worker.

import { existsSync } from "node:fs";
import { chromium, type Browser } from "playwright-core";

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

let launched: Promise<Browser> | null = null;

/** The browser of this worker; each page has a context of its own in it. It ends with the worker, which
 * speaks with it without anybody between. */
export const launch = (): Promise<Browser> => (launched ??= chromium.launch({ executablePath: CHROMIUM, args: QUIET }));
