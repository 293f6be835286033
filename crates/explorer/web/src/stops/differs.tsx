// What one way of stopping has of its own beside its rotation: machine, outlets, sprinkler, clock,
// edges, outfit. Each entry tells the common value, which holds where nothing is entered.

import type { JSX } from "preact";
import { at, text, type Path, type Scenario } from "../model/scenario";
import { nodeAt, tell } from "../model/schema";
import * as store from "../model/store";
import { ChoiceEntry, NumberEntry, problemsAt, QuantityEntry } from "../setup/entry";
import { Jets } from "../setup/machine";

interface Own {
  index: number;
  /** Path within a common section and within the way alike. */
  path: Path;
  label: string;
  isNumber?: boolean;
}

function OwnEntry({ index, path, label, isNumber }: Own): JSX.Element {
  const here = ["alternatives", index, ...path];
  const common = text(at(store.scenario.value, path));
  const words = tell(store.schema.value, path).words;
  const help = [words && `${words.replace(/[.;:]$/, "")}.`, common ? `In common: ${common}.` : ""].filter(Boolean).join(" ");
  const Entry = isNumber ? NumberEntry : QuantityEntry;
  return <Entry path={here} label={label} isOptional help={help} />;
}

/** Keys of one section: path within it, label, and whether it is a bare number. */
type Row = [key: string, label: string, isNumber?: boolean];

const WHEEL: Row[] = [
  ["travel_per_turn", "Own wheels: travel a turn"],
  ["outside_diameter", "Or their outside diameter"],
  ["sinkage_allowance", "Lost to sinking and slip"],
];
const OUTLETS: Row[] = [
  ["spacing", "Own outlets apart"],
  ["reach", "Own reach"],
  ["first", "Own first outlet from the edge"],
  ["count", "Own number of outlets", true],
];
const LATERAL: Row[] = [
  ["sprinklers", "Own number of sprinklers", true],
  ["sprinkler_spacing", "Own sprinklers apart"],
  ["first_sprinkler", "Own first sprinkler from the edge"],
];
const SEASON: Row[] = [
  ["set_time", "Own time of water at each stop"],
  ["move_gap", "Own time to move"],
  ["sets_a_day", "Own sets a day", true],
  ["return_time", "Own time to bring it back"],
  ["idle", "Own idle time between passes"],
  ["pass_every", "Or: own pass every"],
];

function Section({ index, name, title, rows }: { index: number; name: string; title: string; rows: Row[] }): JSX.Element {
  const own = at(store.scenario.value, ["alternatives", index, name]);
  const count = own !== null && typeof own === "object" ? Object.keys(own).length : 0;
  const wrong = problemsAt(["alternatives", index, name]).length;
  const toCommon = (): void => store.edit(["alternatives", index, name], undefined);
  return (
    <details class="more own" open={wrong > 0 || undefined}>
      <summary>
        {title}
        {count > 0 && <span class="tag">{count === 1 ? "1 of its own" : `${count} of its own`}</span>}
      </summary>
      <div class="entries">
        {rows.map(([key, label, isNumber]) => (
          <OwnEntry key={key} index={index} path={[name, key]} label={label} isNumber={isNumber ?? false} />
        ))}
      </div>
      {count > 0 && (
        <button type="button" class="quiet" onClick={toCommon}>
          Back to what all have in common
        </button>
      )}
    </details>
  );
}

function OwnSprinkler({ index }: { index: number }): JSX.Element {
  const here = ["alternatives", index, "sprinkler"] as const;
  const own = at(store.scenario.value, here) as Scenario | undefined;
  const hasJets = own?.jets !== undefined;
  const common = at(store.scenario.value, ["sprinkler", "jets"]);
  const toggle = (): void => store.edit([...here, "jets"], hasJets ? undefined : common);
  return (
    <details class="more own" open={problemsAt(here).length > 0 || undefined}>
      <summary>
        Sprinkler
        {own !== undefined && <span class="tag">its own</span>}
      </summary>
      <div class="entries">
        <OwnEntry index={index} path={["sprinkler", "pressure"]} label="Own pressure at the nozzle" />
        <OwnEntry index={index} path={["sprinkler", "nozzle_height"]} label="Own height of the nozzle" />
        {hasJets && <Jets base={here} />}
      </div>
      <button type="button" class="quiet" onClick={toggle}>
        {hasJets ? "Take the common nozzles again" : "Give it nozzles of its own"}
      </button>
    </details>
  );
}

export function Differs({ index }: { index: number }): JSX.Element {
  const here = ["alternatives", index] as const;
  const scenario = store.scenario.value;
  const isWheeled = (at(scenario, [...here, "lateral", "machine"]) ?? at(scenario, ["lateral", "machine"])) !== "hand move";
  const edges = store.schema.value && nodeAt(store.schema.value, [...here, "edges"])?.enum;
  const wrong = problemsAt(here).filter((p) => !p.pointer.startsWith(`/alternatives/${index}/rotation`)).length;
  return (
    <details class="more" open={wrong > 0 || undefined}>
      <summary>What else differs</summary>
      {edges && <ChoiceEntry path={[...here, "edges"]} label="At the edges" isOptional none="not said: it shifts with the rest" />}
      {isWheeled && <Section index={index} name="wheel" title="Wheels" rows={WHEEL} />}
      <Section index={index} name="outlets" title="Outlets" rows={OUTLETS} />
      <Section index={index} name="lateral" title="Pipe" rows={LATERAL} />
      <OwnSprinkler index={index} />
      <Section index={index} name="season" title="Clock" rows={SEASON} />
      {scenario.worth !== undefined && (
        <details class="more own">
          <summary>What it needs beyond the bare machine</summary>
          <div class="entries">
            <NumberEntry path={[...here, "outfit", "joints"]} label="Joints to buy" isOptional />
            <NumberEntry path={[...here, "outfit", "outlets"]} label="Outlets to add" isOptional />
            <NumberEntry path={[...here, "outfit", "extra_sets_per_pass"]} label="Extra sets a pass" isOptional />
            <QuantityEntry path={[...here, "outfit", "extra_labour_per_move"]} label="Extra labour a move" isOptional />
          </div>
        </details>
      )}
    </details>
  );
}
