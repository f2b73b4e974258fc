import { interpret, isError, resolveAssumptions, VERSION } from "@alcedo-dosimetry/campaign";
import { recheck, sideBySide } from "@alcedo-dosimetry/recheck";
import { type Agreement, agreementOf, agrees } from "./agreement.ts";
import { agreementLines } from "./agreement-text.ts";
import { cautionLines } from "./cautions.ts";
import { refuse } from "./evaluate-command.ts";
import { jsonText } from "./json-output.ts";
import { type EvaluatedFolder, evaluateFolder } from "./open-campaign.ts";
import type { World } from "./world.ts";

/** `alcedo recheck`: every number by a second, independent route, beside the first. */
export async function recheckCommand(
  folder: string,
  { json = false }: { json?: boolean },
  world: World,
): Promise<0 | 1 | 2> {
  const opened = await evaluateFolder(folder);
  // A part that an error stopped is no part to recheck: the second route needs all that it would stand on.
  if ("none" in opened || opened.evaluation.result.findings.some(isError)) {
    const result = "none" in opened ? opened.none : opened.evaluation.result;
    if (json) world.stdout.write(jsonText(result));
    refuse(folder, result.findings, world.errors);
    return 2;
  }
  const agreement = secondRoute(opened);
  const { standing, input } = opened.evaluation.result;
  const agreed = agreement.compared.every(agrees);
  if (json) {
    const { name } = opened.campaign.descriptor;
    world.stdout.write(jsonText({ alcedo: VERSION, campaign: name, input, standing, agrees: agreed, ...agreement }));
  } else {
    const { page } = world;
    page.print([
      ...agreementLines(opened, agreement, page),
      "",
      ...cautionLines(opened.campaign.descriptor, page.width, page.ink),
    ]);
  }
  return agreed && standing !== "broken" ? 0 : 1;
}

/** Corrections for the detector's volume are rechecked where the evaluation computed them. */
function secondRoute({ campaign, evaluation: { result } }: EvaluatedFolder): Agreement {
  const { activeVolume, axis } = campaign.descriptor.alcedo.detector;
  const left = result.findings.some(({ code }) => code === "corrections-not-computed");
  const volume = activeVolume && axis && !left ? { activeVolume: { ...activeVolume, axis } } : {};
  const { values } = resolveAssumptions(campaign.descriptor);
  return agreementOf(sideBySide(result, recheck(interpret(campaign), values, volume)));
}
