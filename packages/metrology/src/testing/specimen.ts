import { rootOf } from "../implicit-root.ts";
import { mean } from "../mapped-mean.ts";
import { type Column, Model } from "../model.ts";
import { Program } from "../program.ts";
import { fitStructure } from "../structural-fit.ts";
import { sum } from "../tape.ts";
import { ONE, Unit } from "../unit.ts";

/** What the specimen is made from; every number is invented. */
export interface SpecimenData {
  /** Four readings under each of three conditions: two signals in nC, and how long each reading took in s. */
  readonly signal_1: readonly number[];
  readonly signal_2: readonly number[];
  readonly duration: readonly number[];
  /** 1 for a reading that counts. */
  readonly included: readonly number[];
  /** Names of the readings. */
  readonly readings: readonly string[];
  /** Relative variance of a signal, for the weights of the fit: estimated from the readings, then held fixed. */
  readonly weight: number;
  readonly temperatureCoefficient: number;
}

/** Reading r6 is left out, and its second channel holds no number. */
export const SPECIMEN: SpecimenData = {
  signal_1: [6.51, 6.48, 6.52, 6.5, 11.06, 9.9, 11.04, 11.07, 17.02, 16.98, 17.01, 16.99],
  signal_2: [3.51, 3.5, 3.52, 3.49, 9.52, Number.NaN, 9.49, 9.51, 17.52, 17.49, 17.53, 17.48],
  duration: [30, 30.1, 29.9, 30, 30, 12, 30.2, 30, 30, 29.8, 30, 30.1],
  included: [1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1],
  readings: ["r1", "r2", "r3", "r4", "r5", "r6", "r7", "r8", "r9", "r10", "r11", "r12"],
  weight: 4e-6,
  temperatureCoefficient: -9e-4,
};

const NC = Unit.parse("nC");
const SECOND = Unit.parse("s");
const KELVIN = Unit.parse("K");

/**
 * An invented model in which every operation and every kernel are at work, for the tests that look at a whole graph:
 * means of readings less a background, correlated repeats that share a group, a fit through the conditions, a ratio,
 * and a factor that uses every function. Means, and what goes into kernels, have names in part only.
 */
export function specimen(changes: Partial<SpecimenData> = {}) {
  const data = { ...SPECIMEN, ...changes };
  const model = new Model();
  const column = (name: string, symbol: string, unit: Unit, values: readonly number[]): Column => ({
    series: "separation",
    name,
    symbol,
    unit,
    readings: data.readings,
    values: Float64Array.from(values),
  });
  const numbers = [
    column("signal_1", "M_1", NC, data.signal_1),
    column("signal_2", "M_2", NC, data.signal_2),
    column("duration_s", "t", SECOND, data.duration),
  ].map((one) => model.column(one));
  const included = model.column(column("included", "included", ONE, data.included));

  const background = model.estimates({
    key: "background",
    type: "A",
    dof: 8,
    covariance: [4e-8, 1e-8, 1e-8, 9e-8],
    elements: [1, 2].map((c) => ({
      name: `${c}`,
      symbol: `b_${c}`,
      label: `background ${c}`,
      unit: NC.over(SECOND),
      value: c * 1e-3,
    })),
  });
  const alpha = model.estimate({
    key: "temperature-coefficient",
    symbol: "α",
    label: "temperature coefficient",
    type: "B",
    unit: ONE.over(KELVIN),
    value: data.temperatureCoefficient,
    u: 2e-4,
  });
  const warmth = model.estimate({
    key: "temperature",
    symbol: "ΔT",
    label: "temperature difference",
    type: "B",
    unit: KELVIN,
    value: 1.5,
    u: 0.3,
    distribution: "rectangular",
  });
  const program = new Program(
    [
      { symbol: "M_1", unit: NC },
      { symbol: "M_2", unit: NC },
      { symbol: "t", unit: SECOND },
    ],
    [
      { symbol: "b_1", unit: NC.over(SECOND) },
      { symbol: "b_2", unit: NC.over(SECOND) },
      { symbol: "y", unit: ONE },
    ],
    ([m1, m2, t], [b1, b2, y]) => {
      const gain = y!.plus(1).named("gain", "g", "gain");
      return [m1!.minus(b1!.times(t!)).over(gain), m2!.minus(b2!.times(t!)).over(gain)];
    },
  );
  const conditions = [0, 1, 2].map((i) => {
    const rows = [0, 1, 2, 3].map((r) => 4 * i + r);
    // α·ΔT has no name: the mean's formula has to write it out
    const { means } = mean(model, { program, columns: numbers, rows, included }, [...background, alpha.times(warmth)]);
    const scatter = model.estimates({
      key: `separation/c${i}/repeats`,
      type: "A",
      dof: 8,
      group: "separation/repeats",
      covariance: [1e-4, 6e-5, 6e-5, 2e-4],
      elements: [1, 2].map((c) => ({
        name: `${c}`,
        symbol: `δ_${c}`,
        label: `scatter ${c}`,
        unit: NC,
        value: 0,
      })),
    });
    const signals = means.map((one, c) =>
      one.plus(scatter[c]!).named(`signal.c${i}.${c + 1}`, `q_${c + 1}`, `signal ${c + 1} under c${i}`),
    );
    const level = model.estimate({
      key: `level/c${i}`,
      symbol: "e",
      label: `level of c${i}`,
      type: "B",
      unit: ONE,
      value: 1 + 0.002 * i,
      u: 0.002,
    });
    const covariance = [0, 1, 2].map((k) =>
      model.constant({
        key: `weight/c${i}/${k}`,
        symbol: "V",
        label: "variance for the weight",
        unit: NC.power(2),
        value: k === 1 ? 0 : data.weight * (2 + i + k),
        derivedFrom: "separation",
      }),
    );
    return { signals, level, covariance };
  });
  const { parameters, state } = fitStructure(
    model,
    conditions.map(({ signals, level, covariance }) => ({
      coordinates: signals,
      level,
      covariance,
      levelSpread: 0.002,
      intercept: 0,
    })),
    ["a", "I"],
    [ONE, NC],
  );
  const ratio = parameters[0]!.negative().named("stem-ratio", "ρ", "stem ratio");
  const light = conditions.map(({ signals: [q1, q2] }, i) =>
    q1!.minus(ratio.times(q2!)).named(`light.c${i}`, `S_${i}`, `light under c${i}`),
  );
  const relative = light[2]!.over(light[0]!).named("relative-light", "r", "light relative to c0");
  const factor = sum([
    relative.exponential().logarithm(),
    relative.sine().times(relative.cosine()),
    relative.errorFunction().times(-0.5),
    relative.squareRoot().power(3),
    relative.blurredDisc(relative.times(1.5)),
    relative.atMost(relative.times(2)).minus(relative.times(3).atMost(relative)),
    warmth.times(alpha).over(7),
  ]).named("factor", "k", "factor");
  // the y for which y³ + r·y = 3·k·r, as a kernel: x₁ and x₂ have names, or are written out
  const cubic = new Program(
    [],
    ["r", "k", "y"].map((symbol) => ({ symbol, unit: ONE })),
    (_, [r, k, y]) => {
      const right = r!.times(k!).times(3).named("right", "3rk", "right side");
      return [y!.power(3).plus(r!.times(y!)).minus(right)];
    },
  );
  const root = rootOf(model, { program: cubic, low: 0, high: 5 }, [relative, factor.times(1.5)]);
  const result = parameters[1]!.times(factor.plus(root)).named("result", "X", "result");
  return { model, ratio, light, relative, factor, result, fit: state };
}
