import type { Laboratory } from "./laboratory.ts";
import { withRepeats } from "./laboratory.ts";
import type { Physicist, Plan } from "./physicist.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

/** The ways of measuring in which an evaluation must hold. */
export const REGIMES = {
  "five-repeats": standardLaboratory,
  "three-repeats": () => withRepeats(standardLaboratory(), 3),
  "ten-repeats": () => withRepeats(standardLaboratory(), 10),
  "no-monitor": () => withoutMonitor(standardLaboratory()),
  "no-monitor-three-repeats": () => withRepeats(withoutMonitor(standardLaboratory()), 3),
  "weak-contrast": () => weakContrast(standardLaboratory()),
  "weak-contrast-three-repeats": () => withRepeats(weakContrast(standardLaboratory()), 3),
  "one-reference": () => planned(standardLaboratory(), { outputFactors: { referenceEvery: 0 } }),
  "many-references": () => planned(standardLaboratory(), { outputFactors: { referenceEvery: 1 } }),
  "random-walk": () => walking(standardLaboratory()),
  "random-walk-three-repeats": () => withRepeats(walking(standardLaboratory()), 3),
  "without-times": () => written(standardLaboratory(), { time: false }),
  "temperature-not-read": () => written(standardLaboratory(), { temperature: false }),
  "known-doses": () => knownDoses(standardLaboratory()),
  "flattening-free": () => flatteningFree(standardLaboratory()),
  "additive-noise": () => noisyReader(standardLaboratory()),
} as const satisfies Record<string, () => Laboratory>;

/** Name of a regime. */
export type RegimeName = keyof typeof REGIMES;

function withPhysicist(laboratory: Laboratory, change: Partial<Physicist>): Laboratory {
  return { ...laboratory, physicist: { ...laboratory.physicist, ...change } };
}

function planned(
  laboratory: Laboratory,
  {
    outputFactors,
    ...change
  }: Partial<Omit<Plan, "outputFactors">> & { outputFactors?: Partial<Plan["outputFactors"]> },
): Laboratory {
  const { plan } = laboratory.physicist;
  return withPhysicist(laboratory, {
    plan: { ...plan, ...change, outputFactors: { ...plan.outputFactors, ...outputFactors } },
  });
}

function written(laboratory: Laboratory, change: Partial<Physicist["writes"]>): Laboratory {
  return withPhysicist(laboratory, { writes: { ...laboratory.physicist.writes, ...change } });
}

/** Nothing but the monitor units follows the output. */
function withoutMonitor(laboratory: Laboratory): Laboratory {
  return { ...laboratory, monitor: undefined };
}

/** From least to most fibre the second channel grows by a factor of 1.8 only. */
function weakContrast(laboratory: Laboratory): Laboratory {
  const lengths: Readonly<Record<string, number>> = { long: 120, half: 85, longest: 200 };
  const separation = laboratory.physicist.plan.separation.map((own) => ({
    ...own,
    fibre_mm: lengths[own.name] ?? own.fibre_mm,
  }));
  return planned(laboratory, { separation });
}

/** The output walks; while the output factors are measured, the reference is all that follows it. */
function walking(laboratory: Laboratory): Laboratory {
  const { beam } = laboratory;
  const lone = withPhysicist(laboratory, { readsMonitorIn: ["separation", "calibration"] });
  return planned({ ...lone, beam: { ...beam, walk_perRootHour: 0.0015 } }, { outputFactors: { referenceEvery: 1 } });
}

/** A chamber reads along in the separation; three lengths of fibre fix ratio and coefficient in one fit. */
function knownDoses(laboratory: Laboratory): Laboratory {
  const separation = laboratory.physicist.plan.separation.map((own) => ({
    ...own,
    doseKnown: true,
    role: own.name === "half" ? ("fit" as const) : own.role,
  }));
  return planned(laboratory, { separation });
}

/** A beam without flattening filter: a cone for a profile. */
function flatteningFree(laboratory: Laboratory): Laboratory {
  const beam = { ...laboratory.beam, id: "VB-6FFF", flatteningFilter: false, peakRadius_mm: 130 };
  return { ...laboratory, beam };
}

/** A reader whose constant noise outweighs all else in the smallest fields. */
function noisyReader(laboratory: Laboratory): Laboratory {
  const { reader } = laboratory;
  return { ...laboratory, reader: { ...reader, noise: { ...reader.noise, constant_nC: 0.004 } } };
}
