/** A person's corrections of which part corresponds to which, as they stand in the address: "coil=coil-2,foil=-". */
export type Corrections = Readonly<Record<string, string | null>>;

export function readCorrections(words: string | null): Corrections {
  const pairs = (words ?? "").split(",").flatMap((pair): (readonly [string, string | null])[] => {
    const [a, b, more] = pair.split("=");
    return a === undefined || a === "" || b === undefined || b === "" || more !== undefined
      ? []
      : [[a, b === "-" ? null : b]];
  });
  return Object.fromEntries(pairs);
}

/** null: nothing is corrected. */
export function writeCorrections(match: Corrections): string | null {
  const pairs = Object.entries(match).map(([a, b]) => `${a}=${b ?? "-"}`);
  return pairs.length === 0 ? null : pairs.join(",");
}

/** The corrections with one more. A part of the other device that is given away again leaves whom it was given to first. */
export function corrected(match: Corrections, a: string, b: string | null): Corrections {
  const rest = Object.entries(match).filter(([id, other]) => id !== a && (b === null || other !== b));
  return Object.fromEntries([...rest, [a, b]]);
}
