// Line charts by uPlot: one place that knows it.

import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { lineOf } from "../model/show";

export interface Line {
  name: string;
  /** Which alternative it belongs to: sets color and dash. */
  index: number;
  values: (number | null)[];
  isThin?: boolean;
  isStepped?: boolean;
  hasPoints?: boolean;
}

interface Props {
  title: string;
  /** What the picture says, for who cannot see it. */
  words: string;
  x: number[];
  xLabel: string;
  yLabel: string;
  lines: Line[];
  height?: number;
  /** Where "now" is on the x axis. */
  now?: number | null;
  xText?: (x: number) => string;
  range?: [number, number];
}

const INK = "#1b2420";
const RULE = "#d5d2c6";

function options(props: Props, width: number): uPlot.Options {
  const axis = { stroke: INK, grid: { stroke: RULE, width: 1 }, ticks: { stroke: RULE }, font: "13px system-ui, sans-serif", labelFont: "13px system-ui, sans-serif" };
  const series = props.lines.map((line): uPlot.Series => {
    const { color, dash } = lineOf(line.index);
    return {
      label: line.name,
      stroke: color,
      width: line.isThin ? 1.2 : 2.4,
      dash,
      points: { show: line.hasPoints ?? false, size: 6, fill: color },
      ...(line.isStepped ? { paths: uPlot.paths.stepped!({ align: 1 }) } : {}),
    };
  });
  const tell = props.xText;
  return {
    width,
    height: props.height ?? 190,
    legend: { show: false },
    cursor: { show: false },
    scales: { x: { time: false }, y: props.range ? { range: props.range } : {} },
    axes: [
      { ...axis, label: props.xLabel, labelSize: 20, size: 34, ...(tell ? { values: (_u, ticks) => ticks.map(tell) } : { incrs: [1, 2, 5, 10, 20, 50, 100] }) },
      { ...axis, label: props.yLabel, labelSize: 22, size: 46, space: 26 },
    ],
    series: [{}, ...series],
    hooks: { draw: [(u) => drawNow(u, props.now)] },
  };
}

function drawNow(u: uPlot, now: number | null | undefined): void {
  if (now === null || now === undefined) return;
  const x = Math.round(u.valToPos(now, "x", true));
  u.ctx.save();
  u.ctx.strokeStyle = INK;
  u.ctx.setLineDash([3, 3]);
  u.ctx.beginPath();
  u.ctx.moveTo(x, u.bbox.top);
  u.ctx.lineTo(x, u.bbox.top + u.bbox.height);
  u.ctx.stroke();
  u.ctx.restore();
}

export function LineChart(props: Props): JSX.Element {
  const host = useRef<HTMLDivElement>(null);
  const shape = [props.title, props.xLabel, props.yLabel, props.height, ...props.lines.map((l) => `${l.name}${l.index}`), ...(props.range ?? [])].join("|");
  const latest = useRef(props);
  latest.current = props;
  const chart = useRef<uPlot | null>(null);
  const data = (): uPlot.AlignedData => [props.x, ...props.lines.map((l) => l.values)] as uPlot.AlignedData;
  useEffect(() => {
    const box = host.current;
    if (!box) return;
    const made = options(props, Math.max(200, box.clientWidth));
    made.hooks = { draw: [(u) => drawNow(u, latest.current.now)] };
    const plot = new uPlot(made, data(), box);
    chart.current = plot;
    const fit = new ResizeObserver(() => plot.setSize({ width: Math.max(200, box.clientWidth), height: made.height }));
    fit.observe(box);
    return () => {
      fit.disconnect();
      plot.destroy();
      chart.current = null;
    };
  }, [shape]);
  useEffect(() => chart.current?.setData(data()), [props.x, props.lines]);
  useEffect(() => chart.current?.redraw(false), [props.now]);
  return (
    <figure class="chart">
      <figcaption>{props.title}</figcaption>
      <div ref={host} class="chart-ground" role="img" aria-label={props.words} />
    </figure>
  );
}
