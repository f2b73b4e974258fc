import { type Evaluation, type Finding, isError } from "@alcedo-dosimetry/campaign";

/** Why a job gives nothing: the campaign, not the program. */
export interface Refused {
  readonly refused: readonly Finding[];
}

/** What stands in the way of anything that is to be made from an evaluation; undefined where nothing does. */
export function refusalOf({ model, result }: Evaluation): Refused | undefined {
  return model === undefined ? { refused: result.findings.filter(isError) } : undefined;
}
