/** Work on the way back and functions tried: they have lists of their own, and are no work on the way in. */
import type { Arguments } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import type { BackAction } from "./draft.ts";
import type { Standing } from "./filters.ts";
import { WAY_BACK } from "./lexicon/index.ts";
import { isFastener, isPlug, nounText, objectText, referent } from "./objects.ts";
import { backSenseOf } from "./senses.ts";
import { clauseText, clauseWords, mention, type State } from "./state.ts";

/** Verbs that put something in or on, when the talk is of the way back. */
const IN_AGAIN =
  /^(?:put|place|set|push|press|slide|drop|fit|plug|screw|connect|snap|clip|pop|lay|stick|click|get|go|lower|install|insert|apply|add|run|close|hold|wait|leave|clamp|attach|secure|fasten)$/;

/** True where the clause was work on the way back and has been told so. */
export function readBack(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): boolean {
  const group = clause.group;
  const words = clauseWords(state, clause);
  const returning = /(?<! (?:its|the|a|my)) (?:back in|back on|back into|back down|back onto|back together) /.test(
    words,
  );
  const back = state.wayBack || returning || group?.sort === "back";
  if (!back) return false;
  // "Putting it back": the whole device is meant; what is put back follows.
  if (args.objects.every((one) => one.kind === "pronoun") && WAY_BACK.some((one) => words.includes(` ${one} `)))
    return true;
  for (const one of args.objects) if (one.kind === "noun") mention(state, one.np, index, false);
  if (!stand.work && !(group?.form === "ing" && stand.figures))
    return state.wayBack && group !== null && group.sort !== "common" && group.sort !== "aux";
  if (group === null || (group.sort === "common" && !returning && !IN_AGAIN.test(group.base))) return false;
  if (group.sort === "aux") return false;
  const thing = args.objects[0] ?? (group.passive ? args.subjects[0] : undefined);
  const np =
    thing === undefined ? null : thing.kind === "noun" ? thing.np : referent(state, thing.w, index, () => true);
  const classes = new Set<string>(np?.classes ?? []);
  if (np !== null && isFastener(np)) classes.add("fastener");
  let action = backSenseOf(group.base, classes) as BackAction | null;
  if (action === null && (returning || state.wayBack) && IN_AGAIN.test(group.base))
    action = byObject(group.base, classes, np === null);
  if (action === null || np === null)
    return state.wayBack && group.sort === "work" && !/^(?:clean|scrape|wipe)$/.test(group.base);
  const count = np.count !== null && np.count > 0 ? { count: np.count } : {};
  const q = args.quantities.find((one) => one.q.quantity === "torque" || one.q.quantity === "duration")?.q;
  state.back.push({
    at: state.tokens[clause.i]!.at,
    action: isPlug(np) && action === "refit" ? "plug" : action,
    object: objectText(state, np),
    ...count,
    ...(q === undefined ? {} : { value: q.value, unit: q.unit }),
    text: clauseText(state, clause),
  });
  if (/battery|cell/.test(nounText(np)) && action === "plug")
    state.back.push({
      at: state.tokens[clause.i]!.at,
      action: "wake",
      object: nounText(np),
      text: clauseText(state, clause),
    });
  return true;
}

function byObject(base: string, classes: ReadonlySet<string>, none: boolean): BackAction | null {
  if (/^(?:wait|leave|hold)$/.test(base)) return base === "wait" || none ? null : "press";
  if (/^(?:press|clamp|close)$/.test(base)) return "press";
  if (classes.has("fastener") || base === "screw" || base === "fasten") return "fasten";
  if (classes.has("glue") || classes.has("film")) return "lay";
  if (classes.has("plug") || base === "plug" || base === "connect") return "plug";
  return "refit";
}

const FUNCTIONS =
  /\b(touch|touchscreen|screen|display|camera|front camera|rear camera|speaker|earpiece|microphone|mic|charging|wireless charging|vibration|fingerprint|face unlock|wifi|wi-fi|bluetooth|power button|volume|buttons|flash|nfc|keyboard|trackpad|sound|it)\b/;

/** "Touch works", "the front camera still works", "it boots", "face unlock fails". */
export function readProof(state: State, clause: Clause, stand: Standing): void {
  if (!stand.figures || stand.conditional || clause.after === 3) return;
  // "The touch works": the function may stand in the clause before, where captions give no sign.
  const words = `${clause.before === 0 ? state.lastWords : ""}${clauseWords(state, clause)}`;
  const works =
    / (?:works|work|working|worked|boots|boots up|turns on|comes on|powers on|is fine|responds|is alive) /.test(words);
  const fails = / (?:fails|failed|is dead|does not work|do not work|does not respond|not working|does not boot) /.test(
    words,
  );
  if (!works && !fails) return;
  const what = FUNCTIONS.exec(words)?.[1];
  if (what === undefined || (what === "it" && !/ (?:boots|turns on|powers on|comes on) /.test(words))) return;
  if (!state.wayBack && !/ (?:boots|still works|touch|unlock) /.test(words)) return;
  state.proofs.push({
    at: state.tokens[clause.i]!.at,
    what: what === "it" ? "power on" : what,
    result: fails || stand.negated ? "fails" : "works",
    text: clauseText(state, clause),
  });
}
