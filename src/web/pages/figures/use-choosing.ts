import { useCallback } from "react";
import type { Decorate } from "../../../draw/scene-view.tsx";
import { useBench } from "../../bench/bench.tsx";

/** A part in a picture is chosen by pointing at it; by keyboard through its name in the tables or in the drawing. */
export function useChoosing(): Decorate {
  const { choose, part } = useBench();
  const chosen = part?.id;
  return useCallback<Decorate>(
    (of) =>
      of.part === undefined
        ? undefined
        : { className: "pick", onClick: () => choose(of.part === chosen ? null : of.part!, true) },
    [choose, chosen],
  );
}
