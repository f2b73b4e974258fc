import { evaluate } from "@alcedo-dosimetry/campaign";
import type { Archive } from "../archive.ts";
import { newPerson, type PassphraseCost, signAs } from "../folder/index.ts";
import { keepCampaign } from "../keep-campaign.ts";
import { keepEvaluation } from "../keep-evaluation.ts";
import { type KeptSignature, keepSignature } from "../keep-signature.ts";
import { keepPerson } from "../people.ts";
import type { Person } from "../person.ts";
import type { EnteredCell } from "../review-sample.ts";
import { type Meaning, statementBytes, statementFor } from "../statement.ts";
import { sampleCampaign } from "./sample-campaign.ts";

/** A passphrase that costs next to nothing to try, for tests. */
export const CHEAP: PassphraseCost = { memory_KiB: 64, passes: 1, lanes: 1 };

/** The passphrase of an invented person. */
export function passphraseOf(id: string): string {
  return `${id} says something long`;
}

/** Two invented people, kept: `m.one` measures, `r.two` reviews. */
export async function withPeople(archive: Archive): Promise<{ measurer: Person; reviewer: Person }> {
  const person = async (id: string, name: string) =>
    (await keepPerson(archive, await newPerson({ id, name }, passphraseOf(id), CHEAP), "invited")).person;
  return { measurer: await person("m.one", "M. One (invented)"), reviewer: await person("r.two", "R. Two (invented)") };
}

/** The sample campaign, kept and evaluated: what a signature needs to know of it. */
export async function withEvaluated(archive: Archive, id = "invented-fields", fibre = "F-1") {
  const { revision, campaign } = await keepCampaign(archive, sampleCampaign(id, fibre), "import");
  const { result: digest } = await keepEvaluation(archive, id, evaluate(campaign).result, "official");
  return { id, after: revision, digest, campaign };
}

/** What somebody says of a campaign. */
export interface Said {
  readonly id: string;
  readonly after: number;
  readonly digest: string;
  readonly meaning: Meaning;
  readonly reason?: string;
  readonly entered?: readonly EnteredCell[];
}

/** Signs as a person and keeps it. */
export async function signed(
  archive: Archive,
  person: Person,
  { id, entered = [], ...said }: Said,
): Promise<KeptSignature> {
  const own = { ...archive, who: person.id };
  const statement = await statementFor(own, id, said);
  const signature = await signAs(person, passphraseOf(person.id), statementBytes(statement));
  const { publicKey } = person;
  return keepSignature(own, { ...statement, signature, publicKey }, { entered, why: `signed: ${said.meaning}` });
}
