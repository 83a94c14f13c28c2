/**
 * How the parts of a draft belong together, once all the work has been told: what is joined to what, what came out within what,
 * what was said to hide what. Works on the half-made record of a merge and touches only what that merge made.
 *
 * What was said in so many words is `stated`. Guesses, common practice without a source: a plug whose other half was not named
 * sits on the main board while that is in; a cable that was unplugged at both ends joins the two boards; the bracket over a plug
 * is screwed to the board; a cable that was peeled up can hang on its other plug; plugs are undone with the tool that was named
 * for one of them; a board is live until the cell is off.
 */
import type { Joint, Part, TeardownRecord } from "../../record/index.ts";
import { reachable, viewOf } from "../../structure/index.ts";
import type { DraftFact } from "../facts.ts";
import { isMainBoard, isSmallBoard, nameWords, partFor } from "./names.ts";

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** One thing that was done, in the order of the talk. */
export interface Work {
  readonly at: number | null;
  readonly action: string;
  readonly part: string;
  readonly joint: string | null;
  readonly text: string;
}

export interface Half {
  readonly parts: Writable<Part>[];
  readonly joints: Writable<Joint>[];
  readonly made: ReadonlySet<string>;
  readonly base: string;
  /** A joint more: its id. */
  readonly add: (joint: Omit<Joint, "id">, wish: string) => void;
  /** The record as it would be now. */
  readonly record: () => TeardownRecord;
}

export function build(half: Half, work: readonly Work[], facts: readonly DraftFact[]): void {
  new Builder(half, work).run(facts);
}

class Builder {
  readonly #half: Half;
  readonly #work: readonly Work[];
  /** When each part came off, by the order of the work. */
  readonly #off = new Map<string, number>();

  constructor(half: Half, work: readonly Work[]) {
    this.#half = half;
    this.#work = work;
    work.forEach((one, nth) => {
      if (one.action === "lift" && !this.#off.has(one.part)) this.#off.set(one.part, nth);
    });
  }

  run(facts: readonly DraftFact[]): void {
    this.#together();
    this.#counterparts();
    for (const fact of facts) if (fact.kind === "within") this.#within(this.#named(fact.object), this.#over(fact));
    for (const fact of facts) if (fact.kind === "joined") this.#joined(this.#named(fact.object), this.#over(fact));
    this.#plugsOnTheBoard();
    for (const fact of facts) if (fact.kind === "both-ends") this.#bothEnds(this.#object(fact));
    this.#folds();
    this.#sameTool();
    this.#plugBrackets();
    for (const fact of facts)
      if (fact.kind === "behind") this.#behind(this.#object(fact), this.#over(fact));
      else if (fact.kind === "bared") this.#behind(this.#named(fact.object), this.#lastOff(fact.at));
      else if (fact.kind === "serves") this.#serves(fact);
      else if (fact.kind === "notification" || fact.kind === "authorisation") this.#paired(fact);
    this.#roles();
  }

  #part(id: string | null | undefined): Writable<Part> | undefined {
    return id === null || id === undefined ? undefined : this.#half.parts.find((part) => part.id === id);
  }

  #named(text: string | null | undefined): string | null {
    return text === null || text === undefined ? null : (partFor(this.#half.parts, text)?.id ?? null);
  }

  /** What is named, or what was in hand. */
  #object(fact: DraftFact): string | null {
    return fact.object === null ? this.#inHand(fact.at) : this.#named(fact.object);
  }

  #over(fact: DraftFact): string | null {
    return fact.over === null ? this.#inHand(fact.at) : this.#named(fact.over);
  }

  #inHand(at: number | null): string | null {
    return at === null ? null : (this.#work.findLast((one) => one.at !== null && one.at <= at)?.part ?? null);
  }

  #lastOff(at: number | null): string | null {
    if (at === null) return null;
    return this.#work.findLast((one) => one.action === "lift" && one.at !== null && one.at <= at)?.part ?? null;
  }

  /** "Lift the cameras out whole, cradle and both lenses": the others came within the first. */
  #together(): void {
    this.#work.forEach((one, nth) => {
      const first = this.#work[nth - 1];
      if (first?.action !== "lift" || one.action !== "lift" || one.text !== first.text || one.at !== first.at) return;
      if (/\b(?:whole|complete|with|together with|in one piece)\b/i.test(one.text))
        this.#within(one.part, this.#part(first.part)?.within ?? first.part);
    });
  }

  #within(part: string | null, whole: string | null): void {
    const one = this.#part(part);
    if (one === undefined || whole === null || one.id === whole || !this.#half.made.has(one.id)) return;
    if (one.base === true || this.#part(whole)?.base === true || one.within !== undefined) return;
    // What was taken off by itself before the whole came off did not come with it.
    const [mine, its] = [this.#off.get(one.id), this.#off.get(whole)];
    if (mine !== undefined && (its === undefined || mine < its)) return;
    for (let up: string | undefined = whole; up !== undefined; up = this.#part(up)?.within) if (up === one.id) return;
    one.within = whole;
    // What came off with it was fixed to it, and not to the device.
    for (const joint of this.#half.joints)
      if (joint.kind !== "connector" && joint.holds.includes(one.id) && joint.holds.includes(this.#half.base))
        if (this.#half.made.has(joint.id)) joint.holds = [one.id, whole];
    // They come off as one: neither lies over the other.
    if (one.basis === "inferred" && one.under?.some((group) => group.includes(whole))) {
      delete one.under;
      delete one.basis;
    }
  }

  /** "Peel the foil off the shield": what the joint holds it to. */
  #counterparts(): void {
    for (const [nth, one] of this.#work.entries()) {
      const joint = this.#half.joints.find((each) => each.id === one.joint);
      if (joint === undefined || !this.#half.made.has(joint.id) || joint.holds.length !== 2) continue;
      const other = this.#beneath(one.text, one.part);
      if (other === null) continue;
      joint.holds = [one.part, other];
      const its = this.#off.get(other);
      if (its !== undefined && its < nth) this.#within(one.part, other);
    }
  }

  #beneath(text: string, part: string): string | null {
    const said = /\b(?:off|from|out of)\s+(?:of\s+)?(?:the|its|this|that)\s+([a-z][a-z -]*)/i.exec(text)?.[1];
    const words = said?.trim().split(/\s+/).slice(0, 3) ?? [];
    for (let length = words.length; length > 0; length -= 1) {
      const found = partFor(this.#half.parts, words.slice(0, length).join(" "));
      if (found !== null && found.id !== part && found.base !== true && this.#off.has(found.id)) return found.id;
    }
    return null;
  }

  #board(): Part | undefined {
    const boards = this.#half.parts.filter((part) => part.role === "board");
    return (
      boards.find((part) => isMainBoard(part.name)) ??
      boards.find((part) => /\bboard$/i.test(part.name) && !isSmallBoard(part.name))
    );
  }

  #smallBoard(): Part | undefined {
    return this.#half.parts.find((part) => isSmallBoard(part.name) && this.#off.has(part.id));
  }

  #plugsOnTheBoard(): void {
    const board = this.#board();
    const out = board === undefined ? undefined : this.#off.get(board.id);
    if (board === undefined || out === undefined) return;
    this.#work.forEach((one, nth) => {
      const joint = this.#half.joints.find((each) => each.id === one.joint);
      if (joint?.kind !== "connector" || !this.#half.made.has(joint.id) || nth > out || one.part === board.id) return;
      if (joint.holds.includes(this.#half.base)) joint.holds = [one.part, board.id];
    });
  }

  #joined(part: string | null, on: string | null): void {
    const [one, other] = [this.#part(part), this.#part(on)];
    if (one === undefined || other === undefined || one === other || other.base === true) return;
    const plugs = this.#half.joints.filter((joint) => joint.kind === "connector" && joint.holds[0] === one.id);
    if (plugs.some((joint) => joint.holds.includes(other.id))) return;
    const free = plugs.find((joint) => this.#half.made.has(joint.id) && joint.holds.includes(this.#half.base));
    if (free !== undefined && plugs.length === 1 && !this.#board()) free.holds = [one.id, other.id];
    else this.#plug(one, other);
  }

  /** One plug more of a cable, like the one that it has; what closes over the plugs of that board closes over it too. */
  #plug(cable: Part, board: Part): void {
    if (!this.#half.made.has(cable.id)) return;
    const like = this.#half.joints.find((joint) => joint.kind === "connector" && joint.holds.includes(board.id));
    const own = this.#half.joints.find((joint) => joint.kind === "connector" && joint.holds[0] === cable.id);
    const screwed = this.#half.joints.find((joint) => joint.kind === "screw" && joint.holds.includes(board.id));
    const pattern = like ?? (board === this.#board() ? own : screwed) ?? own;
    if (pattern === undefined) return;
    this.#half.add(
      {
        kind: "connector",
        holds: [cable.id, board.id],
        ...(pattern.reach === undefined || pattern.reach.some((group) => group.includes(cable.id))
          ? {}
          : { reach: pattern.reach, basis: "inferred" as const }),
        releases:
          (own ?? pattern).kind === "connector"
            ? (own ?? pattern).releases
            : [{ action: "unplug", tools: [], leaves: "whole" }],
      },
      `connector-${cable.id}-${board.id}`,
    );
  }

  #bothEnds(part: string | null): void {
    const cable = this.#part(part);
    const other = this.#smallBoard();
    if (cable === undefined || other === undefined || cable.role === "board") return;
    const plugs = this.#half.joints.filter((joint) => joint.kind === "connector" && joint.holds[0] === cable.id);
    if (plugs.length === 1 && !plugs[0]!.holds.includes(other.id)) this.#plug(cable, other);
  }

  /** Film, a coil or a flat cable that was peeled up and has a second plug can hang on it, folded aside. */
  #folds(): void {
    for (const part of this.#half.parts) {
      if (!this.#half.made.has(part.id) || part.shift !== undefined || part.role === "board") continue;
      const own = this.#half.joints.filter((joint) => joint.holds[0] === part.id && this.#half.made.has(joint.id));
      const plugs = own.filter((joint) => joint.kind === "connector");
      const glued = own.filter((joint) => joint.kind === "adhesive" || joint.kind === "tape");
      if (plugs.length < 2 || glued.length === 0 || glued.length + plugs.length !== own.length) continue;
      part.shift = { freeing: [...glued, plugs[0]!].map((joint) => joint.id) };
    }
  }

  #sameTool(): void {
    const plugs = this.#half.joints.filter((joint) => joint.kind === "connector" && this.#half.made.has(joint.id));
    const tool = plugs.flatMap((joint) => joint.releases).find((release) => release.tools.length === 1)?.tools;
    if (tool === undefined) return;
    for (const joint of plugs)
      joint.releases = joint.releases.map((release) =>
        release.tools.length > 0 ? release : { ...release, tools: tool },
      );
  }

  #plugBrackets(): void {
    const board = this.#part(this.#board()?.id);
    if (board === undefined || !this.#off.has(board.id)) return;
    for (const part of this.#half.parts)
      if (/\bboard$/i.test(part.name) && this.#half.made.has(part.id)) part.live = true;
    for (const joint of this.#half.joints) {
      const bracket = this.#part(joint.holds[0]);
      if (joint.kind !== "screw" || bracket?.role !== "bracket" || !this.#half.made.has(joint.id)) continue;
      if (!/\b(?:battery|plug|connector)\b/i.test(bracket.name) || !joint.holds.includes(this.#half.base)) continue;
      if (this.#off.get(bracket.id)! < this.#off.get(board.id)!) joint.holds = [bracket.id, board.id];
    }
  }

  /** Said to be in the way; taken back where nothing could be got out any more. */
  #behind(part: string | null, over: string | null): void {
    const [one, lid] = [this.#part(part), this.#part(over)];
    if (one === undefined || lid === undefined || one === lid || one.base === true || lid.base === true) return;
    if (!this.#half.made.has(one.id) || lid.within === one.id) return;
    const before = this.#canComeOut();
    const kept = { under: one.under, basis: one.basis };
    const joints = this.#half.joints.filter(
      (joint) =>
        joint.holds.includes(one.id) &&
        !joint.holds.includes(lid.id) &&
        this.#half.made.has(joint.id) &&
        joint.kind !== "connector",
    );
    const reaches = joints.map(({ reach, basis }) => ({ reach, basis }));
    one.under = [[lid.id]];
    one.basis = "stated";
    for (const joint of joints) {
      joint.reach = [[lid.id]];
      joint.basis = "stated";
    }
    const after = this.#canComeOut();
    if ([...before].every((id) => after.has(id))) return;
    put(one, kept);
    joints.forEach((joint, i) => {
      put(joint, reaches[i]!);
    });
  }

  #canComeOut(): ReadonlySet<string> {
    return reachable(viewOf(this.#half.record(), { damage: true, accept: ["puncture", "short"], isolation: false }))
      .lifted;
  }

  /** "The main microphone is on it." */
  #serves(fact: DraftFact): void {
    const on = this.#part(this.#over(fact));
    const words = nameWords(fact.object ?? "").join(" ");
    const role = ROLES_ON.find(([name]) => words === name || words.endsWith(` ${name}`))?.[1];
    if (role === undefined || on === undefined || !this.#half.made.has(on.id) || on.base === true) return;
    const own = this.#named(fact.object);
    if ((own !== null && this.#off.has(own)) || on.role === role || on.serves?.includes(role)) return;
    on.serves = [...(on.serves ?? []), role];
  }

  #paired(fact: DraftFact): void {
    const one = this.#part(this.#object(fact));
    if (one === undefined || !this.#half.made.has(one.id)) return;
    one.pairing = { ...one.pairing, [fact.kind]: true };
  }

  /** An assembly that comes out whole carries the role; the microphone for the user's voice is the one that is not another's. */
  #roles(): void {
    for (const part of this.#half.parts) {
      if (part.role === undefined || !this.#half.made.has(part.id)) continue;
      for (let up = this.#part(part.within); up !== undefined; up = this.#part(up.within))
        if (up.role === part.role) {
          delete part.role;
          break;
        }
    }
    const ports = this.#half.parts.some(
      (part) => part.role === "charging-port" || part.serves?.includes("charging-port"),
    );
    const board = this.#part(this.#smallBoard()?.id);
    if (!ports && board !== undefined && this.#half.made.has(board.id)) board.role = "charging-port";
    const served = this.#half.parts.some((part) => part.serves?.includes("main-microphone"));
    const voices = this.#half.parts.filter((part) => part.role === "main-microphone");
    for (const part of voices)
      if (
        this.#half.made.has(part.id) &&
        /\b(?:upper|top|second|secondary|rear|back)\b/i.test(part.name) &&
        (served || voices.length > 1)
      )
        delete part.role;
  }
}

/** Names of what a priority part is called where it sits on another. */
const ROLES_ON: readonly (readonly [string, NonNullable<Part["role"]>])[] = [
  ["main microphone", "main-microphone"],
  ["microphone", "main-microphone"],
  ["charging port", "charging-port"],
  ["port", "charging-port"],
  ["loudspeaker", "speaker"],
  ["speaker", "speaker"],
];

function put<T extends { under?: unknown; reach?: unknown; basis?: unknown }>(one: T, old: Partial<T>): void {
  for (const key of Object.keys(old) as (keyof T)[])
    if (old[key] === undefined) delete one[key];
    else one[key] = old[key]!;
}
