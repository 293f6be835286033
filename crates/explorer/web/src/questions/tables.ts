// What the ten questions start from: three winds, common crops with the days and money that go with
// them, and values to pick. All of it is judgment or from memory, none of it from a source, and all of
// it stays a starting value until somebody enters his own.

import type { System } from "../model/units";

/** A wind as people feel it; the means are at 10 m over open ground. The words for what moves are those of the Beaufort
 * scale (forces 2, 3 and 4); which mean goes with them, and what is left of it by night, is judgment. */
export interface Climate {
  key: "calm" | "breezy" | "windy";
  label: string;
  words: string;
  day_m_s: number;
  night_m_s: number;
}

export const CLIMATES: Climate[] = [
  { key: "calm", label: "Calm", words: "most afternoons you feel it on your face and leaves rustle", day_m_s: 2, night_m_s: 1 },
  { key: "breezy", label: "Breezy", words: "most afternoons leaves and small twigs keep moving", day_m_s: 3.5, night_m_s: 2 },
  { key: "windy", label: "Windy", words: "most afternoons it raises dust and moves small branches", day_m_s: 5.5, night_m_s: 3.2 },
];

/** A value with the least and the most that is plausible. */
export type Spread = [value: number, low: number, high: number];

export interface CropRow {
  /** What the question calls it. */
  label: string;
  /** Its name in the program's table. */
  name: string;
  /** Month and day of planting or green-up, of the first set, of the last water; northern summers. */
  planted: string;
  first: string;
  last: string;
  /** Years before the season in which it is planted. */
  yearsBefore?: number;
  /** Days of growth where the table's own do not fit the water: to begin with, to full cover, at full cover, to the end. */
  stages?: [number, number, number, number];
  /** Yield without stress, ton/ac and t/ha. */
  yield: Record<System, Spread>;
  /** What it sells for: unit and value. */
  price: Record<System, { unit: string; spread: Spread }>;
}

type Money = [unit: string, spread: Spread];

const row = (label: string, name: string, [planted, first, last]: [string, string, string], us: [Spread, Money], si: [Spread, Money], more: Pick<CropRow, "yearsBefore" | "stages"> = {}): CropRow => ({
  label,
  name,
  planted,
  first,
  last,
  ...more,
  yield: { us: us[0], si: si[0] },
  price: { us: { unit: us[1][0], spread: us[1][1] }, si: { unit: si[1][0], spread: si[1][1] } },
});

/** Crops under moved laterals; days, yields and prices from memory, no source. The water begins early and goes on late
 * enough for a deep soil that is watered every eleven days: a start that the plan check itself finds fault with helps nobody. */
export const CROPS: CropRow[] = [
  row("Alfalfa", "alfalfa, mean over cuts", ["04-15", "05-01", "09-27"], [[6.5, 5, 8.5], ["per ton", [200, 140, 260]]], [[15, 11, 19], ["per t", [220, 150, 290]]], { stages: [10, 30, 110, 15] }),
  row("Pasture", "pasture, rotated", ["04-15", "04-22", "10-16"], [[4, 2.5, 6], ["per ton", [100, 60, 160]]], [[9, 5.5, 13], ["per t", [110, 70, 180]]]),
  row("Potatoes", "potato", ["05-01", "05-03", "09-18"], [[22, 16, 28], ["per cwt", [9, 6, 13]]], [[50, 36, 62], ["per t", [200, 130, 290]]], { stages: [25, 30, 60, 25] }),
  row("Corn for grain", "maize, grain", ["05-05", "05-25", "10-02"], [[5.6, 4.5, 6.7], ["per bu", [4.5, 3.5, 6]]], [[12.5, 10, 15], ["per t", [190, 140, 240]]], { stages: [25, 40, 55, 30] }),
  row("Corn for silage", "maize, silage", ["05-05", "05-25", "09-12"], [[28, 22, 34], ["per ton", [50, 38, 65]]], [[62, 50, 75], ["per t", [55, 42, 72]]], { stages: [25, 40, 50, 15] }),
  row("Winter wheat", "winter wheat", ["10-01", "03-20", "07-28"], [[3, 2.2, 3.8], ["per bu", [6, 4.8, 8]]], [[7, 5, 8.5], ["per t", [220, 175, 290]]], { yearsBefore: 1, stages: [160, 60, 60, 20] }),
  row("Spring wheat", "spring wheat", ["04-10", "05-01", "08-08"], [[2.7, 2, 3.4], ["per bu", [6.2, 5, 8.2]]], [[6, 4.5, 7.5], ["per t", [230, 180, 300]]], { stages: [20, 30, 50, 25] }),
  row("Barley", "barley", ["04-10", "05-01", "08-06"], [[2.6, 1.9, 3.2], ["per bu", [5, 3.8, 7]]], [[5.8, 4.3, 7.2], ["per t", [230, 175, 320]]], { stages: [20, 28, 50, 20] }),
  row("Dry beans", "beans, dry", ["05-25", "05-26", "09-02"], [[1.3, 1, 1.7], ["per cwt", [36, 26, 48]]], [[2.9, 2.2, 3.8], ["per t", [790, 570, 1050]]]),
  row("Sugar beets", "sugar beet", ["04-15", "04-23", "10-12"], [[34, 27, 40], ["per ton", [50, 38, 65]]], [[76, 60, 90], ["per t", [55, 42, 72]]]),
  row("Onions", "onion, dry", ["04-10", "04-12", "09-07"], [[30, 20, 38], ["per cwt", [12, 6, 20]]], [[67, 45, 85], ["per t", [260, 130, 440]]]),
];

/** Prices that nobody was asked for, as the demo has them; the same numbers whatever the currency. */
export const OTHER_PRICES: [key: string, unit: Record<System, string>, spread: Record<System, Spread>][] = [
  ["water", { us: "per ac-ft", si: "per m3" }, { us: [20, 0, 60], si: [0.016, 0, 0.05] }],
  ["energy", { us: "per ac-ft", si: "per m3" }, { us: [35, 15, 70], si: [0.028, 0.012, 0.057] }],
  ["labor", { us: "per h", si: "per h" }, { us: [20, 12, 30], si: [20, 12, 30] }],
  ["labor_per_move", { us: "min", si: "min" }, { us: [30, 20, 45], si: [30, 20, 45] }],
  ["joint_each", { us: "each", si: "each" }, { us: [150, 60, 300], si: [150, 60, 300] }],
  ["joint_life", { us: "yr", si: "yr" }, { us: [10, 5, 15], si: [10, 5, 15] }],
  ["discount_rate", { us: "%", si: "%" }, { us: [5, 2, 9], si: [5, 2, 9] }],
];

/** Reference evapotranspiration by month, made up for a dry northern summer, as the demo has it. */
export const ET0: Record<System, string[]> = {
  us: [0.04, 0.06, 0.1, 0.15, 0.19, 0.23, 0.25, 0.21, 0.15, 0.1, 0.05, 0.03].map((n) => `${n} in/d`),
  si: [1, 1.5, 2.5, 3.8, 4.8, 5.8, 6.4, 5.3, 3.8, 2.5, 1.3, 0.8].map((n) => `${n} mm/d`),
};

/** How far a nozzle throws until somebody enters his maker's figure: 44 ft from 5/32 in at 50 psi, more
 * with a wider nozzle and more pressure. A rule of ours, no source. */
export const throwOf_m = (nozzle_mm: number, pressure_kpa: number): number =>
  13.4 * (nozzle_mm / 3.96875) ** 0.4 * (pressure_kpa / 344.738) ** 0.25;

/** Values to pick from, as the trade has them (common practice, no source). */
export const PICKS: Record<System, Record<string, string[]>> = {
  us: {
    area: ["20", "40", "80"], pipe: ["660", "1280", "1320"], outlets: ["40", "50", "60"], sprinklers: ["30", "40"],
    nozzle: ["9/64", "5/32", "11/64", "3/16"], pressure: ["40", "50", "60"], set_time: ["7.5", "11.5", "23.5"], joint: [],
  },
  si: {
    area: ["8", "16", "32"], pipe: ["200", "400"], outlets: ["12", "15", "18"], sprinklers: ["9", "12"],
    nozzle: ["3.6", "4", "4.4", "4.8"], pressure: ["280", "350", "420"], set_time: ["7.5", "11.5", "23.5"], joint: [],
  },
};

/** Textures in the order of their grain, with how they feel (common practice, no source). */
export const SOILS: [texture: string, words: string][] = [
  ["sand", "gritty, falls apart in the hand"],
  ["loamy sand", "gritty, hardly holds a shape"],
  ["sandy loam", "gritty, holds a weak shape"],
  ["loam", "neither gritty nor sticky"],
  ["silt loam", "smooth like flour"],
  ["silt clay loam", "smooth and a little sticky"],
  ["clay", "sticky, rolls into a thin ribbon"],
];
