import type { Descriptor, SeriesKind } from "./descriptor.ts";

/** A value with its standard uncertainty. */
export interface Uncertain {
  readonly value: number;
  readonly u: number;
}

/** Everything that the evaluation assumes where a campaign may state it; units in the names, uncertainties standard. */
export interface Assumptions {
  /** How well the conditions of one dose group got the same dose. */
  readonly doseEquality_u_percent: number;
  /** The detector's centre along each lateral axis. */
  readonly positioning_u_mm: number;
  readonly fieldWidth_u_mm: number;
  /** Gaussian blur of a field's edge where a condition states none. */
  readonly penumbraSigma_mm: Uncertain;
  readonly referenceTemperature_C: number;
  /** The room's spread about the reference temperature where no temperature was taken. */
  readonly temperature_u_C: number;
  readonly outputCorrection: Uncertain;
  /** The link from an intermediate reference field to the machine-specific one. */
  readonly intermediateLink: Uncertain;
  /** Relative change of the scintillation per kelvin. */
  readonly temperatureCoefficient_perK: Uncertain;
  /** Criterion: largest residual of a verification. */
  readonly separationResidual_percent: number;
  /** Criterion: days after which a characterisation is stale. */
  readonly characterisationAge_days: number;
  /** Criterion: dose to the fibre after which a characterisation is stale. */
  readonly characterisationDose_Gy: number;
}

/** A default, the key that overrides it, and where it comes from. */
interface Default<T> {
  readonly key: string;
  readonly value: T;
  readonly source: string;
}

const proposed = "proposed default";
const common = "common practice";

/** The default of every assumption. */
export const ASSUMPTION_DEFAULTS: { readonly [K in keyof Assumptions]: Default<Assumptions[K]> } = {
  doseEquality_u_percent: { key: "alcedo.assumptions.doseEquality_u_percent", value: 0.1, source: proposed },
  positioning_u_mm: { key: "alcedo.assumptions.positioning_u_mm", value: 0.1, source: common },
  fieldWidth_u_mm: { key: "alcedo.assumptions.fieldWidth_u_mm", value: 0.1, source: proposed },
  penumbraSigma_mm: { key: "alcedo.assumptions.penumbraSigma_mm", value: { value: 1.5, u: 0.29 }, source: proposed },
  referenceTemperature_C: { key: "alcedo.assumptions.referenceTemperature_C", value: 22, source: common },
  temperature_u_C: { key: "alcedo.assumptions.temperature_u_C", value: 1, source: proposed },
  outputCorrection: {
    key: "alcedo.assumptions.outputCorrection",
    value: { value: 1, u: 0.005 },
    source: "water-equivalent scintillators, IAEA TRS-483",
  },
  intermediateLink: {
    key: "alcedo.assumptions.intermediateLink",
    value: { value: 1, u: 0 },
    source: "the reference field is the machine-specific one",
  },
  temperatureCoefficient_perK: {
    key: "alcedo.detector.temperatureCoefficient_perK",
    value: { value: -0.001, u: 0.0003 },
    source: "blue organic scintillators, common practice",
  },
  separationResidual_percent: { key: "alcedo.criteria.separationResidual_percent", value: 0.5, source: common },
  characterisationAge_days: { key: "alcedo.criteria.characterisationAge_days", value: 365, source: common },
  characterisationDose_Gy: { key: "alcedo.criteria.characterisationDose_Gy", value: 1000, source: proposed },
};

/** Assumptions in force, and which of them the campaign did not state. */
export interface ResolvedAssumptions {
  readonly values: Assumptions;
  /** The keys left at their default, such as `alcedo.assumptions.positioning_u_mm`. */
  readonly defaulted: readonly string[];
  /** The keys that do not count, stated or not, because a table stands in their place. */
  readonly replaced: readonly string[];
}

/** Fills in the defaults beside the descriptor, which stays as typed, and names those that were needed. */
export function resolveAssumptions(descriptor: Descriptor): ResolvedAssumptions {
  const { assumptions, criteria, detector } = descriptor.alcedo;
  const stated: Partial<Assumptions> = { ...assumptions, ...criteria };
  const coefficient = detector.temperatureCoefficient_perK;
  const all: Partial<Assumptions> = coefficient ? { ...stated, temperatureCoefficient_perK: coefficient } : stated;
  const names = Object.keys(ASSUMPTION_DEFAULTS) as (keyof Assumptions)[];
  const has = (series: SeriesKind) => descriptor.resources.some(({ alcedo }) => alcedo.series === series);
  const replaced = has("output-corrections") ? [ASSUMPTION_DEFAULTS.outputCorrection.key] : [];
  // what only a characterisation is judged by is nobody's assumption without one
  const stands = (name: keyof Assumptions) =>
    (!name.startsWith("characterisation") || has("characterisation")) &&
    !replaced.includes(ASSUMPTION_DEFAULTS[name].key);
  const defaults = Object.fromEntries(names.map((name) => [name, ASSUMPTION_DEFAULTS[name].value]));
  return {
    values: { ...(defaults as unknown as Assumptions), ...all },
    defaulted: names
      .filter((name) => all[name] === undefined && stands(name))
      .map((name) => ASSUMPTION_DEFAULTS[name].key),
    replaced,
  };
}
