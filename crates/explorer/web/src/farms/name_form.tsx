// A name to give, with the button that gives it.

import type { JSX } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";

interface Props {
  label: string;
  value: string;
  button: string;
  /** Whether the cursor goes there at once. */
  isFirst?: boolean;
  onName: (name: string) => Promise<void>;
}

const MOST = 80;

export function NameForm({ label, value, button, isFirst = false, onName }: Props): JSX.Element {
  const id = useId();
  const [name, setName] = useState(value.slice(0, MOST));
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (isFirst) input.current?.select();
  }, []);
  return (
    <form
      class="name-form"
      onSubmit={(e) => {
        e.preventDefault();
        void onName(name);
      }}
    >
      <label for={id}>{label}</label>
      <span class="name-row">
        <input ref={input} id={id} type="text" maxLength={MOST} value={name} autoComplete="off" onInput={(e) => setName(e.currentTarget.value)} />
        <button type="submit" disabled={name.trim() === ""}>
          {button}
        </button>
      </span>
    </form>
  );
}
