import { placeInWords, rowInWords } from "./finding.ts";
import type { FindingList } from "./finding-list.ts";
import type { TypedRow } from "./read-rows.ts";
import type { OutputCorrectionSet } from "./reading.ts";
import { shown } from "./shown-text.ts";
import { structureFinding } from "./structure-finding.ts";

/** A table of output corrections has one value for each size, and says the same of volume averaging throughout. */
export function checkOutputCorrections(rows: readonly TypedRow[], findings: FindingList): void {
  const firstOf = new Map<number, TypedRow>();
  for (const row of rows) {
    const square = row.cells.get("equivalent_square_mm")?.number;
    if (square === undefined) continue;
    const first = firstOf.get(square);
    if (first === undefined) {
      firstOf.set(square, row);
      continue;
    }
    const value = (own: TypedRow) => own.cells.get("output_correction")?.text;
    const [here, there] = [value(row), value(first)];
    const values = here === undefined || there === undefined ? "" : `: ${shown(here)} here, ${shown(there)} there`;
    const message = `${placeInWords(row.where())}: ${square} mm has a value already in ${rowInWords(first.where())}${values}.`;
    findings.add(
      structureFinding("correction-duplicate", message, { where: row.where(), facts: { otherRow: first.row } }),
    );
  }
  const stated = (row: TypedRow) => row.cells.get("volume_averaging")?.text;
  const known = rows.filter((row) => !row.unreadable.has("volume_averaging"));
  const other = known.find((row) => stated(row) !== stated(known[0]!));
  if (other === undefined) return;
  const words = (row: TypedRow) => stated(row) ?? "nothing";
  const where = { ...other.where(), column: "volume_averaging" };
  const message = `${placeInWords(where)}: ${words(other)}, but ${words(known[0]!)} in ${rowInWords(known[0]!.where())}.`;
  findings.add(structureFinding("correction-disagrees", message, { where, facts: { otherRow: known[0]!.row } }));
}

/** What the table says of volume averaging, where it says something. */
export function statedVolumeAveraging(rows: readonly TypedRow[]): Pick<OutputCorrectionSet, "volumeAveraging"> {
  const stated = rows[0]?.cells.get("volume_averaging")?.text;
  return stated === "included" || stated === "apart" ? { volumeAveraging: stated } : {};
}
