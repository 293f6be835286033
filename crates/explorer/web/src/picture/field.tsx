// The whole field seen from above: mainline, outlets, the stops of one alternative, the lateral.

import type { JSX } from "preact";
import type { AlternativeLayout, FieldLayout, SetTime } from "../model/api";
import { areShown } from "../model/corners";
import { lengthText } from "../model/show";
import { setsOf } from "../model/standing";
import { CornerHandles, CornerTools } from "./corners";
import { endsOf, sprinklersOf } from "./pipes";

interface Props {
  field: FieldLayout;
  alternative: AlternativeLayout;
  /** Which stop of the rotation the lateral is shown at. */
  stop: number;
}

/** An arrow towards a bearing, on a picture whose upper side has the bearing `up`. */
export function Compass({ up, size }: { up: number; size: number }): JSX.Element {
  return (
    <svg class="compass" width={size} height={size} viewBox="-20 -20 40 40" role="img" aria-label={`North lies ${Math.round(up)}° counterclockwise of the direction of travel`}>
      <circle r="18.5" class="compass-ring" />
      <g transform={`rotate(${-up})`}>
        <path d="M0-7L5 14L0 10L-5 14Z" class="compass-needle" />
        <text y="-8.5" text-anchor="middle" class="compass-letter">N</text>
      </g>
    </svg>
  );
}

/** Rings as a path; the picture's upper side is where y is largest. */
export function ringsPath(field: FieldLayout): string {
  const ring = (corners: number[][]): string => `M${corners.map(([x = 0, y = 0]) => `${x} ${field.across_m - y}`).join("L")}Z`;
  return field.boundary.map(ring).join("");
}

/** The field's own land; what the rectangle has beyond it is left blank. */
function Ground({ field }: { field: FieldLayout }): JSX.Element {
  const { along_m: width, across_m: height } = field;
  if (field.boundary.length === 0) return <rect x="0" y="0" width={width} height={height} class="ground" />;
  return (
    <>
      <rect x="0" y="0" width={width} height={height} class="beyond" />
      <path d={ringsPath(field)} fill-rule="evenodd" class="ground" />
    </>
  );
}

/** What is done at the edges in a pass, in words; empty where every stop is shifted. */
export function edgeWords(sets: SetTime[]): string {
  const held = sets.filter((set) => set.role === "held").map((set) => set.outlet + 1);
  const extra = sets.filter((set) => set.role === "extra").map((set) => set.outlet + 1);
  if (held.length > 0) return ` At ${held.length === 1 ? "outlet" : "outlets"} ${held.join(" and ")} it stands unshifted.`;
  if (extra.length > 0) return ` At outlet ${extra.join(" and ")} it runs an extra set, for the edge that the shift opens.`;
  return "";
}

interface StopLinesProps {
  layout: AlternativeLayout;
  stop: number;
  chosen: number;
  y: (meters: number) => number;
  unit: number;
}

/** Where the line stands in the pass of one stop, outlet by outlet. */
function StopLines({ layout, stop, chosen, y, unit }: StopLinesProps): JSX.Element {
  const along = layout.rotation[stop]?.along_m ?? 0;
  const from = layout.mainline_x_m ?? -2 * unit;
  const isChosen = stop === chosen;
  return (
    <>
      {setsOf(layout, stop).map((set) => {
        const [first, last] = endsOf(layout, set.side, along);
        return (
        <g key={`${set.start_h} ${set.line}`}>
          <line
            class={`stop-line ${set.role}${isChosen ? " chosen" : ""}`}
            x1={first}
            x2={last}
            y1={y(set.y_m)}
            y2={y(set.y_m)}
            stroke-width={unit * (isChosen && set.role !== "shifted" ? 0.5 : 0.22)}
            stroke-dasharray={isChosen ? undefined : `${unit} ${unit}`}
          />
          {isChosen && <path d={hose(y, layout.outlets_y_m[set.outlet] ?? set.y_m, set.y_m, [from, first], unit)} class="hose" stroke-width={unit * 0.22} />}
        </g>
        );
      })}
    </>
  );
}

/** The hose or joint from an outlet to the lateral. */
const hose = (y: (m: number) => number, from: number, to: number, [start, end]: [number, number], unit: number): string =>
  `M${start} ${y(from)}Q${start + (end < start ? -1.5 : 1.5) * unit} ${y((from + to) / 2)} ${end} ${y(to)}`;

export function FieldPicture({ field, alternative, stop }: Props): JSX.Element {
  const { along_m: width, across_m: height } = field;
  const unit = Math.max(width, height) / 100;
  const y = (meters: number): number => height - meters;
  const outlets = alternative.outlets_y_m;
  const shift = alternative.rotation[stop] ?? alternative.rotation[0];
  const moved = shift?.along_m ?? 0;
  const pipe = sprinklersOf(alternative, "right", moved);
  const [first, last] = endsOf(alternative, "right", moved);
  const mainline = alternative.mainline_x_m ?? -2 * unit;
  const sets = setsOf(alternative, stop);
  const middle = outlets[Math.floor(outlets.length / 2)] ?? height / 2;
  const stands = middle + (shift?.across_m ?? 0);
  const words =
    `Field of ${lengthText(width, 0)} along the pipe and ${lengthText(height, 0)} across, ` +
    `${outlets.length} outlets on the mainline ${alternative.mainline_x_m === null ? "at its left side" : "through it, both sides watered"}, ` +
    `${alternative.lines === 1 ? "lateral" : `${alternative.lines} laterals`} with ${pipe.length} sprinklers.`;
  return (
    <figure class="field-picture">
      <svg viewBox={`${-9 * unit} ${-6 * unit} ${width + 13 * unit} ${height + 13 * unit}`} role={areShown() ? "group" : "img"} aria-label={words}>
        <Ground field={field} />
        {alternative.rotation.map((_, k) => (
          <StopLines key={k} layout={alternative} stop={k} chosen={stop} y={y} unit={unit} />
        ))}
        <line x1={mainline} x2={mainline} y1={y(0)} y2={y(height)} class="mainline" stroke-width={unit * 0.9} />
        {outlets.map((o) => (
          <rect key={o} x={mainline - 0.9 * unit} y={y(o) - 0.7 * unit} width={1.8 * unit} height={1.4 * unit} class="outlet" />
        ))}
        {shift && (
          <>
            <path d={hose(y, middle, stands, [mainline, first], unit)} class="hose" stroke-width={unit * 0.5} />
            <line x1={first} x2={last} y1={y(stands)} y2={y(stands)} class="lateral" stroke-width={unit * 0.9} />
            {pipe.map((x) => (
              <circle key={x} cx={x} cy={y(stands)} r={unit * 0.55} class="sprinkler" stroke-width={unit * 0.2} />
            ))}
          </>
        )}
        <g class="scale" style={`--unit: ${unit}px`}>
          <text x={width / 2} y={height + 4.6 * unit} text-anchor="middle">{lengthText(width, 0)} along the pipe</text>
          <text transform={`translate(${-4.8 * unit} ${height / 2}) rotate(-90)`} text-anchor="middle">
            {lengthText(height, 0)} across: direction of travel →
          </text>
        </g>
        {areShown() && <CornerHandles field={field} unit={unit} />}
      </svg>
      {areShown() && <CornerTools field={field} />}
      <figcaption>
        <Compass up={field.travel_bearing_deg} size={44} />
        {shift ? (
          <span>
            <b>{alternative.name}</b>, stop {shift.letter}. The thick line is the lateral at one outlet; thin lines are
            where it stands at every outlet in this pass, dashed ones in the other passes of the rotation.
            {edgeWords(sets)}
          </span>
        ) : (
          <span>
            <b>{alternative.name}</b> cannot stand at the stops you entered; only its outlets are drawn.
          </span>
        )}
      </figcaption>
    </figure>
  );
}
