import type { Finding, Where } from "./finding.ts";
import { present } from "./present.ts";
import { STRUCTURE_CODES, type StructureCode } from "./structure-codes.ts";

/** What a finding says beyond its code. */
export interface StructureDetails {
  readonly where?: Where;
  /** In place of the rule's own remedy, where more is known. */
  readonly remedy?: string;
  readonly effect?: string;
  readonly facts?: Readonly<Record<string, string | number>>;
}

/** A finding about the form of a campaign: level and usual remedy come from the registry. */
export function structureFinding(code: StructureCode, message: string, details: StructureDetails = {}): Finding {
  const rule = STRUCTURE_CODES[code];
  return present({
    level: rule.level,
    code,
    message,
    effect: details.effect,
    remedy: details.remedy ?? rule.remedy,
    where: details.where,
    facts: details.facts,
  });
}
