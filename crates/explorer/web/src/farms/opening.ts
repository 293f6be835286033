// Putting a farm in place of what is at hand.

import { goBack, noteOpened, readFarm, whenText, type FarmOpened } from "../model/farms";
import { open } from "../setup/open";

async function show(opened: FarmOpened, words: string): Promise<void> {
  await noteOpened(opened);
  const { farm, missing } = opened.kept;
  const without = missing.length > 0 ? ` Not kept with it: ${missing.join(", ")}.` : "";
  await open(opened.scenario, `${words}${without}`, opened.files, farm);
}

/** Opens a farm as it is kept now. */
export async function openFarm(farm: string): Promise<void> {
  const opened = await readFarm(farm);
  await show(opened, `Opened “${opened.kept.name}”, kept ${whenText(opened.kept.kept_ms)}.`);
}

/** Goes back to a version of a farm; what it held stays as a version. */
export async function openVersion(farm: string, version: string, kept_ms: number): Promise<void> {
  const opened = await goBack(farm, version);
  await show(opened, `“${opened.kept.name}” is again what it was ${whenText(kept_ms)}. What it was before is among its versions.`);
}
