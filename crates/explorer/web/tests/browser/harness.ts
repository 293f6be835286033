// The real program, a real browser, and words for what a person does on the page.

import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { inflateRawSync } from "node:zlib";
import type { Browser, BrowserContext, Locator, Page } from "playwright-core";
import { beforeAll, inject } from "vitest";
import { launch } from "./browser";
import { folder, program, start, type Address, type Server } from "./program";

export { folder, launch };

/** Longest wait for anything, on a machine with much else to do; nothing else rests on it. */
export const LONG_MS = 120_000;

/** The programs that are known, by their address; the one started last where a port comes again. */
const known = new Map<string, Address>();

/** A program of a test's own. */
export async function serve(...how: Parameters<typeof start>): Promise<Server> {
  const server = await start(...how);
  known.set(server.url, server);
  return server;
}

/** Makes a browser that of whoever started the program, as if the printed address had been opened in it. */
export async function makeOwner(context: BrowserContext, server: Address): Promise<void> {
  await context.addCookies([{ ...server.cookie, url: server.url, httpOnly: true, sameSite: "Strict" }]);
}

async function askForExplorer(): Promise<Address> {
  const answer = await fetch(inject("explorers"));
  if (!answer.ok) throw new Error(await answer.text());
  const own = (await answer.json()) as Address;
  known.set(own.url, own);
  return own;
}

let explorer: Promise<Address> | null = null;

/** The program of this worker, and its browser. Pages and what they keep end with their test; what is kept
 * as a farm would not, so a test that keeps one has a program of its own. */
export function withExplorer(): { server: Address; browser: Browser } {
  const own = {} as { server: Address; browser: Browser };
  beforeAll(async () => {
    own.server = await (explorer ??= askForExplorer());
    own.browser = await launch();
  });
  return own;
}

/** The page of a first visitor: the ten questions. */
export const QUESTIONS = "#";

/** A page that fails the test on an error of its own or of its console. A bare address leads a first
 * visitor to the ten questions; unless they are asked for, the page itself is opened, by its first part. */
export async function openPage(from: Browser | BrowserContext, url: string, size = { width: 1280, height: 900 }): Promise<{ page: Page; wrongs: string[] }> {
  const page = await from.newPage();
  const server = known.get(new URL("/", url).href);
  if (server) await makeOwner(page.context(), server);
  page.setDefaultTimeout(LONG_MS);
  await page.setViewportSize(size);
  const wrongs: string[] = [];
  page.on("pageerror", (e) => wrongs.push(e.message));
  page.on("console", (m) => {
    if (m.type() === "error") wrongs.push(`${m.text()} ${m.location().url}`);
  });
  page.on("request", (r) => {
    const host = new URL(r.url()).host;
    if (host !== "" && host !== new URL(url).host) wrongs.push(`asked another machine: ${r.url()}`);
  });
  await page.goto(url.includes("#") ? url : `${url}#at=answer`);
  return { page, wrongs };
}

/** Waits until the season is drawn on the scenario's own cells and nothing is under way. */
export async function drawn(page: Page): Promise<void> {
  await page.locator('.freshness[data-coarser="1"][data-busy="false"]').waitFor();
}

/** Waits for the season that an edit brings, not the one before it. */
export async function redrawn(page: Page, edit: () => Promise<void>): Promise<void> {
  const run = await page.locator(".freshness").getAttribute("data-run");
  await edit();
  await page.waitForFunction(
    (before) => document.querySelector<HTMLElement>(".freshness")?.dataset.run !== before,
    run,
  );
  await drawn(page);
}

/** The field in which an entry is typed, by the words of its label. */
export const entry = (within: Page | Locator, label: string): Locator =>
  within.getByRole("textbox", { name: new RegExp(`^${label}`) });

export async function openGroup(page: Page, title: string): Promise<Locator> {
  const group = page.locator("details.group", { has: page.locator("h3", { hasText: title }) });
  if ((await group.getAttribute("open")) === null) await group.locator("summary").first().click();
  return group;
}

/** Waits until all that was entered is checked. */
export const checked = (page: Page): Promise<void> => page.locator('html[data-check="made"]').waitFor();

/** Waits until the address holds all that was entered. */
export const settled = (page: Page): Promise<void> => page.locator('html[data-address="written"]').waitFor();

/** Waits until the page has drawn itself anew a few times: charts follow their place a frame later. */
export async function frames(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (let left = 4; left > 0; left--) await new Promise(requestAnimationFrame);
  });
}

/** Opens all that can be opened, and what comes to light by that too. */
export async function openAll(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (let frames = 0; frames < 3; ) {
      const closed = document.querySelectorAll<HTMLDetailsElement>("details:not([open])");
      closed.forEach((details) => (details.open = true));
      frames = closed.length > 0 ? 0 : frames + 1;
      await new Promise(requestAnimationFrame);
    }
  });
}

/** The file that a click offers. */
export async function download(page: Page, click: () => Promise<void>): Promise<string> {
  const [file] = await Promise.all([page.waitForEvent("download"), click()]);
  const path = join(folder(), file.suggestedFilename());
  await file.saveAs(path);
  return path;
}

/** The files of a ZIP archive (APPNOTE 4.3.7, 4.3.12: local headers found by the central directory). */
export function unpacked(path: string): Map<string, Buffer> {
  const all = readFileSync(path);
  const end = all.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  const files = new Map<string, Buffer>();
  let at = all.readUInt32LE(end + 16);
  for (let left = all.readUInt16LE(end + 10); left > 0; left--) {
    const [method, size] = [all.readUInt16LE(at + 10), all.readUInt32LE(at + 20)];
    const [name, extra, comment] = [28, 30, 32].map((offset) => all.readUInt16LE(at + offset)) as [number, number, number];
    const local = all.readUInt32LE(at + 42);
    const start = local + 30 + all.readUInt16LE(local + 26) + all.readUInt16LE(local + 28);
    const body = all.subarray(start, start + size);
    files.set(all.toString("utf8", at + 46, at + 46 + name), method === 0 ? body : inflateRawSync(body));
    at += 46 + name + extra + comment;
  }
  return files;
}

/** The files of a folder and those below it, by their name within. */
export function filesOf(path: string): Map<string, Buffer> {
  // The folder's list of its own files is no result; what is packed has none.
  const below = readdirSync(path, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile() && entry.name !== ".evenfall-files");
  return new Map(
    below.map((entry) => {
      const full = join(entry.parentPath, entry.name);
      return [relative(path, full), readFileSync(full)];
    }),
  );
}

/** Runs the command line and gives what it said; it must succeed. */
export function command(words: string[]): string {
  const done = spawnSync(program(), words, { encoding: "utf8", cwd: folder() });
  if (done.status !== 0) throw new Error(`${words.join(" ")}: ${done.stderr}`);
  return done.stdout;
}

export interface SummaryPass {
  alone: { interior: { cu_percent: number; du_lq_percent: number } };
  cumulative: { interior: { cu_percent: number; du_lq_percent: number } };
}

/** The summary that `evenfall season` writes for a scenario file. */
export function summaryOf(scenario: string): { alternatives: { name: string; passes: SummaryPass[] }[]; said: string } {
  const into = join(folder(), "report");
  const said = command(["season", scenario, "--into", into]);
  const summary = JSON.parse(readFileSync(join(into, "summary.json"), "utf8")) as { alternatives: { name: string; passes: SummaryPass[] }[] };
  return { ...summary, said };
}

/** The cells of a table's body, as they are read. */
export const cells = (table: Locator): Promise<string[][]> =>
  table.locator("tbody tr").evaluateAll((rows) =>
    rows.map((row) =>
      [...row.children].map((cell) => {
        const copy = cell.cloneNode(true) as HTMLElement;
        copy.querySelectorAll("small").forEach((small) => small.remove());
        return copy.textContent?.trim() ?? "";
      }),
    ),
  );
