/**
 * The tables as the newest migration leaves them. `revision` is the record; the others but `schema_version` hold nothing
 * that does not follow from it, are there to be searched, and `audit` computes them again.
 */
export interface Schema {
  readonly revision: RevisionTable;
  readonly campaign: CampaignTable;
  readonly evaluation: EvaluationTable;
  readonly change_key: ChangeKeyTable;
  readonly person: PersonTable;
  readonly signature: SignatureTable;
  readonly schema_version: VersionTable;
}

/** The names of all tables. */
export const TABLES = [
  "revision",
  "campaign",
  "evaluation",
  "change_key",
  "person",
  "signature",
  "schema_version",
] as const satisfies readonly (keyof Schema)[];

/** What a revision may be of; in the table the kind is free text, so that later ones need no change of old rows. */
export type Kind = "campaign" | "evaluation" | "fibre" | "beam" | "person" | "signature";

/** One change: who, when, why and what. Rows are added, never changed. */
export interface RevisionTable {
  /** 1, 2, 3, … without a gap. */
  seq: number;
  at: string;
  who: string;
  why: string;
  kind: string;
  /** The identity that the change is of: a campaign's id, a fibre's, a beam's. */
  subject: string;
  /** Of a change to a campaign: the revision with the whole document that it is made to, itself a predecessor. */
  base: number | null;
  /** JSON: what the change is. */
  body: string;
  /** SHA-256, in hexadecimal, over the seal before it and this row. */
  seal: string;
}

/** Each campaign as its latest revision leaves it, by what lists and searches ask for. */
export interface CampaignTable {
  id: string;
  name: string;
  title: string;
  fibre: string;
  beam: string;
  readings: number;
  /** Digest of the canonical campaign. */
  input: string;
  /** What a search looks through, in small letters. */
  words: string;
  /** Its latest revision. */
  latest: number;
}

/** Each kept evaluation, by its revision. */
export interface EvaluationTable {
  seq: number;
  campaign: string;
  /** Digest of the campaign that was evaluated. */
  input: string;
  /** Digest of the whole result, budgets included. */
  result: string;
  standing: string;
  /** Version of the program that evaluated. */
  program: string;
}

/** Keys that changes were sent under, each with the revision that it made. */
interface ChangeKeyTable {
  key: string;
  seq: number;
}

/** Each person as the latest revision leaves them; what wraps the key stands in the revision alone. */
export interface PersonTable {
  id: string;
  name: string;
  /** Ed25519, in hexadecimal. */
  public_key: string;
  latest: number;
}

/** Each signature, by its revision. */
export interface SignatureTable {
  seq: number;
  campaign: string;
  /** The campaign's revision that was signed. */
  revision: number;
  /** The revision of the evaluation that was signed. */
  evaluation: number;
  meaning: string;
  who: string;
}

/** The migrations that this database has seen. */
interface VersionTable {
  version: number;
  name: string;
}
