import { type Descriptor, SERIES_KINDS } from "@alcedo-dosimetry/campaign";
import type { WrittenCell, WrittenSheet } from "@alcedo-dosimetry/tabular/workbook";
import { CAMPAIGN_SHEET } from "./campaign-sheet.ts";
import { KEY_MEANINGS, keyUnit } from "./key-meanings.ts";
import { FILE_FORM, SERIES_PART, sheetKey } from "./key-paths.ts";

/** One key with its value. */
type Entry = readonly [key: string, value: string | number | boolean];

/** The descriptor as a sheet of keys: those that are stated, and empty rows for the usual ones that are not. */
export function campaignRows(descriptor: Descriptor): WrittenSheet {
  const { resources, ...rest } = descriptor;
  const stated = new Map<string, Entry[1]>([
    ...entries(rest, []),
    ...resources.flatMap((resource) => resourceEntries(resource)),
  ]);
  const usual = KEY_MEANINGS.map(([key]) => key);
  const meanings = new Map(KEY_MEANINGS);
  const others = [...stated.keys()].filter((key) => !usual.includes(key));
  const rows = [...usual, ...others].map((key): readonly WrittenCell[] => {
    const value = stated.get(key) ?? null;
    return [
      { value: key, style: { bold: true } },
      typeof value === "string"
        ? { value, style: { format: "@", wrap: true, align: "left" } }
        : { value, style: { align: "left" } },
      keyUnit(key) ?? (key.startsWith("assumptions.") ? "1" : ""),
      { value: meanings.get(key) ?? "", style: { quiet: true, wrap: true } },
    ];
  });
  const header = ["key", "value", "unit", "meaning"].map((value): WrittenCell => ({ value, style: { header: true } }));
  return {
    name: CAMPAIGN_SHEET,
    rows: [header, ...rows],
    columns: [{ width: 42 }, { width: 34 }, { width: 8 }, { width: 70 }],
    frozen: { rows: 1, columns: 1 },
    landscape: true,
  };
}

/** What is to be kept of a resource beside its sheet. */
function resourceEntries({ alcedo, name, path, ...rest }: Descriptor["resources"][number]): Entry[] {
  const { series } = alcedo;
  if (!SERIES_KINDS.includes(series)) throw new Error(`there is no series ${series}`);
  const kept = Object.fromEntries(Object.entries(rest).filter(([key]) => !FILE_FORM.includes(key)));
  const named = {
    ...(name !== series && { name }),
    ...(path !== `${name}.csv` && { path }),
    ...kept,
  };
  return entries(named, [SERIES_PART, series]);
}

/** The values under a path, one entry each; lists of words in a cell, other lists and objects without keys as JSON. */
function entries(value: unknown, path: readonly string[]): Entry[] {
  if (typeof value !== "object" || value === null) {
    if (typeof value !== "string" && typeof value !== "number" && typeof value !== "boolean")
      throw new Error(`a sheet cannot hold ${String(value)} at ${path.join(".")}`);
    if (value === "") throw new Error(`a sheet cannot hold the empty text of ${sheetKey(path)}`);
    return [[sheetKey(path), value]];
  }
  if (Array.isArray(value)) return [[sheetKey(path), listText(value)]];
  return Object.entries(value).flatMap(([key, inner]) => entries(inner, [...path, key]));
}

function listText(list: readonly unknown[]): string {
  const words = list.filter((one): one is string => typeof one === "string");
  const plain = words.length === list.length && words.length > 0;
  return plain && words.every((word) => word !== "" && word.trim() === word && !/[,[\]]/.test(word))
    ? words.join(", ")
    : JSON.stringify(list);
}
