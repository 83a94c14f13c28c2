import { type KeyboardEvent, type ReactNode, useEffect, useMemo, useRef } from "react";
import { sessionClock } from "../../../core/units/index.ts";

export interface Row {
  readonly key: string;
  readonly at: number | null;
  readonly words: string;
  readonly made: string;
  readonly more: readonly string[];
  readonly doubts: readonly string[];
  readonly state: "open" | "done" | "rejected" | "words";
}

export interface Deed {
  readonly key: string;
  readonly label: string;
  readonly does: () => void;
  readonly off?: boolean;
}

/** As many rows as are drawn at once: a log of a hundred thousand phrases must not hold up the page. */
const AT_ONCE = 80;

/**
 * Rows that are gone through with single keys. The keys are heard only while the list has the focus (WCAG 2.2, 2.1.4), and
 * each is a button as well. Rows are drawn a page at a time, the page with the chosen row.
 */
export function ItemList(props: {
  readonly label: string;
  readonly rows: readonly Row[];
  readonly chosen: number;
  readonly choose: (index: number) => void;
  readonly deeds: readonly Deed[];
  readonly form: ReactNode;
}) {
  const { label, rows, chosen, choose, deeds, form } = props;
  const list = useRef<HTMLOListElement | null>(null);
  const from = Math.floor(Math.max(0, chosen) / AT_ONCE) * AT_ONCE;
  const shown = useMemo(() => rows.slice(from, from + AT_ONCE), [rows, from]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the chosen row is brought into sight when another is chosen
  useEffect(() => {
    const box = list.current;
    const row = box?.querySelector<HTMLElement>('[aria-current="true"]');
    // Within the list alone: the page itself must not jump while somebody types.
    if (box == null || row == null) return;
    if (row.offsetTop < box.scrollTop) box.scrollTop = row.offsetTop;
    else if (row.offsetTop + row.offsetHeight > box.scrollTop + box.clientHeight)
      box.scrollTop = row.offsetTop + row.offsetHeight - box.clientHeight;
  }, [chosen]);
  const hear = (event: KeyboardEvent) => {
    if (event.target !== list.current || event.ctrlKey || event.metaKey || event.altKey) return;
    const steps: Readonly<Record<string, number>> = {
      ArrowDown: 1,
      ArrowUp: -1,
      PageDown: 10,
      PageUp: -10,
      Home: -rows.length,
      End: rows.length,
    };
    const step = steps[event.key];
    const deed = deeds.find((one) => one.key === event.key.toLowerCase());
    if (step === undefined && (deed === undefined || deed.off)) return;
    event.preventDefault();
    if (step !== undefined) choose(Math.min(rows.length - 1, Math.max(0, chosen + step)));
    else deed?.does();
  };
  return (
    <>
      <div className="keys" role="toolbar" aria-label={`${label}: keys`}>
        {deeds.map((one) => (
          <button
            key={one.key}
            type="button"
            className="button"
            disabled={one.off}
            onClick={() => {
              one.does();
              list.current?.focus({ preventScroll: true });
            }}
          >
            <kbd>{one.key}</kbd>
            {one.label}
          </button>
        ))}
      </div>
      {form}
      {rows.length > AT_ONCE ? (
        <div className="row">
          <button
            type="button"
            className="button"
            disabled={from === 0}
            onClick={() => choose(Math.max(0, from - AT_ONCE))}
          >
            earlier
          </button>
          <span className="soft">
            {from + 1} to {Math.min(rows.length, from + AT_ONCE)} of {rows.length}
          </span>
          <button
            type="button"
            className="button"
            disabled={from + AT_ONCE >= rows.length}
            onClick={() => choose(from + AT_ONCE)}
          >
            later
          </button>
        </div>
      ) : null}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: the list hears the keys that are named above it */}
      <ol className="talk" ref={list} tabIndex={0} aria-label={label} onKeyDown={hear}>
        {shown.map((row, nth) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the list itself hears the arrow keys
          <li
            key={row.key}
            className={row.state}
            aria-current={from + nth === chosen ? "true" : undefined}
            onClick={() => {
              choose(from + nth);
              list.current?.focus({ preventScroll: true });
            }}
          >
            <span className="soft">{row.at === null ? "" : sessionClock(row.at)}</span>
            <span>{row.words}</span>
            <span className="made">
              {row.made}
              {row.more.length === 0 ? null : <span className="soft">{row.more.join(" · ")}</span>}
              {row.state === "open" && row.doubts.length > 0 ? (
                <span className="doubt">{row.doubts.join("; ")}</span>
              ) : null}
            </span>
          </li>
        ))}
      </ol>
    </>
  );
}
