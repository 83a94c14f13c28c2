/** Thrandle 5 against the clock, the day after the first look: the battery once more. Entries carry their end. */
import { Afternoon } from "../afternoon.ts";

export function timedBattery(): Afternoon {
  const b = new Afternoon("s3", { timed: true, begins: 12 });
  b.do("unscrew", { parts: ["back-glass"], joints: ["bottom-screws"], tool: "five-lobe", lies: "cup 1", takes: 13.4 });
  b.do("heat", { parts: ["back-glass"], joints: ["back-rim"], tool: "plate", takes: 120 });
  b.do("pry", { parts: ["back-glass"], joints: ["back-rim"], tool: "suction", takes: 9.2 });
  b.do("slice", { parts: ["back-glass"], joints: ["back-rim"], tool: "pick", takes: 41.5 });
  b.do("heat", { parts: ["back-glass"], joints: ["back-rim"], tool: "plate", takes: 120 });
  b.do("slice", { parts: ["back-glass"], joints: ["back-rim"], tool: "pick", takes: 38.8 });
  b.do("lift", { parts: ["back-glass"], lies: "mat A", takes: 5.1 });
  b.do("unscrew", {
    parts: ["cell-bracket"],
    joints: ["cell-bracket-screws"],
    tool: "ph000",
    lies: "cup 2",
    takes: 11.6,
  });
  b.do("lift", { parts: ["cell-bracket"], lies: "cup 2", takes: 2.8 });
  b.do("unplug", { parts: ["cell"], joints: ["cell-plug"], tool: "spudger", takes: 2.9 });
  b.do("peel", { parts: ["ground-foil"], joints: ["foil-tape"], takes: 7.1 });
  b.do("unscrew", { parts: ["ground-foil"], joints: ["foil-screw"], tool: "ph000", lies: "cup 3", takes: 6.2 });
  b.do("lift", { parts: ["ground-foil"], lies: "cup 3", takes: 2.2 });
  b.do("unscrew", {
    parts: ["top-shield"],
    joints: ["top-shield-screws"],
    tool: "ph000",
    lies: "cup 4",
    takes: 37.9,
  });
  b.do("lift", { parts: ["top-shield"], lies: "mat B", takes: 3.6 });
  b.do("peel", { parts: ["coil"], joints: ["coil-tape"], takes: 24.4 });
  b.do("shift", { parts: ["coil"], takes: 4.3 });
  b.do("unplug", { parts: ["main-flex"], joints: ["main-flex-upper"], tool: "spudger", takes: 2.6 });
  b.do("peel", { parts: ["main-flex"], joints: ["main-flex-tape"], takes: 8.3 });
  b.do("shift", { parts: ["main-flex"], takes: 3.1 });
  b.do("peel", { parts: ["graphite"], joints: ["graphite-tape"], takes: 14.6 });
  b.do("lift", { parts: ["graphite"], takes: 3.3 });
  b.do("pull", {
    parts: ["cell"],
    joints: ["cell-tabs-joint"],
    tool: "tweezers-plastic",
    takes: 142,
    outcome: "fine",
  });
  b.do("lift", { parts: ["cell"], lies: "tin", takes: 5.2 });
  b.measure("device", "duration", [13.4, 120, 120], "s", "stopwatch");
  return b;
}
