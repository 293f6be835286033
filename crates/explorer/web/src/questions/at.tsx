// What the forms of the questions share: an entry at a path of the scenario, and the units at hand.

import type { JSX } from "preact";
import { at, text, type Path } from "../model/scenario";
import { isStarting } from "../model/starting";
import * as store from "../model/store";
import { unitsLike } from "../model/units";
import { problemsAt } from "../setup/wrongs";
import { NumberAnswer } from "./inputs";
import { PICKS } from "./tables";
import { answer } from "./write";

export const isUs = (): boolean => store.system.value === "us";
export const lengthUnit = (): string => (isUs() ? "ft" : "m");
export const lengths = (): string[] => unitsLike(lengthUnit(), store.system.value).filter((one) => ["ft", "in", "m", "yd"].includes(one));
export const picks = (key: string): string[] => PICKS[store.system.value][key] ?? [];

/** What was answered at a path; empty while its starting value holds. */
export const answered = (path: Path): string => (isStarting(store.scenario.value, path) ? "" : text(at(store.scenario.value, path)));
export const held = (path: Path): string => text(at(store.scenario.value, path));

interface AtProps {
  path: Path;
  label: string;
  unit: string;
  units?: string[];
  picks?: string[];
  help?: string;
}

/** A number that the scenario holds as it is typed. */
export function At({ path, ...rest }: AtProps): JSX.Element {
  const id = `ask-${path.join("-")}`;
  const set = (value: string): void => answer(path, value);
  return <NumberAnswer id={id} value={answered(path)} start={held(path)} problems={problemsAt(path)} set={set} {...rest} />;
}

