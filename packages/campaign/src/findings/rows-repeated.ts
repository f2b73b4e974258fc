import { countedReadings } from "./counted-readings.ts";
import { list } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Cells that a pasted row would share with its original. */
const LEAST_SHARED = 3;

/** Rows that are the same in every cell but id and note, the time included. */
export const rowsRepeated: Rule = {
  code: "rows-repeated",
  level: "warning",
  sees: "readings of one table with the same time and the same signals to the last digit",
  check({ series }) {
    return countedReadings(series).flatMap(({ name, readings }) => {
      const times = readings.map(({ time }) => time);
      // most campaigns have no two readings of one time, and nothing to look for
      if (new Set(times).size === times.length) return [];
      const seen = new Map<string, string[]>();
      for (const { id, condition, time, signals, monitor } of readings) {
        if (time === undefined) continue;
        const cells = [condition, time, ...signals, monitor].filter((cell) => cell !== undefined);
        if (cells.length < LEAST_SHARED) continue;
        const key = cells.join("|");
        seen.set(key, [...(seen.get(key) ?? []), id]);
      }
      const twice = [...seen.values()].filter((ids) => ids.length > 1);
      if (twice.length === 0) return [];
      return [
        {
          level: "warning" as const,
          code: "rows-repeated",
          message: `${name}: readings ${list(twice.map((ids) => ids.join(" = ")))} were taken at the same time and show the same to the last digit; rows may have been pasted twice.`,
          effect: "Repeats that are copies make the scatter look smaller than it is.",
          remedy: "Delete the copies, or leave them out with a reason.",
          where: { series: name, reading: twice[0]![1]! },
        },
      ];
    });
  },
};
