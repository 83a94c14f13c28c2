/** What lies on the bench for every example: tools, instruments, consumables. All invented, with usual figures. */
import type { Consumable, Instrument, Tool } from "../../src/core/record/schema.ts";
import { eur, pieces } from "./bench.ts";

const TOOLS: readonly Tool[] = [
  { id: "ph000", name: "Cross-recess driver 000", conductive: true, kind: "basic" },
  { id: "ph00", name: "Cross-recess driver 00", conductive: true, kind: "basic" },
  { id: "t3", name: "Hexalobular driver T3", conductive: true, kind: "basic" },
  { id: "t5", name: "Hexalobular driver T5", conductive: true, kind: "basic" },
  { id: "five-lobe", name: "Five-lobe driver 0.8", conductive: true, kind: "commercially-available" },
  { id: "standoff", name: "Forked stand-off driver 1.5", conductive: true, kind: "commercially-available" },
  { id: "spudger", name: "Spudger", kind: "basic" },
  { id: "pick", name: "Pick", kind: "basic" },
  { id: "tweezers", name: "Steel tweezers", conductive: true, kind: "basic" },
  { id: "tweezers-plastic", name: "Plastic tweezers", kind: "basic" },
  { id: "card", name: "Plastic card", kind: "commercially-available" },
  { id: "suction", name: "Suction cup", kind: "commercially-available" },
  { id: "plate", name: "Heating plate", heatSource: true, kind: "commercially-available" },
  { id: "warm-bag", name: "Warm gel bag", heatSource: true, kind: "commercially-available" },
  { id: "hot-air", name: "Hot-air station", heatSource: true, kind: "commercially-available" },
  { id: "eject-pin", name: "Eject pin", conductive: true, kind: "with-product" },
  { id: "tab-winder", name: "Pull-tab winder", kind: "with-spare-part" },
  { id: "debond-leads", name: "Debonding leads and supply, 12 V", conductive: true, kind: "commercially-available" },
];

export function tools(...ids: string[]): Tool[] {
  return ids.map((id) => {
    const found = TOOLS.find((tool) => tool.id === id);
    if (found === undefined) throw new Error(`no tool ${id} in the kit`);
    return found;
  });
}

/** Limits are those on the makers' sheets of instruments of this kind; the infrared gun is past its calibration. */
export const INSTRUMENTS: Instrument[] = [
  {
    id: "scale",
    name: "Pocket scale 200 g",
    kind: "scale",
    resolution: { value: 0.01, unit: "g" },
    maxError: { value: 0.05, unit: "g" },
    repeatability: { value: 0.008, unit: "g" },
    calibrated: "2026-03-02",
    due: "2027-03-02",
  },
  {
    id: "bench-scale",
    name: "Bench scale 3 kg",
    kind: "scale",
    resolution: { value: 0.1, unit: "g" },
    maxError: { value: 0.2, unit: "g" },
    repeatability: { value: 0.05, unit: "g" },
    calibrated: "2026-03-02",
    due: "2027-03-02",
  },
  {
    id: "caliper",
    name: "Digital caliper 150 mm",
    kind: "caliper",
    resolution: { value: 0.01, unit: "mm" },
    maxError: { value: 0.02, unit: "mm" },
    repeatability: { value: 0.005, unit: "mm" },
    sharedOffset: { value: 0.003, unit: "mm" },
    calibrated: "2026-02-18",
    due: "2027-02-18",
  },
  {
    id: "long-caliper",
    name: "Digital caliper 300 mm",
    kind: "caliper",
    resolution: { value: 0.01, unit: "mm" },
    maxError: { value: 0.03, unit: "mm" },
    calibrated: "2026-02-18",
    due: "2027-02-18",
  },
  {
    id: "micrometer",
    name: "Digital micrometer 25 mm",
    kind: "micrometer",
    resolution: { value: 0.001, unit: "mm" },
    maxError: { value: 0.004, unit: "mm" },
    repeatability: { value: 0.002, unit: "mm" },
    calibrated: "2026-02-18",
    due: "2027-02-18",
  },
  {
    id: "ruler",
    name: "Steel rule 300 mm",
    kind: "ruler",
    resolution: { value: 0.5, unit: "mm" },
    maxError: { value: 0.1, unit: "mm" },
  },
  {
    id: "meter-volts",
    name: "Hand multimeter, direct voltage 6 V range",
    kind: "multimeter",
    resolution: { value: 0.001, unit: "V" },
    maxError: { value: 0.006, unit: "V" },
    calibrated: "2025-12-09",
    due: "2026-12-09",
  },
  {
    id: "meter-ohms",
    name: "Hand multimeter, 600 ohm range",
    kind: "multimeter",
    resolution: { value: 0.1, unit: "ohm" },
    maxError: { value: 0.3, unit: "ohm" },
    calibrated: "2025-12-09",
    due: "2026-12-09",
  },
  {
    id: "thermocouple",
    name: "Type K thermocouple, thin film",
    kind: "thermocouple",
    resolution: { value: 0.1, unit: "degC" },
    maxError: { value: 1.1, unit: "degC" },
    calibrated: "2026-05-11",
    due: "2027-05-11",
  },
  {
    id: "infrared",
    name: "Infrared thermometer",
    kind: "infrared",
    resolution: { value: 0.1, unit: "degC" },
    maxError: { value: 2, unit: "degC" },
    emissivity: 0.95,
    calibrated: "2024-04-10",
    due: "2025-04-10",
  },
  {
    id: "stopwatch",
    name: "Stopwatch, by hand",
    kind: "stopwatch",
    resolution: { value: 0.1, unit: "s" },
    maxError: { value: 0.3, unit: "s" },
  },
  {
    id: "torque-driver",
    name: "Torque driver 20 cN.m with peak hold",
    kind: "torque-driver",
    resolution: { value: 0.1, unit: "cN.m" },
    maxError: { value: 0.3, unit: "cN.m" },
    calibrated: "2026-01-20",
    due: "2027-01-20",
  },
  {
    id: "supply",
    name: "Bench supply, current read-out",
    kind: "supply",
    resolution: { value: 1, unit: "mA" },
    maxError: { value: 5, unit: "mA" },
  },
  {
    id: "photo",
    name: "Outline traced on a scaled photograph",
    kind: "photo",
    resolution: { value: 1, unit: "mm2" },
    maxError: { value: 12, unit: "mm2" },
  },
];

const CONSUMABLES: readonly Consumable[] = [
  { id: "tape-strip", name: "Double-sided strip, 0.05 mm", price: eur("3.20"), pack: pieces(40), shelfDays: 730 },
  { id: "rim-back", name: "Cut tape for the back rim", price: eur("2.90"), pack: pieces(1), shelfDays: 365 },
  { id: "rim-front", name: "Cut tape for the display rim", price: eur("3.40"), pack: pieces(1), shelfDays: 365 },
  { id: "cell-tabs", name: "Set of pull tabs for the battery", price: eur("2.40"), pack: pieces(1), shelfDays: 540 },
  { id: "lens-ring", name: "Cut tape for the lens window", price: eur("1.10"), pack: pieces(2), shelfDays: 365 },
  { id: "gel", name: "Thermal gel", price: eur("9.80"), pack: { value: 10, unit: "g" }, shelfDays: 365 },
  { id: "foam-seal", name: "Foam seals, assorted", price: eur("4.60"), pack: pieces(20), shelfDays: 900 },
  { id: "ground-foil", name: "Conductive foil with eyelet", price: eur("1.60"), pack: pieces(5), shelfDays: 730 },
  { id: "solder", name: "Solder wire, tin-silver-copper", price: eur("14.00"), pack: { value: 50, unit: "g" } },
  { id: "wipes", name: "Lint-free wipes", price: eur("5.50"), pack: pieces(100) },
  { id: "debond-tape", name: "Electrically debondable tape", price: eur("6.80"), pack: pieces(2), shelfDays: 270 },
  { id: "hinge-grease", name: "Damping grease", price: eur("8.20"), pack: { value: 5, unit: "g" }, shelfDays: 1095 },
];

export function consumables(numbers: Readonly<Record<string, string>>): Consumable[] {
  return Object.entries(numbers).map(([id, number]) => {
    const found = CONSUMABLES.find((consumable) => consumable.id === id);
    if (found === undefined) throw new Error(`no consumable ${id} in the kit`);
    return number === "" ? found : { ...found, number };
  });
}
