/** Bands and ceilings that a plan works with, each with where it comes from; all can be changed. */
export interface Setting {
  readonly value: number;
  readonly unit: "degC" | "s" | "%" | "W/(m2.K)";
  readonly means: string;
  readonly source: string;
}

const OWN = "common practice, no source";

export const SETTINGS = {
  soft: { value: 65, unit: "degC", means: "a pressure-sensitive bond can be worked", source: `${OWN}: 60 to 80` },
  countedAbove: {
    value: 45,
    unit: "degC",
    means: "cell face from which minutes are counted",
    source:
      "top of the usual charging range (cell data sheets 0 to 45; charger registers of 45 to 60 reduce the voltage)",
  },
  counted: { value: 900, unit: "s", means: "counted time in all, over all heatings", source: OWN },
  plan: { value: 55, unit: "degC", means: "cell face that a plan keeps below", source: OWN },
  stop: {
    value: 60,
    unit: "degC",
    means: "cell face at which work is broken off",
    source:
      "top of the usual discharge and storage range in cell data sheets; electrolytes begin to decompose from there (Energies 15 (2022) 2628)",
  },
  panel: { value: 80, unit: "degC", means: "display panel", source: `${OWN}; polarisers of liquid-crystal panels 70` },
  charge: {
    value: 30,
    unit: "%",
    means: "state of charge before handling, at most, read before power-off",
    source: "no standard sets one; the figure is that of air transport (IATA Dangerous Goods Regulations)",
  },
  padContact: { value: 300, unit: "W/(m2.K)", means: "dry, firm pad on glass", source: `${OWN}: 150 to 600, fit it` },
} as const satisfies Readonly<Record<string, Setting>>;

/**
 * Surface temperature at which skin is seriously burnt, degC by contact time and material. Source: burn-institute data in a
 * product-safety list (glass taken as metal + 10, plastic as metal + 25). Thresholds of harm, not limits of comfort.
 */
export const BURN = [
  { seconds: 300, metal: 49, glass: 59, plastic: 74 },
  { seconds: 90, metal: 52, glass: 62, plastic: 77 },
  { seconds: 30, metal: 55, glass: 65, plastic: 80 },
  { seconds: 10, metal: 57, glass: 67, plastic: 82 },
  { seconds: 5, metal: 60, glass: 70, plastic: 85 },
  { seconds: 3, metal: 63, glass: 73, plastic: 88 },
  { seconds: 1.5, metal: 66, glass: 76, plastic: 91 },
  { seconds: 1, metal: 68, glass: 78, plastic: 93 },
] as const;

/** Seconds of contact after which a surface of that temperature burns; null: cooler than all that is tabulated. */
export function burnTime(degC: number, material: "metal" | "glass" | "plastic"): number | null {
  let seconds: number | null = null;
  for (const row of BURN) if (degC >= row[material]) seconds = row.seconds;
  return seconds;
}

/** Isopropyl alcohol. Source: NIOSH Pocket Guide to Chemical Hazards, 0359 (53 F, 181 F, 2.0 % by volume, REL 400 ppm). */
export const IPA = { flash: 11.7, boils: 82.8, lowerExplosive: 2.0, exposure: 400 } as const;

export interface Caution {
  readonly about: "skin" | "solvent" | "cell" | "glass" | "rules";
  readonly text: string;
}

/** What belongs beside the figures of a heating whose hottest surface is `surface` degC. */
export function cautions(surface: number): readonly Caution[] {
  const contact = (["metal", "glass"] as const).map((material) => {
    const seconds = burnTime(surface, material);
    return seconds === null
      ? `${material}: over 5 min`
      : `${material}: ${seconds >= 60 ? `${seconds / 60} min` : `${seconds} s`}`;
  });
  return [
    { about: "rules", text: "Local rules and qualified people come first; this is a planning aid." },
    {
      about: "skin",
      text: `At ${Math.round(surface)} degC bare skin is seriously burnt within (${contact.join(", ")}). Gloves or a holder.`,
    },
    {
      about: "solvent",
      text: `Solvent off and away while heating: isopropyl alcohol flashes at ${IPA.flash} degC, below any room. Wet only with the heater off, the part below 50 degC and moving air.`,
    },
    {
      about: "cell",
      text: `Charge at most ${SETTINGS.charge.value} %, read before power-off. A cell that swells, hisses, smells or heats up: heater off, do not touch or pry, get people away, ventilate, follow your site's rules.`,
    },
    { about: "glass", text: "Eye protection: warm glass under a blade can break." },
  ];
}
