import { type Archive, addReading, editCampaign, type KeptCampaign, undo } from "@alcedo-dosimetry/archive";
import type { Handlers } from "../asked.ts";
import type { World } from "../world.ts";
import { campaignAnswer, tellOf } from "./campaign-answer.ts";

/** Changes of a campaign: each is on the disk when it is answered. */
export function changeHandlers({ live }: World): Handlers<"edit" | "addReading" | "undo"> {
  const told = (archive: Archive, kept: KeptCampaign, why: string) => {
    tellOf(live, archive, kept, why);
    return { revision: kept.revision };
  };
  return {
    async edit({ params: { id }, body: { after, edits, why, key }, archive }) {
      return told(archive, await editCampaign(archive, id, { after, edits, why, key }), why);
    },
    async addReading({ params: { id }, body: { table, cells, why, key }, archive }) {
      return told(archive, await addReading(archive, id, { table, cells, why, key }), why);
    },
    async undo({ params: { id }, body: { after, why }, archive }) {
      const kept = await undo(archive, id, { after, why });
      tellOf(live, archive, kept, why);
      return campaignAnswer(archive, kept);
    },
  };
}
