// The page: one sheet in four parts, the answer first and what it is made of below; for a first visitor
// the ten questions stand in its place.

import type { ComponentChildren, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Answer } from "./answer/answer";
import { Outdated } from "./answer/outdated";
import { FieldPicture } from "./picture/field";
import { redo, redoable, undo, undoable } from "./model/history";
import { text } from "./model/scenario";
import { standingOf } from "./model/standing";
import * as store from "./model/store";
import { Freshness } from "./season/freshness";
import { Season } from "./season/season";
import { FileBar } from "./setup/file";
import { startQuestions } from "./questions/elsewhere";
import { Mirror } from "./questions/mirror";
import { Questions } from "./questions/questions";
import { openFiles } from "./setup/open";
import { SetUp } from "./setup/setup";
import { Stops } from "./stops/stops";

const PARTS = [
  { id: "answer", title: "The answer" },
  { id: "field", title: "The field" },
  { id: "stops", title: "The stops" },
  { id: "season", title: "The season" },
];

function Part({ id, title, note, children }: { id: string; title: string; note?: string; children: ComponentChildren }): JSX.Element {
  return (
    <section id={id} class="part" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`} tabIndex={-1}>{title}</h2>
      {note && <p class="part-note">{note}</p>}
      {children}
    </section>
  );
}

function goTo(id: string, isQuiet = false): void {
  store.step.value = id;
  const part = document.getElementById(id);
  const isStill = isQuiet || matchMedia("(prefers-reduced-motion: reduce)").matches;
  part?.scrollIntoView({ behavior: isStill ? "auto" : "smooth" });
  if (!isQuiet) document.getElementById(`${id}-title`)?.focus({ preventScroll: true });
}

function Contents(): JSX.Element {
  return (
    <nav class="contents" aria-label="Parts of this page">
      <ol>
        {PARTS.map(({ id, title }) => (
          <li key={id}>
            <a
              href={`#${id}`}
              aria-current={store.step.value === id ? "true" : undefined}
              onClick={(e) => {
                e.preventDefault();
                goTo(id);
              }}
            >
              {title}
            </a>
          </li>
        ))}
      </ol>
      <Steps />
      <Freshness />
    </nav>
  );
}

/** A step back and a step on, always in sight. */
function Steps(): JSX.Element {
  const [back, on] = [undoable.value, redoable.value];
  return (
    <div class="steps">
      <button type="button" disabled={back === null} title={back ?? ""} onClick={undo}>
        Undo{back !== null && <span class="unseen">: {back}</span>}
      </button>
      <button type="button" disabled={on === null} title={on ?? ""} onClick={redo}>
        Redo{on !== null && <span class="unseen">: {on}</span>}
      </button>
    </div>
  );
}

/** Marks the part that is being read. */
function useReading(): void {
  useEffect(() => {
    const seen = new Map<string, number>();
    const watch = new IntersectionObserver(
      (entries) => {
        for (const entry of entries) seen.set(entry.target.id, entry.intersectionRect.height);
        const [id] = [...seen].sort((a, b) => b[1] - a[1])[0] ?? [];
        if (id && (seen.get(id) ?? 0) > 0) store.step.value = id;
      },
      { threshold: [0, 0.1, 0.25, 0.5, 0.75, 1], rootMargin: "-15% 0px -25% 0px" },
    );
    for (const { id } of PARTS) {
      const part = document.getElementById(id);
      if (part) watch.observe(part);
    }
    return () => watch.disconnect();
  }, []);
}

function Notices(): JSX.Element {
  return (
    <div class="notices">
      <div role="status" class={store.notice.value ? "notice" : "unseen"}>{store.notice.value}</div>
      <div role="alert">
        {store.isServerGone.value && (
          <p class="gone">
            {store.isStranger.value ? (
              <>
                <b>The program on this machine was started again.</b> Nothing you entered is lost. Open the address that{" "}
                <code>evenfall explore</code> printed, with its key, in this browser; this page picks up by itself.
              </>
            ) : (
              <>
                <b>The program on this machine does not answer.</b> Nothing you entered is lost. Start{" "}
                <code>evenfall explore</code> again (at the same port) and open the address that it prints; this page picks up by itself.
              </>
            )}
          </p>
        )}
      </div>
    </div>
  );
}

function useFading(): void {
  const words = store.notice.value;
  useEffect(() => {
    if (!words) return;
    const timer = window.setTimeout(() => (store.notice.value = ""), 6000);
    return () => window.clearTimeout(timer);
  }, [words]);
}

/** A scenario, and files it names, dropped anywhere on the page; whether some hang over it. */
function useDropping(): boolean {
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") ?? false;
    const over = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setOver(true);
    };
    // Left only where the pointer leaves the window, not where it goes from one part to another.
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setOver(false);
      void openFiles([...(event.dataTransfer?.files ?? [])]);
    };
    addEventListener("dragover", over);
    addEventListener("dragleave", leave);
    addEventListener("drop", drop);
    return () => {
      removeEventListener("dragover", over);
      removeEventListener("dragleave", leave);
      removeEventListener("drop", drop);
    };
  }, []);
  return isOver;
}

/** What can hurt somebody, and what the page is. */
function Foot(): JSX.Element {
  return (
    <footer class="foot">
      {store.cautions.value.length > 0 && (
        <section class="cautions" aria-labelledby="cautions-title">
          <h2 id="cautions-title">Before anybody moves pipe</h2>
          <dl>
            {store.cautions.value.map(({ what, words }) => (
              <div key={what}>
                <dt>{what}</dt>
                <dd>{words}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      Water on the ground is not yet water in the crop. The report lists what the model leaves out and every starting value.
      Everything is calculated on this machine; nothing leaves it.
    </footer>
  );
}

/** The questions, or what they come to, in place of the page. */
function Before(): JSX.Element {
  return (
    <>
      <header class="masthead">
        <h1><span class="brand">Evenfall</span> {store.step.value === "mirror" ? "before the answer" : "ten questions"}</h1>
      </header>
      <Notices />
      {store.step.value === "mirror" ? <Mirror /> : <Questions />}
      <Foot />
    </>
  );
}

function Sheet(): JSX.Element {
  useReading();
  useEffect(() => {
    if (store.step.value !== "answer") goTo(store.step.value, true);
  }, []);
  const field = store.drafted.value?.field;
  const shown = standingOf(Math.min(store.alternative.value, store.names.value.length - 1));
  return (
    <>
      <a class="skip" href="#field" onClick={(e) => { e.preventDefault(); goTo("field"); }}>Skip to the field</a>
      <header class="masthead">
        <h1><span class="brand">Evenfall</span> {text(store.scenario.value.title)}</h1>
        <button type="button" onClick={startQuestions}>Ten questions</button>
        <FileBar />
      </header>
      <Contents />
      <Notices />
      <main>
        <Part id="answer" title="The answer" note={text(store.scenario.value.question)}>
          <Answer />
        </Part>
        <Part id="field" title="The field" note="More entries: what the answer rests on, group by group.">
          <Outdated />
          <div class="field-body">
            {field && shown ? (
              <FieldPicture field={field} alternative={shown} stop={Math.max(0, Math.min(store.stop.value, shown.rotation.length - 1))} />
            ) : (
              <p class="needs">The field appears here once its entries are complete.</p>
            )}
            <SetUp />
          </div>
        </Part>
        <Part id="stops" title="The stops" note="Where the lateral stands, and in what order it takes its stops. The first alternative is the baseline; the others are compared with it.">
          <Stops />
        </Part>
        <Part id="season" title="The season">
          <Season />
        </Part>
      </main>
      <Foot />
    </>
  );
}

export function App(): JSX.Element {
  useFading();
  const isOver = useDropping();
  return (
    <>
      {store.isBefore.value ? <Before /> : <Sheet />}
      {isOver && <div class="dropping">Drop to open: a scenario, the files it names, or both</div>}
    </>
  );
}
