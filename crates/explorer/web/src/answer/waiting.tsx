// How far a long run is: seen as a bar, spoken now and then.

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Busy, LongRun } from "../model/store";

interface Props {
  own: LongRun<any>;
  /** What is counted: "Seasons run". */
  label: string;
}

/** Nothing is said of what takes less, s. */
const SHORT_S = 1;

/** A time as one says it. */
function about(seconds: number): string {
  if (seconds < 90) return `about ${Math.max(1, Math.round(seconds))} s`;
  return `about ${Math.round(seconds / 60)} min`;
}

/** Time left, from how far it has come; empty until there is something to go by. */
export function timeLeft({ done, total, since }: Busy): string {
  if (!since || done === 0 || total === 0 || done >= total) return "";
  const taken_s = (performance.now() - since) / 1000;
  return taken_s < SHORT_S ? "" : `${about((taken_s / done) * (total - done))} left`;
}

/** How long it has taken, looked at once a second. */
function useTaken(busy: Busy | null): string {
  const [now, setNow] = useState(performance.now());
  const [begun, setBegun] = useState(now);
  useEffect(() => {
    setBegun(performance.now());
    setNow(performance.now());
    if (!busy) return;
    const timer = window.setInterval(() => setNow(performance.now()), 1000);
    return () => window.clearInterval(timer);
  }, [busy?.run]);
  const taken_s = (now - begun) / 1000;
  return taken_s < SHORT_S ? "" : `${about(taken_s).replace("about ", "")} so far`;
}

export function Waiting({ own, label }: Props): JSX.Element {
  const busy = own.busy.value;
  const isKnown = busy !== null && busy.total > 0;
  const quarter = isKnown ? Math.floor((4 * busy.done) / busy.total) : 0;
  const spoken = quarter > 0 ? `${label}: ${quarter * 25} percent` : busy ? `${label}: begun` : "";
  const taken = useTaken(busy);
  const left = busy ? timeLeft(busy) : "";
  const id = `${label.toLowerCase().replace(/[^a-z]+/g, "-")}-progress`;
  return (
    <>
      {busy && (
        <div class="progress">
          <label for={id}>{label}</label>
          <progress id={id} max={1} value={isKnown ? busy.done / busy.total : undefined} />
          <span>
            {isKnown ? `${busy.done} of ${busy.total}` : busy.what === "waiting" ? "waiting for other runs to finish" : "starting"}
            {(left || taken) && `, ${left || taken}`}
          </span>
        </div>
      )}
      <div role="status" class="unseen">
        {spoken}
      </div>
    </>
  );
}
