import type { Signature } from "@alcedo-dosimetry/protocol";

/** How far a campaign has come on its way to being signed by two. */
export interface SignedState {
  /** The last signature of the one who measured. */
  readonly measured?: Signature;
  /** Of the second person, who agreed with just that. */
  readonly agreed?: Signature;
  /** The last word of a second person who gave just that back. */
  readonly returned?: Signature;
}

/** Reads the signatures of a campaign, first to last. */
export function signedState(signatures: readonly Signature[]): SignedState {
  let state: SignedState = {};
  for (const signature of signatures) {
    if (signature.meaning === "measured") state = { measured: signature };
    else if (!state.measured || state.measured.evaluation !== signature.evaluation) continue;
    else if (signature.meaning === "returned") state = { measured: state.measured, returned: signature };
    else state = { measured: state.measured, agreed: signature };
  }
  return state;
}

/** What a person may do now; `nothing` with the reason. */
export type Turn = { readonly may: "sign" | "review" } | { readonly may: "nothing"; readonly why: string };

/** Whose turn it is, for a person. */
export function turnOf({ measured, agreed, returned }: SignedState, person: string): Turn {
  // what was changed since is a new version, and nobody has signed that
  if (!measured?.isCurrent) return { may: "sign" };
  if (agreed)
    return { may: "nothing", why: "Both have signed. A later change makes a new version, to be signed anew." };
  if (measured.who === person && returned)
    return {
      may: "nothing",
      why: "Change what is to be changed, and sign that. Where nothing is, say so in a note or by word of mouth: your signature stands, and another person can still agree.",
    };
  if (measured.who === person)
    return {
      may: "nothing",
      why: "You have signed as the one who measured. Another person reviews: nobody checks their own.",
    };
  return { may: "review" };
}
