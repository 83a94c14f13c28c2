/** Plicarn 1, logged without a film: entries and readings, no words. */
import { Afternoon } from "../afternoon.ts";

export function firstLook(): Afternoon {
  const b = new Afternoon("s1");
  const unscrew = (part: string, joint: string, lies: string, takes: number, tool = "ph000") =>
    b.do("unscrew", { parts: [part], joints: [joint], tool, lies, takes });
  const unplug = (part: string, joint: string) =>
    b.do("unplug", { parts: [part], joints: [joint], tool: "spudger", takes: 4 });
  const lift = (part: string, lies: string) => b.do("lift", { parts: [part], lies, takes: 5 });
  const g = (of: string | string[], values: number[], more = {}) => b.measure(of, "mass", values, "g", "scale", more);

  b.measure("device", "mass", [261.2, 261.2], "g", "bench-scale");
  b.measure("device", "thickness", [6.4, 6.41], "mm", "caliper", { place: [1.6, 80] });
  b.do("pull", { parts: ["sim-tray"], joints: ["sim-latch"], tool: "eject-pin", takes: 4 });
  lift("sim-tray", "cup 1");
  g("sim-tray", [0.5]);
  b.do("heat", { parts: ["back-glass"], joints: ["back-rim"], tool: "plate", takes: 120 });
  b.do("slice", { parts: ["back-glass"], joints: ["back-rim"], tool: "pick", takes: 80 });
  b.do("heat", { parts: ["back-glass"], joints: ["back-rim"], tool: "plate", takes: 120 });
  b.do("slice", { parts: ["back-glass"], joints: ["back-rim"], tool: "pick", takes: 84 });
  lift("back-glass", "mat A");
  g(["back-glass", "camera-trim"], [14.6, 14.61], { off: ["glue"] });
  b.measure("back-glass", "thickness", [0.501, 0.5], "mm", "micrometer", { place: [108, 10] });
  unscrew("cell-bracket", "cell-bracket-screws", "cup 2", 12);
  lift("cell-bracket", "cup 2");
  unplug("cell", "cell-plug");
  b.measure("cell", "voltage", [3.765], "V", "meter-volts");
  g("cell-bracket", [0.7]);
  unscrew("top-shield", "top-shield-screws", "cup 3", 26);
  lift("top-shield", "mat B");
  unplug("coil", "coil-plug");
  b.do("peel", { parts: ["coil"], joints: ["coil-tape"], takes: 22 });
  lift("coil", "mat B");
  g("coil", [2.9]);
  b.do("pull", { parts: ["cell"], joints: ["cell-tabs-joint"], tool: "tweezers-plastic", takes: 95 });
  lift("cell", "tin");
  g("cell", [36.8, 36.81]);
  b.measure("cell", "thickness", [3.2, 3.2], "mm", "caliper", { place: [108, 70] });
  unplug("rear-cradle", "camera-plug");
  unscrew("rear-cradle", "camera-screws", "cup 4", 20);
  lift("rear-cradle", "mat C");
  g("rear-cradle", [8.1]);
  unscrew("loudspeaker", "speaker-screws", "cup 5", 20);
  lift("loudspeaker", "mat C");
  g("loudspeaker", [3.4]);
  unplug("port-board", "port-plug");
  unscrew("port-board", "port-screws", "cup 5", 14);
  lift("port-board", "mat C");
  g("port-board", [3.2]);
  unplug("key-flex", "key-plug");
  unscrew("key-flex", "key-screw", "cup 6", 10);
  lift("key-flex", "mat C");
  g("key-flex", [1.3]);
  b.do("heat", { parts: ["cover-display"], joints: ["cover-rim"], tool: "plate", takes: 150 });
  b.do("slice", { parts: ["cover-display"], joints: ["cover-rim"], tool: "pick", takes: 70 });
  b.do("heat", { parts: ["cover-display"], joints: ["cover-rim"], tool: "plate", takes: 150 });
  b.do("slice", { parts: ["cover-display"], joints: ["cover-rim"], tool: "pick", takes: 70 });
  b.do("heat", { parts: ["cover-display"], joints: ["cover-rim"], tool: "plate", takes: 150 });
  b.do("slice", { parts: ["cover-display"], joints: ["cover-rim"], tool: "pick", takes: 68 });
  unplug("cover-display", "cover-plug");
  lift("cover-display", "mat D");
  g("cover-display", [24.1, 24.1], { off: ["glue"] });
  unscrew("left-shield", "left-shield-screws", "cup 7", 26);
  lift("left-shield", "mat D");
  g(["top-shield", "left-shield"], [4.6]);
  unplug("second-cell", "second-plug");
  b.do("pull", { parts: ["second-cell"], joints: ["second-tabs-joint"], tool: "tweezers-plastic", takes: 100 });
  lift("second-cell", "tin");
  g("second-cell", [27.3, 27.3]);
  unplug("front-camera", "front-camera-plug");
  b.do("pry", { parts: ["front-camera"], joints: ["front-camera-snap"], tool: "spudger", takes: 6 });
  lift("front-camera", "cup 8");
  g("front-camera", [0.9]);
  unscrew("earpiece", "earpiece-screws", "cup 8", 14);
  lift("earpiece", "cup 8");
  g("earpiece", [1.1]);
  unscrew("motor", "motor-screws", "cup 9", 14);
  lift("motor", "cup 9");
  g("motor", [1.5]);
  b.do("unplug", { parts: ["cross-flex"], joints: ["cross-plug-right", "cross-plug-left"], tool: "spudger", takes: 8 });
  unscrew("cross-flex", "cross-clamp", "cup 10", 8);
  lift("cross-flex", "mat E");
  g("cross-flex", [0.95]);
  unscrew("left-board", "left-board-screws", "cup 10", 14);
  lift("left-board", "mat E");
  g("left-board", [3.9]);
  unplug("inner-display", "inner-plug");
  unscrew("main-board", "board-screws", "cup 11", 22);
  lift("main-board", "mat E");
  g("main-board", [17.2, 17.2]);
  b.do("turn", {});
  b.do("heat", {
    parts: ["bezel-left", "bezel-right"],
    joints: ["bezel-left-tape", "bezel-right-tape"],
    tool: "warm-bag",
    takes: 90,
  });
  b.do("pry", { parts: ["bezel-left"], joints: ["bezel-left-tape"], tool: "spudger", takes: 58 });
  lift("bezel-left", "mat F");
  b.do("pry", { parts: ["bezel-right"], joints: ["bezel-right-tape"], tool: "spudger", takes: 58 });
  lift("bezel-right", "mat F");
  g(["bezel-left", "bezel-right"], [1.92]);
  b.do("heat", { parts: ["inner-display"], joints: ["inner-bond"], tool: "warm-bag", takes: 180 });
  b.do("peel", { parts: ["inner-display"], joints: ["inner-bond"], tool: "card", takes: 150 });
  lift("inner-display", "mat G");
  g(["inner-display", "foil"], [33.4, 33.41], { off: ["glue"] });
  unscrew("hinge", "hinge-right-screws", "cup 12", 48, "t3");
  unscrew("hinge", "hinge-left-screws", "cup 12", 48, "t3");
  lift("hinge", "mat H");
  g("hinge", [27.9, 27.9], { off: ["hinge-cover"] });
  b.do("pry", { parts: ["hinge-cover"], joints: ["hinge-cover-snaps"], tool: "spudger", takes: 14 });
  lift("hinge-cover", "mat H");
  g("hinge-cover", [4.2]);
  unscrew("plate-right", "plate-right-screws", "cup 13", 26);
  lift("plate-right", "mat I");
  unscrew("plate-left", "plate-left-screws", "cup 13", 26);
  lift("plate-left", "mat I");
  g(["plate-right", "plate-left"], [12.8]);
  lift("frame-left", "mat I");
  g("frame-left", [11.6]);
  g("frame-right", [16.1], { on: ["screws"] });
  return b;
}
