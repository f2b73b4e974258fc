import type { TableSeriesKind } from "@alcedo-dosimetry/campaign";
import { headerKey, type Mapping, type Remembered } from "./recognise.ts";

/** The part of a browser's storage that is used. */
export type Memory = Pick<Storage, "getItem" | "setItem">;

const keyOf = (series: TableSeriesKind) => `alcedo-columns-${series}`;

/** What headers were taken for before, in this browser. */
export function recall(series: TableSeriesKind, memory: Memory = localStorage): Remembered {
  try {
    const stored: unknown = JSON.parse(memory.getItem(keyOf(series)) ?? "{}");
    if (typeof stored !== "object" || stored === null) return {};
    return Object.fromEntries(Object.entries(stored).filter(([, name]) => name === null || typeof name === "string"));
  } catch {
    return {}; // storage is closed to this page, or holds something else: nothing is remembered
  }
}

/** Remembers what the headers of a block were taken for. */
export function remember(
  series: TableSeriesKind,
  headers: readonly string[],
  mapping: Mapping,
  memory: Memory = localStorage,
): void {
  const known: Record<string, string | null> = { ...recall(series, memory) };
  headers.forEach((header, k) => {
    const key = headerKey(header);
    if (key !== "") known[key] = mapping[k] ?? null;
  });
  try {
    memory.setItem(keyOf(series), JSON.stringify(known));
  } catch {
    // storage is closed to this page: next time it is chosen again
  }
}
