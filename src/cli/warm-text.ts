/** The answers of `unseam warm` for people: 80 columns, cautions beside the figures. */
import {
  cautions,
  type FitAnswer,
  heatingOf,
  MATERIALS,
  type Property,
  type Stack,
  type WarmAnswer,
  type Window,
} from "../core/heat/index.ts";
import { clock } from "../core/units/index.ts";

const WIDTH = 80;

export function warmText(stack: Stack, answer: WarmAnswer): string {
  const out: string[] = [];
  const { held } = heatingOf(stack);
  out.push(...windowLines(stack, answer), "");
  const surface = Math.max(...[held.hot, held.cool].filter(({ h }) => h !== 0).map(({ temperature }) => temperature));
  for (const { text } of cautions(surface)) out.push(...wrap(text, "| "));
  out.push("");
  if (answer.reached.length > 0) {
    out.push("Limits reached while the programme runs as given:");
    for (const { watch, limit, at } of answer.reached)
      out.push(`  ${pad(watch, 40)}  ${limit.padEnd(4)}  ${at === null ? "not reached" : seconds(at)}`);
    out.push("");
  }
  out.push(...faceLines(answer));
  if (answer.rounds) out.push(...roundLines(answer));
  if (answer.band) out.push(...bandLines(answer));
  out.push("Rests on:");
  for (const text of answer.assumptions) out.push(...wrap(text, "  ", "- "));
  out.push(`  Energy closes to ${answer.energyError.toExponential(1)} of the heat exchanged.`);
  return `${out.join("\n")}\n`;
}

function windowLines(stack: Stack, answer: WarmAnswer): string[] {
  if (answer.window === null) {
    const out = wrap(`There is no warm window: ${answer.why}.`, "");
    if (answer.wouldHelp === undefined || answer.wouldHelp.length === 0)
      out.push(
        ...wrap(
          "None of the changes tried (a cooler plate, the cool side on metal, a card over the cell, a pause) makes one: heat it in another way, or not at all.",
          "",
        ),
      );
    for (const { change, window } of answer.wouldHelp ?? [])
      out.push(...wrap(`With ${change}: ${windowWords(window)}.`, "  ", "- "));
    return out;
  }
  const out = wrap(`Warm window: ${windowWords(answer.window)}.`, "");
  const { counted } = answer.window;
  const allowed = stack.lines.flatMap((line) => line.watch.flatMap((watch) => watch.counted ?? []));
  if (counted !== undefined && allowed.length > 0)
    out.push(
      ...wrap(
        `A heating lifted off at the latest moment uses ${seconds(counted)} of the ${seconds(Math.min(...allowed.map((item) => item.seconds)))} counted above ${allowed[0].above} degC.`,
        "",
      ),
    );
  if (answer.why !== undefined) out.push(...wrap(`The cut cannot be planned: ${answer.why}.`, ""));
  return out;
}

function windowWords({ from, to, after }: Window): string {
  const end = to === null ? "no lift-off within an hour passes a limit" : `lift off by ${seconds(to)} at the latest`;
  const then = after === null ? "" : `, after which it stays soft for ${seconds(after)}`;
  return `the bond is soft from ${seconds(from)}; ${end}${then}`;
}

function faceLines({ faces }: WarmAnswer): string[] {
  if (faces.length === 0 || faces[0].at.length === 0) return [];
  const out = ["Faces, degC:"];
  // As many columns as fit, the rest in further blocks.
  const times = faces[0].at;
  const name = Math.min(24, Math.max(...faces.map(({ watch }) => watch.length)));
  const columns = Math.max(1, Math.floor((WIDTH - 2 - name) / 9));
  for (let begin = 0; begin < times.length; begin += columns) {
    const part = <T>(values: readonly T[]) => values.slice(begin, begin + columns);
    out.push(
      `  ${"".padEnd(name)}${part(times)
        .map((t) => `${number(t)} s`.padStart(9))
        .join("")}`,
    );
    for (const { watch, degC } of faces)
      out.push(
        `  ${pad(watch, name)}${part(degC)
          .map((value) => value.toFixed(1).padStart(9))
          .join("")}`,
      );
  }
  return [...out, ""];
}

function roundLines({ rounds }: WarmAnswer): string[] {
  if (!rounds) return [];
  const { heatings, elapsed, peak, counted, pauses, sequence } = rounds;
  const out = wrap(
    `The cut takes ${count(heatings, "heating")}${pauses > 0 ? ` and ${count(pauses, "pause")}` : ""}, ${seconds(elapsed)} from the beginning; highest ${peak.toFixed(1)} degC, ${seconds(counted)} counted.`,
    "",
  );
  const words = { heat: "heat", cut: "lift off and cut", pause: "let cool" } as const;
  for (const { kind, from, to } of sequence)
    out.push(`  ${clock(from).padStart(7)}  ${words[kind].padEnd(16)}  ${seconds(to - from).padStart(9)}`);
  return [...out, ""];
}

function bandLines({ band }: WarmAnswer): string[] {
  if (band === undefined) return [];
  const range = (ends: readonly [number | null, number | null] | null, open: string) =>
    ends === null
      ? "none"
      : `${ends[0] === null ? open : number(ends[0])} to ${ends[1] === null ? open : number(ends[1])}`;
  if (band.from === null) return [...wrap("Nor is there a window anywhere within what is not well known.", ""), ""];
  const out = wrap(
    `With what is not well known: soft from ${range(band.from, "?")} s, latest lift-off ${range(band.to, "no limit")} s, soft afterwards ${range(band.after, "over 3600")} s${band.mayFail ? "; in some cases there is no window" : ""}.`,
    "",
  );
  const cell = (window: Window | null) =>
    window === null
      ? "no window"
      : `${number(window.from)} to ${window.to === null ? "no limit" : number(window.to)} s`;
  for (const { what, low, high, atLow, atHigh } of band.variations) {
    out.push(...wrap(`${what}: ${low}: ${cell(atLow)}; ${high}: ${cell(atHigh)}`, "  ", "- "));
  }
  return [...out, ""];
}

export function fitText(answer: FitAnswer): string {
  const { contact, bond, rows, watch, residual, warnings, points } = answer;
  const out = wrap(
    `Contact of the heat source: ${number(contact.value)} ${contact.unit}, 95 % between ${number(contact.low)} and ${number(contact.high)}, from ${rows} readings at ${watch}.`,
    "",
  );
  if (bond !== undefined)
    out.push(
      ...wrap(
        `Conductivity of the bond: ${bond.value.toPrecision(3)} ${bond.unit}, 95 % between ${bond.low.toPrecision(3)} and ${bond.high.toPrecision(3)}.`,
        "",
      ),
    );
  out.push(`The fit leaves ${residual.toFixed(2)} K (root mean square).`, "");
  for (const text of warnings) out.push(...wrap(text, "| "));
  out.push("      s    measured      fitted, degC");
  const step = Math.max(1, Math.floor(points.length / 12));
  for (let i = 0; i < points.length; i += step) {
    const [t, y, f] = points[i];
    out.push(`${number(t).padStart(7)}  ${y.toFixed(1).padStart(10)}  ${f.toFixed(1).padStart(10)}`);
  }
  out.push(
    "",
    ...wrap(
      "Keep the contact with this source and this kind of face: another pad, weight or camera bump is another contact.",
      "",
    ),
  );
  return `${out.join("\n")}\n`;
}

export function materialsText(): string {
  const out = ["Through the layer: k W/(m.K), rho kg/m3, cp J/(kg.K). * from memory.", ""];
  const figure = ({ value, mark }: Property) => `${value}${mark === "recalled" ? "*" : " "}`.padStart(8);
  for (const { id, name, k, rho, cp } of MATERIALS) {
    out.push(`${id.padEnd(22)}${figure(k)}${figure(rho)}${figure(cp)}  ${pad(name, 32).trimEnd()}`);
    out.push(...wrap(`k: ${k.source}${k.range === undefined ? "" : ` (range ${k.range.join(" to ")})`}`, "    "));
  }
  return `${out.join("\n")}\n`;
}

function wrap(text: string, indent: string, first?: string): string[] {
  const rows: string[] = [];
  let row = first === undefined ? indent : indent.slice(first.length) + first;
  const hang = first === undefined ? indent : indent + " ".repeat(Math.max(0, first.length - indent.length));
  let empty = true;
  for (const word of text.split(/\s+/)) {
    if (!empty && row.length + 1 + word.length > WIDTH) {
      rows.push(row);
      row = hang;
      empty = true;
    }
    row += empty ? word : ` ${word}`;
    empty = false;
  }
  rows.push(row);
  return rows;
}

function pad(text: string, width: number): string {
  return (text.length > width ? `${text.slice(0, width - 1)}…` : text).padEnd(width);
}

function number(x: number): string {
  return x >= 100 || Number.isInteger(x) ? x.toFixed(0) : x.toFixed(1);
}

function seconds(x: number): string {
  if (x < 120) return `${number(x)} s`;
  const whole = Math.round(x);
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, "0")} s`;
}

function count(n: number, what: string): string {
  return `${n} ${what}${n === 1 ? "" : "s"}`;
}
