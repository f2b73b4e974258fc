import { addReading, editCampaign, type KeptCampaign, signaturesOf, undo } from "@alcedo-dosimetry/archive";
import type { Handlers } from "../asked.ts";
import type { World } from "../world.ts";
import { answered } from "./campaigns.ts";

/** Changes of a campaign: each is on the disk when it is answered. */
export function changeHandlers({ live }: World): Handlers<"edit" | "addReading" | "undo"> {
  const told = ({ id, revision }: KeptCampaign, who: string, why: string) => {
    live.tell({ campaign: { id, revision, who, why } });
    return { revision };
  };
  return {
    async edit({ params: { id }, body: { after, edits, why, key }, archive, login }) {
      return told(await editCampaign(archive, id, { after, edits, why, key }), login.person.id, why);
    },
    async addReading({ params: { id }, body: { table, cells, why, key }, archive, login }) {
      return told(await addReading(archive, id, { table, cells, why, key }), login.person.id, why);
    },
    async undo({ params: { id }, body: { after, why }, archive, login }) {
      const kept = await undo(archive, id, { after, why });
      told(kept, login.person.id, why);
      return answered(kept, await signaturesOf(archive, id));
    },
  };
}
