import type { ReactNode } from "react";

export interface FigureProps {
  /** The number with its unit, as a range where it is one. */
  readonly value: string;
  readonly note?: string;
  /** How it was measured or computed, from what, how sure: the figure then opens to it. */
  readonly source?: ReactNode;
  /** Set large: once on a page. */
  readonly large?: boolean;
}

/** A figure that opens to its source. Dotted underline: there is something to open. */
export function Figure({ value, note, source, large = false }: FigureProps) {
  const shown = <b className={large ? "large" : undefined}>{value}</b>;
  return (
    <div className="figure">
      {source === undefined ? (
        shown
      ) : (
        <details className="source">
          <summary>
            <b className={large ? "large" : undefined}>{value}</b>
          </summary>
          <div className="opened">{source}</div>
        </details>
      )}
      {note === undefined ? null : <span className="soft">{note}</span>}
    </div>
  );
}

export function Figures({ children }: { readonly children: ReactNode }) {
  return <div className="figures">{children}</div>;
}
