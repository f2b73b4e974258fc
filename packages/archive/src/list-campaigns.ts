import { sql } from "kysely";
import type { Archive } from "./archive.ts";
import { inTransaction } from "./in-transaction.ts";
import type { CampaignTable } from "./schema.ts";

/** A campaign in a list: what its row says, and when and by whom it was changed last. */
export interface ListedCampaign extends Omit<CampaignTable, "words"> {
  readonly at: string;
  readonly who: string;
}

/** Which campaigns a list is to show; without any of these, all. */
export interface CampaignSearch {
  /** Words that must all stand in id, name, title, description, keywords, fibre or beam; capitals make no difference. */
  readonly words?: string;
  readonly fibre?: string;
  readonly beam?: string;
  /** Only those last changed before this revision: the next page after a list that ended with it. */
  readonly before?: number;
  /** At most so many; 100 where nothing is said. */
  readonly limit?: number;
}

/** Campaigns, the last changed first. One query, which reads no document. */
export async function listCampaigns(archive: Archive, search: CampaignSearch = {}): Promise<ListedCampaign[]> {
  const { words = "", fibre, beam, before, limit = 100 } = search;
  return inTransaction(archive, async (tx) => {
    let query = tx
      .selectFrom("campaign")
      .innerJoin("revision", "revision.seq", "campaign.latest")
      .select(["campaign.id", "campaign.name", "campaign.title", "campaign.fibre", "campaign.beam"])
      .select(["campaign.readings", "campaign.input", "campaign.latest", "revision.at", "revision.who"])
      .orderBy("campaign.latest", "desc")
      .limit(limit);
    if (fibre !== undefined) query = query.where("campaign.fibre", "=", fibre);
    if (beam !== undefined) query = query.where("campaign.beam", "=", beam);
    if (before !== undefined) query = query.where("campaign.latest", "<", before);
    for (const word of words.toLowerCase().split(/\s+/).filter(Boolean)) {
      query = query.where(sql<boolean>`campaign.words like ${containing(word)} escape '!'`);
    }
    return query.execute();
  });
}

/** A pattern of LIKE for texts that hold a word, its own marks taken as they stand. */
function containing(word: string): string {
  return `%${word.replace(/[!%_]/g, "!$&")}%`;
}
