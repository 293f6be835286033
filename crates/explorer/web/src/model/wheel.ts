// Wheels by the trade's name. What each rolls stands in the program's table and comes with the schema.

import { convert, numberOf, split } from "./units";

/** So close to the feet in its name a diameter is taken for the name; as the program has it. */
const NAME_TOLERANCE = 0.02;

/** Whether a diameter, in whatever unit, is the feet in the name of a size: 84 in of "7-foot". */
export function isNameOf(size: string, diameter: string): boolean {
  const { number, unit } = split(diameter);
  const across_ft = convert(numberOf(number), unit, "ft");
  const named_ft = Number.parseFloat(size);
  return across_ft !== null && Math.abs(across_ft - named_ft) <= NAME_TOLERANCE * named_ft;
}
