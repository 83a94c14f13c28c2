import type { ReactNode } from "react";

export function PageHead({ title, children }: { readonly title: string; readonly children?: ReactNode }) {
  return (
    <header className="page-head">
      <h1>{title}</h1>
      {children}
    </header>
  );
}

export function Section({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className="section">
      <h2>{title}</h2>
      {children}
    </section>
  );
}

/** Shown while an answer is on its way; after half a second with what is known of it. */
export function Waiting({ children, stop }: { readonly children: ReactNode; readonly stop?: () => void }) {
  return (
    <div className="waiting">
      <span role="status">{children}</span>
      {stop === undefined ? null : (
        <button type="button" className="button" onClick={stop}>
          stop
        </button>
      )}
    </div>
  );
}
