import { normalQuantile, tCdf, tQuantile } from "./distributions.ts";
import { erfc, exp, ln, pow } from "./special.ts";
import { Ziggurat } from "./ziggurat.ts";

const ROOT_HALF_PI = 1.2533141373155003;

let normal: Ziggurat | undefined;
const students = new Map<number, Ziggurat>();

/** The standard normal distribution; the tables are made once. */
export function standardNormal(): Ziggurat {
  normal ??= new Ziggurat({
    density: (x) => exp(-0.5 * x * x),
    inverse: (y) => Math.sqrt(-2 * ln(y)),
    tailArea: (x) => ROOT_HALF_PI * erfc(x * Math.SQRT1_2),
    drawTail: (x, fraction) => -normalQuantile(fraction * 0.5 * erfc(x * Math.SQRT1_2)),
  });
  return normal;
}

/**
 * Student's t, not scaled to a variance of one (it may have none).
 * @param dof real-valued, from 1 up.
 * @throws RangeError where it is below: the layers of so heavy a tail would not fit into numbers.
 */
export function studentT(dof: number): Ziggurat {
  if (!(dof >= 1)) throw new RangeError(`a ziggurat of the t distribution needs a degree of freedom, not ${dof}`);
  const known = students.get(dof);
  if (known) return known;
  const half = -0.5 * (dof + 1);
  const density = (x: number) => exp(half * ln(1 + (x * x) / dof));
  const total = area(dof);
  const made = new Ziggurat({
    density,
    inverse: (y) => Math.sqrt(dof * (pow(y, 1 / half) - 1)),
    tailArea: (x) => total * tCdf(-x, dof),
    drawTail: (x, fraction) => -tQuantile(fraction * tCdf(-x, dof), dof),
  });
  students.set(dof, made);
  return made;
}

/**
 * ∫ (1 + x²/ν)^(−(ν+1)/2) dx over the whole line, √(νπ)·Γ(ν/2)/Γ((ν+1)/2), from the distribution function itself: its
 * rise next to zero is density over area. f(0)·h·(1 − (ν+1)/ν·h²/6 + …) with h = 1/64 is right to 1e-11 and better.
 */
function area(dof: number): number {
  const h = 1 / 64;
  const ratio = (dof + 1) / dof;
  const h2 = h * h;
  // ∫₀ʰ f by the binomial series, s = (ν+1)/2: 1 − s·x²/ν + s(s+1)/2·(x²/ν)² − s(s+1)(s+2)/6·(x²/ν)³
  const s = 0.5 * (dof + 1);
  const second = (s * (s + 1)) / (2 * dof * dof);
  const third = (second * (s + 2)) / (3 * dof);
  const rise = h * (1 - h2 * (ratio / 6 - h2 * (second / 5 - (h2 * third) / 7)));
  return rise / (0.5 - tCdf(-h, dof));
}
