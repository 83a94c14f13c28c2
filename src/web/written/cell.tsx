import { type CSSProperties, useEffect, useRef, useState } from "react";
import { type Fault, faultsIn } from "../../core/errors.ts";

export interface CellProps {
  /** Said to who does not see the column. */
  readonly label: string;
  readonly value: string;
  /** Id of a datalist. */
  readonly list?: string;
  readonly width?: "short" | "list" | "wide";
  readonly placeholder?: string;
  /** Takes the text, or says why not; an InputError thrown says it too. */
  readonly take: (text: string) => Promise<readonly Fault[]> | readonly Fault[];
}

/** How high a table of so many rows is taken to be while it is off the screen and not laid out. */
export const asHighAs = (rows: number): CSSProperties => ({ containIntrinsicBlockSize: `auto ${40 + 60 * rows}px` });

/** A field of a table: what is typed is taken on leaving it or on Enter, Escape brings back what stood there. */
export function Cell({ label, value, list, width, placeholder, take }: CellProps) {
  const [text, setText] = useState(value);
  const [fault, setFault] = useState<Fault | null>(null);
  const stood = useRef(value);
  /** Taken, but not shown yet: leaving the field after Enter must not take it twice. */
  const taken = useRef<string | null>(null);
  // What was changed elsewhere is shown, unless something is being typed here.
  useEffect(() => {
    // Read here: the update below runs later, when the new value already stands.
    const before = stood.current;
    stood.current = value;
    setText((now) => (now === before ? value : now));
    taken.current = null;
  }, [value]);

  const commit = async () => {
    if (text === value) return setFault(null);
    if (text === taken.current) return;
    taken.current = text;
    try {
      const faults = await take(text);
      if (faults.length > 0) taken.current = null;
      setFault(faults[0] ?? null);
    } catch (error) {
      const faults = faultsIn(error);
      taken.current = null;
      if (faults === undefined) throw error;
      setFault(faults[0]!);
    }
  };
  return (
    <span className={width === undefined ? "cell" : `cell ${width}`}>
      <input
        aria-label={label}
        aria-invalid={fault !== null}
        value={text}
        list={list}
        placeholder={placeholder}
        autoComplete="off"
        spellCheck={false}
        maxLength={2000}
        onChange={(event) => setText(event.target.value)}
        onBlur={() => void commit()}
        onKeyDown={(event) => {
          if (event.key === "Enter") void commit();
          if (event.key === "Escape") {
            setText(value);
            setFault(null);
          }
        }}
      />
      {fault === null ? null : (
        <span className="cell-fault" role="alert">
          found {fault.found}; expected {fault.expected}
          {fault.nearest === undefined ? "" : ` (nearest: ${fault.nearest})`}
        </span>
      )}
    </span>
  );
}

export function Choice<T extends string>(props: {
  readonly label: string;
  readonly value: T | "";
  readonly options: readonly T[];
  readonly none?: string;
  readonly take: (value: T | "") => void;
}) {
  return (
    <select
      aria-label={props.label}
      value={props.value}
      onChange={(event) => props.take(event.target.value as T | "")}
      className="cell-choice"
    >
      {props.none === undefined ? null : <option value="">{props.none}</option>}
      {props.options.map((one) => (
        <option key={one} value={one}>
          {one.replaceAll("-", " ")}
        </option>
      ))}
    </select>
  );
}

/** The last row of a table: a name, and what it makes is there. */
export function NewRow(props: {
  readonly label: string;
  readonly placeholder: string;
  readonly make: (text: string) => Promise<readonly Fault[]>;
}) {
  const [text, setText] = useState("");
  const [fault, setFault] = useState<Fault | null>(null);
  return (
    <form
      className="new-row"
      onSubmit={async (event) => {
        event.preventDefault();
        if (text.trim() === "") return;
        try {
          const faults = await props.make(text.trim());
          setFault(faults[0] ?? null);
          if (faults.length === 0) setText("");
        } catch (error) {
          const faults = faultsIn(error);
          if (faults === undefined) throw error;
          setFault(faults[0]!);
        }
      }}
    >
      <label>
        <span>{props.label}</span>
        <input
          value={text}
          placeholder={props.placeholder}
          onChange={(event) => setText(event.target.value)}
          autoComplete="off"
          spellCheck={false}
          maxLength={1000}
          aria-invalid={fault !== null}
        />
      </label>
      <button type="submit" className="button">
        add
      </button>
      {fault === null ? null : (
        <span className="cell-fault" role="alert">
          found {fault.found}; expected {fault.expected}
          {fault.nearest === undefined ? "" : ` (nearest: ${fault.nearest})`}
        </span>
      )}
    </form>
  );
}
