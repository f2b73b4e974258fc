import { DESCRIPTOR_FILE, type Finding } from "@alcedo-dosimetry/campaign";
import type { CampaignSheet } from "./campaign-sheet.ts";

/** A finding about the descriptor as one about the sheet that states it: the row in place of the file, keys as the sheet has them. */
export function descriptorFinding(
  finding: Finding,
  sheet: string,
  { rows }: Pick<CampaignSheet, "rows">,
  series: readonly string[],
): Finding {
  const pointer = (finding.where?.key ?? "").replace(
    /^\/resources\/(\d+)/,
    (_, i: string) => `/series/${series[Number(i)]}`,
  );
  const line = rowOf(pointer, rows);
  const source = `sheet ${sheet}${line === undefined ? "" : `, row ${line}`}: `;
  const inSheet = (text: string) =>
    text
      .replace(/\balcedo\.(detector|beam|assumptions|criteria)\b/g, "$1")
      .replace(/\bresources\[(\d+)\]/g, (_, i: string) => `series.${series[Number(i)]}`);
  const { where: _, ...rest } = finding;
  return {
    ...rest,
    message: inSheet(finding.message.replace(`${DESCRIPTOR_FILE}: `, source)),
    ...(finding.remedy !== undefined && { remedy: inSheet(finding.remedy) }),
    where: { sheet, ...(line !== undefined && { line }), key: pointer },
  };
}

/** The row of a key, or of the first key beneath it or above it that has one. */
function rowOf(pointer: string, rows: ReadonlyMap<string, number>): number | undefined {
  for (let at = pointer; at !== ""; at = at.slice(0, at.lastIndexOf("/"))) {
    const own = rows.get(at);
    if (own !== undefined) return own;
  }
  return pointer === "" ? undefined : [...rows].find(([key]) => key.startsWith(`${pointer}/`))?.[1];
}
