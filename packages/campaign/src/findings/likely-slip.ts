/** What a reading that is so many times its repeats usually comes from. */
export function likelySlip(ratio: number): string {
  const near = (target: number) => Math.abs(ratio / target - 1) < 0.05;
  if (near(10) || near(0.1) || near(100) || near(0.01)) return "The decimal sign may have slipped.";
  if (near(1000) || near(0.001)) return "It may be in another unit (pC for nC).";
  if (near(2) || near(0.5)) return "It may have been taken with other monitor units than stated.";
  return "Look whether the beam stopped early, the detector moved or the number was mistyped.";
}
