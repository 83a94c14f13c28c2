import type { Fault as OneFault } from "../../core/errors.ts";

export interface FaultProps {
  readonly title: string;
  readonly faults: readonly OneFault[];
  /** What to do next. */
  readonly action?: string;
  readonly again?: () => void;
}

/** Something went wrong, in words: what was found, what was expected, what to do. */
export function Fault({ title, faults, action, again }: FaultProps) {
  return (
    <section className="fault" role="alert">
      <strong>{title}</strong>
      <ul>
        {faults.map((fault) => (
          <li key={`${fault.path} ${fault.found}`}>
            {fault.path === "" ? "" : `${fault.path}: `}found {fault.found}; expected {fault.expected}
            {fault.nearest === undefined ? "" : ` (nearest: ${fault.nearest})`}
          </li>
        ))}
      </ul>
      {action === undefined ? null : <p>{action}</p>}
      {again === undefined ? null : (
        <button type="button" className="button" onClick={again}>
          ask again
        </button>
      )}
    </section>
  );
}
