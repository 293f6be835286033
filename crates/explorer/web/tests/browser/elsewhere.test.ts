// An address that came from elsewhere: asked about before it takes the place of the work that this
// browser remembers. And another account of this machine: its browser gets the door and nothing else.

import { spawnSync } from "node:child_process";
import { chmodSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { CHROMIUM } from "./browser";
import { drawn, entry, openPage, settled, withExplorer } from "./harness";

const own = withExplorer();
const TITLE = "Name of this comparison";

it("asks before an address takes the place of what this browser had last, and keeps either", async () => {
  const theirs = await own.browser.newContext();
  const { page: other } = await openPage(theirs, own.server.url);
  await drawn(other);
  await entry(other, TITLE).fill("The neighbor’s");
  await settled(other);
  const pasted = other.url();
  await theirs.close();

  const context = await own.browser.newContext();
  const { page, wrongs } = await openPage(context, own.server.url);
  await drawn(page);
  // Who has only looked at the demo has nothing to lose.
  const { page: first } = await openPage(context, pasted);
  await drawn(first);
  expect(await entry(first, TITLE).inputValue()).toBe("The neighbor’s");
  await first.close();
  await entry(page, TITLE).fill("My own work");
  await settled(page);
  // A reload and a second tab of one's own are not asked about.
  await page.reload();
  await drawn(page);
  const { page: second } = await openPage(context, page.url());
  await drawn(second);
  await second.close();

  // Pasted over the open page: asked, and mine is still what the browser remembers.
  await page.goto(pasted);
  await page.getByRole("heading", { name: "Open what the address holds?" }).waitFor();
  expect(await page.innerText(".another")).toMatch(/“The neighbor’s”.*“My own work”/s);
  expect(await page.evaluate(() => localStorage.getItem("evenfall scenario"))).toContain("My own work");
  await page.getByRole("button", { name: "Go on with mine" }).click();
  await page.locator(".contents").waitFor();
  expect(await entry(page, TITLE).inputValue()).toBe("My own work");
  await settled(page);

  await page.goto(pasted);
  await page.getByRole("button", { name: "Open the address" }).click();
  await drawn(page);
  expect(await entry(page, TITLE).inputValue()).toBe("The neighbor’s");
  await settled(page);
  expect(wrongs).toEqual([]);
  await context.close();
});

/** An account that is neither ours nor the superuser's, where one may be taken. */
const stranger = ["nobody", "games"].find((name) => process.getuid?.() === 0 && spawnSync("runuser", ["-u", name, "--", "true"]).status === 0);

it.skipIf(!stranger)("shows another account's browser the door, and nothing of the page", async () => {
  const home = mkdtempSync(join(tmpdir(), "evenfall-stranger-"));
  chmodSync(home, 0o777);
  const look = (url: string): string => {
    const words = ["--headless", "--no-sandbox", "--disable-gpu", `--user-data-dir=${join(home, "profile")}`, "--dump-dom", url];
    const ran = spawnSync("runuser", ["-u", stranger!, "--", "env", `HOME=${home}`, CHROMIUM, ...words], { encoding: "utf8", timeout: 110_000 });
    expect(ran.status, ran.stderr).toBe(0);
    return ran.stdout;
  };
  for (const path of ["", "api/start", "api/farms", "reference"]) {
    const shown = look(own.server.url + path);
    expect(shown, path).toContain("not the page of whoever started Evenfall");
    expect(shown, path).not.toMatch(/<script|"farms":|"scenario":/);
  }
  // Nor does that account learn the key from what the system tells of programs.
  const told = spawnSync("runuser", ["-u", stranger!, "--", "sh", "-c", "cat /proc/[0-9]*/cmdline 2>/dev/null | tr '\\0' ' '"], { encoding: "utf8" });
  expect(told.stdout).not.toContain(own.server.cookie.value);
});
