// A rotation in little: where the line stands beside an outlet and its neighbours, pass by pass, so
// that the ways can be compared at a glance.

import type { JSX } from "preact";
import type { AlternativeLayout } from "../model/api";
import { lengthText } from "../model/show";

const WIDTH = 120;
const HEIGHT = 64;
const MARGIN = 7;
/** Places nearer than this share one letter's room. */
const CROWDED = 9;

interface Line {
  letters: string;
  y: number;
}

export function Sketch({ alternative }: { alternative: AlternativeLayout }): JSX.Element | null {
  const outlets = alternative.outlets_y_m;
  const middle = Math.floor(outlets.length / 2);
  const here = outlets[middle];
  if (here === undefined || alternative.passes.length === 0) return null;
  const spacing = outlets.length > 1 ? Math.abs(outlets[1]! - outlets[0]!) : 2 * Math.max(alternative.reach_m, 1);
  const y = (m: number): number => MARGIN + ((here + spacing - m) / (2 * spacing)) * (HEIGHT - 2 * MARGIN);
  const lines: Line[] = [];
  for (const pass of alternative.passes.slice(0, alternative.rotation.length)) {
    for (const set of pass.sets) {
      if (Math.abs(set.y_m - here) > spacing * 1.001) continue;
      const known = lines.find((line) => Math.abs(line.y - y(set.y_m)) < 0.3);
      if (!known) lines.push({ letters: pass.letter, y: y(set.y_m) });
      else if (!known.letters.includes(pass.letter)) known.letters += pass.letter;
    }
  }
  lines.sort((a, b) => a.y - b.y);
  const rooms = lines.map((line, i) => (i > 0 && line.y - lines[i - 1]!.y < CROWDED && i % 2 === 1 ? 12 : 0));
  const stops = alternative.rotation.map((r) => lengthText(r.across_m));
  return (
    <svg class="sketch" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`Stops of ${alternative.name} beside an outlet: ${stops.join(", ")}`}>
      <rect x="0" y="0" width={WIDTH} height={HEIGHT} class="ground" />
      <line x1="6" x2="6" y1="0" y2={HEIGHT} class="mainline" stroke-width="2" />
      {[-1, 0, 1].map((k) => outlets[middle + k]).filter((o) => o !== undefined).map((o) => (
        <rect key={o} x="3" y={y(o) - 3} width="6" height="6" class="outlet" />
      ))}
      {lines.map((line, i) => (
        <g key={line.y}>
          <line x1="12" x2={WIDTH - 30} y1={line.y} y2={line.y} class="lateral" stroke-width="1.6" />
          <text x={WIDTH - 26 + rooms[i]!} y={line.y + 2.8} class="sketch-letter">
            {line.letters}
          </text>
        </g>
      ))}
    </svg>
  );
}
