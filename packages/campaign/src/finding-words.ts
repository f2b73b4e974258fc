import { type Finding, placeInWords, sourceInWords } from "./finding.ts";

/** Where to look, unless the message says so itself. */
export function placeBehind({ message, where }: Finding): string {
  if (where?.file === undefined && where?.sheet === undefined) return "";
  if (message.includes(sourceInWords(where))) return "";
  const place = placeInWords(where);
  const parts = [...(place === "" ? [] : [place]), ...(where.key === undefined ? [] : [`key ${where.key}`])];
  return parts.length > 0 ? ` (${parts.join(", ")})` : "";
}

/** How many findings of each level there are: `1 error, 2 warnings`; empty where there are none. */
export function countInWords(findings: readonly Finding[]): string {
  return (["error", "warning", "notice"] as const)
    .map((level) => ({ level, count: findings.filter((finding) => finding.level === level).length }))
    .filter(({ count }) => count > 0)
    .map(({ level, count }) => `${count} ${level}${count === 1 ? "" : "s"}`)
    .join(", ");
}
