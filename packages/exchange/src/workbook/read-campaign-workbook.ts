import {
  type Campaign,
  editDistance,
  type Finding,
  interpretTables,
  isError,
  nearestKey,
  ROW_LIMIT,
  readDescriptor,
  SERIES_KINDS,
  type StructureCode,
  shown,
  shownName,
  structureFinding,
  type Table,
} from "@alcedo-dosimetry/campaign";
import { COLUMN_LIMIT } from "@alcedo-dosimetry/tabular";
import { readWorkbook, type Sheet, type Workbook, WorkbookFault } from "@alcedo-dosimetry/tabular/workbook";
import { FILE_LIMIT } from "../open-file.ts";
import type { FolderReading } from "../read-folder.ts";
import { CAMPAIGN_SHEET, type CampaignSheet, readCampaignSheet } from "./campaign-sheet.ts";
import { descriptorFinding } from "./descriptor-finding.ts";
import { readSheetTable } from "./sheet-table.ts";

/** Sheets with these names are for people. */
const FOR_PEOPLE = ["read-me", "readme", "instructions"];

/** A title and the header may stand above the readings. */
const LIMITS = { rows: ROW_LIMIT + 20, columns: COLUMN_LIMIT, unpacked: 4 * FILE_LIMIT, sheets: 100 };

/** Steps between two names within which one is taken for a slip of the other. */
const SLIP = 2;

const FAULTS: Readonly<Record<WorkbookFault["kind"], StructureCode>> = {
  "not-a-workbook": "workbook-unreadable",
  "other-format": "workbook-unreadable",
  damaged: "workbook-unreadable",
  encrypted: "workbook-encrypted",
  macros: "workbook-macros",
  "too-large": "workbook-too-large",
  twice: "workbook-unreadable",
};

/** The series that can have a sheet. */
const SERIES = SERIES_KINDS.filter((kind) => kind !== "characterisation");

/** A sheet, and the series whose readings it holds. */
interface SeriesSheet {
  readonly sheet: Sheet;
  readonly series: (typeof SERIES)[number];
}

/**
 * Reads a campaign from the bytes of a workbook (`.xlsx`): a sheet `campaign` of keys and values, and one sheet per series. It
 * gives what reading a folder of the same content gives; the places that findings name are sheets and their rows. Nothing is
 * converted without a notice, and what could be read in two ways is an error.
 *
 * @param name of the file, for messages
 */
export function readCampaignWorkbook(bytes: Uint8Array, name: string): FolderReading {
  const workbook = openWorkbook(bytes, name);
  if ("code" in workbook) return { findings: [workbook] };
  const findings: Finding[] = [];
  const keys = workbook.sheets.find((sheet) => plainName(sheet.name) === CAMPAIGN_SHEET);
  if (keys === undefined) {
    const message = `${shownName(name)}: there is no sheet ${CAMPAIGN_SHEET} among ${shownList(workbook.sheets)}.`;
    return { findings: [structureFinding("campaign-sheet-absent", message)] };
  }
  const stated = readCampaignSheet(keys);
  findings.push(...stated.findings);
  const sheets = seriesSheets(workbook.sheets, stated, findings);
  const json = withResources(stated, sheets);
  const { descriptor, outline, findings: described } = readDescriptor(json);
  findings.push(
    ...described.map((finding) => descriptorFinding(finding, keys.name, stated, resourceKinds(stated, sheets))),
  );

  const tables: Record<string, Table> = {};
  const signalUnit = (json as { alcedo?: { detector?: { signalUnit?: unknown } } }).alcedo?.detector?.signalUnit;
  for (const resource of outline?.resources ?? []) {
    const own = sheets.find(({ series }) => series === resource.series);
    if (own === undefined) continue;
    const reading = readSheetTable(own.sheet, {
      resource,
      channels: outline?.channels ?? [],
      signalUnit: typeof signalUnit === "string" ? signalUnit : undefined,
      from1904: workbook.from1904,
    });
    findings.push(...reading.findings);
    if (reading.table !== undefined) tables[resource.name] = reading.table;
  }
  if (descriptor !== undefined && !findings.some(isError))
    return { campaign: { descriptor, tables } satisfies Campaign, findings };
  if (outline !== undefined) {
    const opened = outline.resources.filter((resource) => Object.hasOwn(tables, resource.name));
    findings.push(...interpretTables({ ...outline, resources: opened }, tables).findings);
  }
  return { findings };
}

const MIB = 1_048_576;

function openWorkbook(bytes: Uint8Array, name: string): Workbook | Finding {
  const file = shownName(name);
  if (bytes.length > FILE_LIMIT) {
    const [mib, most] = [Math.ceil(bytes.length / MIB), FILE_LIMIT / MIB];
    return structureFinding("workbook-too-large", `${file}: the file has ${mib} MiB; at most ${most} MiB are read.`);
  }
  try {
    return readWorkbook(bytes, LIMITS);
  } catch (error) {
    if (!(error instanceof WorkbookFault)) throw error;
    return structureFinding(FAULTS[error.kind], `${file}: ${error.message}.`);
  }
}

/** Letter case, blanks, underscores and hyphens make no difference to a sheet's name. */
function plainName(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, "-");
}

/** The sheets that hold a series, by the series' name or the resource's. What else holds something is named. */
function seriesSheets(sheets: readonly Sheet[], stated: CampaignSheet, findings: Finding[]): SeriesSheet[] {
  const found: SeriesSheet[] = [];
  const others: Sheet[] = [];
  for (const sheet of sheets) {
    const name = plainName(sheet.name);
    if (name === CAMPAIGN_SHEET || FOR_PEOPLE.includes(name)) continue;
    const series = SERIES.find((kind) => {
      const own = stated.series.get(kind)?.["name"];
      return kind === name || (typeof own === "string" && plainName(own) === name);
    });
    const twin = found.find((other) => other.series === series);
    if (series === undefined) others.push(sheet);
    else if (twin === undefined) found.push({ sheet, series });
    else {
      const message = `sheets ${shownName(twin.sheet.name)} and ${shownName(sheet.name)} both hold the series ${series}.`;
      findings.push(structureFinding("series-duplicate", message, { where: { series, sheet: sheet.name } }));
    }
    if (series !== undefined && sheet.hidden) {
      const message = `sheet ${shownName(sheet.name)}: the sheet is hidden and read all the same.`;
      findings.push(structureFinding("sheet-hidden", message, { where: { series, sheet: sheet.name } }));
    }
  }
  for (const { name, rows } of others) {
    if (rows.length === 0) continue;
    const missing = SERIES.filter((kind) => !found.some(({ series }) => series === kind));
    const slip = missing.find((kind) => editDistance(plainName(name), kind) <= SLIP);
    const where = { sheet: name };
    if (slip !== undefined) {
      const message = `sheet ${shownName(name)}: there is no series of this name, and the series ${slip} has no sheet.`;
      findings.push(
        structureFinding("sheet-misspelt", message, {
          where,
          remedy: `Call the sheet ${slip}.`,
          facts: { nearest: slip },
        }),
      );
      continue;
    }
    const nearest = nearestKey(plainName(name), [...SERIES, CAMPAIGN_SHEET]);
    const hint = nearest === undefined ? "" : `; the nearest known name is ${nearest}`;
    const message = `sheet ${shownName(name)}: the sheet is not read${hint}.`;
    findings.push(
      structureFinding("sheet-unknown", message, { where, ...(nearest !== undefined && { facts: { nearest } }) }),
    );
  }
  return found;
}

/** The series that are to be resources: those that have a sheet, then those that the sheet `campaign` speaks of. */
function resourceKinds(stated: CampaignSheet, sheets: readonly SeriesSheet[]): string[] {
  return [...new Set([...sheets.map(({ series }) => series as string), ...stated.series.keys()])];
}

/** The descriptor as JSON: what the sheet states, and one resource for each series. */
function withResources(stated: CampaignSheet, sheets: readonly SeriesSheet[]): object {
  const resources = resourceKinds(stated, sheets).map((series) => {
    const own = stated.series.get(series) ?? {};
    const name = typeof own["name"] === "string" ? own["name"] : series;
    return { name, path: `${name}.csv`, ...own, alcedo: { series } };
  });
  return { ...stated.descriptor, resources };
}

function shownList(sheets: readonly Sheet[]): string {
  return sheets.map(({ name }) => shown(name)).join(", ");
}
