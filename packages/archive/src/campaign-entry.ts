import { type Campaign, digest, isBlankRow } from "@alcedo-dosimetry/campaign";
import type { CampaignTable } from "./schema.ts";

/** The row of a campaign in the table that lists and searches read: all of it follows from the document. */
export function campaignEntry(id: string, latest: number, campaign: Campaign): CampaignTable {
  const { name, title = "", description = "", keywords = [], alcedo } = campaign.descriptor;
  const { detector, beam } = alcedo;
  const rows = Object.values(campaign.tables).flatMap((table) => table.rows.filter((row) => !isBlankRow(row)));
  return {
    id,
    name,
    title,
    fibre: detector.id,
    beam: beam.id,
    readings: rows.length,
    input: digest(campaign),
    words: [id, name, title, description, ...keywords, detector.id, beam.id].join("\n").toLowerCase(),
    latest,
  };
}
