// Entries on the ground and the machine: field, lateral, wheels, outlets, sprinkler.

import type { JSX } from "preact";
import { at, text, type Path, type Scenario } from "../model/scenario";
import { rowAt } from "../model/schema";
import * as store from "../model/store";
import { isNameOf } from "../model/wheel";
import { AreaEntry, PipeLengthEntry } from "./derived";
import { WheelFacts } from "./facts";
import { ChoiceEntry, Entries, Entry } from "./entry";
import { problemsOf, Wrongs } from "./wrongs";
import { BoundaryEntries } from "./boundary";
import { FlowControlEntries, SurveyEntries } from "./survey";
import { PipeEntries } from "./pipe";
import { LegRows, OddSprinklerRows } from "./rows";
import { KeyChoice, type KeyOption } from "./key_choice";

const isHandMoved = (): boolean => at(store.scenario.value, ["lateral", "machine"]) === "hand move";

export function FieldEntries(): JSX.Element {
  return (
    <>
      <Entries path={[]} keys={["title", "question"]} />
      <Entries path={["field"]} keys={["length_along_pipe", "width_across"]} />
      <AreaEntry />
      <Entries path={["field"]} except={["length_along_pipe", "width_across", "cell"]} />
      <Entries path={["lateral"]} except={["first_sprinkler", "discharge_variation", "nozzle_wear", "leaks"]} />
      <PipeLengthEntry />
      <BoundaryEntries />
      <details class="more">
        <summary>Advanced inputs</summary>
        <div class="entries">
          <Entry path={["lateral", "first_sprinkler"]} />
          <Entry path={["lateral", "discharge_variation"]} />
          <Entry path={["lateral", "nozzle_wear"]} />
          <OddSprinklerRows path={["lateral", "odd_sprinklers"]} />
          <Entry path={["lateral", "leaks"]} />
          <Entry path={["field", "cell"]} />
          <Entry path={["invented"]} />
        </div>
      </details>
      <SurveyEntries path={["lateral", "survey"]} />
      <PipeEntries path={["lateral", "pipe"]} />
    </>
  );
}

const WHEEL_OPTIONS: KeyOption[] = [
  {
    label: "By the trade's name: 5-, 7- or 9-foot",
    key: "size",
    fresh: { size: "7-foot" },
    drops: ["travel_per_turn", "outside_diameter", "slip_and_sinkage"],
    beside: ["travel_per_turn"],
  },
  {
    label: "Travel measured in the field",
    key: "travel_per_turn",
    fresh: { travel_per_turn: "20 ft" },
    drops: ["size", "outside_diameter", "slip_and_sinkage"],
  },
  {
    label: "From the wheel's diameter",
    key: "outside_diameter",
    fresh: { outside_diameter: "76 in", slip_and_sinkage: "2 %" },
    drops: ["size", "travel_per_turn"],
  },
];

const WHEEL_KEYS = ["size", "travel_per_turn", "outside_diameter", "slip_and_sinkage"];

/** Asks whether a diameter is the trade's name for a wheel, which rolls less than that diameter. */
export function NameQuestion({ path }: { path: Path }): JSX.Element | null {
  const { choices, meanings } = rowAt(store.schema.value, [...path, "size"]);
  const diameter = text(at(store.scenario.value, [...path, "outside_diameter"]));
  const i = choices.findIndex((size) => isNameOf(size, diameter));
  if (i < 0) return null;
  const take = (): void => {
    const { outside_diameter: _across, slip_and_sinkage: _lost, ...kept } = (at(store.scenario.value, path) ?? {}) as Scenario;
    store.edit(path, { size: choices[i]!, ...kept });
  };
  return (
    <p class="help" role="note">
      Do you mean the {choices[i]} wheel? By that name it rolls {meanings[i]}.{" "}
      <button type="button" class="link" onClick={take}>
        Take the {choices[i]} wheel
      </button>{" "}
      If you measured {diameter} over the lugs, leave it so.
    </p>
  );
}

/** How far a wheel rolls: by the trade's name, as measured, or by its diameter. */
export function WheelChoice({ path }: { path: Path }): JSX.Element {
  return (
    <KeyChoice path={path} legend="How far it rolls in one turn" options={WHEEL_OPTIONS}>
      {(key) => (
        <>
          {key === "size" ? <ChoiceEntry path={[...path, key]} tells /> : <Entry path={[...path, key]} isOptional={false} />}
          {key === "size" && <Entry path={[...path, "travel_per_turn"]} isOptional />}
          {key === "outside_diameter" && <Entry path={[...path, "slip_and_sinkage"]} />}
          {key === "outside_diameter" && <NameQuestion path={path} />}
        </>
      )}
    </KeyChoice>
  );
}

export function WheelEntries(): JSX.Element {
  return (
    <>
      {isHandMoved() ? (
        <p class="help">A hand-moved lateral has no wheels: it may stand anywhere within reach.</p>
      ) : (
        <>
          <WheelChoice path={["wheel"]} />
          <Entries path={["wheel"]} except={WHEEL_KEYS} />
        </>
      )}
      <Entries path={["outlets"]} />
      <WheelFacts />
    </>
  );
}

const JET_OPTIONS: KeyOption[] = [
  {
    label: "Nozzle and radius",
    key: "nozzle",
    fresh: { nozzle: "5/32 in", radius: "44 ft" },
    drops: ["leg", "shape"],
  },
  {
    label: "Measured leg",
    key: "leg",
    fresh: {
      leg: { distance: ["5 ft", "20 ft", "35 ft", "44 ft"], rate: ["0.15 in/h", "0.1 in/h", "0.09 in/h", "0 in/h"] },
    },
    drops: ["shape", "nozzle", "radius", "wetted_diameter"],
  },
  {
    label: "Ideal shape",
    key: "shape",
    fresh: { shape: "elliptical", radius: "44 ft", discharge: "5 gpm" },
    drops: ["leg", "nozzle"],
  },
];

function Jet({ base, index, count }: { base: Path; index: number; count: number }): JSX.Element {
  const path = [...base, "jets", index];
  const jet = (at(store.scenario.value, path) ?? {}) as Scenario;
  const throws = jet.wetted_diameter === undefined ? "radius" : "wetted_diameter";
  return (
    <KeyChoice path={path} legend={count > 1 ? `Jet ${index + 1}` : "Pattern"} options={JET_OPTIONS}>
      {(key) => (
        <>
          {key === "leg" && <LegRows path={[...path, "leg"]} />}
          {key !== "leg" && <Entry path={[...path, key]} />}
          {key !== "leg" && <Entry path={[...path, throws]} isOptional={false} />}
          <Entry path={[...path, "discharge"]} isOptional={key !== "shape"} />
          {(count > 1 || jet.trajectory_angle !== undefined) && <Entry path={[...path, "trajectory_angle"]} />}
          {count > 1 && (
            <button type="button" onClick={() => store.edit(path, undefined)}>
              Remove jet {index + 1}
            </button>
          )}
        </>
      )}
    </KeyChoice>
  );
}

const LOSS_OPTIONS: KeyOption[] = [
  { label: "A share of the water", key: "fraction", fresh: { fraction: "8 %" }, drops: ["formula", "nozzle_diameter", "reference_et"] },
  { label: "A published formula", key: "formula", fresh: { formula: "Playan 2005 day and night" }, drops: ["fraction"] },
];

function Losses(): JSX.Element {
  const formula = text(at(store.scenario.value, ["losses", "formula"]));
  const asksNozzle = /Trimmer|Keller/.test(formula);
  return (
    <KeyChoice path={["losses"]} legend="Wind drift and evaporation losses" options={LOSS_OPTIONS}>
      {(key) => (
        <>
          <Entry path={["losses", key]} />
          {key === "formula" && asksNozzle && <Entry path={["losses", "nozzle_diameter"]} isOptional={false} />}
          {key === "formula" && /Keller/.test(formula) && <Entry path={["losses", "reference_et"]} isOptional={false} />}
        </>
      )}
    </KeyChoice>
  );
}

/** The nozzles of the sprinkler at `base`. */
export function Jets({ base }: { base: Path }): JSX.Element {
  const jets = at(store.scenario.value, [...base, "jets"]);
  const count = Array.isArray(jets) ? jets.length : 0;
  const add = (): void => {
    const fresh = store.system.value === "us" ? { nozzle: "3/32 in", radius: "30 ft" } : { nozzle: "2.4 mm", radius: "9 m" };
    store.edit([...base, "jets", count], fresh);
  };
  return (
    <>
      {Array.from({ length: count }, (_, i) => (
        <Jet key={i} base={base} index={i} count={count} />
      ))}
      <Wrongs problems={problemsOf([...base, "jets"])} />
      {count < 6 && (
        <button type="button" onClick={add}>
          {count < 2 ? "Add a second nozzle" : "Add another nozzle"}
        </button>
      )}
    </>
  );
}

export function SprinklerEntries(): JSX.Element {
  return (
    <>
      <Entries path={["sprinkler"]} />
      <Jets base={["sprinkler"]} />
      <FlowControlEntries path={["sprinkler", "flow_control"]} />
      <Losses />
      <details class="more">
        <summary>Drag in wind</summary>
        <div class="entries">
          <Entries path={["sprinkler", "drag"]} />
        </div>
      </details>
    </>
  );
}
