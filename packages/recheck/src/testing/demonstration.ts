import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Campaign, Descriptor, Table } from "@alcedo-dosimetry/campaign";

const folder = new URL("../../../../examples/demonstration/", import.meta.url);
const textOf = (path: string) => readFileSync(fileURLToPath(new URL(path, folder)), "utf8");

/** The demonstration campaign, read the plain way: commas, points, and quotes round cells that hold a comma. */
export function demonstration(): Campaign {
  const descriptor = JSON.parse(textOf("datapackage.json")) as Descriptor;
  const tables = descriptor.resources.map(({ name, path }) => [name, tableOf(path, textOf(path))] as const);
  return { descriptor, tables: Object.fromEntries(tables) };
}

function tableOf(path: string, text: string): Table {
  const [columns = [], ...rows] = text.trimEnd().split("\n").map(cellsOf);
  return { path, decimal: ".", columns, rows, lines: rows.map((_, i) => i + 2) };
}

function cellsOf(line: string): string[] {
  const quoted = line.split('"');
  // Every other piece stands between quotes: its commas belong to the cell.
  return quoted
    .map((piece, i) => (i % 2 === 0 ? piece.replaceAll(",", "\n") : piece))
    .join("")
    .split("\n");
}
