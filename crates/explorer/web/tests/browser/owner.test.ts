// Whose page it is: the printed address opens it once and for all in that browser; a bare one, another
// site and another port of this machine do not.

import { createServer, type Server as HttpServer } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, expect, it } from "vitest";
import { drawn, entry, LONG_MS, openPage, settled, withExplorer } from "./harness";

const own = withExplorer();
/** Another program on this machine, as any account may start one. */
let other: HttpServer;
let elsewhere = "";

beforeAll(async () => {
  other = createServer((asked, answer) => {
    answer.setHeader("content-type", "text/html");
    answer.end(`<!doctype html><a id="go" href="${own.server.url}${decodeURIComponent(asked.url!.slice(1))}">go</a>`);
  });
  await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
  elsewhere = `http://localhost:${(other.address() as AddressInfo).port}/`;
});
afterAll(() => other.close());

it("opens with the printed address, goes on without its key, and is not opened without it", async () => {
  const context = await own.browser.newContext();
  context.setDefaultTimeout(LONG_MS);
  const stranger = await context.newPage();
  const refused = await stranger.goto(own.server.url);
  expect(refused?.status()).toBe(401);
  expect(await stranger.innerText("body")).toMatch(/Open the address that evenfall explore printed/);
  expect((await context.request.get(`${own.server.url}api/start`)).status()).toBe(401);

  const page = await context.newPage();
  await page.goto(`${own.server.printed}#at=answer`);
  await drawn(page);
  await settled(page);
  expect(page.url()).not.toContain("key=");
  expect(page.url().startsWith(`${own.server.url}#`)).toBe(true);
  // No script of the page sees the key; a reload and a second tab are the same owner's.
  expect(await page.evaluate(() => document.cookie)).toBe("");
  await page.reload();
  await drawn(page);
  // From the refusal the same address but for its part after # would load nothing anew.
  await stranger.goto("about:blank");
  await stranger.goto(page.url());
  await drawn(stranger);
  await context.close();
});

it("opens nothing of an address that another site leads to, and asks nothing for it", async () => {
  const context = await own.browser.newContext();
  const { page } = await openPage(context, own.server.url);
  await drawn(page);
  await entry(page, "Name of this comparison").fill("My own work");
  await settled(page);
  const theirs = page.url().replace(/^.*#/, "#");
  await entry(page, "Name of this comparison").fill("What I have now");
  await settled(page);

  const led = await context.newPage();
  for (const site of [elsewhere, elsewhere.replace("localhost", "127.0.0.1")]) {
    await led.goto(site + encodeURIComponent(theirs));
    await led.click("#go");
    await led.waitForURL(`${own.server.url}**`);
    expect(await led.innerText("body")).toMatch(/Another site led here|Open the address that/);
    // Nor may a script there ask, whatever it sends.
    await led.goto(site);
    const told = await led.evaluate(async (url) => {
      const ask = (path: string, more: RequestInit = {}): Promise<string> =>
        fetch(url + path, { credentials: "include", ...more }).then((answer) => `${answer.type} ${answer.status}`, () => "refused");
      return Promise.all([ask("api/start"), ask("api/start", { mode: "no-cors" }), ask("api/runs", { method: "POST", body: "{}" })]);
    }, own.server.url);
    // What a page may send without asking is answered to nobody: it cannot read a word of it.
    expect(told).toEqual(["refused", expect.stringMatching(/^(refused|opaque 0)$/), "refused"]);
  }
  await page.reload();
  await drawn(page);
  expect(await entry(page, "Name of this comparison").inputValue()).toBe("What I have now");
  await context.close();
});
