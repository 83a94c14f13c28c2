import type { ReactNode } from "react";

/** A caution beside the number that makes it necessary: a bar and plain words, never a pop-up. */
export function Caution({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <aside className="caution" aria-label={`Caution: ${title}`}>
      <b>{title}.</b> {children}
    </aside>
  );
}

/** Something in the structure that nobody has tried. */
export function OpenQuestion({ children }: { readonly children: ReactNode }) {
  return (
    <p className="question">
      <span className="mark">open</span> {children}
    </p>
  );
}

/** A plain remark of the software: a warning of an answer, an assumption. */
export function Remarks({ title, lines }: { readonly title: string; readonly lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <details className="remarks">
      <summary>
        {title} <span className="soft">({lines.length})</span>
      </summary>
      <ul>
        {[...new Set(lines)].map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </details>
  );
}
