import { isInvented, VERSION } from "@alcedo-dosimetry/campaign";
import { cautionLines } from "./cautions.ts";
import { changedValues } from "./changed-inputs.ts";
import { type Difference, differenceOf } from "./difference.ts";
import { differenceLines } from "./difference-text.ts";
import { refuse } from "./evaluate-command.ts";
import { jsonText } from "./json-output.ts";
import { type EvaluatedFolder, evaluateFolder, type OpenedFolder } from "./open-campaign.ts";
import type { World } from "./world.ts";

/** `alcedo compare`: two campaigns, quantity by quantity, with what each change comes from. */
export async function compareCommand(
  folders: readonly [string, string],
  { json = false }: { json?: boolean },
  world: World,
): Promise<0 | 2> {
  const [before, after] = [await evaluateFolder(folders[0]), await evaluateFolder(folders[1])];
  if ("none" in before || "none" in after) {
    const sides = [before, after];
    if (json)
      world.stdout.write(
        jsonText({
          alcedo: VERSION,
          ...Object.fromEntries(sides.map((side, i) => [i === 0 ? "before" : "after", sideInJson(side)])),
        }),
      );
    for (const side of sides) if ("none" in side) refuse(side.folder, side.none.findings, world.errors);
    return 2;
  }
  const difference = differenceOf(before, after);
  if (json) world.stdout.write(jsonText(differenceJson(before, after, difference)));
  else {
    const { page } = world;
    const cautious = isInvented(before.campaign.descriptor) ? before : after;
    page.print([
      ...differenceLines(before, after, difference, page),
      "",
      ...cautionLines(cautious.campaign.descriptor, page.width, page.ink),
    ]);
  }
  return 0;
}

/** Which campaign stands on a side; its findings where it could not be evaluated. */
function sideInJson(side: OpenedFolder) {
  const { folder } = side;
  if ("none" in side) return { folder, campaign: side.none.campaign, standing: "broken", findings: side.none.findings };
  const { campaign, input, standing } = side.evaluation.result;
  return { folder, campaign, input, standing };
}

function differenceJson(before: EvaluatedFolder, after: EvaluatedFolder, difference: Difference) {
  return {
    alcedo: VERSION,
    before: sideInJson(before),
    after: sideInJson(after),
    ...difference,
    quantities: difference.quantities.map((quantity) => ({
      ...quantity,
      attributions: quantity.attributions.map((attribution) => ({
        ...attribution,
        values: changedValues(attribution, before.evaluation, after.evaluation),
      })),
    })),
  };
}
