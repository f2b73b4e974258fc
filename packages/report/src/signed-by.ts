/** A signature under the evaluation that a document shows, made in an archive. */
export interface SignedBy {
  /** Of the measurer; of a reviewer who agrees; of one who gives it back. */
  readonly meaning: "measured" | "agrees" | "returned";
  /** The signer's name and id, as they are to be printed. */
  readonly who: string;
  /** ISO 8601 with its offset from UTC. */
  readonly when: string;
  /** Digest of the evaluation that was signed. */
  readonly evaluation: string;
  /** Head of the archive's seal when it was signed: noted elsewhere, it shows an archive that was made anew. */
  readonly head: string;
  /** Ed25519, in hexadecimal. */
  readonly signature: string;
  /** The signer's, in hexadecimal. */
  readonly publicKey: string;
  /** Why it was given back. */
  readonly reason?: string;
}
