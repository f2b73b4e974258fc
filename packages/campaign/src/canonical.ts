import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import canonicalize from "canonicalize";
import type { Campaign } from "./campaign.ts";
import { type Column, columnsOf } from "./columns.ts";
import type { Descriptor, Resource } from "./descriptor.ts";
import { columnName } from "./header.ts";
import { isNumberText } from "./number-text.ts";
import { outlineOf } from "./read-descriptor.ts";
import { isBlankRow, type Table } from "./table.ts";

/** Properties of a resource that say how its file is written, not what it holds. */
const FILE_FORM = ["path", "format", "mediatype", "encoding", "bytes", "hash", "dialect", "schema"] as const;

/**
 * The canonical text of a campaign (RFC 8785): the same for every way to write the same readings. Delimiter, decimal sign,
 * line endings, byte-order mark, file names, the order of columns and of resources, blank rows and empty cells make no
 * difference; every digit as typed, the order of rows, exclusions and notes do.
 *
 * @param outline the descriptor's, from whoever has made it already.
 * @throws when a text is not well-formed Unicode, or a number of the descriptor not finite: neither comes out of a file
 */
export function canonicalText(
  { descriptor, tables, characterisation }: Campaign,
  outline = outlineOf(descriptor),
): string {
  const names = Object.keys(tables).sort();
  const head = canonicalize(canonicalDescriptor(descriptor));
  if (head === undefined) throw new Error("a descriptor has a canonical text");
  const rest = JSON.stringify(
    names.map((name) => {
      const series = outline?.resources.find((resource) => resource.name === name)?.series;
      const columns = series === undefined ? [] : columnsOf(series, outline?.channels ?? []);
      return [name, canonicalTable(tables[name]!, columns)];
    }),
  );
  // half a character comes out of JSON.stringify as an escape, which RFC 8785 refuses
  if (rest.includes("\\ud") && LONE_SURROGATE.test(rest))
    throw new Error("a text of the tables holds a lone surrogate");
  const known = characterisation === undefined ? "" : `"characterisation":${canonicalize(characterisation)},`;
  return `{"canonical":1,${known}"descriptor":${head},"tables":${rest}}`;
}

/** An escape of U+D800 to U+DFFF as JSON.stringify writes it, with an even number of backslashes before it. */
const LONE_SURROGATE = /(?<!\\)(?:\\\\)*\\ud[89a-f][0-9a-f]{2}/;

/** `sha256:` and the digest of {@link canonicalText} in hexadecimal: the name of exactly these data. */
export function digest(campaign: Campaign, outline = outlineOf(campaign.descriptor)): string {
  return `sha256:${bytesToHex(sha256(utf8ToBytes(canonicalText(campaign, outline))))}`;
}

function canonicalDescriptor(descriptor: Descriptor): object {
  const resources = descriptor.resources.map((resource: Resource) => {
    const kept: Record<string, unknown> = { ...resource };
    for (const key of FILE_FORM) delete kept[key];
    return kept;
  });
  return { ...descriptor, resources: resources.sort((a, b) => (String(a["name"]) < String(b["name"]) ? -1 : 1)) };
}

/**
 * Columns sorted by name, those without any content left out, so that neither their order nor their presence matters.
 * Its keys stand in RFC 8785's order, and so do those of all it holds: JSON.stringify writes the canonical text.
 */
function canonicalTable(table: Table, known: readonly Column[]): object {
  const numbers = new Set(known.filter((column) => column.kind === "number").map((column) => column.name));
  const names = known.map((column) => column.name);
  const rows = table.rows.filter((row) => !isBlankRow(row));
  const columns = table.columns
    .map((typed, index) => ({ name: columnName(typed, names), index }))
    .filter(({ index }) => rows.some((row) => row[index] !== ""))
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.index - b.index));
  return {
    columns: columns.map(({ name }) => name),
    rows: rows.map((row) =>
      columns.map(({ name, index }) => {
        const typed = row[index]!;
        const cell = typed.includes("\r") ? typed.replace(/\r\n?/g, "\n") : typed;
        return cell !== "" && numbers.has(name) ? canonicalNumber(cell, table.decimal) : cell;
      }),
    ),
  };
}

/** A number with a decimal point whatever the table's sign; other content of a number column is marked as text. */
function canonicalNumber(cell: string, decimal: "." | ","): string | { text: string } {
  if (!isNumberText(cell.trim(), decimal)) return { text: cell };
  return decimal === "," ? cell.replace(",", ".") : cell;
}
