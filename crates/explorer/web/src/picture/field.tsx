// The whole field seen from above: mainline, outlets, the stops of one alternative, the lateral.

import type { JSX } from "preact";
import type { AlternativeLayout, FieldLayout, Layout } from "../model/api";
import { lengthText } from "../model/show";

interface Props {
  layout: Layout;
  alternative: AlternativeLayout;
  /** Which stop of the rotation the lateral is shown at. */
  stop: number;
}

/** An arrow towards a bearing, on a picture whose upper side has the bearing `up`. */
export function Compass({ up, size }: { up: number; size: number }): JSX.Element {
  return (
    <svg class="compass" width={size} height={size} viewBox="-20 -20 40 40" role="img" aria-label={`North lies ${Math.round(up)}° counter-clockwise of the way of travel`}>
      <circle r="18.5" class="compass-ring" />
      <g transform={`rotate(${-up})`}>
        <path d="M0-15L5 6L0 2L-5 6Z" class="compass-needle" />
        <text y="15" text-anchor="middle" class="compass-letter">N</text>
      </g>
    </svg>
  );
}

/** Rings as a path; the picture's upper side is where y is largest. */
export function ringsPath(field: FieldLayout): string {
  const ring = (corners: [number, number][]): string => `M${corners.map(([x, y]) => `${x} ${field.across_m - y}`).join("L")}Z`;
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

export function FieldPicture({ layout, alternative, stop }: Props): JSX.Element {
  const { along_m: width, across_m: height } = layout.field;
  const unit = Math.max(width, height) / 100;
  const y = (metres: number): number => height - metres;
  const outlets = alternative.outlets_y_m;
  const pipe = alternative.sprinklers_x_m;
  const [first = 0, last = width] = [pipe[0], pipe[pipe.length - 1]];
  const shift = alternative.rotation[stop] ?? alternative.rotation[0];
  const middle = outlets[Math.floor(outlets.length / 2)] ?? height / 2;
  const stands = middle + (shift?.across_m ?? 0);
  const moved = shift?.along_m ?? 0;
  const words =
    `Field of ${lengthText(width, 0)} along the pipe and ${lengthText(height, 0)} across, ` +
    `${outlets.length} outlets on the mainline at its left side, lateral with ${pipe.length} sprinklers.`;
  return (
    <figure class="field-picture">
      <svg viewBox={`${-9 * unit} ${-6 * unit} ${width + 13 * unit} ${height + 13 * unit}`} role="img" aria-label={words}>
        <Ground field={layout.field} />
        {alternative.rotation.map((r, k) =>
          outlets.map((o) => (
            <line
              key={`${k} ${o}`}
              class={`stop-line${k === stop ? " chosen" : ""}`}
              x1={first + r.along_m}
              x2={last + r.along_m}
              y1={y(o + r.across_m)}
              y2={y(o + r.across_m)}
              stroke-width={unit * 0.22}
              stroke-dasharray={k === stop ? undefined : `${unit} ${unit}`}
            />
          )),
        )}
        <line x1={-2 * unit} x2={-2 * unit} y1={y(0)} y2={y(height)} class="mainline" stroke-width={unit * 0.9} />
        {outlets.map((o) => (
          <rect key={o} x={-2.9 * unit} y={y(o) - 0.7 * unit} width={1.8 * unit} height={1.4 * unit} class="outlet" />
        ))}
        <path
          d={`M${-2 * unit} ${y(middle)}Q${-0.5 * unit} ${y((middle + stands) / 2)} ${first + moved} ${y(stands)}`}
          class="hose"
          stroke-width={unit * 0.5}
        />
        <line x1={first + moved} x2={last + moved} y1={y(stands)} y2={y(stands)} class="lateral" stroke-width={unit * 0.9} />
        {pipe.map((x) => (
          <circle key={x} cx={x + moved} cy={y(stands)} r={unit * 0.55} class="sprinkler" stroke-width={unit * 0.2} />
        ))}
        <g class="scale" style={`--unit: ${unit}px`}>
          <text x={width / 2} y={height + 4.6 * unit} text-anchor="middle">{lengthText(width, 0)} along the pipe</text>
          <text transform={`translate(${-4.8 * unit} ${height / 2}) rotate(-90)`} text-anchor="middle">
            {lengthText(height, 0)} across: way of travel →
          </text>
        </g>
      </svg>
      <figcaption>
        <Compass up={layout.field.travel_bearing_deg} size={44} />
        <span>
          <b>{alternative.name}</b>, stop {shift?.letter ?? "A"}. The thick line is the lateral at one outlet; thin lines are
          where it stands at every outlet in this pass, dashed ones in the other passes of the rotation.
        </span>
      </figcaption>
    </figure>
  );
}
