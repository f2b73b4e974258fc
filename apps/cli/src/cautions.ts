import type { Descriptor } from "@alcedo-dosimetry/campaign";
import type { Ink } from "./page.ts";
import { wrap } from "./wrap.ts";

const CAUTIONS =
  "Research and quality-assurance aid, not a medical device; for use by a qualified medical physicist. Check independently before clinical use. Local codes, licences and the facility's own protocol come first. Keep patient data out.";

/** True where a campaign says of itself that its data were not measured. */
export function isInvented({ keywords = [] }: Descriptor): boolean {
  return keywords.some((keyword) => ["invented", "simulated"].includes(keyword.trim().toLowerCase()));
}

/** What must be said wherever results are shown. */
export function cautionLines(descriptor: Descriptor, width: number, ink: Ink): string[] {
  const own = isInvented(descriptor) ? `INVENTED DATA, measured nowhere: not for use. ${CAUTIONS}` : CAUTIONS;
  return wrap(own, width).map((line) => ink.dim(line));
}
