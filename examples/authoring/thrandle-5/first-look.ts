/**
 * Thrandle 5, the filmed first look: everything comes out once, in the order in which it was done.
 *
 * Longer than most files: one device, in the order of the work, is read best in one piece.
 */
import { Afternoon } from "../afternoon.ts";

const SIBLING = "b1f6d0c4-52a7-4a0e-9c1b-7d3e5f804104";

export function firstLook(): Afternoon {
  const b = new Afternoon("s1", { share: 0.3 });
  const g = (of: string | string[], values: number | number[], say?: string, more = {}) =>
    b.measure(of, "mass", values, "g", "scale", { ...more, ...(say ? { say } : {}) });
  const mm = (of: string, values: number | number[], place: [number, number], say?: string, instrument = "caliper") =>
    b.measure(of, "thickness", values, "mm", instrument, { place, ...(say ? { say } : {}) });

  b.say("Right, good afternoon. On the mat today is the Thrandle 5 from Pellworrow, in slate grey.");
  b.say("Beside it I have the Thrandle 4, last year's phone, so that we can compare as we go.");
  b.say("It is switched off, and I read the charge before I did that. Twenty four percent, so nothing too lively.");
  b.measure("zero", "mass", [0, 0, 0], "g", "scale", {});
  g(
    "device",
    [164.45, 164.46, 164.45],
    "On the scale the phone weighs 164.45 grams, with the tray in and no card in it.",
  );
  b.claim({
    text: "So it is lighter than the Thrandle 4 by 24.2 grams.",
    subject: ["device"],
    quantity: "mass",
    relation: "lighter",
    value: 24.2,
    unit: "g",
    than: "sibling",
    about: "unit",
  });
  b.measure("zero", "thickness", [0, 0], "mm", "caliper", {});
  mm(
    "device",
    [6.6, 6.61, 6.6],
    [49.5, 58],
    "The phone is 6.6 millimetres thick, measured on the flat below the camera bar.",
  );
  b.claim({
    text: "That is 1.4 millimetres thinner than the Thrandle 4.",
    subject: ["device"],
    quantity: "thickness",
    relation: "thinner",
    value: 1.4,
    unit: "mm",
    than: "sibling",
    about: "unit",
  });
  mm("device", [6.61, 6.6], [2, 76]);
  mm("device", [6.6, 6.6], [57, 120]);
  b.measure("device", "width", [72.41, 72.4], "mm", "caliper", {
    say: "Across the keys it measures 72.4 millimetres wide.",
  });
  b.measure("device", "height", [152, 152.5], "mm", "ruler", {});
  b.claim({
    text: "To the eye the same width as the Thrandle 4, and the calipers agree.",
    subject: ["device"],
    quantity: "width",
    relation: "same",
    value: 0.1,
    unit: "mm",
    than: "sibling",
    about: "unit",
  });

  // The tray and the screws at the port.
  b.do("pull", {
    parts: ["sim-tray"],
    joints: ["sim-latch"],
    tool: "eject-pin",
    say: "Eject pin into the hole beside the port, and push.",
    takes: 5,
  });
  b.do("lift", { parts: ["sim-tray"], lies: "cup 1", say: "Pull out the SIM tray. It goes in cup one." });
  g("sim-tray", 0.46, "The SIM tray weighs 0.46 grams.");
  b.do("unscrew", {
    parts: ["back-glass"],
    joints: ["bottom-screws"],
    tool: "five-lobe",
    lies: "cup 1",
    takes: 14,
    say: "Undo the two five-lobe screws in the bottom edge. They hold the back glass. Same cup.",
  });
  b.measure("five-lobe", "torque", [4.7, 4.9], "cN.m", "torque-driver", {
    say: "They let go at about 4.8 centinewton metres, if you want to know.",
  });

  // Heat, two rounds.
  b.say("There is glue all the way round, about 430 millimetres of it, so this needs heat.");
  b.do("heat", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "plate",
    takes: 18,
    say: "Heat the back on the plate, back down, for two minutes. The waiting and most of the cutting is shortened in the film.",
    media: "photo-1",
  });
  b.measure("plate", "temperature", 80, "degC", "thermocouple", { say: "The plate is set to 80 degrees Celsius." });
  b.measure("back-glass", "temperature", [68.4], "degC", "thermocouple", {
    say: "The film thermocouple on the glass reads 68.4 degrees Celsius when I lift it off.",
  });
  b.measure("back-glass", "temperature", [61.9], "degC", "infrared", {});
  b.say(
    "Do not trust the infrared gun here, it sees the room in the glass. And the cell is right under there, so no more than this.",
  );
  b.do("pry", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "suction",
    takes: 10,
    say: "Set the suction cup low on the back glass and pull until a gap opens.",
  });
  b.do("slice", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "pick",
    takes: 50,
    say: "Slide the pick in and run it along the bottom edge and up the left side. Keep it shallow on the left, there is a coaxial lead close behind the rim. It is cooling down now, I can feel it drag.",
  });
  b.do("heat", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "plate",
    takes: 10,
    say: "So heat the back glass once more on the plate. Another two minutes.",
  });
  b.do("slice", {
    parts: ["back-glass"],
    joints: ["back-rim"],
    tool: "pick",
    takes: 46,
    say: "Cut through the rest of the glue with the pick, across the top and down the right side past the keys.",
  });
  b.do("lift", {
    parts: ["back-glass"],
    lies: "mat A",
    say: "Lift the back glass off. No cable on it, nothing to tear. The hooks at the top let go on their own.",
    media: "photo-2",
    takes: 6,
  });
  g(
    ["back-glass", "camera-trim", "lens-window"],
    [18.02, 18.02],
    "The back glass weighs 18.02 grams with the camera trim and the window on it.",
    {
      off: ["glue"],
    },
  );
  mm("back-glass", [0.552, 0.551, 0.553], [49.5, 58], "The glass itself is 0.552 millimetres thick.", "micrometer");
  mm("back-glass", [0.552], [2, 76], undefined, "micrometer");
  mm("back-glass", [0.551], [57, 120], undefined, "micrometer");
  b.claim({
    text: "The back glass is thinner than the one on the Thrandle 4.",
    subject: ["back-glass"],
    quantity: "thickness",
    relation: "thinner",
    than: "sibling:back-glass",
    about: "unit",
  });
  b.do("clean", {
    parts: ["band"],
    joints: ["back-rim"],
    takes: 20,
    say: "Clean the old adhesive off the rim, while it is still a little warm.",
  });

  // Isolate the cell first.
  b.say("First thing inside, get the battery off the line.");
  b.do("unscrew", {
    parts: ["cell-bracket"],
    joints: ["cell-bracket-screws"],
    tool: "ph000",
    lies: "cup 2",
    takes: 12,
    say: "Remove the two cross-recess screws on the battery bracket. Cup two.",
  });
  b.do("lift", { parts: ["cell-bracket"], lies: "cup 2", say: "Lift the battery bracket out." });
  b.do("unplug", {
    parts: ["cell"],
    joints: ["cell-plug"],
    tool: "spudger",
    takes: 4,
    say: "And unplug the battery with the spudger. Now it is dead.",
  });
  b.measure("cell", "voltage", [3.741], "V", "meter-volts", {
    say: "At its plug the battery reads 3.741 volts at rest.",
  });
  g("cell-bracket", 0.31);
  b.measure("cell-bracket", "length", [12.01], "mm", "caliper");

  b.do("peel", {
    parts: ["ground-foil"],
    joints: ["foil-tape"],
    takes: 8,
    say: "Top right there is a ground foil. Peel the foil off the shield.",
  });
  b.do("unscrew", {
    parts: ["ground-foil"],
    joints: ["foil-screw"],
    tool: "ph000",
    lies: "cup 3",
    takes: 8,
    say: "One screw holds the ground foil in the corner. It is the short one, take it out.",
  });
  b.do("lift", { parts: ["ground-foil"], lies: "cup 3", say: "Lift the ground foil out." });
  g("ground-foil", 0.06);
  b.do("unscrew", {
    parts: ["top-shield"],
    joints: ["top-shield-screws"],
    tool: "ph000",
    lies: "cup 4",
    takes: 40,
    say: "Six screws on the upper shield. Two of them are longer, the lower left one and the upper middle one. Cup four, and I lay them in a pattern.",
    media: "photo-3",
  });
  b.measure("ph000", "torque", [3.2, 2.9, 3.1], "cN.m", "torque-driver", {});
  b.do("lift", {
    parts: ["top-shield"],
    lies: "mat B",
    say: "Lift the upper shield away. The antenna for payments is stuck to it and comes too.",
  });
  g(["top-shield", "nfc-antenna"], 2.37, "The upper shield weighs 2.37 grams with the antenna.");
  mm("top-shield", [0.221, 0.219], [57, 120], undefined, "micrometer");
  b.do("peel", {
    parts: ["nfc-antenna"],
    joints: ["nfc-tape"],
    takes: 9,
    say: "Peel the NFC antenna off the upper shield, just to see it.",
  });
  b.do("lift", { parts: ["nfc-antenna"], say: "Remove the NFC antenna." });
  g("nfc-antenna", 0.31);

  // Coil, lower cover, flex, graphite, loudspeaker.
  b.do("unplug", {
    parts: ["coil"],
    joints: ["coil-plug"],
    tool: "spudger",
    takes: 4,
    say: "Unplug the charging coil.",
  });
  b.do("peel", {
    parts: ["coil"],
    joints: ["coil-tape"],
    takes: 26,
    say: "Peel the coil up slowly. It is stuck to the graphite with a thin sheet of tape.",
  });
  b.do("lift", { parts: ["coil"], lies: "mat B", say: "Take out the charging coil." });
  g("coil", [3.41, 3.41], "The coil weighs 3.41 grams.");
  b.measure("coil", "diameter", [47.98, 48.02], "mm", "caliper", { say: "It is 48 millimetres across." });
  mm("coil", [0.291, 0.29], [49.5, 58], undefined, "micrometer");
  b.do("unscrew", {
    parts: ["lower-cover"],
    joints: ["lower-cover-screws"],
    tool: "ph000",
    lies: "cup 5",
    takes: 34,
    say: "Now the bottom end. Five screws hold the lower cover. Two are long, the ones in the middle column, the other three are short. Cup five.",
  });
  b.do("lift", { parts: ["lower-cover"], lies: "mat C", say: "Lift the lower cover out." });
  g("lower-cover", 1.02, "The lower cover weighs 1.02 grams.");
  b.do("unplug", {
    parts: ["main-flex"],
    joints: ["main-flex-upper"],
    tool: "spudger",
    takes: 4,
    say: "Disconnect the main flex at the top, on the main board.",
  });
  b.do("unplug", {
    parts: ["main-flex"],
    joints: ["main-flex-lower"],
    tool: "spudger",
    takes: 4,
    say: "And disconnect the main flex at the bottom, on the port board.",
  });
  b.do("peel", {
    parts: ["main-flex"],
    joints: ["main-flex-tape"],
    takes: 9,
    say: "It is stuck down along the battery. Peel the main flex off.",
  });
  b.do("lift", { parts: ["main-flex"], lies: "mat C", say: "Remove the main flex." });
  g("main-flex", 0.58, "The flex weighs 0.58 grams.");
  mm("main-flex", [0.111], [64.5, 60], undefined, "micrometer");
  b.do("peel", {
    parts: ["graphite"],
    joints: ["graphite-tape"],
    takes: 15,
    say: "Peel the graphite sheet off the battery, in one go if it lets you.",
  });
  b.do("lift", { parts: ["graphite"], say: "Lift the graphite sheet away. It will not go back on, it wrinkles." });
  g("graphite", 0.42);
  mm("graphite", [0.049, 0.05], [49.5, 58], undefined, "micrometer");
  b.do("unscrew", {
    parts: ["loudspeaker"],
    joints: ["speaker-screws"],
    tool: "ph000",
    lies: "cup 6",
    takes: 28,
    say: "The loudspeaker has four screws. One of them is longer, beside the port. Undo those. Cup six.",
  });
  b.do("lift", {
    parts: ["loudspeaker"],
    lies: "mat C",
    say: "Lift out the loudspeaker. Its contacts are only springs.",
  });
  g(["loudspeaker", "lower-antenna"], 3.64, "The loudspeaker weighs 3.64 grams with the lower antenna on it.");
  b.claim({
    text: "The loudspeaker is heavier than the earlier one.",
    subject: ["loudspeaker"],
    quantity: "mass",
    relation: "heavier",
    than: "sibling:loudspeaker",
    about: "unit",
  });

  // The battery.
  b.do("pull", {
    parts: ["cell"],
    joints: ["cell-tabs-joint"],
    tool: "tweezers-plastic",
    takes: 60,
    say: "The battery sits on three pull tabs. Take hold with the plastic tweezers and pull each one low and slow. If one snaps you are in for solvent and a card, and then the battery is scrap, so do not rush it. First one out. Second one. And the third.",
    media: "photo-4",
  });
  b.do("lift", { parts: ["cell"], lies: "tin", say: "Lift the battery out and into the tin." });
  g("cell", [44.1, 44.11, 44.1], "The battery weighs 44.1 grams. It is paired: the phone has to be told its number.");
  mm("cell", [3.35, 3.36, 3.35], [49.5, 58], "It is 3.35 millimetres thick.");
  b.measure("cell", "area", [5080, 5087], "mm2", "photo", {});
  b.say("The label says 2980 milliamp hours and 11.53 watt hours.");
  b.claim({
    text: "So the battery is over a quarter of the phone's weight.",
    subject: ["cell"],
    quantity: "mass",
    relation: "fraction",
    value: 0.25,
    unit: "1",
    band: "over",
    than: "device",
    about: "unit",
  });
  b.claim({
    text: "And it is lighter than the old battery by 14.4 grams.",
    subject: ["cell"],
    quantity: "mass",
    relation: "lighter",
    value: 14.4,
    unit: "g",
    than: "sibling:cell",
    about: "unit",
  });
  b.claim({
    text: "It holds less too. 1010 milliamp hours fewer than the Thrandle 4 on paper.",
    subject: ["cell"],
    quantity: "capacity",
    relation: "fewer",
    value: 1010,
    unit: "mAh",
    than: "sibling:cell",
    about: "model",
    published: true,
  });

  // Cameras.
  b.do("guard", { parts: ["main-camera"], say: "Before I go near the cameras, cover the lenses with tape." });
  b.do("unplug", { parts: ["flash"], joints: ["flash-plug"], tool: "spudger", takes: 5, say: "Unplug the flash." });
  b.do("peel", { parts: ["flash"], joints: ["flash-tape"], takes: 9, say: "Peel the flash off the cradle." });
  b.do("lift", { parts: ["flash"], lies: "cup 7", say: "Lift the flash out." });
  b.do("unplug", {
    parts: ["range-finder"],
    joints: ["range-plug"],
    tool: "spudger",
    takes: 5,
    say: "Unplug the range finder.",
  });
  b.do("unscrew", {
    parts: ["range-finder"],
    joints: ["range-screw"],
    tool: "ph000",
    lies: "cup 7",
    takes: 8,
    say: "One tiny screw on the range finder. Cup seven.",
  });
  b.do("lift", {
    parts: ["range-finder"],
    lies: "cup 7",
    say: "Remove the range finder. It is a laser, so it stays unpowered and face down.",
  });
  g(["flash", "range-finder"], 0.52, "Flash and range finder together weigh 0.52 grams.");
  b.do("unplug", {
    parts: ["main-camera"],
    joints: ["main-camera-plug"],
    tool: "spudger",
    takes: 4,
    say: "Unplug the main camera.",
  });
  b.do("unplug", {
    parts: ["wide-camera"],
    joints: ["wide-camera-plug"],
    tool: "spudger",
    takes: 4,
    say: "Unplug the wide camera as well.",
  });
  b.do("unscrew", {
    parts: ["rear-cradle"],
    joints: ["cradle-screws"],
    tool: "ph000",
    lies: "cup 8",
    takes: 22,
    say: "Three screws hold the rear cameras in their cradle to the mid-plate. The top one is longer. Cup eight.",
  });
  b.do("lift", {
    parts: ["rear-cradle"],
    lies: "mat D",
    say: "Lift the rear cameras out whole, cradle and both lenses.",
  });
  g(["rear-cradle", "main-camera", "wide-camera"], [7.28, 7.28], "The rear cameras weigh 7.28 grams together.");
  b.do("pry", {
    parts: ["main-camera"],
    joints: ["main-camera-snap"],
    tool: "spudger",
    takes: 6,
    say: "On the mat, unclip the main camera from the cradle.",
  });
  b.do("lift", { parts: ["main-camera"], say: "Take the main camera out." });
  g("main-camera", [3.52, 3.53], "The main camera weighs 3.52 grams. There are magnets in it, so I weigh it on foam.");
  b.do("pry", {
    parts: ["wide-camera"],
    joints: ["wide-camera-snap"],
    tool: "spudger",
    takes: 6,
    say: "Unclip the wide camera.",
  });
  b.do("lift", { parts: ["wide-camera"], say: "Take the wide camera out too." });
  g("wide-camera", 2.06, "The wide camera weighs 2.06 grams.");
  g("rear-cradle", 1.7);
  b.claim({
    text: "Of the three cameras the main one is the heaviest, then the wide one, then the front one.",
    subject: ["main-camera", "wide-camera", "front-camera"],
    quantity: "mass",
    relation: "ranked",
    about: "unit",
  });

  // Upper edge.
  b.do("unplug", {
    parts: ["upper-antenna"],
    joints: ["upper-antenna-lead"],
    tool: "spudger",
    takes: 4,
    say: "Unplug the lead of the upper antenna carrier.",
  });
  b.do("unscrew", {
    parts: ["upper-antenna"],
    joints: ["upper-antenna-screws"],
    tool: "ph000",
    lies: "cup 9",
    takes: 22,
    say: "Undo the three screws in the upper antenna carrier. All the same length. Cup nine.",
  });
  b.do("lift", { parts: ["upper-antenna"], lies: "mat D", say: "Lift the antenna carrier off." });
  g("upper-antenna", 1.24);
  b.do("unplug", {
    parts: ["front-camera"],
    joints: ["front-camera-plug"],
    tool: "spudger",
    takes: 4,
    say: "Unplug the front camera.",
  });
  b.do("pry", {
    parts: ["front-camera"],
    joints: ["front-camera-pad"],
    tool: "spudger",
    takes: 12,
    say: "It sits on a sticky pad. Lever the front camera up gently.",
  });
  b.do("lift", { parts: ["front-camera"], lies: "cup 10", say: "Lift the front camera out." });
  g(
    "front-camera",
    0.74,
    "The front camera weighs 0.74 grams. The front camera is paired: the phone has to be told, and the maker has to agree.",
  );
  b.claim({
    text: "That is a touch heavier than the old front camera.",
    subject: ["front-camera"],
    quantity: "mass",
    relation: "heavier",
    than: "sibling:front-camera",
    about: "unit",
  });
  b.do("unscrew", {
    parts: ["earpiece"],
    joints: ["earpiece-screws"],
    tool: "ph000",
    lies: "cup 10",
    takes: 14,
    say: "Two screws on the earpiece. Cup ten.",
  });
  b.do("lift", { parts: ["earpiece"], lies: "cup 10", say: "Lift out the earpiece. Springs again, no plug." });
  g(["earpiece", "earpiece-seal"], 1.02);
  b.do("unplug", {
    parts: ["light-sensor"],
    joints: ["light-plug"],
    tool: "spudger",
    takes: 5,
    say: "Unplug the light sensor.",
  });
  b.do("peel", { parts: ["light-sensor"], joints: ["light-tape"], takes: 8, say: "Peel the light sensor off." });
  b.do("lift", {
    parts: ["light-sensor"],
    say: "Remove the light sensor. I did not look whether the earpiece had its tail trapped.",
  });
  b.do("unplug", {
    parts: ["upper-mic"],
    joints: ["mic-plug"],
    tool: "spudger",
    takes: 5,
    say: "Unplug the upper microphone.",
  });
  b.do("peel", {
    parts: ["upper-mic"],
    joints: ["mic-tape"],
    takes: 8,
    say: "Peel the upper microphone off the band.",
  });
  b.do("lift", { parts: ["upper-mic"], say: "And lift the upper microphone out." });
  g(["light-sensor", "upper-mic"], 0.17);

  // Leads and main board.
  b.do("unplug", {
    parts: ["coax-short"],
    joints: ["coax-short-board", "coax-short-corner"],
    tool: "spudger",
    takes: 9,
    say: "Pop off both ends of the short coaxial lead.",
  });
  b.do("lift", { parts: ["coax-short"], say: "Take the short coaxial lead out." });
  b.do("unscrew", {
    parts: ["corner-antenna"],
    joints: ["corner-screw"],
    tool: "ph000",
    lies: "cup 11",
    takes: 8,
    say: "One screw in the corner antenna.",
  });
  b.do("lift", { parts: ["corner-antenna"], lies: "cup 11", say: "Lift the corner antenna out." });
  g("corner-antenna", 0.33);
  b.do("unplug", {
    parts: ["coax-long"],
    joints: ["coax-long-upper", "coax-long-lower"],
    tool: "spudger",
    takes: 9,
    say: "Unplug both ends of the long coaxial lead.",
  });
  b.do("pry", {
    parts: ["coax-long"],
    joints: ["coax-channel"],
    tool: "spudger",
    takes: 12,
    say: "Unclip the long coaxial lead from its channel down the left side. Four clips.",
  });
  b.do("lift", { parts: ["coax-long"], say: "Pull out the long coaxial lead." });
  g(["coax-long", "coax-short"], 0.26);
  b.do("unplug", {
    parts: ["display"],
    joints: ["display-plug"],
    tool: "spudger",
    takes: 4,
    say: "Unplug the display.",
  });
  b.do("unplug", {
    parts: ["display"],
    joints: ["touch-plug"],
    tool: "spudger",
    takes: 4,
    say: "There is a second plug on the display, for touch. Unplug that too.",
  });
  b.do("unplug", {
    parts: ["key-flex"],
    joints: ["key-plug"],
    tool: "spudger",
    takes: 5,
    say: "Unplug the side keys.",
  });
  b.do("unscrew", {
    parts: ["main-board"],
    joints: ["board-screws"],
    tool: "ph000",
    lies: "cup 12",
    takes: 28,
    say: "The main board has four screws. The one beside the cut-out is shorter, that is the ground. Cup twelve.",
  });
  b.do("unscrew", {
    parts: ["main-board"],
    joints: ["board-standoff"],
    tool: "standoff",
    lies: "cup 12",
    takes: 12,
    say: "And one stand-off at the top right of the main board, with the forked driver.",
  });
  b.measure("standoff", "torque", [5.2], "cN.m", "torque-driver", {});
  b.do("lift", {
    parts: ["main-board"],
    lies: "mat E",
    say: "Lift the main board out. There is thermal gel behind it, so it comes with a bit of a pull.",
    media: "photo-5",
    takes: 8,
  });
  b.do("peel", {
    parts: ["board-graphite"],
    joints: ["film-tape"],
    takes: 10,
    say: "Peel the heat film off the main board.",
  });
  b.do("lift", { parts: ["board-graphite"], say: "Remove the heat film." });
  b.measure(["main-board", "rf-board", "board-shield"], "thickness", [3.1, 3.11], "mm", "caliper", {
    place: [57, 120],
    off: ["board-graphite"],
    say: "The stack of both boards and the shield is 3.1 millimetres.",
  });
  mm("board-graphite", [0.05], [57, 120], undefined, "micrometer");
  b.do("pry", {
    parts: ["board-shield"],
    joints: ["shield-snaps"],
    tool: "spudger",
    takes: 12,
    say: "Six snaps on the board shield. Pry the board shield off.",
  });
  b.do("lift", { parts: ["board-shield"], say: "Take the board shield off." });
  g(
    ["main-board", "rf-board", "board-graphite"],
    [12.02, 12.02],
    "The main board weighs 12.02 grams. The radio board is soldered on top and stays where it is.",
    { off: ["board-shield"] },
  );
  g("board-shield", 0.94);
  b.do("heat", {
    parts: ["vapour-chamber"],
    joints: ["chamber-bond"],
    tool: "warm-bag",
    takes: 12,
    say: "Warm the vapour chamber with the gel bag for a minute and a half.",
  });
  b.do("pry", {
    parts: ["vapour-chamber"],
    joints: ["chamber-bond"],
    tool: "spudger",
    takes: 40,
    say: "Ease the vapour chamber up from one end with the spudger. Do not bend it, a dent kills it.",
  });
  b.do("lift", { parts: ["vapour-chamber"], lies: "mat E", say: "Lift the vapour chamber out." });
  g("vapour-chamber", 3.06, "The vapour chamber weighs 3.06 grams.");
  mm("vapour-chamber", [0.351, 0.349], [57, 120], undefined, "micrometer");

  // Keys.
  b.do("unscrew", {
    parts: ["key-bracket"],
    joints: ["key-wedge-screws"],
    tool: "ph000",
    lies: "cup 13",
    takes: 18,
    say: "Side keys. Two screws in the key wedge, and they are tight in there. Cup thirteen.",
  });
  b.do("lift", { parts: ["key-bracket"], say: "Lift the key wedge out." });
  b.do("pry", {
    parts: ["key-flex"],
    joints: ["key-hooks"],
    tool: "spudger",
    takes: 8,
    say: "Unhook the side keys, three hooks. You cannot get at those until the main board is out.",
  });
  b.do("lift", { parts: ["key-flex"], say: "Lift out the side keys." });
  g("key-bracket", 0.38);
  g("key-flex", 0.47, "The side keys weigh 0.47 grams.");
  b.do("pry", {
    parts: ["power-cap"],
    joints: ["power-cap-hook"],
    tool: "spudger",
    takes: 4,
    say: "Push the power key cap off its hook.",
  });
  b.do("lift", { parts: ["power-cap"], lies: "cup 13", say: "Take out the power key cap." });
  b.do("pry", {
    parts: ["volume-cap"],
    joints: ["volume-cap-hook"],
    tool: "spudger",
    takes: 6,
    say: "Two hooks on the volume key cap. Unclip those.",
  });
  b.do("lift", { parts: ["volume-cap"], lies: "cup 13", say: "Take out the volume key cap." });
  g(["power-cap", "volume-cap"], 0.62);

  // Bottom end.
  b.do("unplug", {
    parts: ["charge-port"],
    joints: ["port-plug"],
    tool: "spudger",
    takes: 5,
    say: "Bottom end again. Unplug the charging port from the port board.",
  });
  b.do("unplug", {
    parts: ["sim-reader"],
    joints: ["sim-plug"],
    tool: "spudger",
    takes: 5,
    say: "Unplug the SIM reader.",
  });
  b.do("unscrew", {
    parts: ["port-board"],
    joints: ["port-board-screws"],
    tool: "ph000",
    lies: "cup 14",
    takes: 14,
    say: "Two screws in the port board. Cup fourteen.",
  });
  b.do("lift", { parts: ["port-board"], lies: "mat C", say: "Lift the port board out. The main microphone is on it." });
  g("port-board", 2.02, "The port board weighs 2.02 grams.");
  mm("port-board", [1, 1.01], [38, 18]);
  b.do("unscrew", {
    parts: ["charge-port"],
    joints: ["port-screws"],
    tool: "ph000",
    lies: "cup 15",
    takes: 14,
    say: "Now I can get a driver on the charging port. Two screws, one each side. Cup fifteen.",
  });
  b.do("lift", { parts: ["charge-port"], lies: "mat C", say: "Lift out the charging port." });
  g(["charge-port", "port-seal"], 1.21, "The charging port weighs 1.21 grams with its seal.");
  b.do("unscrew", {
    parts: ["motor"],
    joints: ["motor-screws"],
    tool: "ph000",
    lies: "cup 16",
    takes: 14,
    say: "The vibration motor has two screws. Cup sixteen.",
  });
  b.do("pry", {
    parts: ["motor"],
    joints: ["motor-pad"],
    tool: "spudger",
    takes: 16,
    say: "And there is a pad underneath. Lever the vibration motor up.",
  });
  b.do("lift", { parts: ["motor"], say: "Lift the vibration motor out." });
  g("motor", 1.58, "The motor weighs 1.58 grams.");
  b.do("unscrew", {
    parts: ["sim-reader"],
    joints: ["sim-reader-screws"],
    tool: "ph000",
    lies: "cup 16",
    takes: 14,
    say: "Two screws on the SIM reader.",
  });
  b.do("lift", { parts: ["sim-reader"], say: "Lift the SIM reader out." });
  g("sim-reader", 0.71);

  // Display.
  b.do("turn", { say: "Turn the phone over. The display is last." });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 16,
    say: "Heat the display on the plate, glass down, for two and a half minutes. Same plate, 80 degrees.",
  });
  b.measure("display", "temperature", [71.2], "degC", "thermocouple", {
    say: "The display glass is at 71.2 degrees Celsius.",
  });
  b.do("pry", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "suction",
    takes: 12,
    say: "Suction cup near the lower edge of the display, and pull a gap.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "card",
    takes: 44,
    say: "Slide the card along the bottom and up one side. Card, not a pick, the panel is very close to the edge here.",
  });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 9,
    say: "Heat the display again.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "card",
    takes: 44,
    say: "Cut along the top of the display with the card.",
  });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 9,
    say: "And a third time on the plate.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "card",
    takes: 44,
    say: "Card down the last side of the display. That is all of it.",
  });
  b.do("lift", {
    parts: ["display"],
    lies: "mat F",
    say: "Lift the display off the frame and feed its cable through the slot.",
    media: "photo-6",
    takes: 10,
  });
  g(
    ["display", "finger-reader"],
    [28.36, 28.36],
    "The display weighs 28.36 grams with the fingerprint reader on its back. The display is paired too: the phone has to be told.",
    { off: ["glue"] },
  );
  mm("display", [1.15, 1.16, 1.15], [49.5, 58], "It is 1.15 millimetres thick.");
  mm("display", [1.15], [2, 76]);
  mm("display", [1.15], [57, 120]);
  b.claim({
    text: "The display is lighter than the Thrandle 4's.",
    subject: ["display"],
    quantity: "mass",
    relation: "lighter",
    than: "sibling:display",
    about: "unit",
  });
  b.do("unplug", {
    parts: ["finger-reader"],
    joints: ["reader-plug"],
    tool: "spudger",
    takes: 5,
    say: "Unplug the fingerprint reader from the display.",
  });
  b.do("heat", {
    parts: ["finger-reader"],
    joints: ["reader-bond"],
    tool: "warm-bag",
    takes: 8,
    say: "One minute with the warm bag on the fingerprint reader.",
  });
  b.do("slice", {
    parts: ["finger-reader"],
    joints: ["reader-bond"],
    tool: "pick",
    takes: 30,
    say: "Cut under the fingerprint reader with the pick, very flat.",
  });
  b.do("lift", {
    parts: ["finger-reader"],
    say: "Lift the fingerprint reader off. It is tied to the board by its serial number, so keep the pair together.",
  });
  g("finger-reader", 0.62);

  // Mid-plate and band.
  b.do("unscrew", {
    parts: ["mid-plate"],
    joints: ["mid-plate-screws"],
    tool: "t3",
    lies: "cup 17",
    takes: 60,
    say: "The mid-plate is screwed in, not welded. Ten hexalobular screws, T3. Cup seventeen.",
  });
  b.do("lift", { parts: ["mid-plate"], lies: "mat G", say: "And lift the mid-plate out of the band." });
  g("mid-plate", [10.62, 10.62], "The mid-plate weighs 10.62 grams.");
  mm("mid-plate", [0.452, 0.451], [49.5, 58], undefined, "micrometer");
  mm("mid-plate", [0.45], [57, 120], undefined, "micrometer");
  mm("band", [4.55, 4.55], [2, 76], "The side band is 4.55 millimetres high where the glass sits.");
  g("band", [16.29, 16.29], "The band weighs 16.29 grams, with every screw of the phone in the pan.", {
    on: ["screws"],
  });
  b.claim({
    text: "So the parts add up to the phone within 0.7 grams, and what is missing is glue.",
    subject: ["device"],
    quantity: "mass",
    relation: "adds-up",
    value: 0.7,
    unit: "g",
    than: "device",
    about: "unit",
  });
  b.claim({
    text: "The battery is almost a third of the phone.",
    subject: ["cell"],
    quantity: "mass",
    relation: "fraction",
    value: 0.333,
    unit: "1",
    band: "almost",
    than: "device",
    about: "unit",
  });
  b.claim({
    text: "I would call it the thinnest phone of this year.",
    subject: ["device"],
    quantity: "thickness",
    relation: "superlative",
    than: "every phone of this year",
    about: "model",
  });
  b.claim({
    text: "It has fewer screws than the Thrandle 4.",
    subject: ["device"],
    quantity: "count",
    relation: "fewer",
    than: "sibling",
    about: "unit",
  });
  b.say(
    "That is all of it on the table. Next I put it together again, and then I do the battery once more against the clock.",
  );
  b.readings.push({
    id: "s1-screws",
    session: "s1",
    at: b.now,
    of: ["device"],
    on: ["screws"],
    quantity: "count",
    values: [55],
    unit: "1",
  });
  b.readings.push({
    id: "s1-label",
    session: "s1",
    of: ["cell"],
    quantity: "capacity",
    values: [2980],
    unit: "mAh",
  });
  b.readings.push({
    id: "s1-label-energy",
    session: "s1",
    of: ["cell"],
    quantity: "energy",
    values: [11.53],
    unit: "Wh",
  });
  b.readings.push({
    id: "s1-sheet",
    session: "s1",
    of: ["device"],
    record: SIBLING,
    quantity: "mass",
    values: [188.6],
    unit: "g",
  });
  return b;
}
