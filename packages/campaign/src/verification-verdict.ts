import type { Evaluation } from "./evaluate.ts";

/** What became of a condition that was kept aside; absent where the separation has no result, for silence is no praise. */
export type VerificationVerdict = "fails" | "open" | "agrees" | "absent";

/** What the findings say of a condition that was kept aside to verify the separation. */
export function verificationVerdict({ result }: Evaluation, condition: string): VerificationVerdict {
  if (!result.quantities.some(({ id }) => id === `separation.verify.${condition}`)) return "absent";
  const codes = result.findings.filter(({ where }) => where?.condition === condition).map(({ code }) => code);
  if (codes.includes("verification-failed")) return "fails";
  return codes.includes("verification-inconclusive") ? "open" : "agrees";
}
