/** What the server answers about figures: as `unseam figures --json` writes it. Keys that are not there are unknown. */

export interface MassBudget {
  readonly device: number | null;
  readonly sum: number | null;
  readonly residual: number | null;
  /** Standard uncertainty of the residual, g. */
  readonly u: number | null;
  readonly closes: boolean | null;
  readonly missing: readonly string[];
}

export interface ThicknessBudget {
  readonly name: string;
  readonly body: number | null;
  readonly sum: number | null;
  readonly residual: number | null;
  readonly u: number | null;
  readonly closes: boolean | null;
  readonly missing?: readonly string[];
}

export interface ReadingFigure {
  readonly id?: string;
  readonly of: readonly string[];
  readonly quantity: string;
  readonly value: number;
  readonly unit: string;
  readonly u: number | null;
  readonly dof?: number | null;
  readonly k?: number | null;
  readonly U: number | null;
  readonly text: string;
  readonly warnings?: readonly string[];
}

export interface ClaimVerdict {
  readonly id: string;
  readonly verdict: "supported" | "not-supported" | "cannot-tell";
  readonly probability: number | null;
  readonly wording: string;
  readonly restsOn: readonly string[] | string;
}

export interface FiguresAnswer {
  readonly mass: MassBudget;
  readonly thickness: readonly ThicknessBudget[];
  readonly battery: {
    readonly energyWh: number | null;
    readonly whPerKg: number | null;
    readonly whPerL: number | null;
  } | null;
  readonly readings: readonly ReadingFigure[];
  readonly claims: readonly ClaimVerdict[];
  readonly warnings?: readonly string[];
}
