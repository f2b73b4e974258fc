import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import type { Campaign } from "@alcedo-dosimetry/campaign";
import { readFolder } from "@alcedo-dosimetry/exchange";

/** The campaign in a folder of the repository. @throws Error where it holds one that cannot be read. */
export function campaignIn(folder: string): Campaign {
  const { campaign, findings } = readFolder({
    name: folder,
    list: () => readdirSync(folder),
    size: (path) => statSync(join(folder, path), { throwIfNoEntry: false })?.size,
    read: (path) => readFileSync(join(folder, path)),
  });
  if (!campaign) throw new Error(findings.map(({ message }) => message).join("\n"));
  return campaign;
}
