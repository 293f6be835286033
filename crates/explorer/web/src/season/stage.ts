// The water on the ground of one alternative at any hour: what earlier passes left, the finished
// sets of this pass, and the share of the set under way. Beyond the field's edge there is no value,
// wet or dry.

import { grid, sets, type SetDepth } from "../model/grids";
import type { Moment } from "./timeline";

interface Midway {
  kind: "midway";
  pass: number;
  before: Float32Array | null;
  sets: SetDepth[];
}

interface Whole {
  kind: "whole";
  pass: number;
  soFar: Float32Array;
  alone: Float32Array;
}

export interface Depths {
  soFar: Float32Array;
  alone: Float32Array;
}

export class Stage {
  private wanted = "";
  private held: Midway | Whole | null = null;
  private sum: Float32Array;
  private alone: Float32Array;
  private soFar: Float32Array;
  /** How many sets of which pass `sum` holds. */
  private summed = { pass: -1, finished: 0 };
  /** A grid that has no value beyond the edge, of a field that has one. */
  private edge: Float32Array | null = null;

  constructor(
    private readonly run: string,
    private readonly index: number,
    private readonly columns: number,
    rows: number,
    private readonly hasEdge: () => boolean,
    private readonly onReady: () => void,
  ) {
    const cells = rows * columns;
    this.sum = new Float32Array(cells);
    this.alone = new Float32Array(cells);
    this.soFar = new Float32Array(cells);
  }

  /** Fetches what a moment needs; the callback is called when it has come. */
  want(moment: Moment): void {
    const key = `${moment.pass} ${moment.isOver} ${this.hasEdge()}`;
    if (key === this.wanted) return;
    this.wanted = key;
    const isBefore = moment.pass < 0;
    const load = isBefore ? this.loadEdge() : moment.isOver ? this.loadWhole(moment.pass) : this.loadMidway(moment.pass);
    load.then(
      (held) => {
        if (this.wanted !== key) return;
        this.held = held ?? this.held;
        this.summed = { pass: -1, finished: 0 };
        this.onReady();
      },
      // A run that is gone is replaced by a newer one, which brings a stage of its own.
      () => undefined,
    );
  }

  private async loadEdge(): Promise<null> {
    if (this.hasEdge()) this.edge ??= (await grid(this.run, this.index, "pass", 0)).values;
    return null;
  }

  private async loadWhole(pass: number): Promise<Whole> {
    const fields = ["cumulative", "pass"].map((what) => grid(this.run, this.index, what, pass));
    const [soFar, alone] = await Promise.all(fields);
    return { kind: "whole", pass, soFar: soFar!.values, alone: alone!.values };
  }

  private async loadMidway(pass: number): Promise<Midway> {
    const before = pass > 0 ? grid(this.run, this.index, "cumulative", pass - 1) : Promise.resolve(null);
    const [earlier, parts] = await Promise.all([before, sets(this.run, this.index, pass), this.loadEdge()]);
    return { kind: "midway", pass, before: earlier?.values ?? null, sets: parts };
  }

  /** The depths at a moment; null while nothing fitting has come. */
  depths(moment: Moment): Depths | null {
    if (moment.pass < 0) {
      if (this.hasEdge() && !this.edge) return null;
      this.dry(this.alone);
      this.dry(this.soFar);
      return { soFar: this.soFar, alone: this.alone };
    }
    const held = this.held;
    if (!held || held.pass !== moment.pass || (held.kind === "whole") !== moment.isOver) return null;
    if (held.kind === "whole") return { soFar: held.soFar, alone: held.alone };
    this.sumUp(held, moment.finished);
    this.alone.set(this.sum);
    const current = held.sets[moment.finished];
    if (current && moment.share > 0) lay(this.alone, current, moment.share, this.columns);
    const before = held.before;
    for (let i = 0; i < this.soFar.length; i++) this.soFar[i] = this.alone[i]! + (before ? before[i]! : 0);
    return { soFar: this.soFar, alone: this.alone };
  }

  /** No water yet; beyond the edge no value. */
  private dry(ground: Float32Array): void {
    const { edge } = this;
    if (!edge) ground.fill(0);
    else for (let i = 0; i < ground.length; i++) ground[i] = Number.isNaN(edge[i]) ? NaN : 0;
  }

  private sumUp(held: Midway, finished: number): void {
    if (this.summed.pass !== held.pass || this.summed.finished > finished) {
      this.dry(this.sum);
      this.summed = { pass: held.pass, finished: 0 };
    }
    for (let k = this.summed.finished; k < finished; k++) {
      const set = held.sets[k];
      if (set) lay(this.sum, set, 1, this.columns);
    }
    this.summed.finished = finished;
  }
}

function lay(onto: Float32Array, set: SetDepth, share: number, columns: number): void {
  const offset = set.firstRow * columns;
  const { depth } = set;
  for (let i = 0; i < depth.length; i++) {
    const at = offset + i;
    if (at >= 0 && at < onto.length) onto[at] = onto[at]! + share * depth[i]!;
  }
}
