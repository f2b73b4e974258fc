import type { Scalar } from "@alcedo-dosimetry/metrology";
import type { Chain } from "./chain.ts";
import type { Series } from "./readings.ts";

/**
 * What the display hides: the last digit shown over √12 for each reading, so √n less for a mean of n. With it identical
 * repeats do not claim to be exact.
 * @param digits value of the last digit, by channel.
 * @returns one zero-valued input per channel, to be added to every raw reading of the condition.
 */
export function addResolution(
  { model, channels, signalUnit }: Chain,
  series: Series,
  condition: string,
  count: number,
  digits: readonly number[],
): Scalar[] {
  const n = channels.length;
  const covariance = new Float64Array(n * n);
  digits.forEach((digit, c) => {
    covariance[c * n + c] = (digit * digit) / 12 / count;
  });
  return model.estimates({
    key: `${series.name}/${condition}/resolution`,
    type: "B",
    distribution: "rectangular",
    covariance,
    elements: channels.map((channel) => ({
      name: channel,
      symbol: `δM_${channel}`,
      label: `last digit shown, ${channel}, ${condition}`,
      unit: signalUnit,
      value: 0,
    })),
  });
}
