/** What the reader keeps in mind while it goes through the talk. */
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import type { DeviceNames } from "./devices.ts";
import type { BackEntry, DraftAction, DraftClaim, DraftQuestion, Proof, QuantityName } from "./draft.ts";
import type { Token } from "./tokens.ts";

/** An entry while it can still be changed by what is said next. */
export interface Working {
  at: number | null;
  action: DraftAction;
  object: string;
  np: NounPhrase | null;
  count?: number | undefined;
  tool?: string | undefined;
  quantity?: QuantityName;
  value?: number;
  unit?: string;
  lies?: string;
  text: string;
  /** Clause it was read from. */
  clause: number;
  /** Announced ("you'll have to …"), not yet told as done. */
  tentative?: boolean;
  /** Screws whose part was not named: the part that is lifted next gives the name. */
  loose?: boolean;
}

export interface PendingFasteners {
  np: NounPhrase;
  count: number | null;
  holder: NounPhrase | null;
  /** The holder was named for itself before, so that "out" may mean it as well. */
  topical: boolean;
  readonly at: number | null;
  readonly clause: number;
  readonly text: string;
  used: boolean;
}

export interface PendingTool {
  readonly tool: NounPhrase;
  readonly target: NounPhrase | null;
  readonly at: number | null;
  readonly clause: number;
  readonly text: string;
}

export interface Mention {
  readonly np: NounPhrase;
  readonly clause: number;
  readonly strong: boolean;
  /** When it was named. */
  readonly at: number | null;
  used: boolean;
}

export interface State {
  readonly tokens: readonly Token[];
  readonly names: DeviceNames;
  readonly device: NounPhrase;
  readonly entries: Working[];
  /** Where parts are, as far as it was said: kept apart, because nothing that follows corrects them. */
  readonly notes: Working[];
  readonly claims: (DraftClaim & { clause: number })[];
  readonly back: BackEntry[];
  readonly proofs: Proof[];
  readonly questions: DraftQuestion[];
  mentions: Mention[];
  topic: NounPhrase | null;
  topicClause: number;
  /** What figures are about when nothing else is said. */
  focus: NounPhrase | null;
  pending: PendingFasteners | null;
  /** Clips or hooks counted, not yet sprung. */
  clips: { readonly holder: NounPhrase; readonly count: number | null; readonly clause: number } | null;
  insert: PendingTool | null;
  suction: PendingTool | null;
  lastObjects: readonly NounPhrase[];
  /** The last work was done on a plug or a cable, whatever part gives it its name. */
  lastPlug: boolean;
  /** First token of the clause that is being read. */
  from: number;
  lastAction: DraftAction | null;
  lastActionClause: number;
  /** Clauses up to here hang on an "if". */
  conditionUntil: number;
  recap: boolean;
  wayBack: boolean;
  dimension: QuantityName | null;
  heatClause: number;
  waitClause: number;
  /** The last clause that named a source of heat. */
  heaterClause: number;
  fahrenheit: boolean;
  retracted: { entry: Working; clause: number } | null;
  takeBack: number;
  /** By which words it was taken back. */
  takeBackSign: string;
  /** The last clause that spoke of another device or of a habit. */
  aside: "earlier" | "habit" | null;
  asideClause: number;
  /** A verb whose object comes with the next one: "I unplug and remove the panel". */
  waiting: { readonly verb: string; readonly clause: number; readonly at: number | null } | null;
  /** A side named for what follows: "Bottom: two screws". */
  place: { readonly np: NounPhrase; readonly clause: number } | null;
  /** First tokens of figures that only put others right. */
  readonly corrected: Set<number>;
  /** Number of the clause that is being read. */
  index: number;
  /** The thing that a "that" at the end of the clause before stands for: "… some tape that | I peel off". */
  relative: NounPhrase | null;
  /** The part that the clause before was said of. */
  lastSubject: NounPhrase | null;
  /** The last name in the clause before. */
  lastNoun: NounPhrase | null;
  /** Words of the clause before. */
  lastWords: string;
  /** A tool taken up, not yet used: "I must use the iron". */
  handy: NounPhrase | null;
  handyClause: number;
}

export const clauseText = (state: State, clause: Clause) =>
  state.tokens
    .slice(clause.i, clause.j)
    .map((token) => token.raw)
    .filter((raw) => raw !== "")
    .join(" ");

export const clauseWords = (state: State, clause: Clause) =>
  ` ${state.tokens
    .slice(clause.i, clause.j)
    .map((token) => token.w)
    .join(" ")} `;

export function mention(state: State, np: NounPhrase, clause: number, strong: boolean): void {
  state.mentions.push({ np, clause, strong, at: state.tokens[state.from]?.at ?? null, used: false });
  // Older ones are never asked for: the memory stays small in a recording of any length.
  if (state.mentions.length > 64) state.mentions = state.mentions.slice(-32);
}

export function simplePhrase(text: string, classes: NounPhrase["classes"]): NounPhrase {
  const words = text.toLowerCase().split(" ");
  return {
    text,
    head: words.at(-1)!,
    classes,
    role: null,
    count: null,
    plural: false,
    det: null,
    every: false,
    each: false,
    mods: words.slice(0, -1),
    owner: null,
    elided: false,
    earlier: false,
    unknown: false,
    of: null,
  };
}
