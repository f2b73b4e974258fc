export type { Archive } from "./archive.ts";
export { ArchiveError, type ArchiveFault } from "./archive-error.ts";
export { type Audit, type AuditFault, audit, type KnownSeal } from "./audit.ts";
export { campaignAt, type KeptCampaign } from "./campaign-at.ts";
export { addReading, excludeReading, includeReading } from "./change-reading.ts";
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
export { type CampaignSearch, type ListedCampaign, listCampaigns } from "./list-campaigns.ts";
