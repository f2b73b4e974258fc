import { describe, expect, it } from "vitest";
import { addNetSignals } from "./net-signal.ts";
import { readingLights } from "./reading-lights.ts";
import { conditionsOf } from "./readings.ts";
import { EXACT } from "./testing/exact-set.ts";
import { exactChain, seriesOf } from "./testing/made-up-series.ts";

/** The exact set's corrected signal: 100 cGy over 25.8065 cGy/nC. */
const CORRECTED = 3.875;

function lightsOf(channels: readonly string[], rows: Parameters<typeof seriesOf>[1]) {
  const chain = exactChain({ channels });
  const series = seriesOf("calibration", rows);
  const { conditions } = addNetSignals(chain, series, conditionsOf(series), { divisor: () => "none" });
  const literal = (value: number) => chain.model.tape.literal(value);
  return { condition: conditions[0]!, literal };
}

describe("what the weights make of single readings", () => {
  it("corrects each with the stem ratio, and gives its stem load", () => {
    const { condition, literal } = lightsOf(
      ["blue", "green"],
      [
        ["a", EXACT.little],
        ["a", EXACT.much],
        ["a", EXACT.long],
      ],
    );
    const { counting } = readingLights({ stemRatio: literal(0.75), weights: [literal(-0.75)] }, condition);
    expect(counting.map(({ row }) => row)).toEqual([0, 1, 2]);
    for (const { corrected } of counting) expect(corrected).toBeCloseTo(CORRECTED, 12);
    // q_2 over S
    const loads = [3.5, 17.5, 25.5].map((green) => green / CORRECTED);
    for (const [k, { load }] of counting.entries()) expect(load).toBeCloseTo(loads[k]!, 12);
  });

  it("keeps readings that are left out beside those that count, and leaves away what has no number", () => {
    const { condition, literal } = lightsOf(
      ["blue", "green"],
      [
        ["a", EXACT.little],
        ["a", EXACT.half, { exclude: "door opened" }],
        ["a", [undefined as unknown as number, 3.5], { exclude: "range exceeded" }],
      ],
    );
    const { counting, leftOut } = readingLights({ stemRatio: literal(0.75), weights: [literal(-0.75)] }, condition);
    expect(counting.map(({ row }) => row)).toEqual([0]);
    expect(leftOut.map(({ row }) => row)).toEqual([1]);
    expect(leftOut[0]!.corrected).toBeCloseTo(CORRECTED, 12);
    expect(condition.plain[0]!.value).toBeCloseTo(6.5, 12);
  });

  it("uses the weights where there are more than two channels", () => {
    const { condition, literal } = lightsOf(["blue", "green", "red"], [["a", [6.5, 3.5, 2]]]);
    const { counting } = readingLights({ weights: [literal(-0.5), literal(-0.25)] }, condition);
    expect(counting[0]!.corrected).toBeCloseTo(6.5 - 1.75 - 0.5, 12);
    expect(counting[0]!.load).toBeCloseTo(2.25 / 4.25, 12);
  });

  it("agrees with the mean of the condition, since it is the same formula", () => {
    const { condition, literal } = lightsOf(
      ["blue", "green"],
      [
        ["a", [6.5, 3.5]],
        ["a", [6.7, 3.3]],
      ],
    );
    const { counting } = readingLights({ stemRatio: literal(0.7), weights: [literal(-0.7)] }, condition);
    const [blue, green] = condition.normalised.map(({ value }) => value);
    expect((counting[0]!.corrected + counting[1]!.corrected) / 2).toBeCloseTo(blue! - 0.7 * green!, 12);
  });
});
