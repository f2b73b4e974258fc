import { campaignAt, historyOf, keepCampaign, latestEvaluations, listCampaigns } from "@alcedo-dosimetry/archive";
import type { Handlers } from "../asked.ts";
import { ProblemError } from "../problem-error.ts";
import type { World } from "../world.ts";
import { campaignAnswer, tellOf } from "./campaign-answer.ts";

/** Campaigns on one page of the list. */
const PAGE = 100;

/** The campaigns: lists, one of them, new ones. */
export function campaignHandlers({
  live,
  work,
}: World): Handlers<"campaigns" | "campaign" | "history" | "keep" | "importFile"> {
  return {
    async campaigns({ query: { words, fibre, beam, after }, archive }) {
      const search = {
        ...(words !== undefined && { words }),
        ...(fibre !== undefined && { fibre }),
        ...(beam !== undefined && { beam }),
        ...(after !== undefined && { before: after }),
      };
      const found = await listCampaigns(archive, { ...search, limit: PAGE + 1 });
      const page = found.slice(0, PAGE);
      const evaluations = await latestEvaluations(
        archive,
        page.map(({ id }) => id),
      );
      const campaigns = page.map((campaign) => {
        const evaluation = evaluations.get(campaign.id);
        const current = evaluation?.input === campaign.input;
        return { ...campaign, ...(current && { standing: evaluation.standing as "sound" }) };
      });
      return { campaigns, ...(found.length > PAGE && { next: page.at(-1)!.latest }) };
    },
    async campaign({ params: { id }, query: { revision }, archive }) {
      return campaignAnswer(archive, await campaignAt(archive, id, revision));
    },
    async history({ params: { id }, archive }) {
      const entries = await historyOf(archive, "campaign", id);
      if (entries.length === 0) {
        throw new ProblemError("unknown", `The archive keeps no campaign ${id}.`, "Look its id up in the list.");
      }
      return entries.map(({ seq, who, at, why }) => ({ revision: seq, who, when: at, why }));
    },
    async keep({ body: { campaign, why }, archive }) {
      const kept = await keepCampaign(archive, campaign, why);
      tellOf(live, archive, kept, why);
      return campaignAnswer(archive, kept);
    },
    async importFile({ query: { name }, body, archive, gone }) {
      const { campaign, findings } = await work.run("importFile", { name, bytes: body }, gone);
      if (campaign === undefined) {
        throw new ProblemError("cannot-evaluate", `${name} is no campaign.`, "Mend what the findings name.", {
          findings: [...findings] as never,
        });
      }
      const why = `taken in from ${name}`;
      const kept = await keepCampaign(archive, campaign, why);
      tellOf(live, archive, kept, why);
      return { ...(await campaignAnswer(archive, kept)), findings };
    },
  };
}
