/**
 * What is computed in Node and in a browser and must come out alike to the last bit. Each case returns numbers; the whole
 * is handed back as text in which every bit shows.
 */
import { type Evaluation, evaluate, exitStatus, monteCarloOf, traceQuantity } from "@alcedo-dosimetry/campaign";
import { memoryFolder, readFolder } from "@alcedo-dosimetry/exchange";
import { store } from "@alcedo-dosimetry/metrology";
import * as distributions from "../packages/metrology/src/distributions.ts";
import * as special from "../packages/metrology/src/special.ts";

/** Positive arguments over the range that the chain uses, spread without any function of an engine. */
const positive = Array.from({ length: 400 }, (_, i) => (i + 1) * 0.0371 + (i % 7) * 1e-3);
const probabilities = Array.from({ length: 400 }, (_, i) => (i + 0.5) / 400);

const cases: Record<string, () => number[]> = {
  exp: () => positive.map((x) => special.exp(x)),
  ln: () => positive.map((x) => special.ln(x)),
  pow: () => positive.map((x) => special.pow(x, 1.37)),
  sin: () => positive.map((x) => special.sin(1e3 * x)),
  cos: () => positive.map((x) => special.cos(1e3 * x)),
  erf: () => positive.map((x) => special.erf(x / 4)),
  erfc: () => positive.map((x) => special.erfc(x / 4)),
  "incomplete gamma": () => positive.map((x) => special.regularisedGammaLower(3.3, x)),
  "incomplete beta": () => probabilities.map((x) => special.regularisedBetaLower(x, 2.5, 0.7)),
  "normal quantile": () => probabilities.map((p) => distributions.normalQuantile(p)),
  "t quantile": () => probabilities.map((p) => distributions.tQuantile(p, 7.5)),
  "chi-square, upper tail": () => positive.map((x) => distributions.chiSquareUpper(x, 6)),
  "F, upper tail": () => positive.map((x) => distributions.fUpper(x, 3, 8)),
};

/** The bits of a number, big end first. */
function bits(value: number): string {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, value);
  return view.getBigUint64(0).toString(16).padStart(16, "0");
}

/** Every case on a line of its own: its name, then each number's bits. */
export function computeAll(): string {
  return Object.entries(cases)
    .map(([name, compute]) => `${name} ${compute().map(bits).join(" ")}`)
    .join("\n");
}

/** Evaluates a folder's files: exit status, result, model and traces, a line each. */
export function evaluateFolder(files: Readonly<Record<string, string>>): string {
  const evaluation = evaluationOf(files);
  const { result, model } = evaluation;
  const traces = result.quantities.map(({ id }) => traceQuantity(evaluation, id) ?? null);
  return [exitStatus(evaluation), result, model && store(model), traces].map((part) => JSON.stringify(part)).join("\n");
}

/** The result with intervals by Monte Carlo, a few trials of every quantity. */
export function drawFolder(files: Readonly<Record<string, string>>): string {
  return JSON.stringify(monteCarloOf(evaluationOf(files), { trials: 5000, seed: 20_261_125 }).result);
}

function evaluationOf(files: Readonly<Record<string, string>>): Evaluation {
  const bytes = new Map(Object.entries(files).map(([path, text]) => [path, new TextEncoder().encode(text)]));
  const { campaign, findings } = readFolder(memoryFolder("folder", bytes));
  if (!campaign) throw new Error(JSON.stringify(findings));
  return evaluate(campaign, findings);
}
