/** Which of the readings I1 to I10 would change a score or the class, each switched by itself. */
import { InputError } from "../errors.ts";
import type { TeardownRecord } from "../record/schema.ts";
import { DEFAULT_READINGS, type StepReadings } from "../route/problem.ts";
import type { ScoreName } from "./answer.ts";
import { assessView, type LawOptions } from "./assess.ts";
import { CURRENT } from "./rules/index.ts";
import type { ClassLetter, ReadingId } from "./rules/types.ts";
import { endText, scoresText } from "./score.ts";

export interface ReadingEffect {
  readonly id: ReadingId;
  readonly text: string;
  readonly other: string | null;
  /** The other position is the one taken. */
  readonly switched: boolean;
  /** With the reading switched over from where it stands. */
  readonly index: string | null;
  readonly class: ClassLetter | null;
  readonly changes: readonly ScoreName[];
  readonly changesClass: boolean;
}

export const READING_IDS = Object.keys(DEFAULT_READINGS) as readonly (keyof StepReadings)[];

/** The readings with the named ones in their other position. @throws InputError naming what is no reading */
export function readingsWith(ids: readonly string[]): StepReadings {
  const readings: { -readonly [id in keyof StepReadings]: boolean } = { ...DEFAULT_READINGS };
  for (const id of ids) {
    if (!(READING_IDS as readonly string[]).includes(id))
      throw new InputError({
        path: "readings",
        found: JSON.stringify(id),
        expected: `one of ${READING_IDS.join(", ")}`,
      });
    readings[id as keyof StepReadings] = true;
  }
  return readings;
}

/** Costs one assessment for each reading; under `least` each is planned anew. */
export function readingEffects(record: TeardownRecord, options: LawOptions): ReadingEffect[] {
  const rules = options.rules ?? CURRENT;
  const readings = options.readings ?? DEFAULT_READINGS;
  const now = assessView(record, options, "written").low;
  const before = scoresText(now);
  return rules.readings.map(({ id, text, other }) => {
    const key = READING_IDS.find((one) => one === id);
    if (key === undefined)
      return { id, text, other, switched: false, ...endText(now), changes: [], changesClass: false };
    const then = assessView(record, { ...options, readings: { ...readings, [key]: !readings[key] } }, "written").low;
    const after = scoresText(then);
    const changes = (Object.keys(after) as ScoreName[]).filter((score) => after[score] !== before[score]);
    return {
      id,
      text,
      other,
      switched: readings[key],
      ...endText(then),
      changes,
      changesClass: then.letter !== now.letter,
    };
  });
}
