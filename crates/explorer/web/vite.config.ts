import { readdirSync, readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { defineConfig } from "vite";

const measured = process.env.EVENFALL_MEASURE !== undefined;

/** Libraries whose code is in app.js or app.css. */
const BUNDLED = ["preact", "@preact/signals", "@preact/signals-core", "uplot", "idb-keyval", "fflate"];

/** The file of a package that holds its license, however it is spelt. */
function licenseIn(folder: URL): string {
  const found = readdirSync(folder).find((name) => /^licen[cs]e/i.test(name));
  if (!found) throw new Error(`no license in ${folder.pathname}`);
  return found;
}

/** Their licenses, beside the files that hold their code. */
const notices = {
  name: "third-party-notices",
  generateBundle(this: { emitFile: (file: object) => void }): void {
    const parts = BUNDLED.map((name) => {
      const folder = new URL(`./node_modules/${name}/`, import.meta.url);
      const about = JSON.parse(readFileSync(new URL("package.json", folder), "utf8")) as { version: string; license: string };
      const license = readFileSync(new URL(licenseIn(folder), folder), "utf8").trim();
      return `${name} ${about.version} (${about.license})\n\n${license}\n`;
    });
    const head = "Parts of the page's script and style come from these libraries.\n";
    this.emitFile({ type: "asset", fileName: "THIRD-PARTY.txt", source: [head, ...parts].join(`\n${"-".repeat(72)}\n\n`) });
  },
};

// Fixed names, no source maps, relative addresses: two builds give the same bytes, so that the
// kept files in ../assets can be compared with a fresh build.
export default defineConfig({
  base: "./",
  publicDir: "public",
  plugins: [notices],
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: process.env.EVENFALL_ASSETS ?? "../assets",
    emptyOutDir: true,
    target: "es2022",
    sourcemap: false,
    modulePreload: false,
    assetsInlineLimit: 0,
    cssCodeSplit: false,
    rolldownOptions: {
      output: {
        entryFileNames: "assets/app.js",
        chunkFileNames: "assets/[name].js",
        assetFileNames: "assets/app[extname]",
      },
    },
  },
  test: {
    // What is waited for comes when it comes, also on a machine with much else to do.
    testTimeout: 300_000,
    hookTimeout: 240_000,
    // One more than there are processors: while a test waits for its page, another goes on.
    maxWorkers: availableParallelism() + 1,
    expect: { poll: { timeout: 30_000, interval: 30 } },
    projects: [
      {
        extends: true,
        test: { name: "unit", include: measured ? [] : ["tests/unit/**/*.test.{ts,tsx}"], sequence: { groupOrder: 0 } },
      },
      {
        extends: true,
        test: {
          name: "browser",
          // Times are taken only when asked for: `npm run measure`.
          include: measured ? ["tests/measure.ts"] : ["tests/browser/**/*.test.ts"],
          globalSetup: "tests/browser/explorers.ts",
          // The browser's driver is loaded once for all files of a worker; what they share has no state.
          isolate: false,
          // After the others: between them a worker would be ended, and its browser with it.
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
} as never);
