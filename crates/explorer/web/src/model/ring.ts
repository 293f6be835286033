// A ring of corners on the field: its area, whether it crosses itself, where a corner goes. Plane
// geometry in meters: x along the pipe, y in the direction of travel.

export type Corner = readonly [number, number];

/** Area inside the ring, whichever way round it runs. */
export function areaOf(ring: readonly Corner[]): number {
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    twice += x * nextY - nextX * y;
  });
  return Math.abs(twice) / 2;
}

/** On which side of the line from a to b a corner lies: above 0 to the left, 0 on it. */
const sideOf = ([ax, ay]: Corner, [bx, by]: Corner, [x, y]: Corner): number => (bx - ax) * (y - ay) - (by - ay) * (x - ax);

const liesWithin = ([ax, ay]: Corner, [bx, by]: Corner, [x, y]: Corner): boolean =>
  Math.min(ax, bx) <= x && x <= Math.max(ax, bx) && Math.min(ay, by) <= y && y <= Math.max(ay, by);

/** Whether two sides meet anywhere, ends among them. */
function meet(a: Corner, b: Corner, c: Corner, d: Corner): boolean {
  const [c1, d1, a1, b1] = [sideOf(a, b, c), sideOf(a, b, d), sideOf(c, d, a), sideOf(c, d, b)];
  if (c1 * d1 < 0 && a1 * b1 < 0) return true;
  return (
    (c1 === 0 && liesWithin(a, b, c)) || (d1 === 0 && liesWithin(a, b, d)) || (a1 === 0 && liesWithin(c, d, a)) || (b1 === 0 && liesWithin(c, d, b))
  );
}

/** Whether the ring goes once round an area: three corners or more, and no two sides meet but neighbors
 * in their common corner. */
export function isSound(ring: readonly Corner[]): boolean {
  const n = ring.length;
  if (n < 3 || areaOf(ring) === 0) return false;
  for (let i = 0; i < n; i++) {
    const [a, b] = [ring[i]!, ring[(i + 1) % n]!];
    if (a[0] === b[0] && a[1] === b[1]) return false;
    const next = ring[(i + 2) % n]!;
    // Back along the side it came by.
    if (sideOf(a, b, next) === 0 && (liesWithin(a, b, next) || liesWithin(b, next, a))) return false;
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      if (meet(a, b, ring[j]!, ring[(j + 1) % n]!)) return false;
    }
  }
  return true;
}

/** Square of the distance of a corner from a side. */
function distance2([ax, ay]: Corner, [bx, by]: Corner, [x, y]: Corner): number {
  const [along, across] = [bx - ax, by - ay];
  const length2 = along * along + across * across;
  const share = length2 > 0 ? Math.min(1, Math.max(0, ((x - ax) * along + (y - ay) * across) / length2)) : 0;
  return (x - ax - share * along) ** 2 + (y - ay - share * across) ** 2;
}

/** The place in the ring for a new corner: in the side nearest to it; at the end while there is none. */
export function placeFor(ring: readonly Corner[], corner: Corner): number {
  if (ring.length < 3) return ring.length;
  const distances = ring.map((from, i) => distance2(from, ring[(i + 1) % ring.length]!, corner));
  return distances.indexOf(Math.min(...distances)) + 1;
}

export const withCorner = (ring: readonly Corner[], at: number, corner: Corner): Corner[] => [...ring.slice(0, at), corner, ...ring.slice(at)];
export const withMoved = (ring: readonly Corner[], at: number, corner: Corner): Corner[] => ring.map((one, i) => (i === at ? corner : one));
export const without = (ring: readonly Corner[], at: number): Corner[] => ring.filter((_, i) => i !== at);

/** Halfway to the next corner. */
export function halfway(ring: readonly Corner[], at: number): Corner {
  const [[x, y], [nextX, nextY]] = [ring[at]!, ring[(at + 1) % ring.length]!];
  return [(x + nextX) / 2, (y + nextY) / 2];
}

/** The nearest place in a rectangle, on whole steps or on its edge. */
export function heldIn([x, y]: Corner, [width, height]: Corner, step: number): Corner {
  const held = (value: number, most: number): number => {
    const stepped = Math.round(value / step) * step;
    return stepped <= 0 ? 0 : stepped >= most ? most : stepped;
  };
  return [held(x, width), held(y, height)];
}
