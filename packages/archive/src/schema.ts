/**
 * The tables as the newest migration leaves them. `revision` is the record; `campaign` and `evaluation` hold nothing that
 * does not follow from it, are there to be searched, and `audit` computes them again.
 */
export interface Schema {
  readonly revision: RevisionTable;
  readonly campaign: CampaignTable;
  readonly evaluation: EvaluationTable;
  readonly schema_version: VersionTable;
}

/** What a revision may be of; in the table the kind is free text, so that later ones need no change of old rows. */
export type Kind = "campaign" | "evaluation" | "fibre" | "beam";

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

/** The migrations that this database has seen. */
interface VersionTable {
  version: number;
  name: string;
}
