// Each alternative in little, on the same scale as the others: the first and the last outlets, and where the
// line really stands there pass by pass, with what is done at the edges.

import type { JSX } from "preact";
import type { AlternativeLayout, FieldLayout } from "../model/api";
import { setsOf } from "../model/standing";
import { lengthText } from "../model/show";

const WIDTH = 120;
/** Height of the end of the field that is shown, at either side. */
const END = 46;
const GAP = 8;
const HEIGHT = 2 * END + GAP;
const PIPE_X = 14;
const LETTERS_X = WIDTH - 31;
/** Places nearer than this share one letter's room. */
const CROWDED = 7.5;

export interface SketchLine {
  y_m: number;
  /** Letters of the passes that stand there; + for an extra set at an edge. */
  letters: string;
  along_m: number;
  isExtra: boolean;
}

/** Where an alternative stands in one cycle of its rotation, from one edge to the other; each place once. */
export function linesOf(layout: AlternativeLayout): SketchLine[] {
  const lines: SketchLine[] = [];
  layout.rotation.forEach((stop, k) => {
    for (const set of setsOf(layout, k)) {
      const isExtra = set.role === "extra";
      const letter = `${stop.letter}${isExtra ? "+" : ""}`;
      const same = (l: SketchLine): boolean => Math.abs(l.y_m - set.y_m) < 1e-3 && Math.abs(l.along_m - stop.along_m) < 1e-3;
      const known = lines.find(same);
      if (!known) lines.push({ y_m: set.y_m, letters: letter, along_m: stop.along_m, isExtra });
      else {
        if (!known.letters.includes(letter)) known.letters += letter;
        known.isExtra &&= isExtra;
      }
    }
  });
  return lines.sort((a, b) => a.y_m - b.y_m);
}

/** How much of the field's width is shown at either end, m: what all alternatives need to be compared. */
export function endOf(layouts: (AlternativeLayout | null)[], field: FieldLayout): number {
  const wanted = layouts.map((layout) => {
    const [first = 0, second = first] = layout?.outlets_y_m ?? [];
    return first + 1.6 * (second - first);
  });
  return Math.min(field.across_m / 2, Math.max(...wanted) || field.across_m / 2);
}

interface Props {
  layout: AlternativeLayout;
  field: FieldLayout;
  end_m: number;
  /** The pass whose places are drawn strong, or none. */
  chosen: string;
}

export function Sketch({ layout, field, end_m, chosen }: Props): JSX.Element {
  // A little beyond the field, where a line may stand outside it.
  const scale = END / (1.2 * end_m);
  const beyond = 0.2 * end_m * scale;
  const near = (m: number): number => HEIGHT - beyond - m * scale;
  const far = (m: number): number => beyond + (field.across_m - m) * scale;
  const ends = [
    { id: "far", y: far, isIn: (m: number) => m > field.across_m - 0.95 * end_m && far(m) > 0, top: 0 },
    { id: "near", y: near, isIn: (m: number) => m < 0.95 * end_m && near(m) < HEIGHT, top: HEIGHT - END },
  ];
  const lines = linesOf(layout);
  const heads = layout.sprinklers_x_m;
  const right = Math.min(LETTERS_X - 3, PIPE_X + field.along_m * scale);
  const stops = layout.rotation.map((r) => `${r.letter} ${lengthText(r.across_m)}`);
  const words = stops.length > 0 ? `stops ${stops.join(", ")}` : "its stops are out of reach";
  return (
    <svg class="sketch" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`Both edges of the field with ${layout.name}: ${words}`}>
      {ends.map(({ id, y, isIn, top }) => {
        const shown = lines.filter((line) => isIn(line.y_m)).sort((a, b) => y(a.y_m) - y(b.y_m));
        let column = 0;
        return (
          <g key={id}>
            <rect x={PIPE_X} y={id === "far" ? beyond : top} width={right - PIPE_X + 3} height={END - beyond} class="ground" />
            <line x1="6" x2="6" y1={id === "far" ? beyond : top} y2={id === "far" ? END : HEIGHT - beyond} class="mainline" stroke-width="2" />
            {layout.outlets_y_m.filter(isIn).map((o) => (
              <rect key={o} x="3" y={y(o) - 2.6} width="6" height="5.2" class="outlet" />
            ))}
            {shown.map((line, i) => {
              const above = shown[i - 1];
              column = above && y(line.y_m) - y(above.y_m) < CROWDED ? (column + 1) % 2 : 0;
              const start = PIPE_X + ((heads[0] ?? 0) + line.along_m) * scale;
              const isChosen = chosen !== "" && line.letters.includes(chosen);
              return (
                <g key={`${line.y_m} ${line.along_m}`} class={`sketch-line${isChosen ? " chosen" : ""}${line.isExtra ? " extra" : ""}`}>
                  <line x1={start} x2={right} y1={y(line.y_m)} y2={y(line.y_m)} class="lateral" />
                  {heads.map((x) => PIPE_X + (x + line.along_m) * scale).filter((x) => x < right).map((x) => (
                    <circle key={x} cx={x} cy={y(line.y_m)} r="1.1" class="sprinkler" stroke-width="0.5" />
                  ))}
                  <text x={LETTERS_X + 2 + 14 * column} y={y(line.y_m) + 2.6} class="sketch-letter">
                    {line.letters}
                  </text>
                </g>
              );
            })}
          </g>
        );
      })}
      <path d={`M2 ${END + GAP / 2}q4 -4 8 0t8 0`} class="sketch-break" />
    </svg>
  );
}
