/**
 * Scores a draft against hand-made labels: precision, recall and F1 of actions, counts, readings and claims. An entry
 * agrees with a label when the action is the same, the cue is the same or next to it, and the names share their head or
 * one's words are all in the other; figures must agree exactly.
 */
import type { Draft } from "../src/core/narration/index.ts";

export interface Label {
  readonly at: number | null;
  readonly action?: string;
  readonly altAction?: readonly string[];
  readonly object?: string;
  readonly subject?: string;
  readonly relation?: string;
  readonly alt?: readonly string[];
  readonly count?: number;
  readonly quantity?: string;
  readonly value?: number;
  readonly unit?: string;
}

export interface Labels {
  readonly entries: readonly Label[];
  readonly claims: readonly Label[];
}

export interface Scores {
  readonly actions: number;
  readonly counts: number;
  readonly readings: number;
  readonly claims: number;
}

const ARTICLES = new Set(["the", "a", "an", "its", "this", "that", "of"]);

function words(text = ""): string[] {
  return text
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[^a-z0-9 ]+/g, " ")
    .split(/\s+/)
    .filter((word) => word !== "" && !ARTICLES.has(word))
    .map((word) =>
      word
        .replace(/ies$/, "y")
        .replace(/(?<=[sxz]|ch|sh)es$/, "")
        .replace(/(?<!s)s$/, ""),
    );
}

function sameThing(said: string | undefined, label: Label): boolean {
  const mine = words(said);
  return [label.object ?? label.subject, ...(label.alt ?? [])]
    .map(words)
    .some(
      (theirs) =>
        mine.length > 0 &&
        theirs.length > 0 &&
        (theirs.at(-1) === mine.at(-1) ||
          theirs.every((word) => mine.includes(word)) ||
          mine.every((word) => theirs.includes(word))),
    );
}

const same = (a: number | undefined, b: number | undefined) =>
  a === b || (a !== undefined && b !== undefined && Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(b)));

function f1<T>(said: readonly T[], labels: readonly Label[], agree: (one: T, label: Label) => boolean): number {
  const left = [...said];
  let hits = 0;
  for (const label of labels) {
    const index = left.findIndex((one) => agree(one, label));
    if (index < 0) continue;
    left.splice(index, 1);
    hits += 1;
  }
  const precision = said.length === 0 ? 1 : hits / said.length;
  const recall = labels.length === 0 ? 1 : hits / labels.length;
  return precision + recall === 0 ? 0 : (2 * precision * recall) / (precision + recall);
}

/** @param starts seconds at which the cues begin, in order */
export function score(draft: Draft, labels: Labels, starts: readonly (number | null)[]): Scores {
  const cue = (at: number | null) =>
    at === null
      ? 0
      : Math.max(
          0,
          starts.findLastIndex((start) => start !== null && start <= at + 0.01),
        );
  const near = (a: number | null, b: number | null) => Math.abs(cue(a) - cue(b)) <= 1;
  const acts = <T extends { action?: string }>(list: readonly T[]) =>
    list.filter((one) => one.action !== "measure" && one.action !== "note");
  const measures = <T extends { action?: string }>(list: readonly T[]) =>
    list.filter((one) => one.action === "measure");
  const action = (one: { action: string }, label: Label) =>
    one.action === label.action || label.altAction?.includes(one.action) === true;
  return {
    actions: f1(
      acts(draft.entries),
      acts(labels.entries),
      (one, label) => action(one, label) && near(one.at, label.at) && sameThing(one.object, label),
    ),
    counts: f1(
      acts(draft.entries).filter((one) => one.count !== undefined),
      acts(labels.entries).filter((one) => one.count !== undefined),
      (one, label) => action(one, label) && near(one.at, label.at) && same(one.count, label.count),
    ),
    readings: f1(
      measures(draft.entries),
      measures(labels.entries),
      (one, label) =>
        near(one.at, label.at) &&
        one.quantity === label.quantity &&
        same(one.value, label.value) &&
        one.unit === label.unit &&
        sameThing(one.object, label),
    ),
    claims: f1(
      draft.claims,
      labels.claims,
      (one, label) =>
        near(one.at, label.at) &&
        one.relation === label.relation &&
        same(one.value, label.value) &&
        one.unit === label.unit &&
        sameThing(one.subject, label),
    ),
  };
}
