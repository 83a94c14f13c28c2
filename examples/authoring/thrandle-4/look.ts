/** Thrandle 4, taken apart in the spring with a terse voice: few words, every screw counted. */
import { Afternoon } from "../afternoon.ts";

export function firstLook(): Afternoon {
  const b = new Afternoon("s1", { share: 0.18 });
  const g = (of: string | string[], values: number | number[], say?: string, more = {}) =>
    b.measure(of, "mass", values, "g", "scale", { ...more, ...(say ? { say } : {}) });
  const mm = (of: string, values: number | number[], place: [number, number], say?: string, instrument = "caliper") =>
    b.measure(of, "thickness", values, "mm", instrument, { place, ...(say ? { say } : {}) });
  const screws = (part: string, joint: string, cup: string, takes: number, say: string, tool = "ph000") =>
    b.do("unscrew", { parts: [part], joints: [joint], tool, lies: cup, takes, say });
  const unplug = (part: string, joints: string[], say: string) =>
    b.do("unplug", { parts: [part], joints, tool: "spudger", takes: 5, say });
  const lift = (part: string, say: string, lies?: string) =>
    b.do("lift", { parts: [part], say, takes: 4, ...(lies ? { lies } : {}) });

  b.say("Thrandle 4, by Pellworrow. Last year's. Powered off at 28 percent.");
  b.measure("zero", "mass", [0, 0, 0], "g", "scale", {});
  g("device", [188.65, 188.64, 188.65], "Phone, 188.65 grams.");
  mm("device", [8, 8, 8.01], [53, 68], "Thickness 8 millimetres.");
  mm("device", [8, 8], [2, 76]);
  b.measure("device", "width", [72.4, 72.41], "mm", "caliper", { say: "Width 72.4 millimetres." });
  b.do("pull", {
    parts: ["sim-tray"],
    joints: ["sim-latch"],
    tool: "eject-pin",
    takes: 5,
    say: "Eject pin, top edge.",
  });
  lift("sim-tray", "SIM tray out.", "cup 1");
  g("sim-tray", 0.48);
  b.say("No screws outside on this one.");
  b.do("heat", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "plate",
    takes: 60,
    say: "Heat the back on the plate, two and a half minutes.",
  });
  b.measure("plate", "temperature", 80, "degC", "thermocouple", { say: "Plate at 80 degrees Celsius." });
  b.do("pry", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "suction",
    takes: 10,
    say: "Suction cup on the back glass, bottom end. Pull a gap.",
  });
  b.do("slice", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "pick",
    takes: 60,
    say: "Pick in. Cut the glue along the bottom and the right side.",
  });
  b.do("heat", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "plate",
    takes: 40,
    say: "Cooling. Heat the back glass again.",
  });
  b.do("slice", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "pick",
    takes: 58,
    say: "Cut across the top with the pick. Leave the left side for last, the flash lead is there.",
  });
  b.do("shift", { parts: ["back-glass"], takes: 5, say: "Open the back glass to the left like a lid." });
  screws("cell-bracket", "cell-bracket-screws", "cup 2", 12, "Battery bracket, two screws out.");
  lift("cell-bracket", "Lift the battery bracket.");
  unplug("cell", ["cell-plug"], "Unplug the battery with the spudger.");
  b.measure("cell", "voltage", [3.772], "V", "meter-volts", { say: "Battery at 3.772 volts." });
  unplug("flash", ["flash-plug"], "Unplug the flash.");
  lift("back-glass", "Back glass off.", "mat A");
  g(
    ["back-glass", "camera-trim", "lens-window", "flash"],
    [22.94, 22.94],
    "Back glass, 22.94 grams, trim, window and flash included.",
  );
  mm("back-glass", [0.702, 0.701, 0.7], [53, 68], "The glass is 0.7 millimetres.", "micrometer");
  mm("back-glass", [0.701], [2, 76], undefined, "micrometer");
  b.do("clean", { parts: ["band"], joints: ["back-rim"], takes: 30, say: "Scrape the rim clean." });
  g("cell-bracket", 0.29);
  screws(
    "top-shield",
    "top-shield-screws",
    "cup 3",
    44,
    "Upper shield, seven screws. The middle one at the top is long.",
  );
  lift("top-shield", "Upper shield off.");
  g(["top-shield", "nfc-antenna"], 2.02, "Upper shield, 2.02 grams with its antenna.");
  screws("lower-cover", "lower-cover-screws", "cup 4", 40, "Lower cover, six screws, two long.");
  lift("lower-cover", "Lower cover off.");
  g("lower-cover", 1.14);
  unplug("coil", ["coil-plug"], "Unplug the charging coil.");
  b.do("peel", { parts: ["coil"], joints: ["coil-tape"], takes: 24, say: "Peel the charging coil up." });
  lift("coil", "Coil out.");
  g("coil", [3.86, 3.86], "Coil, 3.86 grams.");
  mm("coil", [0.322], [53, 68], undefined, "micrometer");
  unplug("main-flex", ["main-flex-upper", "main-flex-lower"], "Unplug the main flex, both ends.");
  b.do("peel", {
    parts: ["main-flex"],
    joints: ["main-flex-tape"],
    takes: 9,
    say: "Peel the main flex off the graphite.",
  });
  lift("main-flex", "Main flex out.");
  g("main-flex", 0.66);
  b.do("peel", { parts: ["graphite"], joints: ["graphite-tape"], takes: 15, say: "Peel the graphite sheet." });
  lift("graphite", "Graphite away.");
  g("graphite", 0.55);
  mm("graphite", [0.06], [53, 68], undefined, "micrometer");
  b.do("pull", {
    parts: ["cell"],
    joints: ["cell-tabs-joint"],
    tool: "tweezers-plastic",
    takes: 80,
    say: "Battery, two pull tabs. Slowly. Both came out in one piece.",
  });
  lift("cell", "Lift the battery out.", "tin");
  g("cell", [58.5, 58.5, 58.51], "Battery, 58.5 grams.");
  mm("cell", [4.4, 4.41, 4.4], [53, 68], "4.4 millimetres thick.");
  screws("camera-bracket", "camera-bracket-screws", "cup 5", 22, "Camera bracket, three screws.");
  lift("camera-bracket", "Camera bracket off.");
  g("camera-bracket", 0.62);
  unplug("main-camera", ["main-camera-plug"], "Unplug the main camera.");
  lift("main-camera", "Main camera out.");
  g("main-camera", 3.3, "Main camera, 3.3 grams.");
  unplug("wide-camera", ["wide-camera-plug"], "Unplug the wide camera.");
  lift("wide-camera", "Wide camera out.");
  g("wide-camera", 1.84, "Wide camera, 1.84 grams.");
  screws("upper-antenna", "upper-antenna-screws", "cup 6", 28, "Upper antenna carrier, four screws.");
  lift("upper-antenna", "Antenna carrier off.");
  g("upper-antenna", 1.66);
  unplug("front-camera", ["front-camera-plug"], "Unplug the front camera.");
  b.do("pry", {
    parts: ["front-camera"],
    joints: ["front-camera-pad"],
    tool: "spudger",
    takes: 12,
    say: "Lever the front camera off its pad.",
  });
  lift("front-camera", "Front camera out.");
  g("front-camera", 0.71);
  screws("earpiece", "earpiece-screws", "cup 7", 14, "Earpiece, two screws.");
  lift("earpiece", "Earpiece out.");
  g("earpiece", 0.96);
  unplug("light-sensor", ["light-plug"], "Unplug the light sensor.");
  b.do("peel", { parts: ["light-sensor"], joints: ["light-tape"], takes: 8, say: "Peel it off." });
  lift("light-sensor", "Light sensor out.");
  g("light-sensor", 0.09);
  unplug(
    "coax-long",
    ["coax-upper", "coax-lower"],
    "Coaxial lead, unplug both ends. The coaxial lead runs over the key wedge.",
  );
  b.do("pry", {
    parts: ["coax-long"],
    joints: ["coax-channel"],
    tool: "spudger",
    takes: 9,
    say: "Unclip the coaxial lead, three clips.",
  });
  lift("coax-long", "Lead out.");
  g("coax-long", 0.21);
  unplug("power-flex", ["power-plug"], "Unplug the power key.");
  unplug("volume-flex", ["volume-plug"], "Unplug the volume keys.");
  screws("key-bracket", "key-wedge-screws", "cup 8", 30, "Key wedge, three screws, stiff.");
  lift("key-bracket", "Key wedge out.");
  g("key-bracket", 0.33);
  b.do("pry", {
    parts: ["power-flex"],
    joints: ["power-hooks"],
    tool: "spudger",
    takes: 6,
    say: "Unhook the power key flex, two hooks.",
  });
  lift("power-flex", "Power key flex out.");
  g("power-flex", 0.26);
  b.do("pry", {
    parts: ["volume-flex"],
    joints: ["volume-hooks"],
    tool: "spudger",
    takes: 6,
    say: "Same on the volume key flex.",
  });
  lift("volume-flex", "Volume key flex out.");
  g("volume-flex", 0.34);
  b.do("pry", {
    parts: ["power-cap", "volume-cap"],
    joints: ["power-cap-hook", "volume-cap-hook"],
    tool: "spudger",
    takes: 10,
    say: "Unhook both key caps.",
  });
  lift("power-cap", "Power key cap out.");
  lift("volume-cap", "Volume key cap out.");
  g(["power-cap", "volume-cap"], 0.6);
  unplug("display", ["display-plug"], "Unplug the display.");
  screws("main-board", "board-screws", "cup 9", 36, "Main board, five screws. The short one is the ground, top right.");
  lift("main-board", "Main board out.", "mat B");
  b.do("pry", {
    parts: ["board-shield"],
    joints: ["shield-snaps"],
    tool: "spudger",
    takes: 14,
    say: "Pry the board shield off, eight snaps.",
  });
  lift("board-shield", "Board shield off.");
  g(["main-board", "board-graphite"], [13.42, 13.42], "Main board, 13.42 grams.", { off: ["board-shield"] });
  g("board-shield", 1.35);
  screws("sim-reader", "sim-reader-screws", "cup 10", 18, "SIM reader, three screws.");
  lift("sim-reader", "SIM reader out.");
  g("sim-reader", 0.52);
  screws("loudspeaker", "speaker-screws", "cup 11", 28, "Loudspeaker, four screws, one long by the port.");
  lift("loudspeaker", "Loudspeaker out.");
  g(["loudspeaker", "lower-antenna"], 3.31, "Loudspeaker, 3.31 grams.");
  unplug("audio-jack", ["jack-plug"], "Unplug the headphone socket.");
  screws("audio-jack", "jack-screw", "cup 12", 8, "One screw in the headphone socket.");
  lift("audio-jack", "Headphone socket out.");
  g("audio-jack", 0.92);
  screws("port-board", "port-board-screws", "cup 12", 28, "Port board, four screws.");
  lift("port-board", "Port board out. The charging port is soldered to it.");
  g("port-board", 3.46, "Port board, 3.46 grams.");
  b.do("pry", {
    parts: ["main-mic"],
    joints: ["mic-bond"],
    tool: "spudger",
    takes: 12,
    say: "Main microphone, stuck down. Lever it off.",
  });
  lift("main-mic", "Microphone out.");
  g("main-mic", 0.18);
  screws("motor", "motor-screws", "cup 13", 14, "Vibration motor, two screws.");
  b.do("pry", {
    parts: ["motor"],
    joints: ["motor-pad"],
    tool: "spudger",
    takes: 16,
    say: "Lever the vibration motor off its pad. Port board had to be out for that.",
  });
  lift("motor", "Motor out.");
  g("motor", 1.49);
  b.do("turn", { say: "Turn it over." });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 60,
    say: "Heat the display on the plate, nearly three minutes.",
  });
  b.do("pry", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "suction",
    takes: 12,
    say: "Suction cup on the display. Gap at the bottom.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "card",
    takes: 70,
    say: "Card round the first half of the display.",
  });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 60,
    say: "Heat the display again.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "card",
    takes: 70,
    say: "Card round the second half.",
  });
  lift("display", "Display off.", "mat C");
  g(
    ["display", "finger-reader"],
    [31.92, 31.92],
    "Display, 31.92 grams with the fingerprint reader. The display is paired: the phone has to be told, the maker has to agree.",
    {
      off: ["glue"],
    },
  );
  mm("display", [1.35, 1.35], [53, 68], "1.35 millimetres thick.");
  mm("display", [1.35], [2, 76]);
  screws("mid-plate", "mid-plate-screws", "cup 14", 70, "Mid-plate, twelve hexalobular screws, T3.", "t3");
  lift("mid-plate", "Mid-plate out.");
  g("mid-plate", 12.04, "Mid-plate, 12.04 grams.");
  mm("mid-plate", [0.451], [53, 68], undefined, "micrometer");
  mm("band", [5.55, 5.55], [2, 76]);
  g("band", [18.4, 18.4], "Band with all the screws, 18.4 grams.", { on: ["screws"] });
  b.claim({
    text: "Parts add up to the phone within half a gram.",
    subject: ["device"],
    quantity: "mass",
    relation: "adds-up",
    value: 0.5,
    unit: "g",
    than: "device",
    about: "unit",
  });
  b.claim({
    text: "Battery is just under a third of the phone by mass.",
    subject: ["cell"],
    quantity: "mass",
    relation: "fraction",
    value: 0.333,
    unit: "1",
    band: "under",
    than: "device",
    about: "unit",
  });
  b.claim({
    text: "Main camera heavier than the wide one.",
    subject: ["main-camera"],
    quantity: "mass",
    relation: "heavier",
    than: "wide-camera",
    about: "unit",
  });
  b.say("Done.");
  b.readings.push(
    {
      id: "s1-screws",
      session: "s1",
      at: b.now,
      of: ["device"],
      on: ["screws"],
      quantity: "count",
      values: [58],
      unit: "1",
    },
    { id: "s1-label", session: "s1", of: ["cell"], quantity: "capacity", values: [3990], unit: "mAh" },
    { id: "s1-label-energy", session: "s1", of: ["cell"], quantity: "energy", values: [15.36], unit: "Wh" },
  );
  return b;
}
