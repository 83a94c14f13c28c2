/** Halverim 11, the filmed first look: another voice, plain and a little talkative. */
import { Afternoon } from "../afternoon.ts";

export function firstLook(): Afternoon {
  const b = new Afternoon("s1", { share: 0.15 });
  const g = (of: string | string[], values: number | number[], say?: string, more = {}) =>
    b.measure(of, "mass", values, "g", "scale", { ...more, ...(say ? { say } : {}) });
  const mm = (of: string, values: number | number[], place: [number, number], say?: string, instrument = "caliper") =>
    b.measure(of, "thickness", values, "mm", instrument, { place, ...(say ? { say } : {}) });
  const screws = (part: string, joint: string, cup: string, takes: number, say: string, tool = "ph000") =>
    b.do("unscrew", { parts: [part], joints: [joint], tool, lies: cup, takes, say });
  const unplug = (part: string, joints: string[], say: string) =>
    b.do("unplug", { parts: [part], joints, tool: "spudger", takes: 5, say });
  const peel = (part: string, joint: string, say: string) =>
    b.do("peel", { parts: [part], joints: [joint], takes: 14, say });
  const lift = (part: string, say: string, lies?: string) =>
    b.do("lift", { parts: [part], say, takes: 4, ...(lies ? { lies } : {}) });

  b.say("Hello again. Something bigger today, the Halverim 11, which is Pellworrow's tablet.");
  b.say("It is off, and I let it run down to 27 percent yesterday, because there is a lot of battery in here.");
  b.measure("zero", "mass", [0, 0], "g", "scale", {});
  b.measure("zero", "mass", [0, 0], "g", "bench-scale", {});
  b.measure("device", "mass", [485.9, 485.9, 485.9], "g", "bench-scale", {
    say: "Onto the big scale with it. The tablet weighs 485.9 grams.",
  });
  mm("device", [6.4, 6.41, 6.4], [89, 120], "In the middle it is 6.4 millimetres thick.");
  mm("device", [6.4], [2, 120]);
  b.measure("device", "height", [247.6, 247.61], "mm", "long-caliper", {});
  b.measure("device", "width", [178.4, 178.41], "mm", "long-caliper", { say: "And 178.4 millimetres wide." });
  b.say("There is not a single screw on the outside, so it has to come apart through the glass.");
  b.do("turn", { say: "Turn it over so that the display looks at us." });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 60,
    say: "I heat the display on the plate, glass down, two minutes.",
    media: "photo-1",
  });
  b.measure("plate", "temperature", 85, "degC", "thermocouple", { say: "The plate is at 85 degrees Celsius." });
  b.measure("display", "temperature", [69.3], "degC", "thermocouple", {
    say: "The glass shows 69.3 degrees Celsius on the thermocouple.",
  });
  b.do("pry", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "suction",
    takes: 14,
    say: "Now the suction cup goes on the display, lower right corner, and I pull until I see a gap.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "pick",
    takes: 75,
    say: "I work the pick along the bottom edge, and I keep it shallow.",
  });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 50,
    say: "It has gone stiff, so I heat the display a second time.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "pick",
    takes: 75,
    say: "Then I cut up the left side with the pick, and half of the top.",
  });
  b.do("heat", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "plate",
    takes: 50,
    say: "And heat it a third time.",
  });
  b.do("slice", {
    parts: ["display"],
    joints: ["display-rim"],
    tool: "pick",
    takes: 75,
    say: "I slice the rest of the adhesive, down the right side, where the cables are.",
  });
  b.do("shift", {
    parts: ["display"],
    takes: 8,
    say: "Now I fold the display out to the side. Its cables are still on, so I prop it up.",
    media: "photo-2",
  });
  screws(
    "display-bracket",
    "display-bracket-screws",
    "cup 1",
    12,
    "Two screws on the display plug bracket. They go in cup one.",
  );
  lift("display-bracket", "I lift the display plug bracket out.");
  screws("cell-bracket", "cell-bracket-screws", "cup 1", 12, "Two more on the battery bracket. Same cup.");
  lift("cell-bracket", "And I take the battery bracket out.");
  unplug("cell", ["cell-plug"], "Battery first. I unplug the battery with the spudger.");
  b.measure("cell", "voltage", [3.768], "V", "meter-volts", { say: "It reads 3.768 volts." });
  unplug("display", ["display-plug", "touch-plug"], "Now the display, it has two plugs. I disconnect the display.");
  lift("display", "And I lift the display away.", "mat A");
  g(
    ["display", "display-board"],
    [148.92, 148.93],
    "The display weighs 148.92 grams. The display is paired, so the tablet has to be told.",
    { off: ["glue"] },
  );
  mm("display", [1.4, 1.4, 1.41], [89, 120], "It is 1.4 millimetres thick.");
  mm("display", [1.4], [2, 120]);
  g("display-bracket", 0.52);
  g("cell-bracket", 0.44);
  screws(
    "top-shield",
    "top-shield-screws",
    "cup 2",
    42,
    "The board cover has six screws. One of them, top centre, is longer.",
  );
  lift("top-shield", "Off comes the board cover.");
  g("top-shield", 3.12, "The board cover weighs 3.12 grams.");
  unplug("port-flex", ["port-flex-upper", "port-flex-lower"], "I unplug the port flex at both ends.");
  peel("port-flex", "port-flex-tape", "It is stuck to the frame. I peel the port flex loose.");
  lift("port-flex", "The port flex is out.");
  g("port-flex", 1.12);
  peel("graphite", "graphite-tape", "Then I peel the big graphite sheet off the battery.");
  lift("graphite", "The graphite sheet can go to one side.");
  g("graphite", 2.64);
  mm("graphite", [0.06], [89, 120], undefined, "micrometer");
  b.do("debond", {
    parts: ["cell"],
    joints: ["cell-bond"],
    tool: "debond-leads",
    takes: 75,
    say: "This is the nice part. The battery is on tape that lets go with a voltage. I clip the leads on the two tabs and apply 12 volts for about a minute.",
    media: "photo-3",
  });
  b.measure("debond-leads", "voltage", [12.02], "V", "meter-volts", {});
  b.measure("debond-leads", "current", [18], "mA", "supply", {});
  lift("cell", "And now I can simply lift the battery out.", "tin");
  g("cell", [136, 136.01, 136], "The battery weighs 136 grams.");
  mm("cell", [3.6, 3.6], [89, 120], "It is 3.6 millimetres thick.");
  b.claim({
    text: "The battery is more than a quarter of the tablet by weight.",
    subject: ["cell"],
    quantity: "mass",
    relation: "fraction",
    value: 0.25,
    unit: "1",
    band: "over",
    than: "device",
    about: "unit",
  });
  b.say("34 watt hours on the label. That is over twenty, so posting one of these is not like posting a phone.");
  screws("camera-bracket", "camera-bracket-screws", "cup 3", 12, "Two screws hold the camera bracket.");
  lift("camera-bracket", "I take the camera bracket off.");
  g("camera-bracket", 0.73);
  unplug("rear-camera", ["rear-camera-plug"], "I unplug the rear camera.");
  lift("rear-camera", "The rear camera comes straight out.", "cup 3");
  g("rear-camera", 2.94, "The rear camera weighs 2.94 grams.");
  unplug("light-sensor", ["light-plug"], "I unplug the light sensor from the front camera.");
  unplug("front-camera", ["front-camera-plug"], "And the front camera from the board.");
  screws("front-camera", "front-camera-screws", "cup 4", 12, "The front camera has two small screws.");
  lift("front-camera", "The front camera is out.");
  g(
    "front-camera",
    0.88,
    "The front camera weighs 0.88 grams. The front camera is paired, and the maker has to agree to a new one.",
  );
  peel("light-sensor", "light-tape", "I peel the light sensor off the frame.");
  lift("light-sensor", "The light sensor is out too.");
  g("light-sensor", 0.12);
  const speakers: [string, string, number][] = [
    ["upper-left", "upper left", 4.41],
    ["upper-right", "upper right", 4.38],
    ["lower-left", "lower left", 4.52],
    ["lower-right", "lower right", 4.49],
  ];
  b.say("Four speakers, one in each corner, three screws each.");
  speakers.forEach(([id, where, grams], index) => {
    if (index < 2) unplug(`speaker-${id}`, [`speaker-${id}-plug`], `I unplug the ${where} speaker.`);
    screws(
      `speaker-${id}`,
      `speaker-${id}-screws`,
      `cup ${5 + index}`,
      20,
      `Three screws out of the ${where} speaker.`,
    );
    lift(`speaker-${id}`, `I lift the ${where} speaker out.`);
    g(`speaker-${id}`, grams, `The ${where} speaker weighs ${grams} grams.`);
  });
  b.claim({
    text: "The lower left speaker is heavier than the upper left one.",
    subject: ["speaker-lower-left"],
    quantity: "mass",
    relation: "heavier",
    than: "speaker-upper-left",
    about: "unit",
  });
  unplug("main-mic", ["main-mic-plug"], "I unplug the main microphone.");
  peel("main-mic", "main-mic-tape", "And peel the main microphone off the frame.");
  lift("main-mic", "The main microphone is out.");
  unplug("second-mic", ["second-mic-plug"], "Same for the second microphone, I unplug it.");
  peel("second-mic", "second-mic-tape", "I peel the second microphone off.");
  lift("second-mic", "And the second microphone is out.");
  g(["main-mic", "second-mic"], 0.31);
  unplug("contact-strip", ["contact-plug"], "I unplug the keyboard contacts from the charging port.");
  screws("charge-port", "port-screws", "cup 9", 14, "The charging port has two screws.");
  lift("charge-port", "I lift the charging port out.");
  g("charge-port", 2.76, "The charging port weighs 2.76 grams.");
  screws("contact-strip", "contact-screws", "cup 9", 14, "Two screws on the keyboard contacts.");
  lift("contact-strip", "The keyboard contacts are out.");
  g("contact-strip", 0.94);
  unplug("coax-left", ["coax-left-board", "coax-left-antenna"], "I pop off both ends of the left coaxial lead.");
  lift("coax-left", "Left coaxial lead out.");
  unplug("coax-right", ["coax-right-board", "coax-right-antenna"], "And both ends of the right coaxial lead.");
  lift("coax-right", "Right coaxial lead out.");
  g(["coax-left", "coax-right"], 0.38);
  screws("wifi-left", "wifi-left-screw", "cup 10", 8, "One screw in the left antenna.");
  lift("wifi-left", "The left antenna is out.");
  screws("wifi-right", "wifi-right-screw", "cup 10", 8, "One screw in the right antenna.");
  lift("wifi-right", "The right antenna is out.");
  g(["wifi-left", "wifi-right"], 1.46);
  unplug("power-button", ["power-plug"], "I unplug the power button.");
  screws(
    "power-button",
    "power-screw",
    "cup 11",
    12,
    "One tight screw on the power button. It was under the main microphone.",
  );
  lift("power-button", "The power button is out.");
  g("power-button", 0.41);
  unplug("volume-button", ["volume-plug"], "I unplug the volume buttons.");
  screws(
    "volume-button",
    "volume-screws",
    "cup 11",
    24,
    "Two tight screws on the volume buttons. They were under the right antenna.",
  );
  lift("volume-button", "The volume buttons are out.");
  g("volume-button", 0.55);
  b.do("pry", {
    parts: ["power-cap"],
    joints: ["power-cap-hook"],
    tool: "spudger",
    takes: 6,
    say: "I unclip the power button cap.",
  });
  lift("power-cap", "Power button cap out.");
  b.do("pry", {
    parts: ["volume-cap"],
    joints: ["volume-cap-hook"],
    tool: "spudger",
    takes: 6,
    say: "And I unclip the volume button cap.",
  });
  lift("volume-cap", "Volume button cap out.");
  g(["power-cap", "volume-cap"], 0.82);
  unplug("hall-sensor", ["hall-plug"], "I unplug the cover sensor.");
  peel("hall-sensor", "hall-tape", "I peel the cover sensor off.");
  lift("hall-sensor", "The cover sensor is out.");
  g("hall-sensor", 0.09);
  unplug("pen-coil", ["pen-plug"], "I unplug the pen charging coil.");
  peel("pen-coil", "pen-tape", "I peel the pen charging coil out of its slot.");
  lift("pen-coil", "The pen charging coil is out.");
  g("pen-coil", 2.21);
  peel("magnets-left", "magnets-left-tape", "The left magnets are taped in. I peel them out.");
  lift("magnets-left", "Left magnets out.");
  peel("magnets-right", "magnets-right-tape", "I peel the right magnets out as well.");
  lift("magnets-right", "Right magnets out.");
  g(["magnets-left", "magnets-right"], 6.92, "All the magnets together weigh 6.92 grams.");
  screws(
    "main-board",
    "board-screws",
    "cup 12",
    36,
    "Five screws in the main board. The short one beside the cut-out is the ground.",
  );
  lift("main-board", "I lift the main board out.", "mat B");
  peel("board-graphite", "film-tape", "I peel the heat film off the board shield.");
  lift("board-graphite", "The heat film is off.");
  b.do("pry", {
    parts: ["board-shield"],
    joints: ["shield-snaps"],
    tool: "spudger",
    takes: 16,
    say: "And pry the board shield off, ten snaps.",
  });
  lift("board-shield", "The board shield is off.");
  g(["main-board", "board-graphite"], [22.34, 22.34], "The main board weighs 22.34 grams.", { off: ["board-shield"] });
  g("board-shield", 2.95);
  screws("back-plate", "plate-screws", "cup 13", 54, "The back plate is held by nine hexalobular screws, T5.", "t5");
  b.do("heat", {
    parts: ["back-plate"],
    joints: ["plate-bond"],
    tool: "plate",
    takes: 60,
    say: "And it is glued, so I heat the back plate for two and a half minutes.",
  });
  b.do("slice", {
    parts: ["back-plate"],
    joints: ["plate-bond"],
    tool: "card",
    takes: 100,
    say: "I run the card all the way round the back plate.",
  });
  lift("back-plate", "And the back plate comes off the frame.", "mat C");
  g(["back-plate", "rear-window"], [86.4, 86.4], "The back plate weighs 86.4 grams.", { off: ["glue"] });
  mm("back-plate", [0.8, 0.801], [89, 120], "It is 0.8 millimetres thick.", "micrometer");
  mm("back-plate", [0.8], [2, 120], undefined, "micrometer");
  mm("frame", [3.85, 3.85], [2, 120]);
  g("frame", [41.9, 41.9], "And the frame with all the screws, 41.9 grams.", { on: ["screws"] });
  b.claim({
    text: "All the parts add up to the tablet within one gram.",
    subject: ["device"],
    quantity: "mass",
    relation: "adds-up",
    value: 1,
    unit: "g",
    than: "device",
    about: "unit",
  });
  b.claim({
    text: "The display is about a third of the whole.",
    subject: ["display"],
    quantity: "mass",
    relation: "fraction",
    value: 0.333,
    unit: "1",
    band: "about",
    than: "device",
    about: "unit",
  });
  b.say("And that is the tablet, all of it. Thank you for watching.");
  b.readings.push(
    { id: "s1-label", session: "s1", of: ["cell"], quantity: "capacity", values: [8900], unit: "mAh" },
    { id: "s1-label-energy", session: "s1", of: ["cell"], quantity: "energy", values: [34.35], unit: "Wh" },
  );
  return b;
}
