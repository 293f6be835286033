// The ten questions in the order in which one tells them, and which values each is about.

import type { Path } from "../model/scenario";

export interface Step {
  id: string;
  title: string;
  /** The values it asks for; what else it writes follows from them. */
  paths: Path[];
}

const prices = (key: string): Path => ["worth", "prices", key];

export const STEPS: Step[] = [
  { id: "size", title: "How big is the field?", paths: [["field", "width_across"], ["field", "length_along_pipe"]] },
  { id: "pipe", title: "How long is the pipe?", paths: [["lateral", "sprinklers"]] },
  { id: "machine", title: "How do you move it?", paths: [["lateral", "machine"], ["wheel"]] },
  { id: "spacing", title: "How far apart are outlets and sprinklers?", paths: [["outlets", "spacing"], ["lateral", "sprinkler_spacing"]] },
  { id: "nozzle", title: "Which nozzle, at what pressure?", paths: [["sprinkler", "jets", 0, "nozzle"], ["sprinkler", "pressure"]] },
  { id: "crop", title: "What do you grow?", paths: [["crop", "name"]] },
  { id: "soil", title: "What is the soil?", paths: [["soil", "texture"]] },
  { id: "sets", title: "How long is a set, and how many a day?", paths: [["season", "set_time"], ["season", "sets_per_day"], ["season", "pass_interval"]] },
  { id: "wind", title: "How windy is it?", paths: [["wind"]] },
  { id: "money", title: "What does a hose or swing joint cost, and what does the crop sell for?", paths: [prices("joint_each"), prices("crop"), prices("water")] },
];

export const ALL_STEPS = STEPS.length;

/** The question that asks for the value at a pointer; −1 where none does. */
export const stepOf = (where: string): number => {
  const isIn = (path: Path): boolean => {
    const here = `/${path.join("/")}`;
    return where === here || where.startsWith(`${here}/`) || here.startsWith(`${where}/`);
  };
  return STEPS.findIndex(({ paths }) => paths.some(isIn));
};
