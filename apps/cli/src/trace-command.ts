import {
  type Campaign,
  interpret,
  plain,
  type Quantity,
  quantityText,
  traceQuantity,
} from "@alcedo-dosimetry/campaign";
import { campaignHeader } from "./campaign-header.ts";
import { cautionLines } from "./cautions.ts";
import { refuse } from "./evaluate-command.ts";
import { jsonText } from "./json-output.ts";
import { nearestIds } from "./nearest-ids.ts";
import { type EvaluatedFolder, evaluateFolder } from "./open-campaign.ts";
import { originJson } from "./origin-json.ts";
import { originTree } from "./origin-tree.ts";
import { printable } from "./printable.ts";
import { layTable } from "./table.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** What `alcedo trace` may be told. */
export interface TraceOptions {
  readonly depth?: number;
  readonly json?: boolean;
}

/** `alcedo trace`: the origin of one reported number as a tree; without an id, the ids that there are. */
export async function traceCommand(
  folder: string,
  id: string | undefined,
  { depth = Number.POSITIVE_INFINITY, json = false }: TraceOptions,
  world: World,
): Promise<0 | 2> {
  const opened = await evaluateFolder(folder);
  if ("none" in opened) {
    if (json) world.stdout.write(jsonText(opened.none));
    refuse(folder, opened.none.findings, world.errors);
    return 2;
  }
  const { campaign, evaluation } = opened;
  const { result } = evaluation;
  const { page } = world;
  const head = { alcedo: result.alcedo, campaign: result.campaign, input: result.input };
  if (id === undefined) {
    if (json)
      world.stdout.write(
        jsonText({ ...head, ids: result.quantities.map(({ id: own, label, unit }) => ({ id: own, label, unit })) }),
      );
    else page.print(idLines(opened, world));
    return 0;
  }
  const quantity = result.quantities.find((own) => own.id === id);
  if (!quantity) return unknown(id, opened, world);
  const root = traceQuantity(evaluation, id);
  if (json) {
    world.stdout.write(jsonText({ ...head, id, ...(root && { origin: originJson(root, depth) }) }));
    return 0;
  }
  page.print([
    ...campaignHeader(campaign.descriptor, result.input, page),
    "",
    page.ink.bold(`${id}: ${quantity.label}`),
    "",
    ...(root ? originTree(root, { ...page, depth, excluded: excludedReadings(campaign) }) : testLines(quantity)),
    "",
    ...wrap(
      "In brackets the standard uncertainty of the last digits; in per cent the share of the result's u².",
      page.width,
    ),
    "",
    ...cautionLines(campaign.descriptor, page.width, page.ink),
  ]);
  return 0;
}

/** A number that judges others, such as a χ², has no uncertainty that could come from anywhere. */
function testLines(quantity: Quantity): string[] {
  const { symbol, dof, p } = quantity;
  const parts = [
    `${symbol} = ${quantityText(quantity)}`,
    ...(dof === null ? [] : [`${plain(dof)} degrees of freedom`]),
    ...(p === undefined ? [] : [`p = ${plain(p, 3)}`]),
  ];
  return [parts.join(", "), "It is a test, not a measured quantity: it has no tree of origin."];
}

function unknown(id: string, { folder, evaluation }: EvaluatedFolder, { errors }: World): 2 {
  const ids = evaluation.result.quantities.map((quantity) => quantity.id);
  const nearest = nearestIds(id, ids);
  errors.print([
    ...wrap(`alcedo trace: no quantity of ${printable(folder)} has the id ${printable(id)}.`, errors.width),
    ...(nearest.length > 0 ? [`Near it: ${nearest.join(", ")}`] : []),
    `All of them: alcedo trace ${printable(folder)}`,
  ]);
  return 2;
}

function idLines({ evaluation }: EvaluatedFolder, { page: { width, ink } }: World): string[] {
  const rows = evaluation.result.quantities.map((quantity) => [quantity.id, quantityText(quantity), quantity.label]);
  const columns = [
    { head: "id" },
    { head: "value", align: "right" as const },
    { head: "what", flexible: true, optional: true, least: 30 },
  ];
  return [...layTable(columns, rows, width, ink.dim).lines];
}

/** Why readings were left out, by series and id. */
function excludedReadings(campaign: Campaign): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const { series } = interpret(campaign);
  const kinds = ["background", "separation", "calibration", "output-factors"] as const;
  return new Map(
    kinds.map((kind) => [
      kind,
      new Map((series[kind]?.excluded ?? []).map(({ id, row, exclude }) => [id ?? `row ${row}`, exclude])),
    ]),
  );
}
