// One sentence on each group of entries, so that a closed group still tells what it holds.

import { at, systemOf, text, type Path, type Scenario } from "../model/scenario";
import { convert, numberOf, short, split, unitFor, type System } from "../model/units";

/** A sentence; a value that is not there is told as a dash. */
export type Precis = (scenario: Scenario) => string;

/** A quantity in the units that are shown, to three figures where it was entered in others. */
function shown(value: string, system: System): string {
  const { number, unit } = split(value);
  const to = unitFor(unit, system);
  const turned = to === unit ? null : convert(numberOf(number), unit, to);
  return turned === null || !Number.isFinite(turned) ? value : `${short(turned, 3)} ${to}`;
}

/** A value as it stands. */
const get = (s: Scenario, ...path: Path): string => shown(text(at(s, path)), systemOf(s)) || "–";

export const field: Precis = (s) =>
  `${get(s, "field", "length_along_pipe")} along the pipe, ${get(s, "field", "width_across")} across; ` +
  `${get(s, "lateral", "machine")}, ${get(s, "lateral", "sprinklers")} sprinklers ` +
  `${get(s, "lateral", "sprinkler_spacing")} apart.`;

export const wheels: Precis = (s) => {
  const outlets = `outlets ${get(s, "outlets", "spacing")} apart, reach ${get(s, "outlets", "reach")}`;
  if (at(s, ["lateral", "machine"]) === "hand move") return `Carried by hand; ${outlets}.`;
  const has = (key: string): boolean => at(s, ["wheel", key]) !== undefined;
  const named = has("size") ? `${get(s, "wheel", "size")} wheels` : `Wheels of ${get(s, "wheel", "outside_diameter")} diameter`;
  const rolls = has("travel_per_turn") ? `Rolls ${get(s, "wheel", "travel_per_turn")} a turn` : named;
  return `${rolls}; ${outlets}.`;
};

export const sprinkler: Precis = (s) => {
  const jet = (at(s, ["sprinkler", "jets", 0]) ?? {}) as Scenario;
  const throws = jet.leg ? "a measured leg" : jet.shape ? `an ideal ${text(jet.shape)}` : `nozzle ${text(jet.nozzle)}`;
  const flow = jet.discharge ? `, ${text(jet.discharge)}` : "";
  return `${get(s, "sprinkler", "pressure")} at the nozzle, ${throws}${flow}.`;
};

export const wind: Precis = (s) => {
  const w = (s.wind ?? {}) as Scenario;
  if (w.still) return "No wind at all.";
  if (w.steady) return `Always ${get(s, "wind", "steady", "speed")} from ${get(s, "wind", "steady", "from")}.`;
  if (w.record) return `Hourly record ${get(s, "wind", "record", "file")}.`;
  return (
    `Drawn by the hour: by day ${get(s, "wind", "generated", "day_mean")}, by night ` +
    `${get(s, "wind", "generated", "night_mean")}, mostly from ${get(s, "wind", "generated", "prevailing_from")}.`
  );
};

export const season: Precis = (s) => {
  const start = get(s, "season", "start").replace("T", ", ");
  const passes = at(s, ["season", "passes"]);
  const length = passes ? `${text(passes)} passes` : `until ${get(s, "season", "until").replace("T", ", ")}`;
  return `From ${start}, ${length}; sets of ${get(s, "season", "set_time")}.`;
};

export const crop: Precis = (s) => {
  if (!s.crop && !s.soil) return "Left out: the page shows water only, no yield and no money.";
  const soil = at(s, ["soil", "texture"]) ? get(s, "soil", "texture") : "soil of your own";
  return `${get(s, "crop", "name")} from ${get(s, "crop", "planted")} on ${soil}.`;
};

export const maintenance: Precis = (s) => {
  if (s.maintenance === undefined) return "Left out: the sheet says nothing about crop under the pipe or moves in the cold.";
  const oil = at(s, ["maintenance", "oil", "grade"]);
  return oil ? `Oil ${text(oil)}.` : "Pipe and axle measured.";
};

export const prices: Precis = (s) => {
  const prices = Object.values((at(s, ["worth", "prices"]) ?? {}) as Scenario);
  if (prices.length === 0) return "None: no money is calculated.";
  const placeholders = prices.filter((p) => p !== null && typeof p === "object" && (p as Scenario).placeholder).length;
  const yields = at(s, ["worth", "prices", "crop", "value"]) ?? at(s, ["worth", "prices", "crop"]);
  const crop = typeof yields === "string" ? `Crop ${split(yields).number} ${split(yields).unit}; ` : "";
  const numbers = prices.length === 1 ? "1 number" : `${prices.length} numbers`;
  const marked = placeholders === 0 ? "none a placeholder" : `${placeholders} of them ${placeholders === 1 ? "a placeholder" : "placeholders"} until you enter yours`;
  return `${crop}${numbers}, ${marked}.`;
};
