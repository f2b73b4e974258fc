import type { ReviewSample } from "@alcedo-dosimetry/protocol";

/** Names a cell of the sample. */
export function entryKey(table: string, reading: string, column: string): string {
  return JSON.stringify([table, reading, column]);
}

/** How many cells of the sample are not typed yet. */
export function missingEntries({ readings }: ReviewSample, entered: ReadonlyMap<string, string>): number {
  return readings
    .flatMap(({ table, reading, columns }) => columns.map((column) => entryKey(table, reading, column)))
    .filter((key) => (entered.get(key) ?? "").trim() === "").length;
}
