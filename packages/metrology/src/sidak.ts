/** Šidák's relation between the level of one test and that of a family of independent tests. */
import { expm1, ln1p } from "./special.ts";

/**
 * Level that each of `tests` independent tests may have so that the family raises a false alarm with probability
 * `familyLevel`: 1 − (1 − α)^(1/n). Z. Šidák, J. Am. Stat. Assoc. 62, 626 (1967).
 *
 * @throws RangeError unless 0 ≤ level ≤ 1 and tests is a whole number of at least one.
 */
export function sidakPerTest(familyLevel: number, tests: number): number {
  requireLevelAndTests(familyLevel, tests);
  return familyLevel === 1 ? 1 : -expm1(ln1p(-familyLevel) / tests);
}

/**
 * The inverse: the family's probability 1 − (1 − p)^n of a value of p or less in at least one of `tests` independent
 * tests. Applied to the smallest p it is the family's p.
 *
 * @throws RangeError unless 0 ≤ p ≤ 1 and tests is a whole number of at least one.
 */
export function sidakFamily(perTest: number, tests: number): number {
  requireLevelAndTests(perTest, tests);
  return perTest === 1 ? 1 : -expm1(tests * ln1p(-perTest));
}

function requireLevelAndTests(level: number, tests: number): void {
  if (!(level >= 0 && level <= 1)) throw new RangeError(`A level lies from 0 to 1, but ${level} was given.`);
  if (!(Number.isInteger(tests) && tests >= 1)) {
    throw new RangeError(`The number of tests is a whole number of at least one, but ${tests} was given.`);
  }
}
