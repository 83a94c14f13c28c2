/**
 * Thermal properties of what phones and tablets are made of, each figure with where it comes from.
 *
 * `read`: seen in the source named. `recalled`: a usual value from memory, nobody looked it up; it says so wherever it
 * is shown. `range`: what a bench may meet instead. Constant values: between 20 and 100 degC they change by less than
 * the pad contact is known.
 */
import { nearest } from "../record/nearest.ts";

export type Mark = "read" | "recalled";

export interface Property {
  readonly value: number;
  readonly range?: readonly [number, number];
  readonly mark: Mark;
  readonly source: string;
}

export interface MaterialEntry {
  readonly id: string;
  readonly name: string;
  /** W/(m.K) through the layer. */
  readonly k: Property;
  /** W/(m.K) along the layer, where it differs. */
  readonly kInPlane?: Property;
  /** kg/m3 */
  readonly rho: Property;
  /** J/(kg.K) */
  readonly cp: Property;
}

/** What conduction needs of a material: k W/(m.K) through the layer, rho kg/m3, cp J/(kg.K). */
export interface Material {
  readonly k: number;
  readonly rho: number;
  readonly cp: number;
}

const read = (value: number, source: string, range?: readonly [number, number]): Property =>
  range === undefined ? { value, mark: "read", source } : { value, range, mark: "read", source };
const recalled = (value: number, source = "usual value", range?: readonly [number, number]): Property =>
  range === undefined ? { value, mark: "recalled", source } : { value, range, mark: "recalled", source };

const EN572 = "data page after EN 572 (soda-lime float glass)";
const TUBE316 = "stainless tube data sheet for 316, 20 to 100 degC";
const CRAWFORD = "Crawford, Plastics Engineering, Table 1.8";
const POUCH = "anisotropic characterisation of a 20 Ah LFP pouch cell (arXiv abstract: 541 J/K, 489 g, 224 mL)";
const SARVAR = "Sarvar, Poole, Witting, J. Electron. Mater. 19 (1990) 1345-1350";

export const MATERIALS: readonly MaterialEntry[] = [
  {
    id: "glass_aluminosilicate",
    name: "Alkali-aluminosilicate cover glass (ion-exchanged)",
    k: recalled(
      1.1,
      "working value; CRC Handbook p. 12-205 gives oxide glasses 0.7 to 1.25 at 0 to 100 degC",
      [0.9, 1.3],
    ),
    rho: recalled(2450, "usual 2400 to 2480", [2390, 2480]),
    cp: recalled(800, "usual value", [750, 850]),
  },
  {
    id: "glass_soda_lime",
    name: "Soda-lime float glass",
    k: read(1, EN572, [0.9, 1.3]),
    rho: read(2500, EN572),
    cp: read(720, EN572, [720, 800]),
  },
  {
    id: "glass_ceramic",
    name: "Lithium-aluminosilicate glass-ceramic",
    k: recalled(1.6, "usual for transparent glass-ceramic", [1.4, 1.7]),
    rho: recalled(2530),
    cp: recalled(800),
  },
  {
    id: "ti64",
    name: "Titanium Ti-6Al-4V (grade 5)",
    k: read(6.8, "MakeItFrom, grade 5; other sheets 6.6 and 7.2", [6.6, 7.2]),
    rho: read(4420, "titanium supplier's data sheet, 4.42 g/cm3", [4400, 4430]),
    cp: read(560, "MakeItFrom, grade 5; another sheet 586", [526, 586]),
  },
  {
    id: "ti_cp2",
    name: "Commercially pure titanium grade 2",
    k: recalled(16.4, "usual 16 to 22", [16, 22]),
    rho: recalled(4510),
    cp: recalled(523),
  },
  {
    id: "al6013",
    name: "Aluminium 6013",
    k: read(164, "MatWeb, 6013-T651; temper T4 150", [150, 164]),
    rho: read(2710, "MatWeb, 6013-T651"),
    cp: read(900, "MakeItFrom, 6013"),
  },
  {
    id: "al7003",
    name: "Aluminium 7003",
    k: read(150, "MakeItFrom, 7003; an extruder's basic data for T5 agree"),
    rho: read(2790, "an extruder's basic data; MakeItFrom 2900"),
    cp: read(870, "MakeItFrom, 7003"),
  },
  {
    id: "al6061",
    name: "Aluminium 6061-T6",
    k: recalled(167, "usual value; an extruder's basic data give 170", [155, 180]),
    rho: read(2700, "an extruder's basic data"),
    cp: recalled(896),
  },
  {
    id: "ss316",
    name: "Stainless steel 316/316L",
    k: read(14.6, TUBE316, [13.4, 16.3]),
    rho: read(8027, TUBE316),
    cp: read(450, "same sheet at 20 degC; 485 at 93 degC", [450, 500]),
  },
  {
    id: "ss304",
    name: "Stainless steel 304",
    k: read(16.2, "stainless tube data sheet for 304L; another sheet 16.3 at 100 degC", [14.9, 16.3]),
    rho: read(8000, "stainless tube data sheet for 304L"),
    cp: read(500, "stainless tube data sheet for 304L"),
  },
  {
    id: "pc",
    name: "Polycarbonate",
    k: read(0.2, `${CRAWFORD}; a data sheet gives 0.19 to 0.22 at 23 degC`, [0.19, 0.22]),
    rho: read(1200, `data sheet; ${CRAWFORD} gives 1150`, [1150, 1200]),
    cp: read(1200, CRAWFORD),
  },
  {
    id: "pet",
    name: "PET film",
    k: read(0.2, CRAWFORD, [0.15, 0.24]),
    rho: read(1360, CRAWFORD),
    cp: read(1000, `${CRAWFORD}; crystalline film 1170 from memory`, [1000, 1170]),
  },
  {
    id: "psa_foam",
    name: "Acrylic foam double-sided tape",
    k: recalled(0.15, "no published measurement found; usual 0.09 to 0.20: enter or fit your own", [0.09, 0.2]),
    rho: read(800, "data sheet of a 0.4 mm acrylic foam tape", [600, 1000]),
    cp: recalled(1800, "polyacrylate 1500 to 2000", [1500, 2000]),
  },
  {
    id: "psa_solid",
    name: "Acrylic transfer tape (no foam)",
    k: recalled(0.18, "usual value: enter or fit your own", [0.15, 0.2]),
    rho: recalled(1050),
    cp: recalled(1800),
  },
  {
    id: "graphite_sheet",
    name: "Synthetic graphite heat spreader",
    k: read(5, "published measurement of a graphite sheet, about 5 through", [3, 26]),
    kInPlane: read(1000, "same measurement, about 1000 in the plane", [700, 1950]),
    rho: recalled(2000, "0.85 to 2.2 g/cm3 by thickness", [850, 2200]),
    cp: recalled(710, "graphite at 25 degC; some sheets 850", [710, 850]),
  },
  {
    id: "li_pouch",
    name: "Lithium-ion pouch cell",
    k: read(0.52, `${POUCH}; 0.47 at 50 % charge in Droese and Kowal, Appl. Sci. 13 (2023) 2870`, [0.4, 1.5]),
    kInPlane: read(26.6, POUCH, [20, 32]),
    rho: read(2183, POUCH, [2100, 2600]),
    cp: read(1106, `${POUCH}; about 6 % lower at 50 % charge`, [900, 1250]),
  },
  {
    id: "fr4",
    name: "FR-4 laminate without copper",
    k: read(0.343, SARVAR),
    kInPlane: read(1.059, SARVAR),
    rho: recalled(1850),
    cp: recalled(1150, "usual value", [1100, 1300]),
  },
  {
    id: "cu",
    name: "Copper",
    k: read(401, "Incropera/DeWitt, Table A.1 at 300 K, as used in Ex. 5.10"),
    rho: recalled(8933, "Incropera/DeWitt, Table A.1"),
    cp: recalled(385, "Incropera/DeWitt, Table A.1"),
  },
  {
    id: "si",
    name: "Silicon",
    k: recalled(148, "Incropera/DeWitt, Table A.1 at 300 K; about 119 at 400 K", [119, 148]),
    rho: recalled(2330),
    cp: recalled(712),
  },
  {
    id: "sac305",
    name: "Solder SAC305",
    k: read(58, "solder maker's table of alloys"),
    rho: read(7380, "solder maker's SAC305 data sheet (7.38 g/cm3)"),
    cp: read(220, "MakeItFrom, tin-silver-copper sister alloy; SAC305 about 230", [220, 240]),
  },
  {
    id: "air",
    name: "Air at 50 degC, 1 atm",
    k: recalled(0.0276, "usual value; Cengel Ex. 3.3 uses 0.026 near room temperature", [0.0255, 0.03]),
    rho: recalled(1.09),
    cp: recalled(1007),
  },
  {
    id: "mould",
    name: "Epoxy mould compound",
    k: recalled(0.8, "usual value", [0.6, 1]),
    rho: recalled(1900),
    cp: recalled(900),
  },
  { id: "epoxy", name: "Epoxy, unfilled", k: read(0.23, CRAWFORD), rho: read(1200, CRAWFORD), cp: read(800, CRAWFORD) },
  {
    id: "ipa",
    name: "Isopropyl alcohol, liquid",
    k: recalled(0.135),
    rho: recalled(786, "specific gravity 0.79 in the NIOSH Pocket Guide"),
    cp: recalled(2600),
  },
  {
    id: "skin",
    name: "Skin (for contact temperature)",
    k: recalled(0.37),
    rho: recalled(1000),
    cp: recalled(3770),
  },
];

const BY_ID = new Map(MATERIALS.map((entry) => [entry.id, entry]));

/** The table's entry of that id, or undefined. */
export function materialEntry(id: string): MaterialEntry | undefined {
  return BY_ID.get(id);
}

/** A record's material in words: the table's name where it is an id of the table, otherwise as it was written. */
export function materialName(material: string): string {
  return BY_ID.get(material)?.name ?? material;
}

/** The values of an entry, through the layer. */
export function materialOf(entry: MaterialEntry): Material {
  return { k: entry.k.value, rho: entry.rho.value, cp: entry.cp.value };
}

/** Up to three ids that may have been meant: near in spelling, or sharing a word with the id or the name. */
export function nearestMaterials(word: string): readonly string[] {
  const found: string[] = [];
  const bySpelling = nearest(
    word,
    MATERIALS.map((entry) => entry.id),
  );
  if (bySpelling !== undefined) found.push(bySpelling);
  const words = word
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((part) => part.length >= 3);
  for (const entry of MATERIALS) {
    const text = `${entry.id} ${entry.name}`.toLowerCase();
    if (words.some((part) => text.includes(part)) && !found.includes(entry.id)) found.push(entry.id);
  }
  return found.slice(0, 3);
}

/**
 * The entry a free description of a material means ("aluminium", "glass", "titanium grade 5"), or undefined. For
 * records, where a material is a word of the trade and not an id.
 */
export function materialFromWords(words: string): MaterialEntry | undefined {
  const text = words.toLowerCase();
  const exact = MATERIALS.find((entry) => entry.id === text || entry.name.toLowerCase() === text);
  if (exact !== undefined) return exact;
  const rule = WORDS.find(([pattern]) => pattern.test(text));
  return rule === undefined ? undefined : BY_ID.get(rule[1]);
}

// Order matters: the more specific word stands first.
const WORDS: readonly (readonly [RegExp, string])[] = [
  [/glass[- ]ceramic|ceramic glass/, "glass_ceramic"],
  [/soda[- ]lime|float glass/, "glass_soda_lime"],
  [/\bglass/, "glass_aluminosilicate"],
  [/titanium.*(pure|cp|grade 2)|(pure|cp).*titanium/, "ti_cp2"],
  [/titanium|\bti\b|ti-?6al/, "ti64"],
  [/7003|7000[- ]series/, "al7003"],
  [/6061/, "al6061"],
  [/alumini?um|\bal\b|magnesium/, "al6013"],
  [/316/, "ss316"],
  [/steel|stainless|304/, "ss304"],
  [/copper|\bcu\b/, "cu"],
  [/graphite/, "graphite_sheet"],
  [/li-?ion|lithium|pouch|battery|\bcell\b/, "li_pouch"],
  [/fr-?4|laminate|circuit board|\bpcb\b/, "fr4"],
  [/foam/, "psa_foam"],
  [/adhesive|tape|psa|bond/, "psa_solid"],
  [/polycarbonate|\bpc\b|\babs\b|plastic|polymer|nylon/, "pc"],
  [/\bpet\b|polyester|polyimide|film/, "pet"],
  [/mould|mold/, "mould"],
  [/epoxy/, "epoxy"],
  [/silicon\b/, "si"],
  [/solder/, "sac305"],
  [/\bair\b|gap/, "air"],
];
