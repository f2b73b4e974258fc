import { CAUTIONS } from "@alcedo-dosimetry/campaign";
import type { Block, Section } from "../document/document.ts";
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

/** Lines for who measured and for the second person, who recomputed without having measured. */
export function signatures({ date }: Material): Section {
  const block: Block = {
    kind: "signatures",
    roles: ["Measured and evaluated by", "Reviewed by (a second qualified person who did not measure)"],
    ...(date !== undefined && { date }),
  };
  return { id: "signatures", title: "Signatures", blocks: [block] };
}
