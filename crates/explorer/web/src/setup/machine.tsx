// Entries on the ground and the machine: field, lateral, wheels, outlets, sprinkler.

import type { JSX } from "preact";
import { at, text, type Path, type Scenario } from "../model/scenario";
import * as store from "../model/store";
import { AreaEntry, PipeLengthEntry } from "./derived";
import { WheelFacts } from "./facts";
import { ChoiceEntry, NumberEntry, QuantityEntry, TextEntry, TickEntry } from "./entry";
import { problemsOf, Wrongs } from "./wrongs";
import { BoundaryEntries } from "./named_file";
import { PipeEntries } from "./pipe";
import { LegRows } from "./rows";
import { Ways, type Way } from "./ways";

const isHandMoved = (): boolean => at(store.scenario.value, ["lateral", "machine"]) === "hand move";

export function FieldEntries(): JSX.Element {
  return (
    <>
      <TextEntry path={["title"]} label="Name of this comparison" />
      <TextEntry path={["question"]} label="What you want to know" isOptional />
      <QuantityEntry path={["field", "length_along_pipe"]} label="Field along the pipe" help="The side that the pipe lies along, mostly as long as the pipe." />
      <QuantityEntry
        path={["field", "width_across"]}
        label="Field across the pipe"
        help="As far as this one line is moved, outlet by outlet: with two lines on a field, one line’s part of it."
      />
      <AreaEntry />
      <QuantityEntry
        path={["field", "travel_bearing"]}
        label="Way the lateral travels"
        help="From its first outlet to its last: 0 is north, 90 east, 180 south, 270 west."
      />
      <ChoiceEntry path={["lateral", "machine"]} label="How the lateral is moved" help="Rolled on wheels, or carried by hand." />
      <NumberEntry path={["lateral", "sprinklers"]} label="Sprinklers on it" />
      <QuantityEntry path={["lateral", "sprinkler_spacing"]} label="Sprinklers apart" />
      <PipeLengthEntry />
      <BoundaryEntries />
      <details class="more">
        <summary>Seldom needed</summary>
        <div class="entries">
          <QuantityEntry path={["lateral", "first_sprinkler"]} label="First sprinkler from the edge" isOptional />
          <QuantityEntry path={["field", "cell"]} label="Cell of the grid" isOptional />
          <TickEntry path={["invented"]} label="This field is made up" />
        </div>
      </details>
      <PipeEntries path={["lateral", "pipe"]} />
    </>
  );
}

const WHEEL_WAYS: Way[] = [
  {
    label: "Travel measured in the field",
    key: "travel_per_turn",
    fresh: { travel_per_turn: "20 ft" },
    drops: ["outside_diameter", "slip_and_sinkage"],
  },
  {
    label: "From the wheel's diameter",
    key: "outside_diameter",
    fresh: { outside_diameter: "76 in", slip_and_sinkage: "2 %" },
    drops: ["travel_per_turn"],
  },
];

/** How far a wheel rolls: as measured, or by its diameter. */
export function WheelChoice({ path }: { path: Path }): JSX.Element {
  return (
    <Ways path={path} legend="How far it rolls in one turn" ways={WHEEL_WAYS}>
      {(key) =>
        key === "travel_per_turn" ? (
          <QuantityEntry path={[...path, "travel_per_turn"]} label="Travel a turn" />
        ) : (
          <>
            <QuantityEntry path={[...path, "outside_diameter"]} label="Outside diameter" />
            <QuantityEntry path={[...path, "slip_and_sinkage"]} label="Lost to sinking and slip" isOptional />
          </>
        )
      }
    </Ways>
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
          <QuantityEntry path={["wheel", "leveler_range"]} label="Tilt the levelers take up" isOptional />
        </>
      )}
      <QuantityEntry path={["outlets", "spacing"]} label="Outlets apart" />
      <QuantityEntry path={["outlets", "reach"]} label="Reach of hose or swing joint" />
      <QuantityEntry path={["outlets", "first"]} label="First outlet from the edge" isOptional />
      <NumberEntry path={["outlets", "count"]} label="Number of outlets" isOptional />
      <WheelFacts />
    </>
  );
}

const JET_WAYS: Way[] = [
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
    <Ways path={path} legend={count > 1 ? `Jet ${index + 1}` : "What it throws"} ways={JET_WAYS}>
      {(key) => (
        <>
          {key === "leg" && <LegRows path={[...path, "leg"]} />}
          {key === "shape" && <ChoiceEntry path={[...path, "shape"]} label="Shape" />}
          {key === "nozzle" && <QuantityEntry path={[...path, "nozzle"]} label="Nozzle diameter" />}
          {key !== "leg" && (
            <QuantityEntry
              path={[...path, throws]}
              label={throws === "radius" ? "Radius of throw" : "Wetted diameter"}
              help="In still air, as the maker’s table has it for this nozzle at this pressure."
            />
          )}
          <QuantityEntry path={[...path, "discharge"]} label="Discharge" isOptional={key !== "shape"} />
          {(count > 1 || jet.trajectory !== undefined) && (
            <QuantityEntry path={[...path, "trajectory_angle"]} label="This jet above the horizontal" isOptional />
          )}
          {count > 1 && (
            <button type="button" onClick={() => store.edit(path, undefined)}>
              Remove jet {index + 1}
            </button>
          )}
        </>
      )}
    </Ways>
  );
}

const LOSS_WAYS: Way[] = [
  { label: "A share of the water", key: "fraction", fresh: { fraction: "8 %" }, drops: ["formula", "nozzle_diameter", "reference_et"] },
  { label: "A published formula", key: "formula", fresh: { formula: "Playan 2005 day and night" }, drops: ["fraction"] },
];

function Losses(): JSX.Element {
  const formula = text(at(store.scenario.value, ["losses", "formula"]));
  const asksNozzle = /Trimmer|Keller/.test(formula);
  return (
    <Ways path={["losses"]} legend="Lost to drift and evaporation" ways={LOSS_WAYS}>
      {(key) =>
        key === "fraction" ? (
          <QuantityEntry path={["losses", "fraction"]} label="Share lost" />
        ) : (
          <>
            <ChoiceEntry path={["losses", "formula"]} label="Formula" />
            {asksNozzle && <QuantityEntry path={["losses", "nozzle_diameter"]} label="Main nozzle" />}
            {/Keller/.test(formula) && <QuantityEntry path={["losses", "reference_et"]} label="Evapotranspiration" />}
          </>
        )
      }
    </Ways>
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
      <QuantityEntry path={["sprinkler", "pressure"]} label="Pressure at the nozzle" />
      <QuantityEntry path={["sprinkler", "nozzle_height"]} label="Nozzle above ground" />
      <QuantityEntry path={["sprinkler", "trajectory_angle"]} label="Jet above the horizontal" isOptional />
      <Jets base={["sprinkler"]} />
      <Losses />
      <details class="more">
        <summary>How wind bends the jets</summary>
        <div class="entries">
          <NumberEntry path={["sprinkler", "drag", "k1"]} label="K1" isOptional />
          <NumberEntry path={["sprinkler", "drag", "k2"]} label="K2" isOptional />
          <NumberEntry path={["sprinkler", "drag", "turbulence"]} label="Turbulence" isOptional />
        </div>
      </details>
    </>
  );
}
