export type { Archive } from "./archive.ts";
export { ArchiveError, type ArchiveFault } from "./archive-error.ts";
export { type Audit, audit, type KnownSeal } from "./audit.ts";
export type { AuditFault } from "./audit-fault.ts";
export { campaignAt, type KeptCampaign } from "./campaign-at.ts";
export { addReading, excludeReading, includeReading, type NewReading } from "./change-reading.ts";
export { type CampaignEdits, editCampaign } from "./edit-campaign.ts";
export { type HistoryEntry, historyOf } from "./history.ts";
export { describeIdentity, type Identity, type IdentityKind, identities } from "./identities.ts";
export { keepCampaign, reviseCampaign, undo } from "./keep-campaign.ts";
export {
  type EvaluationBody,
  evaluationAt,
  evaluationsOf,
  type KeptResult,
  keepEvaluation,
} from "./keep-evaluation.ts";
export { type KeptSignature, keepSignature, reviewSample, type SignatureBody } from "./keep-signature.ts";
export { type FibreCampaigns, fibreCampaigns, latestEvaluations } from "./latest-evaluations.ts";
export { type CampaignSearch, type ListedCampaign, listCampaigns } from "./list-campaigns.ts";
export { type KeptPerson, keepPerson, people, personAt, revisePerson } from "./people.ts";
export type { Person } from "./person.ts";
export type { EnteredCell, SampledReading } from "./review-sample.ts";
export { type ChangeSinceSigned, changeSinceSigned, signaturesOf } from "./signatures-of.ts";
export {
  isGenuine,
  type Meaning,
  type SignedStatement,
  type Statement,
  statementBytes,
  statementFor,
} from "./statement.ts";
