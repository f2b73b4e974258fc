import type { Model, Scalar } from "@alcedo-dosimetry/metrology";
import type { Campaign } from "./campaign.ts";
import { digest } from "./canonical.ts";
import { evaluateChain } from "./evaluate-chain.ts";
import type { Evaluated } from "./evaluated.ts";
import { type Finding, type FindingLevel, isError } from "./finding.ts";
import { RULES } from "./findings/rules.ts";
import { reportQuantities } from "./quantities.ts";
import { readDescriptor } from "./read-descriptor.ts";
import { interpret } from "./readings.ts";
import type { Result } from "./result.ts";
import { stagesOf } from "./stages.ts";
import { worst } from "./standing.ts";
import { VERSION } from "./version.ts";

/** An evaluated campaign: the result, and the model behind it for trace, comparison and what-if. */
export interface Evaluation {
  readonly result: Result;
  /** Absent where the campaign cannot be evaluated: the findings say why. */
  readonly model?: Model;
  /** What the chain found, stage by stage, before it was judged: for pictures. Absent where the model is. */
  readonly evaluated?: Evaluated;
  /** The node behind each quantity that has one, by id. */
  readonly nodes: ReadonlyMap<string, Scalar>;
}

/** What an evaluation may be told beside the campaign. */
export interface EvaluateOptions {
  /** The day against which a characterisation may be stale, YYYY-MM-DD; that of the last reading unless given. */
  readonly asOf?: string;
}

/** Exit status of a result: 2 nothing could be evaluated, 1 a criterion failed or a standing is broken, 0 otherwise. */
export function exitStatus({ model, result }: Evaluation): 0 | 1 | 2 {
  if (!model) return 2;
  return result.standing === "broken" ? 1 : 0;
}

/**
 * Evaluates a campaign: one pass from raw readings to every reported quantity, with its uncertainty, budget, standing and
 * findings. Same campaign, same result to the last bit.
 *
 * Never throws for what a campaign may hold: whatever stands in the way is a finding.
 *
 * @param found findings from reading the campaign's bytes, which go before those of the evaluation.
 */
export function evaluate(
  campaign: Campaign,
  found: readonly Finding[] = [],
  { asOf }: EvaluateOptions = {},
): Evaluation {
  const { name } = campaign.descriptor;
  const { findings: described, outline } = readDescriptor(campaign.descriptor);
  const head = { alcedo: VERSION, campaign: name, input: digest(campaign, outline) };
  const interpretation = outline && !described.some(isError) ? interpret(campaign, outline) : undefined;
  const formal = [...described, ...(interpretation?.findings ?? [])];
  const known = new Set(found.map((finding) => JSON.stringify(finding)));
  const before = [...found, ...formal.filter((finding) => !known.has(JSON.stringify(finding)))];
  if (!interpretation || before.some(isError))
    return {
      result: { ...head, standing: "broken", stages: [], quantities: [], findings: inOrder(before) },
      nodes: new Map(),
    };
  const evaluated = evaluateChain(campaign, interpretation, asOf);
  const { quantities, nodes } = reportQuantities(evaluated);
  const stages = stagesOf(evaluated);
  const findings = inOrder([...before, ...judge(evaluated)]);
  const standing = worst(stages.map(({ standing: own }) => own));
  return { result: { ...head, standing, stages, quantities, findings }, model: evaluated.model, evaluated, nodes };
}

/** What stopped a stage, once each, and what the rules see. */
function judge(evaluated: Evaluated): Finding[] {
  return [...new Set(evaluated.stopped.values()), ...RULES.flatMap((rule) => rule.check(evaluated))];
}

const LEVELS: readonly FindingLevel[] = ["error", "warning", "notice"];

/** Errors first, then warnings, then notices; each as found. */
function inOrder(findings: readonly Finding[]): Finding[] {
  return LEVELS.flatMap((level) => findings.filter((finding) => finding.level === level));
}
