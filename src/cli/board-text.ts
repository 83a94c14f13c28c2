/** The answer of `unseam board` for people: 80 columns, cautions beside the figures. */
import type { Board, BoardHeat, ProfileAnswer } from "../core/heat/board/index.ts";

export function boardText(board: Board, heat: BoardHeat, remarks: readonly string[], profile?: ProfileAnswer): string {
  const out = [
    "| Cell out first; fumes away from the face; hot metal stays hot for minutes.",
    "| Local rules and qualified people come first.",
    "",
    "                     hottest      at   limit    ramp  joints, degC    liquid",
    "                        degC       s  at, s     K/s   cold     hot        s",
  ];
  for (const part of heat.parts) {
    const reached = part.reached === undefined ? "" : part.reached === null ? "never" : part.reached.toFixed(0);
    out.push(
      `${pad(part.name, 20)}${part.peak.toFixed(1).padStart(8)}${part.at.toFixed(0).padStart(8)}${reached.padStart(7)}` +
        `${part.rampUp.toFixed(1).padStart(8)}${part.coldestJoint.toFixed(0).padStart(7)}${part.joint.toFixed(0).padStart(8)}` +
        `${part.aboveLiquidus.toFixed(0).padStart(9)}`,
    );
  }
  if (board.report.length > 0) {
    out.push("", "Hottest place of each part, degC:");
    for (let begin = 0; begin < board.report.length; begin += 6) {
      const times = board.report.slice(begin, begin + 6);
      out.push(`${"".padEnd(20)}${times.map((t) => `${t.toFixed(0)} s`.padStart(9)).join("")}`);
      for (const { name, degC } of heat.parts)
        out.push(
          `${pad(name, 20)}${degC
            .slice(begin, begin + 6)
            .map((x) => x.toFixed(1).padStart(9))
            .join("")}`,
        );
    }
  }
  out.push("");
  for (const text of remarks) out.push(...wrap(text));
  if (profile !== undefined) out.push("", ...profileLines(profile));
  out.push("", `${heat.cells} cells, ${heat.steps} steps; heat closes to ${heat.energyError.toExponential(1)}.`);
  return `${out.join("\n")}\n`;
}

function profileLines(profile: ProfileAnswer): string[] {
  if (profile.kind === "none")
    return wrap(`No profile to propose${profile.part === undefined ? "" : ` for ${profile.part}`}: ${profile.why}.`);
  const out = [`To begin with, for ${profile.part}:`];
  for (const { seconds, nozzle, below } of profile.heat) {
    const sources = [
      ...(nozzle === undefined ? [] : [`jet of ${nozzle.temperature} degC`]),
      ...(below === undefined ? [] : [`${below.temperature} degC from below`]),
    ];
    out.push(`  ${`${seconds} s`.padStart(6)}  ${sources.join(", ")}`);
  }
  out.push(
    ...wrap(
      `Coldest joint ${profile.coldestJoint.toFixed(0)} degC, hottest place ${profile.peak.toFixed(0)}. Try it on a scrap board with a thermocouple on the joint first.`,
    ),
  );
  return out;
}

function wrap(text: string): string[] {
  const rows: string[] = [];
  let row = "-";
  for (const word of text.split(/\s+/)) {
    if (row.length + 1 + word.length > 80) {
      rows.push(row);
      row = " ";
    }
    row += ` ${word}`;
  }
  return [...rows, row];
}

function pad(text: string, width: number): string {
  return (text.length > width - 1 ? `${text.slice(0, width - 2)}…` : text).padEnd(width);
}
