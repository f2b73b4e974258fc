import { checkAgreement, missingSizeColumns } from "./agreement.ts";
import type { Campaign } from "./campaign.ts";
import type { Characterisation } from "./characterisation.ts";
import { columnsOf } from "./columns.ts";
import { type Finding, sourceInWords } from "./finding.ts";
import { findingList } from "./finding-list.ts";
import { matchHeader, type TableContext } from "./header.ts";
import { checkOutputCorrections, statedVolumeAveraging } from "./output-corrections.ts";
import { readCharacterisation } from "./read-characterisation.ts";
import type { Outline, OutlineResource } from "./read-descriptor.ts";
import { outlineOf } from "./read-descriptor.ts";
import { checkReadingIds, readRows, type TypedRow } from "./read-rows.ts";
import type {
  BackgroundReading,
  CalibrationReading,
  OutputCorrectionSet,
  OutputFactorReading,
  PointSeries,
  Reading,
  ReferenceSet,
  SeparationReading,
} from "./reading.ts";
import { checkReferenceValues } from "./reference-values.ts";
import { structureFinding } from "./structure-finding.ts";
import { isBlankRow, ROW_LIMIT, type Table } from "./table.ts";
import {
  calibrationReading,
  excludedReading,
  outputCorrection,
  outputFactorReading,
  reading,
  referenceValue,
  separationReading,
} from "./typed-reading.ts";

/** The series of a campaign, typed; those that it does not have are absent. */
export interface SeriesReadings {
  readonly background?: PointSeries<BackgroundReading>;
  readonly separation?: PointSeries<SeparationReading>;
  readonly calibration?: PointSeries<CalibrationReading>;
  readonly "output-factors"?: PointSeries<OutputFactorReading>;
  readonly "output-corrections"?: OutputCorrectionSet;
  readonly "reference-set"?: ReferenceSet;
}

/**
 * A campaign's tables, typed. Where the findings hold an error, the series hold only the rows that could be read: they serve
 * to show, not to evaluate.
 */
export interface Interpretation {
  /** Names of the channels, in the order of each reading's signals. */
  readonly channels: readonly string[];
  readonly series: SeriesReadings;
  /** Separation and calibration of another day, where the campaign brings them. */
  readonly characterisation?: Characterisation;
  readonly findings: readonly Finding[];
}

/**
 * Reads the tables of a campaign: cells become numbers, times and words, and whatever is wrong with the tables' form is
 * found in one go. It judges form alone; what the readings mean is for the evaluation.
 *
 * @param outline the descriptor's, from whoever has made it already.
 */
export function interpret(campaign: Campaign, outline = outlineOf(campaign.descriptor)): Interpretation {
  if (outline === undefined) throw new Error("interpret needs a campaign with a valid descriptor");
  const tables = interpretTables(outline, campaign.tables);
  if (!outline.characterisation) return tables;
  const { path } = outline.characterisation;
  if (campaign.characterisation === undefined) {
    const where = { series: "characterisation", file: path };
    const absent = structureFinding("table-absent", `${path}: the characterisation is absent.`, { where });
    return { ...tables, findings: [...tables.findings, absent] };
  }
  const { characterisation, findings } = readCharacterisation(campaign.characterisation, path);
  return {
    ...tables,
    ...(characterisation && { characterisation }),
    findings: [...tables.findings, ...findings],
  };
}

/** As {@link interpret}, from as much of a descriptor as could be read. */
export function interpretTables(outline: Outline, tables: Readonly<Record<string, Table>>): Interpretation {
  const hasBackground = outline.resources.some((resource) => resource.series === "background");
  const findings: Finding[] = [];
  let series: SeriesReadings = {};
  for (const resource of outline.resources) {
    const table = Object.hasOwn(tables, resource.name) ? tables[resource.name] : undefined;
    const sheet = table?.sheet === undefined ? {} : { sheet: table.sheet };
    const where = { series: resource.series, file: resource.path, ...sheet };
    if (table === undefined) {
      findings.push(
        structureFinding("table-absent", `${resource.path}: the table of the resource ${resource.name} is absent.`, {
          where,
        }),
      );
      continue;
    }
    const columns = columnsOf(resource.series, outline.channels);
    const context = { table, where, columns, hasBackground, findings: findingList(where) };
    series = { ...series, ...readTable(context, resource, outline.channels) };
    findings.push(...context.findings.all());
  }
  return { channels: outline.channels, series, findings };
}

function readTable(context: TableContext, resource: OutlineResource, channels: readonly string[]): SeriesReadings {
  const { table, where, findings } = context;
  if (table.rows.length > ROW_LIMIT) {
    const message = `${sourceInWords(where)}: the table has ${table.rows.length} rows; at most ${ROW_LIMIT} are read.`;
    findings.add(
      structureFinding("table-too-long", message, { where, facts: { rows: table.rows.length, limit: ROW_LIMIT } }),
    );
    return {};
  }
  const positions = matchHeader(context);
  if (table.rows.every(isBlankRow)) {
    findings.add(
      structureFinding("table-empty", `${sourceInWords(where)}: the table has a header but no readings.`, { where }),
    );
    return {};
  }
  const rows = readRows(context, positions);
  const inForce = rows.filter((row) => row.exclude === undefined);
  if (inForce.length === 0) {
    findings.add(
      structureFinding("table-empty", `${sourceInWords(where)}: every reading of the table is excluded.`, { where }),
    );
  }
  checkReadingIds(rows, findings);
  checkAgreement(resource.series, inForce, new Set(positions.keys()), findings);
  const sheet = where.sheet === undefined ? {} : { sheet: where.sheet };
  const common = { resource: resource.name, file: resource.path, ...sheet };
  const points = <R extends Reading>(
    type: (row: TypedRow, channels: readonly string[]) => R | undefined,
  ): PointSeries<R> => ({
    ...common,
    readings: inForce.flatMap((row) => type(row, channels) ?? []),
    excluded: rows.filter((row) => row.exclude !== undefined).map((row) => excludedReading(row, channels)),
  });
  switch (resource.series) {
    case "background":
      return { background: points(reading) };
    case "separation":
      return { separation: points(separationReading) };
    case "calibration":
      return { calibration: points(calibrationReading) };
    case "output-factors":
      for (const column of missingSizeColumns(inForce, new Set(positions.keys()))) {
        const message = `${sourceInWords(where)}: the column ${column} is missing; the shapes in this table need it.`;
        findings.add(
          structureFinding("column-missing", message, {
            where: { ...where, column },
            remedy: `Add the column ${column}.`,
          }),
        );
      }
      return { "output-factors": points(outputFactorReading) };
    case "output-corrections": {
      checkOutputCorrections(rows, findings);
      const values = rows.flatMap((row) => outputCorrection(row) ?? []);
      return { "output-corrections": { ...common, values, ...statedVolumeAveraging(rows) } };
    }
    case "reference-set":
      checkReferenceValues(rows, findings);
      return { "reference-set": { ...common, values: rows.flatMap((row) => referenceValue(row) ?? []) } };
  }
}
