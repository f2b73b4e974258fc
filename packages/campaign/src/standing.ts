/** What a stage is worth now. */
export type Standing = "sound" | "untested" | "stale" | "broken";

const ORDER: readonly Standing[] = ["sound", "untested", "stale", "broken"];

/** The worst of several standings; sound where there are none. */
export function worst(standings: readonly Standing[]): Standing {
  return standings.reduce<Standing>((a, b) => (ORDER.indexOf(b) > ORDER.indexOf(a) ? b : a), "sound");
}
