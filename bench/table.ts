import type { Row, Workload } from "./row.ts";

/**
 * A workload's rows as a table for people: what, median, how many times as fast as the baseline, note.
 *
 * @throws Error when no row is the baseline.
 */
export function table({ name, baseline }: Pick<Workload, "name" | "baseline">, rows: readonly Row[]): string {
  const base = rows.find((row) => row.what === baseline);
  if (base === undefined) {
    const there = rows.map((row) => `"${row.what}"`).join(", ");
    throw new Error(`${name}: no row is called "${baseline}", the baseline; there are ${there || "none"}`);
  }
  const width = Math.max(...rows.map((row) => row.what.length));
  const lines = rows.map((row) => {
    const ratio = row === base ? "baseline" : `${(base.ms / row.ms).toPrecision(3)} x`;
    const time = `${row.ms < 1000 ? row.ms.toPrecision(4) : row.ms.toFixed(0)} ms`;
    return `  ${row.what.padEnd(width)} ${time.padStart(12)} ${ratio.padStart(10)}  ${row.note ?? ""}`.trimEnd();
  });
  return [name, ...lines].join("\n");
}
