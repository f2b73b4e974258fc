/** The smallest size of a mistake that is caught with 95 % power: the first of a ladder of sizes from which on it is. */
import { MISTAKES, type MistakeKind, type RegimeName } from "@alcedo-dosimetry/simulator";
import { type MistakeRun, mistakeRun } from "./mistake-run.ts";

/** Asked of a run of a hundred campaigns, so that the true share is above 95 % more often than not by far. */
const POWER = 0.97;

const STEPS = [1, 1.5, 2, 3, 5, 7];
/** 0.001, 0.0015, … 70. */
const LADDER = [-3, -2, -1, 0, 1].flatMap((decade) =>
  STEPS.map((step) => Number((step * 10 ** decade).toPrecision(3))),
);
const FINE = [-5, -4].flatMap((decade) => STEPS.map((step) => Number((step * 10 ** decade).toPrecision(3))));

/** Sizes from the least to the gravest, where they are no plain amounts. */
const OWN: Partial<Record<MistakeKind, readonly number[]>> = {
  "digits-transposed": [4, 3, 2, 1].slice(1),
  "digits-lost": [3, 2, 1, 0],
  "rows-pasted-twice": [1, 2, 3],
  "time-mistyped": [1, 2, 3],
  "decimal-slipped": [1.01, 1.02, 1.05, 1.1, 2, 10],
  "unit-slipped": [1.01, 1.02, 1.05, 1.1, 2, 1000],
};
const FACTORS = /mistyped|noisy/;
const PLAIN = /^temperature-mistyped|^time/;

function sizesOf(kind: MistakeKind): readonly number[] {
  const { size } = MISTAKES[kind];
  if (!size) return [];
  if (OWN[kind]) return OWN[kind];
  if (FACTORS.test(kind) && !PLAIN.test(kind))
    return LADDER.filter((s) => s >= 0.01).map((s) => Number((1 + s).toFixed(6)));
  const most = /saturated/.test(kind) ? 40 : /stopped/.test(kind) ? 95 : 70;
  return [...FINE, ...LADDER].filter((s) => s >= size.usual / 100 && s <= most);
}

/** That size and what its campaigns show; undefined where no size of the ladder is caught, or there is no size. */
export function smallestCaught(
  kind: MistakeKind,
  regime: RegimeName,
  campaigns: number,
): { size: number; run: MistakeRun } | undefined {
  const sizes = sizesOf(kind);
  let [low, high] = [-1, sizes.length];
  let found: { size: number; run: MistakeRun } | undefined;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    const run = mistakeRun(kind, sizes[middle], regime, campaigns);
    if (run.noticed >= POWER * campaigns) {
      high = middle;
      found = { size: sizes[middle]!, run };
    } else low = middle;
  }
  return found;
}
