import {
  type Campaign,
  DESCRIPTOR_FILE,
  type Finding,
  interpretTables,
  isError,
  type Outline,
  readCharacterisation,
  readDescriptor,
  shownName,
  structureFinding,
  type Table,
} from "@alcedo-dosimetry/campaign";
import { readTableText } from "./csv-table.ts";
import type { FolderSource } from "./folder-source.ts";
import { readJson } from "./json-text.ts";
import { openText } from "./open-file.ts";

/** What reading a folder gives: the campaign when nothing stands in its way, and everything that was noticed. */
export interface FolderReading {
  readonly campaign?: Campaign;
  readonly findings: readonly Finding[];
}

/**
 * Reads a campaign folder: `datapackage.json` and the tables that it names. All faults come in one go; when files or their
 * form are at fault, the tables that could be opened are looked through cell by cell as well, and no campaign is
 * returned. A campaign that is returned still has its cells as typed: `interpret` judges them.
 */
export function readFolder(source: FolderSource): FolderReading {
  const paths = source.list();
  if (paths.length === 0) {
    return { findings: [structureFinding("folder-empty", `${shownName(source.name)}: the folder is empty.`)] };
  }
  if (!paths.includes(DESCRIPTOR_FILE)) return { findings: [descriptorAbsent(source.name, paths)] };
  const text = openText(source, { file: DESCRIPTOR_FILE });
  if (typeof text !== "string") return { findings: [text] };
  const json = readJson(text, { file: DESCRIPTOR_FILE });
  if ("findings" in json) return { findings: json.findings };
  const { descriptor, outline, findings: descriptorFindings } = readDescriptor(json.value);
  const findings = [...descriptorFindings];
  const { tables, findings: tableFindings } = readTables(source, outline);
  const known = readKnown(source, outline);
  findings.push(...tableFindings, ...known.findings, ...unlisted(paths, json.value));
  if (descriptor !== undefined && !findings.some(isError))
    return { campaign: { descriptor, tables, ...known.read }, findings };
  if (outline !== undefined) {
    const opened = outline.resources.filter((resource) => Object.hasOwn(tables, resource.name));
    findings.push(...interpretTables({ ...outline, resources: opened }, tables).findings);
  }
  return { findings };
}

function readTables(
  source: FolderSource,
  outline: Outline | undefined,
): { tables: Record<string, Table>; findings: Finding[] } {
  const tables: Record<string, Table> = {};
  const findings: Finding[] = [];
  for (const resource of outline?.resources ?? []) {
    const text = openText(source, { series: resource.series, file: resource.path });
    if (typeof text !== "string") {
      findings.push(text);
      continue;
    }
    const reading = readTableText(text, resource, outline?.channels ?? []);
    findings.push(...reading.findings);
    if (reading.table !== undefined) tables[resource.name] = reading.table;
  }
  return { tables, findings };
}

/** The characterisation from another day, where the descriptor names one. */
function readKnown(
  source: FolderSource,
  outline: Outline | undefined,
): { read?: Pick<Campaign, "characterisation">; findings: readonly Finding[] } {
  if (!outline?.characterisation) return { findings: [] };
  const file = outline.characterisation.path;
  const text = openText(source, { series: "characterisation", file });
  if (typeof text !== "string") return { findings: [text] };
  const json = readJson(text, { series: "characterisation", file });
  if ("findings" in json) return json;
  return { read: { characterisation: json.value }, findings: readCharacterisation(json.value, file).findings };
}

function descriptorAbsent(name: string, paths: readonly string[]): Finding {
  const nested = paths.find((path) => path.endsWith(`/${DESCRIPTOR_FILE}`));
  const message = `${shownName(name)}: there is no ${DESCRIPTOR_FILE} in the folder.`;
  const details = { where: { file: DESCRIPTOR_FILE } };
  if (nested === undefined) return structureFinding("descriptor-absent", message, details);
  const folder = nested.slice(0, -DESCRIPTOR_FILE.length - 1);
  return structureFinding("descriptor-absent", message, {
    ...details,
    remedy: `There is one in ${shownName(folder)}: name that folder.`,
  });
}

/** Tables that lie in the folder and are not read, since no resource names them. */
function unlisted(paths: readonly string[], json: unknown): Finding[] {
  const resources = (json as { resources?: unknown } | null)?.resources;
  const listed = new Set(
    Array.isArray(resources) ? resources.map((resource: { path?: unknown } | null) => resource?.path) : [],
  );
  return paths
    .filter((path) => /\.(?:csv|tsv)$/i.test(path) && !/(?:^|\/)\./.test(path) && !listed.has(path))
    .map((file) => {
      const message = `${shownName(file)}: no resource in ${DESCRIPTOR_FILE} names this file; it is not read.`;
      return structureFinding("file-unlisted", message, { where: { file } });
    });
}
