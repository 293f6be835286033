// The water on the ground of one alternative at any hour: what earlier passes left, the finished
// sets of this pass, and the share of the set under way.

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

  constructor(
    private readonly run: string,
    private readonly index: number,
    private readonly columns: number,
    rows: number,
    private readonly onReady: () => void,
  ) {
    const cells = rows * columns;
    this.sum = new Float32Array(cells);
    this.alone = new Float32Array(cells);
    this.soFar = new Float32Array(cells);
  }

  /** Fetches what a moment needs; the callback is called when it has come. */
  want(moment: Moment): void {
    const key = `${moment.pass} ${moment.isOver}`;
    if (key === this.wanted || moment.pass < 0) return;
    this.wanted = key;
    const load = moment.isOver ? this.loadWhole(moment.pass) : this.loadMidway(moment.pass);
    load.then(
      (held) => {
        if (this.wanted !== key) return;
        this.held = held;
        this.summed = { pass: -1, finished: 0 };
        this.onReady();
      },
      // A run that is gone is replaced by a newer one, which brings a stage of its own.
      () => undefined,
    );
  }

  private async loadWhole(pass: number): Promise<Whole> {
    const fields = ["cumulative", "pass"].map((what) => grid(this.run, this.index, what, pass));
    const [soFar, alone] = await Promise.all(fields);
    return { kind: "whole", pass, soFar: soFar!.values, alone: alone!.values };
  }

  private async loadMidway(pass: number): Promise<Midway> {
    const before = pass > 0 ? grid(this.run, this.index, "cumulative", pass - 1) : Promise.resolve(null);
    const [earlier, parts] = await Promise.all([before, sets(this.run, this.index, pass)]);
    return { kind: "midway", pass, before: earlier?.values ?? null, sets: parts };
  }

  /** The depths at a moment; null while nothing fitting has come. */
  depths(moment: Moment): Depths | null {
    if (moment.pass < 0) {
      this.alone.fill(0);
      this.soFar.fill(0);
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

  private sumUp(held: Midway, finished: number): void {
    if (this.summed.pass !== held.pass || this.summed.finished > finished) {
      this.sum.fill(0);
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
