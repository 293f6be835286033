// The irrigator's move sheet of each alternative, and a new one from a log where the season did not
// go as planned.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { api, Gone, Refused, type Ask, type Problem, type SheetMade, type SheetWish } from "../model/api";
import { at, text } from "../model/scenario";
import * as store from "../model/store";
import { offer } from "../setup/file";

/** Longest reminder, minutes: a day. */
const LONGEST_ALARM_MIN = 1440;
/** Largest log that is sent, bytes. */
const MOST_BYTES = 1.5e6;

const LATER = "ready once the minutes for the calendar are right";

const UNDRAWN = "ready once the season is drawn";

/** Minutes as typed: a number, none, or nothing that makes sense. */
type Minutes = number | undefined | "wrong";

function minutesOf(typed: string): Minutes {
  if (typed.trim() === "") return undefined;
  const minutes = Number(typed);
  return Number.isInteger(minutes) && minutes >= 0 && minutes <= LONGEST_ALARM_MIN ? minutes : "wrong";
}

function fileName(name: string): string {
  const plain = name.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
  return `move-sheet${plain ? `-${plain}` : ""}.zip`;
}

function InNewTab({ of, href }: { of: string; href: string }): JSX.Element {
  return (
    <a href={href} target="_blank" rel="noopener">
      move sheet to print<span class="unseen"> for {of}, in a new tab</span>
    </a>
  );
}

/** What is asked of a sheet beside its plan; empty leaves it to the scenario. */
interface Wishes {
  language: string;
  clock: string;
}

const LANGUAGES: [string, string][] = [
  ["", "as the scenario says"],
  ["en", "English"],
  ["es", "Spanish (español)"],
];

const CLOCKS: [string, string][] = [
  ["", "as the scenario says"],
  ["12-hour", "6:00 pm"],
  ["24-hour", "18:00"],
];

/** The wishes that are not left to the scenario. */
const said = (wishes: Wishes): Partial<Wishes> => Object.fromEntries(Object.entries(wishes).filter(([, value]) => value !== ""));

function Choice({ id, label, value, options, take }: { id: string; label: string; value: string; options: [string, string][]; take: (value: string) => void }): JSX.Element {
  return (
    <div class="ask">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(e) => take(e.currentTarget.value)}>
        {options.map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

function SheetLinks({ name, of, query, alarm }: { name: string; of: string; query: string; alarm: Minutes }): JSX.Element {
  const reminded = typeof alarm === "number" ? `&alarm_min=${alarm}` : "";
  return (
    <>
      <InNewTab of={name} href={`${of}/sheet.html?${query}`} />
      {", "}
      {alarm === "wrong" ? (
        LATER
      ) : (
        <a href={`${of}/sheet.zip?${query}${reminded}`} download={fileName(name)}>
          ZIP file with table, calendar and log<span class="unseen"> for {name}</span>
        </a>
      )}
    </>
  );
}

/** Stays in place while there is no run, so that nothing typed or opened is lost by an edit. */
export function Sheets({ run }: { run: string | undefined }): JSX.Element {
  const [typed, setTyped] = useState("");
  const [wishes, setWishes] = useState<Wishes>({ language: "", clock: "" });
  const alarm = minutesOf(typed);
  const asked = new URLSearchParams(said(wishes)).toString();
  const query = (i: number): string => `alternative=${i}${asked && `&${asked}`}`;
  return (
    <div class="sheets">
      <h3>For whoever moves the line</h3>
      <p class="help">
        A season calendar and one printed page per pass: when, at which outlet, where the line stands, how far to roll or
        carry it, what to connect, the pressure and depth to expect, whom to call, and room to check off and take notes.
        Times are as your clock shows them where the field has a time zone. The ZIP file adds the same as a table, a calendar
        for your phone, and a log to record what went differently.
      </p>
      <ul>
        {store.names.value.map((name, i) => (
          <li key={i}>
            <b>{name}</b>: {run ? <SheetLinks name={name} of={`api/runs/${run}`} query={query(i)} alarm={alarm} /> : UNDRAWN}
          </li>
        ))}
      </ul>
      <Choice id="sheet-language" label="Language of the sheet" value={wishes.language} options={LANGUAGES} take={(language) => setWishes({ ...wishes, language })} />
      {wishes.language === "es" && (
        <p class="help">The Spanish is from memory and not reviewed by a native speaker: have somebody who speaks it read a sheet before it goes out.</p>
      )}
      <Choice id="sheet-clock" label="Clock of the sheet" value={wishes.clock} options={CLOCKS} take={(clock) => setWishes({ ...wishes, clock })} />
      <div class="ask">
        <label for="alarm">Calendar reminder before each set</label>
        <input
          id="alarm"
          type="text"
          inputMode="numeric"
          value={typed}
          aria-describedby="alarm-help"
          aria-invalid={alarm === "wrong"}
          onInput={(e) => setTyped(e.currentTarget.value)}
        />
        <span>minutes</span>
        <p id="alarm-help" class={alarm === "wrong" ? "wrongs" : "help"}>
          {alarm === "wrong" ? `Enter a whole number from 0 to ${LONGEST_ALARM_MIN}.` : "Leave it empty for no reminders."}
        </p>
      </div>
      <Replan alarm={alarm} wishes={wishes} />
    </div>
  );
}

/** What became of a log. */
type Outcome =
  | { kind: "none" }
  | { kind: "busy"; file: string }
  | { kind: "made"; file: string; about: Ask & Partial<Wishes>; log: string; digest: string | null | undefined; sheet: SheetMade }
  | { kind: "refused"; words: string; problems: Problem[] };

function refusal(file: string, error: unknown): Outcome {
  if (error instanceof Refused && error.problems.length > 0) {
    // Problems of the scenario are shown where its entries are.
    const isLog = error.problems.some((p) => p.line !== undefined);
    return isLog
      ? { kind: "refused", words: `${file} needs correcting:`, problems: error.problems }
      : { kind: "refused", words: "The entries above need correcting first.", problems: [] };
  }
  const words = error instanceof Gone ? "The program does not answer." : error instanceof Error ? error.message : String(error);
  return { kind: "refused", words, problems: [] };
}

/** Where in the log, as a person finds it. */
function place(problem: Problem): string {
  const event = /^\/events\/(\d+)/.exec(problem.pointer);
  const within = event ? `event ${Number(event[1]) + 1}` : problem.pointer.slice(1);
  return [problem.line === undefined ? "" : `line ${problem.line}`, within].filter(Boolean).join(", ");
}

/** The season did not go as planned: the log brings a sheet for the rest of it. */
function Replan({ alarm, wishes }: { alarm: Minutes; wishes: Wishes }): JSX.Element {
  const [outcome, setOutcome] = useState<Outcome>({ kind: "none" });
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    if (file.size > MOST_BYTES) {
      return setOutcome({ kind: "refused", words: `${file.name} is larger than any log.`, problems: [] });
    }
    setOutcome({ kind: "busy", file: file.name });
    const about = { ...store.asked(), ...said(wishes) };
    const digest = store.check.value?.digest;
    try {
      const log = await file.text();
      setOutcome({ kind: "made", file: file.name, about, log, digest, sheet: await api.makeSheet({ ...about, log }) });
    } catch (error) {
      setOutcome(refusal(file.name, error));
    }
  };
  return (
    <div class="replan">
      <label for="log-file">Did something go differently? Open your log</label>{" "}
      <input
        id="log-file"
        type="file"
        accept=".json,.csv,application/json,text/csv"
        aria-describedby="log-help"
        onChange={(e) => {
          void take(e.currentTarget.files?.[0]);
          e.currentTarget.value = "";
        }}
      />
      <p class="help" id="log-help">
        The log’s events stay as they happened, missed sets are made up as the log says, and the rotation keeps its order.
      </p>
      <LogHelp />
      <div role="status">
        {outcome.kind === "busy" && <p>Planning the rest of the season from {outcome.file} …</p>}
        {outcome.kind === "refused" && (
          <div class="problem">
            <p>{outcome.words}</p>
            {outcome.problems.length > 0 && (
              <ul>
                {outcome.problems.map((p) => (
                  <li key={`${p.pointer} ${p.problem}`}>
                    {[place(p), [p.problem, p.allowed && `allowed: ${p.allowed}`, p.hint].filter(Boolean).join("; ")].filter(Boolean).join(": ")}
                  </li>
                ))}
              </ul>
            )}
          </div>
        )}
        {outcome.kind === "made" && <Replanned made={outcome} alarm={alarm} />}
      </div>
    </div>
  );
}

/** The sheet with the rest of the season planned again, ready to be taken. */
function Replanned({ made, alarm }: { made: Extract<Outcome, { kind: "made" }>; alarm: Minutes }): JSX.Element {
  const [problem, setProblem] = useState("");
  const { sheet, file, about, log } = made;
  if (made.digest !== store.check.value?.digest) {
    return <p class="problem">The entries have changed since {file} was opened; open it again.</p>;
  }
  const pack = async (): Promise<void> => {
    const wish: SheetWish = { ...about, log, ...(typeof alarm === "number" ? { alarm_min: alarm } : {}) };
    try {
      offer(fileName(`${sheet.name} replanned`), await api.packSheet(wish));
      setProblem("");
    } catch (error) {
      setProblem(error instanceof Gone ? "The program does not answer." : String(error instanceof Error ? error.message : error));
    }
  };
  return (
    <>
      <p>
        <b>{sheet.name}</b>, the rest of the season planned again from {file}:
      </p>
      <ul>
        <li>
          <InNewTab of={`${sheet.name} replanned`} href={`api/sheets/${sheet.sheet}/sheet.html`} />
        </li>
        <li>
          {alarm === "wrong" ? (
            LATER
          ) : (
            <button type="button" class="link" onClick={() => void pack()}>
              ZIP file with table, calendar and log<span class="unseen"> for {sheet.name} replanned</span>
            </button>
          )}
        </li>
      </ul>
      {[...sheet.warnings, ...sheet.notes].map((words) => (
        <p key={words}>Note: {words}.</p>
      ))}
      {problem && <p class="problem">{problem}</p>}
    </>
  );
}

/** What a log looks like, with a day and a length of this season. */
function LogHelp(): JSX.Element {
  const start = Date.parse(text(at(store.scenario.value, ["season", "start"])).slice(0, 10));
  const first = Number.isFinite(start) ? start : Date.parse("2027-05-10");
  const day = (after: number): string => new Date(first + after * 86_400_000).toISOString().slice(0, 10);
  const stood = store.system.value === "us" ? "-20 ft" : "-6 m";
  return (
    <details class="more">
      <summary>How to write the log</summary>
      <p>
        Fill in the last columns of <code>sheet.csv</code> from the ZIP file, and open it here: <code>done</code> (yes or no),{" "}
        <code>really_on</code>, <code>really_off</code>, <code>really_at</code>.
      </p>
      <p>
        Or write <code>log.json</code>, which any text editor opens. Set <code>now</code> to the time you have recorded up
        to, and put what happened between the brackets of <code>events</code>, with a comma between one event and the next:
      </p>
      <pre tabIndex={0} aria-label="Examples of events">
        {[
          `{ "what": "done", "pass": 1, "outlet": 1, "from": "${day(0)}T07:15", "to": "${day(0)}T17:30" }`,
          `{ "what": "missed", "pass": 1, "outlet": 2 }`,
          `{ "what": "wrong stop", "pass": 1, "outlet": 3, "stood": "${stood}" }`,
          `{ "what": "breakdown", "from": "${day(1)}T17:45", "to": "${day(3)}T05:00" }`,
        ].join(",\n")}
      </pre>
      <p>
        Times are as the sheet shows them; <code>stood</code> is how far from its outlet the line really stood, with a minus sign
        where that was back; write <code>moved by hand</code> like <code>wrong stop</code>. Sets due to start before <code>now</code> that have no event count as done as planned.
      </p>
    </details>
  );
}
