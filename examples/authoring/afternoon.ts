/**
 * One afternoon at the bench: what was done, measured and said, on one clock.
 *
 * Each call moves the clock on by the words it says (2.8 a second, an easy speaking pace) or by the seconds that the
 * work takes, whichever is longer; a film keeps a stated share of the work, the rest is cut out of it. So the log, the readings, the claims and the captions agree by construction.
 */
import type { Claim, Entry, Instrument, Reading } from "../../src/core/record/schema.ts";

const WORDS_PER_SECOND = 2.8;
const PAUSE = 0.8;

export interface Cue {
  readonly at: number;
  readonly until: number;
  readonly text: string;
}

interface Done {
  readonly parts?: string[];
  readonly joints?: string[];
  readonly tool?: string;
  readonly lies?: string;
  readonly say?: string;
  readonly takes?: number;
  readonly media?: string;
  readonly outcome?: "fine" | "damaged";
}

interface Measured {
  readonly on?: string[];
  readonly off?: string[];
  readonly place?: [number, number];
  readonly say?: string;
  readonly record?: string;
}

const tenths = (seconds: number): number => Math.round(seconds * 10) / 10;

export class Afternoon {
  readonly log: Entry[] = [];
  readonly readings: Reading[] = [];
  readonly claims: Claim[] = [];
  readonly cues: Cue[] = [];
  private clock: number;
  private readonly session: string;
  private readonly timed: boolean;
  private readonly share: number;

  /** `timed`: entries carry the end of their hands-on work. `share`: how much of the work is left in the film. */
  constructor(session: string, options: { begins?: number; timed?: boolean; share?: number } = {}) {
    this.session = session;
    this.clock = options.begins ?? 1.5;
    this.timed = options.timed ?? false;
    this.share = options.share ?? 1;
  }

  get now(): number {
    return tenths(this.clock);
  }

  /** Words with nothing to log. */
  say(text: string): this {
    this.speak(text, 0);
    return this;
  }

  wait(seconds: number): this {
    this.clock += seconds;
    return this;
  }

  do(action: Entry["action"], done: Done): this {
    const at = this.now;
    const { say, takes = 0, ...facts } = done;
    this.speak(say, takes);
    this.log.push({
      id: `${this.session}-${String(this.log.length + 1).padStart(3, "0")}`,
      session: this.session,
      at,
      ...(this.timed ? { until: tenths(at + takes) } : {}),
      action,
      ...facts,
      ...(say === undefined ? {} : { text: say }),
    });
    return this;
  }

  /** A reading, and the entry that says so. */
  measure(
    of: string | string[],
    quantity: Reading["quantity"],
    values: number | number[],
    unit: Reading["unit"],
    instrument: Instrument["id"],
    measured: Measured = {},
  ): this {
    const { say, ...facts } = measured;
    const subjects = typeof of === "string" ? [of] : of;
    this.readings.push({
      id: `${this.session}-r${String(this.readings.length + 1).padStart(3, "0")}`,
      session: this.session,
      at: this.now,
      of: subjects,
      ...facts,
      quantity,
      values: typeof values === "number" ? [values] : values,
      unit,
      instrument,
    });
    if (say === undefined) return this;
    const ofTool = unit === "cN.m" || subjects.includes("plate");
    const parts = subjects.filter((id) => id !== "device" && id !== "zero");
    if (ofTool) return this.do("measure", { tool: subjects[0], say });
    return this.do("measure", { ...(parts.length > 0 ? { parts } : {}), say });
  }

  claim(claim: Omit<Claim, "id" | "session" | "at">): this {
    this.claims.push({
      id: `${this.session}-c${String(this.claims.length + 1).padStart(2, "0")}`,
      session: this.session,
      at: this.now,
      ...claim,
    });
    this.speak(claim.text, 0);
    return this;
  }

  private speak(text: string | undefined, takes: number): void {
    const begins = this.clock;
    const words = text === undefined ? [] : text.split(/\s+/);
    const spoken = words.length / WORDS_PER_SECOND;
    // About seven words a caption, and a new one after a full stop where the line is long enough.
    let line: string[] = [];
    let from = 0;
    words.forEach((word, index) => {
      line.push(word);
      const left = words.length - index - 1;
      // No caption of one or two words left over at the end.
      const full = left === 0 || (left > 2 && (line.length >= 8 || (line.length >= 4 && /[.?!]$/.test(word))));
      if (!full) return;
      this.cues.push({
        at: begins + from / WORDS_PER_SECOND,
        until: begins + (index + 1) / WORDS_PER_SECOND - 0.02,
        text: line.join(" "),
      });
      line = [];
      from = index + 1;
    });
    this.clock = begins + Math.max(spoken, takes * this.share) + PAUSE;
  }
}

function clock(seconds: number, decimal: "." | ","): string {
  const ms = Math.round(seconds * 1000);
  const two = (value: number): string => String(value).padStart(2, "0");
  const thousandths = String(ms % 1000).padStart(3, "0");
  const whole = Math.floor(ms / 1000);
  return `${two(Math.floor(whole / 3600))}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}${decimal}${thousandths}`;
}

export function webVtt(cues: readonly Cue[], language = "en"): string {
  const blocks = cues.map((cue) => `${clock(cue.at, ".")} --> ${clock(cue.until, ".")}\n${cue.text}\n`);
  return `WEBVTT\nKind: captions\nLanguage: ${language}\n\n${blocks.join("\n")}`;
}

export function subRip(cues: readonly Cue[]): string {
  return cues
    .map((cue, index) => `${index + 1}\n${clock(cue.at, ",")} --> ${clock(cue.until, ",")}\n${cue.text}\n`)
    .join("\n");
}
