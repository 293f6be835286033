// What can be taken away: the report, figures, the scenario, and the irrigator's sheet of each way.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { api, Refused, type Problem } from "../model/api";
import * as store from "../model/store";
import { offer, saveScenario } from "../setup/file";

/** The run whose scenario stands on the page, on its own cells: the reckoning if there is one. */
function currentRun(): string | undefined {
  const digest = store.check.value?.digest;
  const fits = [store.worth.value, store.season.value].find((s) => s && s.digest === digest && s.coarser === 1);
  return fits?.run;
}

export function TakeAway(): JSX.Element {
  const run = currentRun();
  return (
    <div class="downloads">
      <h3>Take it with you</h3>
      {run ? (
        <ul>
          <li><a href={`api/runs/${run}/report.html`} download="report.html">The report, one page</a></li>
          <li><a href={`api/runs/${run}/figures.zip`} download="figures.zip">Report, figures and tables, packed</a></li>
          <li><button type="button" class="link" onClick={saveScenario}>The scenario</button></li>
        </ul>
      ) : (
        <p class="help">Report, figures and move sheets can be had as soon as the season is drawn on its own cells.</p>
      )}
      {run && <Sheets run={run} />}
    </div>
  );
}

/** Longest reminder, minutes: a day. */
const LONGEST_ALARM_MIN = 1440;

function fileName(way: string, ending: string): string {
  const plain = way.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
  return `move-sheet${plain ? `-${plain}` : ""}.${ending}`;
}

function Sheets({ run }: { run: string }): JSX.Element {
  const [alarm, setAlarm] = useState("");
  const minutes = Number(alarm);
  const isWrong = alarm.trim() !== "" && !(Number.isInteger(minutes) && minutes >= 0 && minutes <= LONGEST_ALARM_MIN);
  const asked = alarm.trim() === "" || isWrong ? "" : `&alarm_min=${minutes}`;
  return (
    <div class="sheets">
      <h3>For whoever moves the line</h3>
      <p class="help">
        A season calendar and one printed page for each pass: when, at which outlet, where the line stands, how far it is
        rolled or carried, what to connect, room to tick and note. Packed with it: the same as a table, as a calendar for
        the phone, and a log to write into what went otherwise.
      </p>
      <ul>
        {store.names.value.map((name, i) => (
          <li key={i}>
            <b>{name}</b>:{" "}
            <a href={`api/runs/${run}/sheet.html?alternative=${i}`} target="_blank" rel="noopener">
              move sheet to print<span class="unseen"> for {name}, in a new tab</span>
            </a>
            {", "}
            <a href={`api/runs/${run}/sheet.zip?alternative=${i}${asked}`} download={fileName(name, "zip")}>
              packed with calendar and log<span class="unseen"> for {name}</span>
            </a>
          </li>
        ))}
      </ul>
      <div class="reckon">
        <label for="alarm">Calendar reminds before each set by</label>
        <input
          id="alarm"
          type="text"
          inputMode="numeric"
          value={alarm}
          aria-describedby="alarm-help"
          aria-invalid={isWrong}
          onInput={(e) => setAlarm(e.currentTarget.value)}
        />
        <span>minutes</span>
        <p id="alarm-help" class={isWrong ? "wrongs" : "help"}>
          {isWrong ? `A whole number from 0 to ${LONGEST_ALARM_MIN}.` : "Empty: no reminders."}
        </p>
      </div>
      <Replan alarm={isWrong || alarm.trim() === "" ? undefined : minutes} />
    </div>
  );
}

/** The season did not go as planned: the log brings a sheet for the rest of it. */
function Replan({ alarm }: { alarm: number | undefined }): JSX.Element {
  const [problems, setProblems] = useState<Problem[]>([]);
  const [words, setWords] = useState("");
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    setProblems([]);
    setWords("");
    try {
      const wish = { ...store.asked(), log: await file.text(), ...(alarm === undefined ? {} : { alarm_min: alarm }) };
      offer("move-sheet-planned-anew.zip", await api.replan(wish));
      setWords(`The rest of the season is planned anew from ${file.name}; the sheet is among your downloads.`);
    } catch (error) {
      setWords(error instanceof Error ? error.message : String(error));
      if (error instanceof Refused) setProblems(error.problems);
    }
  };
  return (
    <div class="replan">
      <label for="log-file">Something went otherwise? Open the log you wrote it into</label>{" "}
      <input
        id="log-file"
        type="file"
        accept=".json,application/json"
        aria-describedby="log-help"
        onChange={(e) => {
          void take(e.currentTarget.files?.[0]);
          e.currentTarget.value = "";
        }}
      />
      <p class="help" id="log-help">
        What happened is kept, sets that were missed are caught up as the log says, the rotation stays in order.
      </p>
      <div role="status" class={problems.length > 0 ? "problem" : ""}>
        {words && <p>{words}</p>}
        {problems.length > 0 && (
          <ul>
            {problems.map((p) => (
              <li key={`${p.pointer} ${p.problem}`}>
                {[p.pointer.slice(1).replace(/\//g, " · "), [p.problem, p.allowed, p.hint].filter(Boolean).join("; ")].filter(Boolean).join(": ")}
              </li>
            ))}
          </ul>
        )}
      </div>
    </div>
  );
}
