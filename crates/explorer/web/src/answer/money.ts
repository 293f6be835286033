// Money as one would say it: whole amounts, no more digits than the range allows.

import type { Amount } from "../model/api";
import { signed } from "../model/show";

const SIGNS: Record<string, string> = { USD: "$", EUR: "€", GBP: "£" };

/** A whole amount with its sign and its currency; of four figures and more only the first two count. */
export function whole(value: number, currency: string | null): string {
  const size = Math.abs(value);
  const step = size >= 1000 ? 10 ** (Math.floor(Math.log10(size)) - 1) : 1;
  const rounded = Math.round(size / step) * step;
  const sign = value < 0 && rounded > 0 ? "-" : "";
  const digits = rounded.toLocaleString("en-US", { maximumFractionDigits: 0 });
  const mark = currency === null ? "" : (SIGNS[currency] ?? "");
  const name = currency !== null && mark === "" ? ` ${currency}` : "";
  return signed(`${sign}${mark}${digits}${name}`);
}

export const wholeOf = (amount: Amount, currency: string | null): string => (amount.number === null ? "–" : whole(amount.number, currency));
