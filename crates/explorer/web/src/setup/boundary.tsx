// The edge of a field that is not the whole rectangle: corners typed or drawn, or a polygon from a file.

import type { JSX } from "preact";
import { areaText, asWritten, CORNERS, cornersOf, isDrawing, written } from "../model/corners";
import { halfway, type Corner } from "../model/ring";
import { at, type Json } from "../model/scenario";
import * as store from "../model/store";
import { Entry, QuantityEntry } from "./entry";
import { FileEntry } from "./named_file";
import { problemsOf, problemsOfRows, Wrongs } from "./wrongs";

/** Farther than this no number is from a field's corner: it is a map's. */
const FAR = 20_000;

/** What the numbers of a boundary probably are: the standard's degrees, unless they are too large; those of
 * a map, where they are far too large for a field. */
export function guessCoordinates(body: string, system: "us" | "si"): "lon/lat" | "ft" | "m" | "projected ft" | "projected m" {
  const pairs = [...body.matchAll(/\[\s*(-?[\d.eE+-]+)\s*,\s*(-?[\d.eE+-]+)/g)];
  const isDegrees = pairs.every(([, x, y]) => Math.abs(Number(x)) <= 180 && Math.abs(Number(y)) <= 90);
  const isMap = pairs.some(([, x, y]) => Math.abs(Number(x)) > FAR || Math.abs(Number(y)) > FAR);
  if (isMap) return system === "us" ? "projected ft" : "projected m";
  return pairs.length > 0 && isDegrees ? "lon/lat" : system === "us" ? "ft" : "m";
}

/** The section for a boundary that was opened; what a file says of itself needs no guess. */
export function boundaryOf(name: string, body: string): Json {
  return /"crs"\s*:/.test(body) ? { file: name } : { file: name, coordinates: guessCoordinates(body, store.system.value) };
}

/** Shows the picture, with the corners to be moved. */
function draw(): void {
  isDrawing.value = true;
  document.querySelector(".field-picture")?.scrollIntoView({ block: "nearest" });
}

/** The corners row by row. */
function CornerRows(): JSX.Element {
  const list = at(store.scenario.value, CORNERS);
  const count = Array.isArray(list) ? list.length : 0;
  const add = (): void => {
    const ring = cornersOf(store.scenario.value);
    const next = ring && ring.length > 1 ? halfway(ring, ring.length - 1).map(written) : ["", ""];
    store.edit([...CORNERS, count], next);
  };
  const remove = (i: number): void => store.edit(count === 1 ? ["field", "boundary"] : [...CORNERS, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Corners of the boundary</legend>
      <p class="help">In turn, each from the field’s corner at the first outlet: along the pipe, then in the direction of travel.</p>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <QuantityEntry path={[...CORNERS, i, 0]} label={`Corner ${i + 1}: along`} isBare />
          <QuantityEntry path={[...CORNERS, i, 1]} label={`Corner ${i + 1}: across`} isBare />
          <button type="button" class="small" aria-label={`Remove corner ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={problemsOfRows(CORNERS)} />
      <button type="button" onClick={add}>
        Add a corner
      </button>
    </fieldset>
  );
}

/** What the layout says of the area. */
function AreaLine(): JSX.Element | null {
  const field = store.drafted.value?.field;
  if (!field || field.boundary.length === 0) return null;
  const share = (100 * field.area_m2) / (field.along_m * field.across_m);
  return (
    <p class="help" id="boundary-area">
      Inside the boundary: <b>{areaText(field.area_m2)}</b>, {share.toFixed(1)} % of the rectangle.
    </p>
  );
}

/** Most corners that the page turns a file's ring into. */
const MOST_TURNED = 60;

/** A file's ring as corners of one's own, where that is one ring of not too many corners. */
function TurnInto(): JSX.Element | null {
  const rings = store.drafted.value?.field.boundary ?? [];
  const [ring] = rings;
  if (!ring || rings.length > 1 || ring.length > MOST_TURNED) return null;
  const turn = (): void => {
    store.edit(["field", "boundary"], { corners: asWritten(ring.map(([x = 0, y = 0]): Corner => [x, y])) });
    draw();
  };
  return (
    <button type="button" onClick={turn}>
      Turn it into corners you can move
    </button>
  );
}

/** The edge of a field that is not the whole rectangle. */
export function BoundaryEntries(): JSX.Element {
  const path = ["field", "boundary"] as const;
  const isThere = at(store.scenario.value, path) !== undefined;
  const hasCorners = at(store.scenario.value, CORNERS) !== undefined;
  const isFile = isThere && !hasCorners;
  return (
    <fieldset class="rows boundary">
      <legend>Boundary, if the field is not a rectangle</legend>
      <p class="help">Uniformity then counts inside it only; water beyond it is off the field.</p>
      <AreaLine />
      {!isFile && (
        <div class="buttons">
          <button type="button" onClick={draw} disabled={isDrawing.value}>
            {hasCorners ? "Move its corners on the picture" : "Draw it on the picture"}
          </button>
        </div>
      )}
      {hasCorners && <CornerRows />}
      {!hasCorners && (
        <FileEntry
          path={path}
          label="Or a file that has it"
          help="A polygon as GeoJSON, or a shapefile: its .shp and .prj together, or both in a .zip. Holes are allowed."
          none="No file: the whole rectangle."
          hasParts
          fresh={boundaryOf}
        />
      )}
      {isFile && (
        <>
          <Entry path={[...path, "coordinates"]} />
          <Entry path={[...path, "polygon"]} />
          <TurnInto />
        </>
      )}
      <Wrongs problems={problemsOf(path)} />
      {isThere && (
        <button
          type="button"
          onClick={() => {
            isDrawing.value = false;
            store.edit(path, undefined);
          }}
        >
          Use the whole rectangle
        </button>
      )}
    </fieldset>
  );
}
