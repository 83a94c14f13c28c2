/** A photograph added by whatever hand, and what came of the last one in words. */
import { useState } from "react";
import { faultsIn, type Fault as OneFault } from "../../core/errors.ts";
import type { NewPhoto } from "../../core/photo/index.ts";
import { useBench } from "../bench/bench.tsx";
import { useKeep } from "../keep/index.ts";
import { takePhoto } from "./add-photo.ts";

export interface Adding {
  readonly told: string | null;
  readonly faults: readonly OneFault[];
  readonly busy: boolean;
}

const IDLE: Adding = { told: null, faults: [], busy: false };

export interface UseAddPhoto {
  readonly adding: Adding;
  /** @returns the photograph's id, or null where it was not added: `adding` says why */
  readonly add: (
    content: Blob | Promise<Blob>,
    name: string,
    tie: Pick<NewPhoto, "session" | "at" | "entry" | "parts">,
  ) => Promise<string | null>;
}

/** Tied to the chosen part as well, unless parts are given. */
export function useAddPhoto(): UseAddPhoto {
  const { part } = useBench();
  const { edit, keeper } = useKeep();
  const [adding, setAdding] = useState<Adding>(IDLE);
  const add: UseAddPhoto["add"] = async (content, name, tie) => {
    setAdding({ ...IDLE, busy: true });
    const parts = part === null ? [] : [part.id];
    try {
      const picture = await content;
      // Read now: while the picture was made something else may have been done.
      const { record } = keeper.kept().shown;
      const { id, edits, pictures, said } = await takePhoto(record, picture, name, { parts, ...tie });
      const faults = edits.length === 0 ? [] : await edit(edits, "photograph added", pictures);
      setAdding(faults.length > 0 ? { ...IDLE, faults } : { ...IDLE, told: `${["Added", ...said].join("; ")}.` });
      return faults.length > 0 ? null : id;
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      setAdding({ ...IDLE, faults: faultsIn(error) ?? [{ path: name, found: why, expected: "a picture" }] });
      return null;
    }
  };
  return { adding, add };
}
