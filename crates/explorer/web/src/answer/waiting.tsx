// How far a long run is: seen as a bar, spoken now and then.

import type { JSX } from "preact";
import type { LongRun } from "../model/store";

interface Props {
  own: LongRun<any>;
  /** What is counted: "Seasons run". */
  label: string;
}

export function Waiting({ own, label }: Props): JSX.Element {
  const busy = own.busy.value;
  const isKnown = busy !== null && busy.total > 0;
  const quarter = isKnown ? Math.floor((4 * busy.done) / busy.total) : 0;
  const spoken = quarter > 0 ? `${label}: ${quarter * 25} percent` : busy ? `${label}: begun` : "";
  const id = `${label.toLowerCase().replace(/[^a-z]+/g, "-")}-progress`;
  return (
    <>
      {busy && (
        <div class="progress">
          <label for={id}>{label}</label>
          <progress id={id} max={1} value={isKnown ? busy.done / busy.total : undefined} />
          <span>{isKnown ? `${busy.done} of ${busy.total}` : busy.what === "waiting" ? "waiting for other runs to finish" : "starting"}</span>
        </div>
      )}
      <div role="status" class="unseen">
        {spoken}
      </div>
    </>
  );
}
