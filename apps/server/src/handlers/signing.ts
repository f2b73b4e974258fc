import {
  type Archive,
  ArchiveError,
  campaignAt,
  type EnteredCell,
  keepSignature,
  type Meaning,
  personAt,
  reviewSample,
  statementBytes,
  statementFor,
} from "@alcedo-dosimetry/archive";
import { signAs } from "@alcedo-dosimetry/archive/folder";
import type { Handlers } from "../asked.ts";
import type { World } from "../world.ts";
import { campaignAnswer, tellOf } from "./campaign-answer.ts";
import { wrongPassphrase } from "./people.ts";

/** What somebody signs, and how they prove that it is them. */
interface Signing {
  readonly after: number;
  readonly digest: string;
  readonly meaning: Meaning;
  readonly passphrase: string;
  readonly reason?: string;
  readonly entered?: readonly EnteredCell[];
}

const WHY: Readonly<Record<Meaning, string>> = {
  measured: "signed by the one who measured",
  agrees: "reviewed, and agreed",
  returned: "reviewed, and returned",
};

/** Signing and reviewing: the passphrase is asked each time, for it alone opens the key. */
export function signingHandlers({ attempts, live }: World): Handlers<"reviewSample" | "sign" | "review"> {
  const sign = async (archive: Archive, id: string, address: string, signing: Signing) => {
    const { after, digest, meaning, passphrase, reason, entered } = signing;
    const { who } = archive;
    const statement = await statementFor(archive, id, {
      ...{ after, digest, meaning },
      ...(meaning === "returned" && reason !== undefined && { reason }),
    });
    const signed = await attempts.attempt(who, address, async () => {
      const person = (await personAt(archive, who))?.person;
      if (person === undefined) return undefined;
      const signature = await signedBy(() => signAs(person, passphrase, statementBytes(statement)));
      return signature === undefined ? undefined : { ...statement, signature, publicKey: person.publicKey };
    });
    if (signed === undefined) throw wrongPassphrase();
    const why = WHY[meaning];
    await keepSignature(archive, signed, { why, ...(entered && { entered }) });
    const kept = await campaignAt(archive, id);
    tellOf(live, archive, kept, why);
    return campaignAnswer(archive, kept);
  };
  return {
    reviewSample: async ({ params: { id }, archive }) => ({ readings: await reviewSample(archive, id) }),
    sign: async ({ params: { id }, body, archive, request }) => sign(archive, id, request.ip, body),
    review: async ({ params: { id }, body: { verdict, ...body }, archive, request }) =>
      sign(archive, id, request.ip, { ...body, meaning: verdict }),
  };
}

/** A signature; undefined where the passphrase was wrong. */
async function signedBy(sign: () => Promise<string>): Promise<string | undefined> {
  try {
    return await sign();
  } catch (error) {
    if (error instanceof ArchiveError && error.fault === "wrong-passphrase") return undefined;
    throw error;
  }
}
