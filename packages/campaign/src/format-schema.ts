import * as z from "zod";
import { type Column, columnsOf, SIGNAL_PREFIX } from "./columns.ts";
import { descriptorSchema } from "./descriptor.ts";
import { NAME_PATTERN } from "./name-text.ts";
import type { TableSeriesKind } from "./read-descriptor.ts";

/** A JSON Schema, as data. */
export type JsonSchema = Readonly<Record<string, unknown>>;

const TABLES: readonly TableSeriesKind[] = [
  "background",
  "separation",
  "calibration",
  "output-factors",
  "output-corrections",
  "reference-set",
];

/**
 * The JSON Schema (2020-12) of the campaign folder, version 1, generated from the schemas and columns that the reading uses
 * itself: the document describes `datapackage.json`; `$defs` describe one reading in force of each series' table,
 * as an object of typed cells, under names like `separation-reading`.
 */
export function formatSchema(): JsonSchema {
  const { $schema, ...descriptor } = z.toJSONSchema(descriptorSchema) as Record<string, unknown>;
  return {
    $schema,
    title: "Alcedo campaign folder, version 1",
    description:
      "datapackage.json of a campaign folder. $defs describe one reading of each table with its cells typed; the tables themselves are CSV.",
    ...descriptor,
    $defs: Object.fromEntries(TABLES.map((series) => [`${series}-reading`, readingSchema(series)])),
  };
}

function readingSchema(series: TableSeriesKind): JsonSchema {
  // Without channels: signal columns are described by their pattern, since their names are the campaign's own.
  const columns = columnsOf(series, []);
  const hasSignals = series !== "reference-set" && series !== "output-corrections";
  const signal = columnsOf("background", ["x"]).find((column) => column.name === `${SIGNAL_PREFIX}x`)!;
  return {
    title: `One reading of the series ${series}`,
    type: "object",
    properties: Object.fromEntries(columns.map((column) => [column.name, cellSchema(column, column.meaning)])),
    ...(hasSignals
      ? {
          patternProperties: {
            [`^${SIGNAL_PREFIX}`]: cellSchema(signal, "raw reading of one channel, in the campaign's signalUnit"),
          },
        }
      : {}),
    required: columns.filter((column) => column.needed === "always").map((column) => column.name),
  };
}

function cellSchema(column: Column, meaning: string): JsonSchema {
  const described = { description: column.unit === undefined ? meaning : `${meaning}; ${column.unit}` };
  switch (column.kind) {
    case "number": {
      const { min, max, above } = column.range!;
      return { type: "number", ...(above ? { exclusiveMinimum: min } : { minimum: min }), maximum: max, ...described };
    }
    case "time":
      return { type: "string", format: "date-time", ...described };
    case "choice":
      return { type: "string", enum: column.choices, ...described };
    case "name":
      return { type: "string", pattern: NAME_PATTERN.source, ...described };
    case "text":
      return { type: "string", minLength: 1, ...described };
  }
}
