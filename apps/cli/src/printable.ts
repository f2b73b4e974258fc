import { shown } from "@alcedo-dosimetry/campaign";

/** A text from a file, made safe to print: nothing in it can colour, rewrite or turn round the line that it stands in. */
export function printable(text: string): string {
  return shown(text, Number.POSITIVE_INFINITY).slice(1, -1);
}
