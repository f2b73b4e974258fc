import { CAUTIONS, type Descriptor, isInvented } from "@alcedo-dosimetry/campaign";
import type { Ink } from "./page.ts";
import { wrap } from "./wrap.ts";

/** What must be said wherever results are shown. */
export function cautionLines(descriptor: Descriptor, width: number, ink: Ink): string[] {
  const own = isInvented(descriptor) ? `INVENTED DATA, measured nowhere: not for use. ${CAUTIONS}` : CAUTIONS;
  return wrap(own, width).map((line) => ink.dim(line));
}
