// Shapefiles among opened files: the program on this machine reads them and gives their text, for the
// page keeps texts only. What belongs to one and is not needed is left out.

import { api } from "./api";
import { sizeText, Unfit, type Opened } from "./packed";
import * as store from "./store";

/** Most that is taken of a shapefile, bytes: it goes to the program in a longer spelling. */
const MOST_SHAPE = 5.5e6;

const stem = (name: string): string => name.replace(/\.[^.]*$/, "").toLowerCase();

/** Bytes as base64, in pieces that no call is too long for. */
function base64(bytes: Uint8Array): string {
  let text = "";
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
}

/** The same files with each shapefile as a text of its own, under `name` if one is given. */
export async function converted(opened: Opened[], name?: string): Promise<Opened[]> {
  const shapes = opened.filter((one) => one.bytes);
  if (shapes.length === 0) return opened;
  const ofShape = (one: Opened): boolean => shapes.some((shape) => stem(shape.name) === stem(one.name));
  const rest = opened.filter((one) => !one.bytes && !(ofShape(one) && /\.prj$/i.test(one.name)));
  const texts = shapes.map(async (shape): Promise<Opened> => {
    const prj = opened.find((one) => /\.prj$/i.test(one.name) && stem(one.name) === stem(shape.name));
    if (shape.bytes!.length > MOST_SHAPE) throw new Unfit(`${shape.name} has ${sizeText(shape.bytes!.length)}; the page takes at most ${sizeText(MOST_SHAPE)}. Export the one field alone.`);
    try {
      const found = await api.shapefile({ shape: base64(shape.bytes!), projection: prj?.body ?? null });
      if (found.polygons > 1) store.say(`${shape.name} holds ${found.polygons} polygons: say under Field and lateral which of them is the field.`);
      return { name: name ?? shape.name.replace(/\.[^.]*$/, ".geojson"), body: found.text };
    } catch (error) {
      throw error instanceof Error ? new Unfit(`${shape.name}: ${error.message}`) : error;
    }
  });
  return [...(await Promise.all(texts)), ...rest];
}
