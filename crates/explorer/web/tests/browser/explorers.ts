// The programs of the tests: one for each worker, so that what a season follows from is computed once and
// not for every file anew, and no worker waits for another's runs. Whoever asks gets a program of its own;
// all are ended after all tests.

import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { TestProject } from "vitest/node";
import { start, type Server } from "./program";

declare module "vitest" {
  interface ProvidedContext {
    /** Where a worker asks for its program. */
    explorers: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const explorers: Server[] = [];
  const desk = createServer((_, answer) => {
    start().then(
      (explorer) => {
        explorers.push(explorer);
        answer.end(JSON.stringify(explorer));
      },
      (error: unknown) => answer.writeHead(500).end(String(error)),
    );
  });
  await new Promise<void>((resolve) => desk.listen(0, "127.0.0.1", resolve));
  project.provide("explorers", `http://127.0.0.1:${(desk.address() as AddressInfo).port}/`);
  return async () => {
    desk.close();
    await Promise.all(explorers.map((explorer) => explorer.stop()));
  };
}
