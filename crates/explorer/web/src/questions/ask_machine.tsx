// What the first five questions ask, in one or two entries each: field, pipe, wheels, spacing, nozzle.

import type { JSX } from "preact";
import { at } from "../model/scenario";
import * as store from "../model/store";
import { NameQuestion } from "../setup/machine";
import { problemsAt } from "../setup/wrongs";
import { answered, At, held, isUs, lengths, lengthUnit, picks } from "./at";
import { WheelFit } from "./fit";
import { ChoiceAnswer, NumberAnswer } from "./inputs";
import { isByArea, setApart, setSize, sizes, tellBy } from "./state";
import { machineOf, PATHS, writeMachine } from "./write";

export function Size(): JSX.Element {
  const byArea = isByArea.value;
  const area = isUs() ? "ac" : "ha";
  return (
    <>
      <fieldset class="choices">
        <legend class="unseen">How to tell it</legend>
        <label class="choice">
          <input type="radio" name="size-by" checked={byArea} onChange={() => tellBy(true)} />
          {isUs() ? "By acres" : "By hectares"}
        </label>
        <label class="choice">
          <input type="radio" name="size-by" checked={!byArea} onChange={() => tellBy(false)} />
          By its two sides
        </label>
      </fieldset>
      {byArea ? (
        <NumberAnswer
          id="ask-area"
          label="Area under this line"
          value={sizes.value.area}
          start={isUs() ? "40 ac" : "16 ha"}
          unit={area}
          picks={picks("area")}
          problems={problemsAt(PATHS.ACROSS)}
          set={(value) => setSize("area", value)}
          help="Odd-shaped? Take the rectangle that the line crosses. You can trace the edge later."
        />
      ) : (
        <>
          <At path={PATHS.ALONG} label="Along the pipe" unit={lengthUnit()} units={lengths()} />
          <At path={PATHS.ACROSS} label="Across, the way the line travels" unit={lengthUnit()} units={lengths()} />
        </>
      )}
    </>
  );
}

export function Pipe(): JSX.Element {
  const count = held(PATHS.PIPE);
  return (
    <NumberAnswer
      id="ask-pipe"
      label="Length of the pipe"
      value={sizes.value.pipe}
      start={isUs() ? "1320 ft, a quarter mile" : "400 m"}
      unit={lengthUnit()}
      units={lengths()}
      picks={picks("pipe")}
      problems={problemsAt(PATHS.PIPE)}
      set={(value) => setSize("pipe", value)}
      help={`That is ${count} sprinklers, ${held(PATHS.APART)} apart.`}
    />
  );
}

const WHEELS = [
  { value: "5-foot", us: "rolls 15 ft a turn", si: "rolls 4.57 m a turn" },
  { value: "7-foot", us: "rolls 20 ft a turn", si: "rolls 6.10 m a turn" },
  { value: "9-foot", us: "rolls 30 ft a turn", si: "rolls 9.14 m a turn" },
];

export function Machine(): JSX.Element {
  const chosen = machineOf(store.scenario.value);
  const options = [
    ...WHEELS.map(({ value, us, si }) => ({ value, label: `Wheel line, ${value} wheels`, words: isUs() ? us : si })),
    { value: "diameter", label: "Wheel line, another wheel", words: "you know how tall it is, over the lugs" },
    { value: "turn", label: "Wheel line, roll measured", words: "you measured how far one turn takes it" },
    { value: "hand", label: "Carried by hand", words: "hand-moved pipe" },
  ];
  return (
    <ChoiceAnswer name="machine" legend="How the lateral is moved" options={options} value={chosen} start="a wheel line on 7-foot wheels" set={writeMachine}>
      {chosen === "diameter" && (
        <>
          <At
            path={["wheel", "outside_diameter"]}
            label="How tall is the wheel?"
            unit={isUs() ? "in" : "m"}
            units={["ft", "in", "m", "cm"]}
            help="4 ft 8 in may be typed just so."
          />
          <NameQuestion path={["wheel"]} />
        </>
      )}
      {chosen === "turn" && <At path={["wheel", "travel_per_turn"]} label="How far does one turn take it?" unit={lengthUnit()} units={lengths()} />}
      <WheelFit />
    </ChoiceAnswer>
  );
}

export function Spacing(): JSX.Element {
  const isHand = at(store.scenario.value, ["lateral", "machine"]) === "hand move";
  return (
    <>
      <At
        path={["outlets", "spacing"]}
        label={isHand ? "Outlets, or how far you carry it" : "Outlets on the mainline"}
        unit={lengthUnit()}
        units={lengths()}
        picks={picks("outlets")}
      />
      <NumberAnswer
        id="ask-sprinklers"
        label="Sprinklers on the pipe"
        value={answered(PATHS.APART)}
        start={held(PATHS.APART)}
        unit={lengthUnit()}
        units={lengths()}
        picks={picks("sprinklers")}
        problems={problemsAt(PATHS.APART)}
        set={setApart}
      />
      <WheelFit />
    </>
  );
}

export function Nozzle(): JSX.Element {
  const units = isUs() ? ["in", "mm"] : ["mm", "in"];
  return (
    <>
      <At path={PATHS.NOZZLE} label="Nozzle" unit={units[0]!} units={units} picks={picks("nozzle")} help="It is stamped on the nozzle." />
      <At
        path={PATHS.PRESSURE}
        label="Pressure at the sprinkler"
        unit={isUs() ? "psi" : "kPa"}
        units={["psi", "kPa", "bar"]}
        picks={picks("pressure")}
        help={`We take it to throw ${held(["sprinkler", "jets", 0, "radius"])}; enter your maker’s figure later under Sprinkler.`}
      />
    </>
  );
}
