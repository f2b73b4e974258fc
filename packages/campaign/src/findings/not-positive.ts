import type { Separation } from "@alcedo-dosimetry/dosimetry";
import type { Scalar } from "@alcedo-dosimetry/metrology";
import type { Finding } from "../finding.ts";
import type { StageId } from "../result.ts";
import { significant } from "./in-words.ts";

/** A channel whose net signal is not positive: dead, unplugged, or less than the background taken from it. */
export function channelNotPositive(
  series: StageId,
  conditions: readonly { readonly name: string; readonly normalised: readonly Scalar[] }[],
  channels: readonly string[],
): Finding | undefined {
  for (const { name, normalised } of conditions)
    for (const [c, node] of normalised.entries()) {
      if (node.value > 0) continue;
      const channel = channels[c]!;
      return {
        level: "error",
        code: "channel-not-positive",
        message: `${series}, condition ${name}: the net signal of ${channel} is ${significant(node.value, 4)} ${node.unit.symbol}; light cannot be negative.`,
        effect: "No result is given from this series on.",
        remedy: `See whether ${channel} was connected, and whether the background was taken with the same range and integration time.`,
        where: { series, condition: name, column: `signal_${channel}` },
        facts: { net: node.value },
      };
    }
  return undefined;
}

/** A corrected signal that is not positive: more stem light was taken away than there was light. */
export function signalNotPositive(
  series: StageId,
  conditions: readonly { readonly name: string; readonly corrected: Scalar }[],
  { stemRatio }: Pick<Separation, "stemRatio">,
): Finding | undefined {
  const worst = conditions.find(({ corrected }) => !(corrected.value > 0));
  if (!worst) return undefined;
  const { name, corrected } = worst;
  const inverse = stemRatio && stemRatio.value > 0 ? 1 / stemRatio.value : undefined;
  const swapped =
    stemRatio && inverse !== undefined
      ? ` The stem ratio is ${significant(stemRatio.value, 5)}; with the two channels swapped it would be ${significant(inverse, 5)}.`
      : "";
  return {
    level: "error",
    code: "signal-not-positive",
    message: `${series}, ${name}: the corrected signal is ${significant(corrected.value, 4)} ${corrected.unit.symbol}; a dose cannot be negative.${swapped}`,
    effect: "No coefficient, dose or output factor is given.",
    remedy:
      "See whether the columns of the two channels are swapped (the one rich in scintillation comes first), and whether conditions with little and much fibre carry each other's readings.",
    where: { series, condition: name },
    facts: { corrected: corrected.value, ...(stemRatio && { stemRatio: stemRatio.value }) },
  };
}
