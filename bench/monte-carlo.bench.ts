import { spawnSync } from "node:child_process";
import { Model, monteCarlo, ONE, propagate, type Scalar, TRIALS_PER_BLOCK, Unit } from "@alcedo-dosimetry/metrology";
import { interleaved } from "./interleaved.ts";
import type { Row } from "./row.ts";

/** A million, rounded up to whole blocks: every way makes as many. */
const TRIALS = Math.ceil(1e6 / TRIALS_PER_BLOCK) * TRIALS_PER_BLOCK;

/** The workload's line. */
export const name = `Monte Carlo of one output factor, 14 inputs (normal, t, triangular, rectangular, correlated), ${TRIALS} trials with the 95 % interval`;

/** What somebody would write who needs the number once. */
export const baseline = "plain JavaScript: Box-Muller over Math.random, then sorted";

/** Means and standard deviations; every number is invented. */
const FIELD = { means: [4.7895, 1.5334], us: [0.004, 0.0014], r: 0.9 };
const REFERENCE = { means: [10.4416, 5.6205], us: [0.008, 0.004], r: 0.9 };
const OTHERS = {
  background: { value: 0.036, u: 3e-4, distribution: "rectangular" },
  stemRatio: { value: 0.75, u: 1.2e-3, dof: 4 },
  temperature: { value: -9e-4, u: 2e-4 },
  excessField: { value: 1, u: 0.3, distribution: "rectangular" },
  excessReference: { value: 0.5, u: 0.3, distribution: "rectangular" },
  volume: { value: 1.007, u: 1.8e-3, distribution: "triangular" },
  positioning: { value: 1.002, u: 1e-3, distribution: "triangular" },
  other: { value: 1, u: 5e-3 },
  monitor: { value: 1, u: 8e-4, dof: 4 },
  link: { value: 1, u: 2e-3 },
} as const;

/** Runs it. */
export function run(): Row[] {
  const { model, factor } = outputFactor();
  const results: Record<string, { readonly low: number; readonly high: number }> = {};
  const ways = {
    [baseline]: plainJavaScript,
    "monteCarlo: blocks over columns, intervals by selection": () =>
      monteCarlo(model, [factor], { seed: 1, trials: TRIALS }).results[0]!.symmetric!,
  };
  const before = numpyRow();
  const rows = interleaved(
    Object.fromEntries(
      Object.entries(ways).map(([what, way]) => [
        what,
        () => {
          results[what] = way();
          return results[what].high;
        },
      ]),
    ),
    7,
  );
  const [plain, ours] = rows as [Row, Row];
  const after = numpyRow();
  // the quicker of two runs, one before and one after ours: a machine that slows down is not to our advantage
  const numpy = "ms" in before && "ms" in after && before.ms < after.ms ? before : after;
  const linear = propagate(model, factor);
  // the routes draw different numbers: they agree within the interval's standard errors
  for (const [what, { low, high }] of Object.entries(results))
    if (
      Math.abs(low - results[baseline]!.low) > 0.02 * linear.u ||
      Math.abs(high - results[baseline]!.high) > 0.02 * linear.u
    )
      throw new Error(
        `${what}: ${low} to ${high}, but ${results[baseline]!.low} to ${results[baseline]!.high} plainly`,
      );
  const against = "ms" in numpy ? `${(numpy.ms / ours.ms).toPrecision(3)} x NumPy` : "NumPy not there to compare with";
  return [
    plain,
    ...("ms" in numpy ? [numpy] : [{ ...plain, what: "NumPy, vectorised", ms: Number.NaN, note: numpy.missing }]),
    { ...ours, note: `aim 3 x NumPy on one thread, later 6 x; here ${against}` },
  ];
}

function outputFactor(): { model: Model; factor: Scalar } {
  const model = new Model();
  const signal = Unit.parse("nC");
  const pair = (key: string, { means, us: [a, b], r }: typeof FIELD) =>
    model.estimates({
      key,
      type: "A",
      covariance: [a! * a!, r * a! * b!, r * a! * b!, b! * b!],
      elements: means.map((value, c) => ({ name: `${c + 1}`, symbol: `q_${c + 1}`, label: key, unit: signal, value })),
    }) as [Scalar, Scalar];
  const own = (key: keyof typeof OTHERS, unit = ONE) =>
    model.estimate({ key, symbol: key, label: key, type: "B", unit, ...OTHERS[key] });
  const [background, ratio, alpha] = [own("background", signal), own("stemRatio"), own("temperature")];
  const corrected = ([first, second]: [Scalar, Scalar], excess: Scalar) =>
    first
      .minus(background)
      .minus(ratio.times(second.minus(background)))
      .over(alpha.times(excess).plus(1));
  const field = corrected(pair("field", FIELD), own("excessField"));
  const reference = corrected(pair("reference", REFERENCE), own("excessReference"));
  const factors = [own("volume"), own("positioning"), own("other"), own("link")];
  const product = factors.reduce((total, factor) => total.times(factor), field.over(reference));
  return { model, factor: product.over(own("monitor")) };
}

function plainJavaScript(): { low: number; high: number } {
  const normal = () => Math.sqrt(-2 * Math.log(1 - Math.random())) * Math.cos(2 * Math.PI * Math.random());
  const t4 = () => {
    let chi2 = 0;
    for (let k = 0; k < 4; k++) chi2 += normal() ** 2;
    return normal() / Math.sqrt(chi2 / 4);
  };
  const draw = (one: { value: number; u: number; distribution?: string; dof?: number }) => {
    if (one.dof !== undefined) return one.value + one.u * t4();
    if (one.distribution === "rectangular") return one.value + one.u * Math.sqrt(3) * (2 * Math.random() - 1);
    if (one.distribution === "triangular")
      return one.value + one.u * Math.sqrt(6) * (Math.random() + Math.random() - 1);
    return one.value + one.u * normal();
  };
  const pair = ({ means, us, r }: typeof FIELD) => {
    const [z1, z2] = [normal(), normal()];
    return [means[0]! + us[0]! * z1, means[1]! + us[1]! * (r * z1 + Math.sqrt(1 - r * r) * z2)] as const;
  };
  const values = new Float64Array(TRIALS);
  for (let i = 0; i < TRIALS; i++) {
    const [background, ratio, alpha] = [draw(OTHERS.background), draw(OTHERS.stemRatio), draw(OTHERS.temperature)];
    const corrected = ([first, second]: readonly [number, number], excess: number) =>
      (first - background - ratio * (second - background)) / (1 + alpha * excess);
    const field = corrected(pair(FIELD), draw(OTHERS.excessField));
    const reference = corrected(pair(REFERENCE), draw(OTHERS.excessReference));
    const factors = draw(OTHERS.volume) * draw(OTHERS.positioning) * draw(OTHERS.other) * draw(OTHERS.link);
    values[i] = ((field / reference) * factors) / draw(OTHERS.monitor);
  }
  values.sort();
  return { low: values[Math.round(0.025 * TRIALS)]!, high: values[Math.round(0.975 * TRIALS)]! };
}

/** The same in NumPy, timed by itself, or why it is not there. */
function numpyRow(): Row | { readonly missing: string } {
  const { status, stdout, stderr, error } = spawnSync("python3", ["-c", NUMPY], {
    encoding: "utf8",
    env: { ...process.env, OMP_NUM_THREADS: "1", OPENBLAS_NUM_THREADS: "1" },
  });
  if (error || status !== 0) {
    const missing = error?.message ?? stderr.trim().split("\n").at(-1) ?? "";
    return { missing: `not measured: python3 with numpy did not run (${missing})` };
  }
  const { ms, version } = JSON.parse(stdout) as { ms: number; version: string };
  return {
    what: "NumPy, vectorised",
    ms,
    note: `NumPy ${version}, the quicker of a run before and one after the others`,
  };
}

const NUMPY = `
import json, time, numpy as np
rng = np.random.default_rng(1)
n = ${TRIALS}
def pair(m, u, r):
    return rng.multivariate_normal(m, [[u[0]**2, r*u[0]*u[1]], [r*u[0]*u[1], u[1]**2]], n)
def rectangular(v, u):
    return rng.uniform(v - u*3**.5, v + u*3**.5, n)
def triangular(v, u):
    return rng.triangular(v - u*6**.5, v, v + u*6**.5, n)
def once():
    field = pair([4.7895, 1.5334], [0.004, 0.0014], 0.9)
    reference = pair([10.4416, 5.6205], [0.008, 0.004], 0.9)
    background = rectangular(0.036, 3e-4)
    ratio = 0.75 + 1.2e-3*rng.standard_t(4, n)
    alpha = rng.normal(-9e-4, 2e-4, n)
    corrected = lambda q, excess: (q[:, 0] - background - ratio*(q[:, 1] - background))/(1 + alpha*excess)
    value = corrected(field, rectangular(1, 0.3))/corrected(reference, rectangular(0.5, 0.3))
    value *= triangular(1.007, 1.8e-3)*triangular(1.002, 1e-3)*rng.normal(1, 5e-3, n)*rng.normal(1, 2e-3, n)
    value /= 1 + 8e-4*rng.standard_t(4, n)
    return np.quantile(value, [0.025, 0.975])
times = []
for turn in range(9):
    start = time.perf_counter()
    once()
    times.append((time.perf_counter() - start)*1e3)
print(json.dumps({"ms": sorted(times[2:])[3], "version": np.__version__}))
`;
