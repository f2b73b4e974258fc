import { type Archive, campaignAt, keepEvaluation, signaturesOf } from "@alcedo-dosimetry/archive";
import type { Finding } from "@alcedo-dosimetry/campaign";
import type { SignedBy } from "@alcedo-dosimetry/report";
import type { Handlers } from "../asked.ts";
import type { People } from "../people.ts";
import { ProblemError } from "../problem-error.ts";
import type { World } from "../world.ts";

/** What follows from a campaign, worked out beside the server. */
export function evaluationHandlers({
  work,
  people,
}: World): Handlers<"evaluate" | "recheck" | "monteCarlo" | "document" | "exportFile"> {
  return {
    async evaluate({ params: { id }, body: { after }, archive, gone }) {
      const { campaign, revision } = await campaignAt(archive, id);
      if (revision !== after) {
        const detail = `The campaign ${id} has changed since revision ${after}: it is at revision ${revision} now.`;
        throw new ProblemError("conflict", detail, "Open it again, and evaluate it as it is now.", { revision });
      }
      const result = await work.run("evaluate", { campaign }, gone);
      const kept = await keepEvaluation(archive, id, result, `evaluated as revision ${revision} left it`);
      return { result, digest: kept.result };
    },
    async recheck({ params: { id }, archive, gone }) {
      const { campaign } = await campaignAt(archive, id);
      return orProblem(await work.run("recheck", { campaign }, gone));
    },
    async monteCarlo({ params: { id }, body: request, archive, gone }) {
      const { campaign } = await campaignAt(archive, id);
      return orProblem(await work.run("monteCarlo", { campaign, request }, gone));
    },
    async document({ params: { id }, query: { kind, format }, archive, gone }) {
      const { campaign } = await campaignAt(archive, id);
      const signed = await signedBy(archive, people, id);
      const bytes = orProblem(await work.run("document", { campaign, kind, format, signed }, gone));
      const type = format === "pdf" ? "application/pdf" : "text/html; charset=utf-8";
      return { bytes, type, name: `${id}-${kind}.${format}`, shown: true };
    },
    async exportFile({ params: { id }, query: { as }, archive, gone }) {
      const { campaign } = await campaignAt(archive, id);
      const bytes = orProblem(await work.run("exportFile", { campaign, as }, gone));
      return { bytes, ...EXPORTS[as](id) };
    },
  };
}

/** The signatures that a campaign bears as it is, each with the signer's name. */
async function signedBy(archive: Archive, people: People, id: string): Promise<SignedBy[]> {
  const names = new Map((await people.all()).map((person) => [person.id, person.name]));
  const current = (await signaturesOf(archive, id)).filter(({ isCurrent }) => isCurrent);
  return current.map(({ meaning, who, when, evaluation, head, signature, publicKey, reason }) => ({
    ...{ meaning, when, evaluation, head, signature, publicKey },
    who: `${names.get(who) ?? who} (${who})`,
    ...(reason !== undefined && { reason }),
  }));
}

const workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
const EXPORTS = {
  zip: (id: string) => ({ type: "application/zip", name: `${id}.zip` }),
  xlsx: (id: string) => ({ type: workbook, name: `${id}.xlsx` }),
  results: (id: string) => ({ type: workbook, name: `${id}-results.xlsx` }),
};

/** What a job gave; a campaign that it refused is a problem with its findings. */
function orProblem<Given extends object>(
  given: Given | { readonly refused: readonly Finding[] },
): Exclude<Given, { readonly refused: readonly Finding[] }> {
  if (!("refused" in given)) return given as Exclude<Given, { readonly refused: readonly Finding[] }>;
  const { refused } = given;
  const [first] = refused;
  throw new ProblemError(
    "cannot-evaluate",
    first?.message ?? "The campaign cannot be evaluated.",
    first?.remedy ?? "Mend what the findings name.",
    { findings: [...refused] as never },
  );
}
