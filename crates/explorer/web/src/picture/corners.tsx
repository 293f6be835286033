// The field's corners over its picture: added, moved and removed by pointer, touch or keys. What goes once
// round is the scenario's at once; what crosses itself stays a draft until it is mended.

import type { JSX } from "preact";
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { FieldLayout } from "../model/api";
import { areaText, cornersOf, isDrawing, stepM, take } from "../model/corners";
import { areaOf, halfway, heldIn, isSound, placeFor, withCorner, without, withMoved, type Corner } from "../model/ring";
import { lengthText } from "../model/show";
import * as store from "../model/store";

/** What is not the scenario's (yet), and which corner is meant. */
const draft = signal<Corner[] | null>(null);
const selected = signal(0);
/** What became of the last move, where it did not go as asked. */
const words = signal("");

const HELD = "Held at the rectangle’s edge. For a corner beyond it, make the rectangle larger.";
const CROSSED = "The boundary crosses itself here: the scenario keeps the last one that does not. Move a corner.";
const FEW = "Three corners make a boundary: add more.";
const MOST = 200;
/** Steps of an arrow key. */
const KEY_STEPS = 10;
const STEPS = [1, 2, 5, 10, 20, 50];

const rectangleOf = ({ along_m, across_m }: FieldLayout): Corner[] => [[0, 0], [along_m, 0], [along_m, across_m], [0, across_m]];

/** The ring as it is drawn now. */
const ringOf = (field: FieldLayout): Corner[] => draft.value ?? cornersOf(store.scenario.value) ?? rectangleOf(field);

/** Shows a ring, and makes it the scenario's if it goes once round. */
function settle(ring: Corner[]): void {
  const isTaken = take(ring);
  draft.value = isTaken ? null : ring;
  if (!isTaken) words.value = ring.length < 3 ? FEW : CROSSED;
}

/** A corner where it may stand; tells if that is not where it was asked for. */
function held(field: FieldLayout, asked: Corner, step = stepM()): Corner {
  const corner = heldIn(asked, [field.along_m, field.across_m], step);
  const isOff = (axis: 0 | 1, most: number): boolean => asked[axis] < -stepM() || asked[axis] > most + stepM();
  words.value = isOff(0, field.along_m) || isOff(1, field.across_m) ? HELD : "";
  return corner;
}

/** Whole steps that a pointer can tell apart: two dots of the screen or more. */
function pointerStep(metersPerDot: number): number {
  const one = stepM();
  return one * (STEPS.find((steps) => steps * one >= 2 * metersPerDot) ?? 100);
}

/** The place under a pointer, m, and the steps on which it is taken. */
function placeUnder(event: PointerEvent | MouseEvent, svg: SVGSVGElement | null, height: number): [Corner, number] | null {
  const matrix = svg?.getScreenCTM()?.inverse();
  if (!matrix) return null;
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
  return [[point.x, height - point.y], pointerStep(matrix.a)];
}

interface Props {
  field: FieldLayout;
  unit: number;
}

/** The corners and sides, for the inside of the picture. */
export function CornerHandles({ field, unit }: Props): JSX.Element {
  const group = useRef<SVGGElement>(null);
  const dragged = useRef<number | null>(null);
  const height = field.across_m;
  const ring = ringOf(field);
  // What somebody else changes (undo, the rows, another field) goes before a draft.
  useEffect(() => {
    if (dragged.current === null) draft.value = null;
  }, [store.scenario.value]);
  useEffect(() => () => {
    [draft.value, words.value] = [null, ""];
  }, []);
  const under = (event: PointerEvent | MouseEvent): [Corner, number] | null => placeUnder(event, group.current?.ownerSVGElement ?? null, height);
  const grab = (event: PointerEvent, at: number): void => {
    if (event.button !== 0) return;
    event.preventDefault();
    event.stopPropagation();
    [selected.value, dragged.current] = [at, at];
    store.isDragging.value = true;
    group.current?.setPointerCapture(event.pointerId);
    group.current?.querySelectorAll<SVGGElement>(".corner")[at]?.focus({ preventScroll: true });
  };
  const drag = (event: PointerEvent): void => {
    const place = dragged.current === null ? null : under(event);
    if (place) draft.value = withMoved(ringOf(field), dragged.current!, held(field, ...place));
  };
  const drop = (): void => {
    if (dragged.current === null) return;
    dragged.current = null;
    store.isDragging.value = false;
    if (draft.value) settle(draft.value);
  };
  const add = (event: MouseEvent): void => {
    const place = under(event);
    if (!place || dragged.current !== null || ring.length >= MOST) return;
    const corner = held(field, ...place);
    const at = placeFor(ring, corner);
    selected.value = at;
    settle(withCorner(ring, at, corner));
  };
  const path = ring.map(([x, y]) => `${x} ${height - y}`).join("L");
  const isRight = isSound(ring);
  return (
    <g ref={group} class="corners" onPointerMove={drag} onPointerUp={drop} onPointerCancel={drop}>
      <rect x="0" y="0" width={field.along_m} height={height} class="corner-ground" onClick={add} />
      {ring.length > 1 && <path d={`M${path}${ring.length > 2 ? "Z" : ""}`} class={`corner-ring${isRight ? "" : " crossed"}`} stroke-width={unit * 0.7} />}
      {ring.map((corner, i) => (
        <Handle key={i} field={field} ring={ring} index={i} corner={corner} unit={unit} grab={grab} />
      ))}
    </g>
  );
}

interface HandleProps extends Props {
  ring: Corner[];
  index: number;
  corner: Corner;
  grab: (event: PointerEvent, index: number) => void;
}

const ARROWS: Record<string, Corner> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** Removes a corner and goes to the one before it. */
function remove(ring: Corner[], index: number): void {
  selected.value = Math.max(0, index - 1);
  words.value = "";
  settle(without(ring, index));
}

function Handle({ field, ring, index, corner, unit, grab }: HandleProps): JSX.Element {
  const [x, y] = corner;
  const press = (event: KeyboardEvent): void => {
    const arrow = ARROWS[event.key];
    if (arrow) {
      const step = stepM() * (event.shiftKey ? 1 : KEY_STEPS);
      settleIfMoved(ring, index, held(field, [x + arrow[0] * step, y + arrow[1] * step]));
    } else if (event.key === "Delete" || event.key === "Backspace") remove(ring, index);
    else return;
    event.preventDefault();
  };
  const isSelected = index === selected.value;
  return (
    <g
      class={`corner${isSelected ? " selected" : ""}`}
      role="button"
      tabIndex={0}
      aria-label={`Corner ${index + 1} of ${ring.length}: ${lengthText(x, 0)} along, ${lengthText(y, 0)} across`}
      aria-pressed={isSelected}
      onPointerDown={(event) => grab(event, index)}
      onClick={(event) => event.stopPropagation()}
      onFocus={() => (selected.value = index)}
      onKeyDown={press}
    >
      <circle class="corner-reach" cx={x} cy={field.across_m - y} r={unit * 4} />
      <circle class="corner-dot" cx={x} cy={field.across_m - y} r={unit * (isSelected ? 1.9 : 1.5)} stroke-width={unit * 0.6} />
    </g>
  );
}

function settleIfMoved(ring: Corner[], index: number, corner: Corner): void {
  const [x, y] = ring[index]!;
  const said = words.value;
  if (corner[0] === x && corner[1] === y) return;
  settle(withMoved(ring, index, corner));
  words.value ||= said;
}

/** What stands under the picture while corners are drawn. */
export function CornerTools({ field }: { field: FieldLayout }): JSX.Element {
  const ring = ringOf(field);
  const index = Math.min(selected.value, ring.length - 1);
  const corner = ring[index];
  const [area, whole] = [areaOf(ring), field.along_m * field.across_m];
  const addAfter = (): void => {
    selected.value = index + 1;
    settle(withCorner(ring, index + 1, heldIn(halfway(ring, index), [field.along_m, field.across_m], stepM())));
  };
  const start = (): void => {
    [selected.value, words.value] = [0, ""];
    settle(rectangleOf(field));
  };
  return (
    <div class="corner-tools">
      <p role="status">
        <b>{areaText(area)}</b> inside {ring.length} corners, {((100 * area) / whole).toFixed(1)} % of the rectangle.
        {corner && <> Corner {index + 1}: {lengthText(corner[0], 0)} along, {lengthText(corner[1], 0)} across.</>}
        {words.value && <span class="problem"> {words.value}</span>}
      </p>
      <div class="buttons">
        <button type="button" class="main" onClick={() => (isDrawing.value = false)}>Done</button>
        <button type="button" disabled={ring.length >= MOST || ring.length < 2} onClick={addAfter}>Add a corner after it</button>
        <button type="button" disabled={ring.length <= 3} onClick={() => remove(ring, index)}>Remove corner {index + 1}</button>
        <button type="button" onClick={start}>Start from the rectangle</button>
      </div>
      <p class="help">
        Click or tap inside the rectangle to add a corner in the nearest side. Drag a corner, or move it with the arrow keys
        (with Shift in steps of {lengthText(stepM(), 1)}); Delete removes it.
      </p>
    </div>
  );
}
