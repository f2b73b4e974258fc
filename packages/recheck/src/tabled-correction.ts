import type { OutputCorrection, OutputFactorReading, SeriesReadings } from "@alcedo-dosimetry/campaign";
import { atEstimates, type InputBlock, type Shift, single } from "./elementary-input.ts";
import { equivalentSquare, fieldWidths } from "./equivalent-square.ts";
import { ln } from "./special.ts";

type Table = NonNullable<SeriesReadings["output-corrections"]>;

/** A field, and what it is read for. */
interface Read {
  readonly role: OutputFactorReading["role"];
  /** The row that describes it. */
  readonly field: OutputFactorReading;
}

/** How far outside the table, as a part of its last size, its end still serves. */
const REACH = 0.1;

const errorKey = (source: string, role: Read["role"]) => `output-corrections/${source}/${role}`;
const endKey = (condition: string) => `output-factors/${condition}/beyond-table`;

/** Whether k_vol is a factor of its own beside a table, or without one. */
export const averagesApart = (table: Table | undefined) => table === undefined || table.volumeAveraging === "apart";

/**
 * k of a field off the table: a straight line in ln S through the two rows about the size as estimated (of two lines that
 * meet there, the steeper), followed wherever the size is moved to. Outside it is the end's, within reach.
 */
export function tabledCorrection({ values }: Table, { field, role }: Read, shift: Shift): number | undefined {
  const k = ({ output_correction, u_percent, source }: OutputCorrection) =>
    output_correction * (1 + (u_percent / 100) * shift(errorKey(source, role)));
  const at = equivalentSquare(field.shape, fieldWidths(field, atEstimates));
  const place = placeOf(values, at);
  if (!place) return undefined;
  const { line, end } = place;
  if (!line) return k(end!);
  const [a, b] = line;
  const slope = (k(b) - k(a)) / ln(b.equivalent_square_mm / a.equivalent_square_mm);
  const S = equivalentSquare(field.shape, fieldWidths(field, shift));
  if (!end) return k(a) + slope * ln(S / a.equivalent_square_mm);
  return k(end) + slope * ln(S / at) + shift(endKey(field.condition));
}

/** What is uncertain about the table: an error for the fields and one for the reference by source, and its ends. */
export function tableInputs({ values }: Table, fields: readonly Read[]): InputBlock[] {
  const sources = [...new Set(values.map(({ source }) => source))];
  const errors = sources.flatMap((source) => [
    single(errorKey(source, "field"), 1),
    single(errorKey(source, "reference"), 1),
  ]);
  const ends = new Map<string, number>();
  for (const { field } of fields) {
    const at = equivalentSquare(field.shape, fieldWidths(field, atEstimates));
    const place = placeOf(values, at);
    if (!place?.line || !place.end) continue;
    const slope = slopeOf(...place.line);
    ends.set(endKey(field.condition), Math.abs(slope * ln(at / place.end.equivalent_square_mm)));
  }
  return [...errors, ...[...ends].map(([key, u]) => single(key, u))];
}

/** The line that a size lies on, and the end that it lies beyond. */
interface Place {
  readonly line?: readonly [OutputCorrection, OutputCorrection];
  readonly end?: OutputCorrection;
}

function placeOf(values: readonly OutputCorrection[], S: number): Place | undefined {
  const size = ({ equivalent_square_mm }: OutputCorrection) => equivalent_square_mm;
  const below = values.filter((row) => size(row) <= S).sort((a, b) => size(b) - size(a));
  const above = values.filter((row) => size(row) >= S).sort((a, b) => size(a) - size(b));
  if (values.length === 1) return size(values[0]!) === S ? { end: values[0]! } : undefined;
  if (below.length === 0) {
    const [end, next] = above;
    return S < size(end!) * (1 - REACH) ? undefined : { line: [end!, next!], end: end! };
  }
  if (above.length === 0) {
    const [end, before] = below;
    return S > size(end!) * (1 + REACH) ? undefined : { line: [before!, end!], end: end! };
  }
  if (size(below[0]!) < S) return { line: [below[0]!, above[0]!] };
  const left = below[1] && ([below[1], below[0]!] as const);
  const right = above[1] && ([above[0]!, above[1]] as const);
  if (!left || !right) return { line: (left ?? right)! };
  return { line: Math.abs(slopeOf(...right)) > Math.abs(slopeOf(...left)) ? right : left };
}

function slopeOf(a: OutputCorrection, b: OutputCorrection): number {
  return (b.output_correction - a.output_correction) / ln(b.equivalent_square_mm / a.equivalent_square_mm);
}
