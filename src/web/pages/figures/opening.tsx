import { type ReactNode, useState } from "react";

/** What opens on demand; its content is made only when it is looked at. */
export function Opening({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <details className="remarks" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {open ? children : null}
    </details>
  );
}
