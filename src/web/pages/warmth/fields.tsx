/** Fields of the page: a number with its unit, a file that is read as text, a long run with its bar and its stop. */
import { type ChangeEvent, useEffect, useId, useState } from "react";
import type { Computed } from "../../compute/use-computed.ts";

export function NumberField(props: {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step?: number;
  readonly onChange: (value: number) => void;
}) {
  const { label, unit, value, least, most, step = 1, onChange } = props;
  const id = useId();
  const [words, setWords] = useState(String(value));
  // A value that comes from elsewhere (another zone, a new answer) is shown; what is being typed is left alone.
  useEffect(() => setWords((now) => (Number(now) === value ? now : String(value))), [value]);
  const wrong = words.trim() === "" || !(Number(words) >= least && Number(words) <= most);
  const change = (event: ChangeEvent<HTMLInputElement>) => {
    setWords(event.target.value);
    const next = Number(event.target.value);
    if (event.target.value.trim() !== "" && next >= least && next <= most) onChange(next);
  };
  return (
    <div className="field">
      <label className="soft" htmlFor={id}>
        {label}
      </label>
      <span className="with-unit">
        <input
          id={id}
          type="number"
          inputMode="decimal"
          min={least}
          max={most}
          step={step}
          value={words}
          aria-invalid={wrong}
          aria-describedby={wrong ? `${id}-wrong` : undefined}
          onChange={change}
        />
        <span>{unit}</span>
      </span>
      {wrong ? (
        <span id={`${id}-wrong`} role="alert">
          from {least} to {most}
        </span>
      ) : null}
    </div>
  );
}

export function FileButton({ label, onText }: { readonly label: string; readonly onText: (text: string) => void }) {
  const take = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    // The same file may be chosen again after it was changed.
    event.target.value = "";
    if (file !== undefined) onText(await file.text());
  };
  return (
    <label className="button file">
      {label}
      <input type="file" accept=".csv,.txt,.json,text/plain,text/csv,application/json" onChange={take} />
    </label>
  );
}

/** While something is computed: what, how far it is, and a stop. */
export function Working(props: {
  readonly answer: Computed<unknown>;
  readonly words: string;
  readonly stop: () => void;
  readonly again: () => void;
}) {
  const { answer, words, stop, again } = props;
  if (answer.kind === "stopped")
    return (
      <p className="run">
        Stopped.{" "}
        <button type="button" className="button" onClick={again}>
          compute it after all
        </button>
      </p>
    );
  if (answer.kind !== "working") return null;
  const share = answer.progress !== null && "of" in answer.progress ? answer.progress.done / answer.progress.of : null;
  return (
    <div className="waiting">
      <span role="status">{words}</span>
      <span className="progress">
        <progress aria-label={words} {...(share === null ? {} : { value: share, max: 1 })} />
      </span>
      <button type="button" className="button" onClick={stop}>
        stop
      </button>
    </div>
  );
}

/** The last answer that was there, while the next is on its way. */
export function useLast<T>(answer: Computed<T>): T | null {
  const [last, setLast] = useState<T | null>(null);
  useEffect(() => {
    if (answer.kind === "here") setLast(answer.value);
  }, [answer]);
  return answer.kind === "here" ? answer.value : answer.kind === "working" ? last : null;
}
