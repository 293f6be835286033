// The alternatives in the command's own table; on a phone a card each, so that nothing scrolls sideways.

import type { JSX } from "preact";
import type { WorthSummary } from "../model/api";

export function Averages({ table }: { table: WorthSummary["table"] }): JSX.Element {
  return (
    <div class="table-scroll" tabIndex={0} role="region" aria-label="Averages over all seasons">
      <table class="worth-table stacking">
        <thead>
          <tr>
            {table.head.map((h, i) => (
              <th scope="col" key={i}>{h || "Alternative"}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row) => (
            <tr key={row[0]}>
              {row.map((cell, i) => (i === 0 ? <th scope="row" key={i}>{cell}</th> : <td key={i} data-label={table.head[i]}>{cell}</td>))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
