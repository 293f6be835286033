// The real program, started and stopped as a user does.

import { spawn, type ChildProcess } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const BIN = process.env.EVENFALL_BIN;

export const folder = (): string => mkdtempSync(join(tmpdir(), "evenfall-page-"));

/** The program under test. */
export function program(): string {
  if (!BIN) throw new Error("set EVENFALL_BIN to the path of the built `evenfall`");
  return BIN;
}

/** Where an explorer runs, and whose it is. */
export interface Address {
  /** The address without its key. */
  url: string;
  port: number;
  /** The address as it is printed, with the key of whoever started it. */
  printed: string;
  /** The cookie that the key is exchanged for. */
  cookie: { name: string; value: string };
}

/** An explorer that runs; `stop` ends it as a user would, with an interrupt. */
export interface Server extends Address {
  stop: () => Promise<void>;
}

/** `farms` is the folder of farms; without one the program gets an empty folder of its own. */
export function start(port = 0, scenario?: string, farms = folder()): Promise<Server> {
  const words = ["explore", ...(scenario ? [scenario] : []), "--port", String(port)];
  const child: ChildProcess = spawn(program(), words, {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, EVENFALL_FARMS: farms },
  });
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const stop = async (): Promise<void> => {
    child.kill("SIGINT");
    const late = setTimeout(() => child.kill("SIGKILL"), 5000);
    await ended;
    clearTimeout(late);
  };
  return new Promise((resolve, reject) => {
    let said = "";
    const listen = (chunk: Buffer): void => {
      said += chunk.toString();
      const found = /(http:\/\/127\.0\.0\.1:(\d+)\/)\?key=([0-9a-f]+)\n/.exec(said);
      if (!found) return;
      const [printed, url, port, value] = found as unknown as [string, string, string, string];
      resolve({ url, port: Number(port), printed: printed.trim(), cookie: { name: `evenfall-${port}`, value }, stop });
    };
    child.stdout?.on("data", listen);
    child.stderr?.on("data", listen);
    child.once("error", reject);
    void ended.then(() => reject(new Error(`the program ended before it served: ${said}`)));
  });
}
