// The season: player, maps, figures and one place, beside each other where there is room.

import type { JSX } from "preact";
import * as store from "../model/store";
import { AllPasses, Figures } from "./figures";
import { Maps, SHOWS } from "./maps";
import { Place } from "./place";
import { Player } from "./player";

const VIEWS = ["both", "so far", "pass"];
const VIEW_WORDS: Record<string, string> = { both: "both", "so far": "all water so far", pass: "this pass" };

export function Season(): JSX.Element {
  return (
    <div class="season">
      <Player />
      <div class="season-switches">
        <fieldset class="switch">
          <legend>Show</legend>
          {SHOWS.map(({ key, label, needsWorth }) => (
            <label class="choice" key={key}>
              <input type="radio" name="show" checked={store.show.value === key} onChange={() => (store.show.value = key)} />
              {label}
              {needsWorth && !store.worth.value && <span class="optional"> (after the answer)</span>}
            </label>
          ))}
        </fieldset>
        <fieldset class="switch" disabled={store.show.value === "yield" || store.show.value === "percolation"}>
          <legend>Maps of</legend>
          {VIEWS.map((view) => (
            <label class="choice" key={view}>
              <input type="radio" name="maps" checked={store.maps.value === view} onChange={() => (store.maps.value = view)} />
              {VIEW_WORDS[view]}
            </label>
          ))}
        </fieldset>
      </div>
      <div class="season-body">
        <div class="season-maps">
          <Maps />
          <Place />
        </div>
        <div class="season-figures">
          <Figures />
          <AllPasses />
        </div>
      </div>
    </div>
  );
}
