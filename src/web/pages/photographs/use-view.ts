/** A photograph's marks as a view, or why there is none yet. */
import { useMemo } from "react";
import { type Fault, faultsIn } from "../../../core/errors.ts";
import { bodyOf, fitView, type PhotoMarks, type Point, type View } from "../../../core/photo/index.ts";
import type { Media, TeardownRecord } from "../../../core/record/index.ts";

export interface ViewOf {
  readonly view: View | null;
  readonly fault: Fault | null;
}

/** The marks that the record has, or none on a picture of that size. */
export function marksOf(record: TeardownRecord, media: Media, size: Point): PhotoMarks {
  if (media.view !== undefined) return media.view;
  const body = bodyOf(record);
  return { size, seen: "back", level: 0, ...(body === undefined ? {} : { body }) };
}

export function useView(marks: PhotoMarks | null): ViewOf {
  return useMemo(() => {
    if (marks === null) return { view: null, fault: null };
    try {
      return { view: fitView(marks), fault: null };
    } catch (error) {
      const faults = faultsIn(error);
      if (faults === undefined) throw error;
      return { view: null, fault: faults[0]! };
    }
  }, [marks]);
}
