import type { Descriptor } from "./descriptor.ts";

/** What must be said wherever results are shown, printed or exported. */
export const CAUTIONS =
  "Research and quality-assurance aid, not a medical device; for use by a qualified medical physicist. Check independently before clinical use. Local codes, licences and the facility's own protocol come first. Keep patient data out.";

/** True where a campaign says of itself that its data were not measured. */
export function isInvented({ keywords = [] }: Descriptor): boolean {
  return keywords.some((keyword) => ["invented", "simulated"].includes(keyword.trim().toLowerCase()));
}
