import { scaleLinear } from "d3-scale";
import { fixed } from "./number-text.ts";
import { textWidth } from "./text-width.ts";

/** A place on an axis and what stands there. */
export interface Tick {
  readonly value: number;
  readonly text: string;
}

/** Round places (1, 2 or 5 times a power of ten apart), all within the domain, with as many decimals as their step has. */
export function linearTicks([low, high]: readonly [number, number], count: number): Tick[] {
  const values = scaleLinear().domain([low, high]).ticks(count);
  const step = values.length > 1 ? values[1]! - values[0]! : Math.abs(values[0] ?? 1) || 1;
  const decimals = decimalsOf(step);
  return values.map((value) => ({ value, text: fixed(value, decimals) }));
}

/** Decimals that tell numbers so far apart. */
export function decimalsOf(step: number): number {
  const exponent = Number(step.toExponential(0).split("e")[1]);
  return Math.max(0, Math.min(12, -exponent));
}

/** Round places of a decade, the fewest first. */
const MANTISSAS = [[1], [1, 2, 5], [1, 2, 3, 5, 7], [1, 2, 3, 4, 5, 6, 7, 8, 9]];
/** More ticks than this are a hedge. */
const MOST = 10;

/**
 * Places on a logarithmic axis: of the round places of a decade as many as have room side by side. Where even the finest
 * gives fewer than two, the domain is so narrow that even steps serve better.
 *
 * @param place where a value comes to stand, in the unit of `size`.
 */
export function logarithmicTicks(
  [low, high]: readonly [number, number],
  place: (value: number) => number,
  size: number,
): Tick[] {
  const first = Number(low.toExponential(0).split("e")[1]) - 1;
  const last = Number(high.toExponential(0).split("e")[1]) + 1;
  const sets = MANTISSAS.map((mantissas) => {
    const values: number[] = [];
    for (let exponent = first; exponent <= last; exponent++)
      values.push(...mantissas.map((mantissa) => Number(`${mantissa}e${exponent}`)));
    return values
      .filter((value) => value >= low && value <= high)
      .map((value) => ({ value, text: fixed(value, decimalsOf(value)) }));
  });
  const fitting = sets.findLast((ticks) => ticks.length <= MOST && apart(ticks, place, size)) ?? [];
  return fitting.length >= 2 ? fitting : linearTicks([low, high], 4);
}

/** Whether the labels of ticks stand clear of each other. */
function apart(ticks: readonly Tick[], place: (value: number) => number, size: number): boolean {
  return ticks.slice(1).every(({ value, text }, i) => {
    const before = ticks[i]!;
    return place(value) - place(before.value) > (textWidth(text, size) + textWidth(before.text, size)) / 2 + 6;
  });
}
