import { CAUTIONS } from "@alcedo-dosimetry/campaign";
import type { Block, Section, Text } from "../document/document.ts";
import { user } from "../document/text.ts";
import type { SignedBy } from "../signed-by.ts";
import type { Material } from "./section-material.ts";

/** What a data set that nobody measured is called, on every page. */
export const MARKING = "INVENTED DATA: measured nowhere, not for use";

/** What must be said wherever results stand. */
export function cautions(marking: string | undefined): Section {
  return {
    id: "cautions",
    title: "Cautions",
    blocks: [
      ...(marking === undefined
        ? []
        : [{ kind: "paragraph" as const, text: `▲ ${marking}.`, tone: "strong" as const }]),
      { kind: "paragraph", text: CAUTIONS },
      {
        kind: "paragraph",
        text: "Coefficients hold for this fibre, reader, gain, beam energy, filter and magnetic field alone. A pass within a tolerance is no proof: read it with its U.",
      },
    ],
  };
}

const MEASURED = "Measured and evaluated by";
const REVIEWED = "Reviewed by (a second qualified person who did not measure)";

const SAID: Readonly<Record<SignedBy["meaning"], string>> = {
  measured: "Measured and evaluated",
  agrees: "Reviewed, and agreed to",
  returned: "Reviewed, and returned",
};

/**
 * Signatures that were made in an archive, each with what it stands under; and lines for those that are still to come: who
 * measured, and the second person, who recomputed without having measured.
 */
export function signatures({ date, signed }: Material): Section {
  const has = (meaning: SignedBy["meaning"]) => signed.some((one) => one.meaning === meaning);
  const roles = [...(has("measured") ? [] : [MEASURED]), ...(has("agrees") ? [] : [REVIEWED])];
  const lines: Block = { kind: "signatures", roles, ...(date !== undefined && { date }) };
  return {
    id: "signatures",
    title: "Signatures",
    blocks: [...signed.flatMap(signatureBlocks), ...(roles.length > 0 ? [lines] : [])],
  };
}

function signatureBlocks({ meaning, who, when, reason, evaluation, head, signature, publicKey }: SignedBy): Block[] {
  const number = (text: string): Text => [{ text, tone: "number" }];
  return [
    { kind: "heading", level: 3, text: SAID[meaning] },
    {
      kind: "facts",
      facts: [
        ["By", [user(who)]],
        ["When", when],
        ...(reason === undefined ? [] : [["Reason", [user(reason)]] as const]),
        ["Evaluation", number(evaluation)],
        ["Seal", number(head)],
        // two lines of the length of a digest
        ["Signature", number(`${signature.slice(0, 64)} ${signature.slice(64)}`)],
        ["Key", number(publicKey)],
      ],
    },
  ];
}
