import { Component, type ReactNode } from "react";
import { Fault } from "../face/fault.tsx";

/** Catches what we got wrong in drawing a page, says so, and keeps the rest of the app in use. */
export class Guard extends Component<{ readonly children: ReactNode }, { readonly error: Error | null }> {
  override state: { readonly error: Error | null } = { error: null };

  static getDerivedStateFromError(error: unknown) {
    return { error: error instanceof Error ? error : new Error(String(error)) };
  }

  override render() {
    const { error } = this.state;
    if (error === null) return this.props.children;
    return (
      <div className="pad">
        <Fault
          title="This page could not be drawn: our fault, not yours"
          faults={[{ path: "", found: error.message, expected: "a page" }]}
          action="Nothing that was kept is lost."
        />
        <button type="button" className="button" onClick={() => this.setState({ error: null })}>
          try again
        </button>
      </div>
    );
  }
}
