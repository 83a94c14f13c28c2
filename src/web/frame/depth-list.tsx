import type { Part } from "../../core/record/index.ts";
import { useBench } from "../bench/bench.tsx";

export type Mark = "chosen" | "way" | "away" | "there";

const MARK_WORDS: Readonly<Record<Mark, string>> = {
  chosen: "chosen",
  way: "on the way in",
  away: "away",
  there: "",
};

/** The outline styles of the drawing as a small sign. */
export function MarkSign({ mark }: { readonly mark: Mark }) {
  const look = {
    chosen: "s-accent w-bold",
    way: "s-accent w-line d-way",
    away: "s-soft w-thin d-away",
    there: "s-ink w-thin",
  }[mark];
  return (
    <svg className="drawing sign" viewBox="0 0 22 14" aria-hidden="true">
      <rect className={look} fill="none" x="2" y="2" width="18" height="10" />
    </svg>
  );
}

/** Every part by depth, with the marks of the drawing: the same menu for small screens and screen readers. */
export function DepthList() {
  const { record, part, choose, away, way, seen } = useBench();
  const near = (one: Part) =>
    one.level === undefined ? Infinity : seen === "back" ? Math.min(...one.level) : -Math.max(...one.level);
  const parts = [...record.parts].sort((a, b) => near(a) - near(b) || Number(a.base ?? 0) - Number(b.base ?? 0));
  const markOf = (one: Part): Mark =>
    one.id === part?.id ? "chosen" : away.has(one.id) ? "away" : way.has(one.id) ? "way" : "there";
  return (
    <ul className="depth-list">
      {parts.map((one) => {
        const mark = markOf(one);
        return (
          <li key={one.id}>
            <button
              type="button"
              aria-current={mark === "chosen" ? "true" : undefined}
              onClick={() => choose(mark === "chosen" ? null : one.id, true)}
            >
              <MarkSign mark={mark} />
              <span className="grow">
                {one.name}
                {mark === "there" || mark === "chosen" ? null : <span className="soft"> {MARK_WORDS[mark]}</span>}
              </span>
              <span className="soft">
                {one.level === undefined ? "no level" : `${one.level[0]} to ${one.level[1]} mm`}
              </span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}
