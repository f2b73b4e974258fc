import { propagate } from "@alcedo-dosimetry/metrology";
import type { Evaluated } from "./evaluated.ts";
import { list, percent, significant } from "./findings/in-words.ts";
import type { Stage, StageId } from "./result.ts";
import { type Standing, worst } from "./standing.ts";

/** The standing of every stage that the campaign has, with its reason. */
export function stagesOf(evaluated: Evaluated): Stage[] {
  const { series } = evaluated;
  const separation =
    characterisationStage(evaluated) ??
    (series.separation || evaluated.stopped.has("separation") ? separationStage(evaluated) : undefined);
  const stages: (Stage | undefined)[] = [
    series.background && backgroundStage(evaluated),
    separation,
    series.calibration && resting(evaluated, "calibration", separation, calibrationReason),
    series["output-factors"] && resting(evaluated, "output-factors", separation, outputFactorReason),
  ];
  return stages.filter((stage) => stage !== undefined);
}

function backgroundStage({ background }: Evaluated): Stage {
  const { groups, dof } = background!;
  const counts = groups.map(({ name, count }) => `${readings(count)} ${name}`).join(", ");
  return dof === undefined
    ? { id: "background", standing: "untested", reason: `${counts}; without repeats nobody knows its scatter` }
    : { id: "background", standing: "sound", reason: counts };
}

function separationStage(evaluated: Evaluated): Stage {
  const { separation, verifications, range, assumptions } = evaluated;
  const stage = (standing: Standing, reason: string): Stage => ({ id: "separation", standing, reason });
  const stopped = evaluated.stopped.get("separation");
  if (stopped || !separation) return stage("broken", stopped?.message ?? "no fit");
  const verdict = (kind: string) => verifications.filter((v) => v.verdict === kind);
  const names = (kind: string) => list(verdict(kind).map(({ condition }) => condition.name));
  const criterion = percent(assumptions.values.separationResidual_percent / 100);
  if (verdict("failed").length > 0)
    return stage("broken", `${names("failed")} kept aside: off by more than ${criterion}`);
  if (separation.p !== undefined && separation.p < 0.01)
    return stage("untested", `the fit conditions disagree with each other (p = ${significant(separation.p, 2)})`);
  if (range?.reachesMiddle) {
    const largest = verdict("passed").reduce((most, { residual }) => Math.max(most, Math.abs(residual.value)), 0);
    return stage("sound", `${names("passed")} kept aside: within ${percent(largest)} of their group`);
  }
  if (verdict("passed").length > 0)
    return stage(
      "untested",
      `${names("passed")} kept aside: within the criterion, but with less fibre than the middle of the fit's range`,
    );
  if (verifications.length > 0) return stage("untested", `${names("inconclusive")} kept aside: inconclusive`);
  if (separation.dof === 0)
    return stage("untested", "as many unknowns as conditions: the fit agrees with itself by construction");
  return separation.p === undefined
    ? stage("untested", "nothing was kept aside to test the fit, and without repeats nobody can say how well it agrees")
    : stage("untested", "the fit agrees with itself; nothing was kept aside to test it");
}

/** A separation of another day is worth what it was then, as long as it is not stale. */
function characterisationStage({ characterisation }: Evaluated): Stage | undefined {
  if (!characterisation) return undefined;
  const { stored, age } = characterisation;
  const from = `characterisation of ${stored.date}`;
  if (age.stale.length > 0) return { id: "separation", standing: "stale", reason: `${from}: ${age.stale.join("; ")}` };
  const old = age.days === undefined ? "of unknown age" : `${age.days} ${age.days === 1 ? "day" : "days"} old`;
  return {
    id: "separation",
    standing: stored.standing,
    reason: stored.standing === "sound" ? `${from}, ${old}` : `${from}, ${old}; it was untested then`,
  };
}

/** A stage that needs the separation is worth no more than it. */
function resting(
  evaluated: Evaluated,
  id: StageId,
  separation: Stage | undefined,
  reason: (evaluated: Evaluated) => string,
): Stage {
  const stopped = evaluated.stopped.get(id);
  if (stopped) {
    const upstream = separation?.standing === "broken" && stopped === evaluated.stopped.get("separation");
    return { id, standing: "broken", reason: upstream ? "it needs the separation, which is broken" : stopped.message };
  }
  const standing = worst([separation?.standing ?? "broken"]);
  const own = reason(evaluated);
  return standing === "sound"
    ? { id, standing, reason: own }
    : { id, standing, reason: `${own}; it rests on the separation, which is ${standing}` };
}

function calibrationReason({ calibration }: Evaluated): string {
  const { conditions } = calibration!.net;
  return readings(conditions.reduce((total, { count }) => total + count, 0));
}

function outputFactorReason({ outputFactors, model }: Evaluated): string {
  const { fields, reference } = outputFactors!;
  const count = `${fields.length} ${fields.length === 1 ? "field" : "fields"}`;
  if (!reference.drift) return `${count}, one visit to the reference`;
  const { value } = propagate(model, reference.drift);
  return `${count}, the reference moved by ${percent(value)}`;
}

const readings = (count: number) => `${count} ${count === 1 ? "reading" : "readings"}`;
