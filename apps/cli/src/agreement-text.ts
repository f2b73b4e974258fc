import { ABSENT, percent, significant } from "@alcedo-dosimetry/campaign";
import { type Agreement, agrees, type Comparison } from "./agreement.ts";
import type { EvaluatedFolder } from "./open-campaign.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { layTable } from "./table.ts";
import { wrap } from "./wrap.ts";

/** Digits of a value: more than its uncertainty has, less than the terminal. */
const DIGITS = 7;

/** Both routes side by side, what only one of them has, and a closing line with the largest difference. */
export function agreementLines(
  { folder, evaluation: { result } }: EvaluatedFolder,
  agreement: Agreement,
  { width, ink }: Page,
): string[] {
  const { compared, onlyEvaluated, onlyRechecked } = agreement;
  const columns = [
    { head: "" },
    { head: "quantity" },
    { head: "value", align: "right" as const },
    { head: "rechecked", align: "right" as const },
    { head: "Δ/u", align: "right" as const },
    { head: "u", align: "right" as const, optional: true },
    { head: "rechecked u", align: "right" as const, optional: true },
  ];
  const { lines, leftOut } = layTable(columns, compared.map(cells), width, ink.dim);
  const disagreeing = compared.filter((one) => !agrees(one));
  return [
    ...wrap(`${printable(folder)} by two independent routes; Δ is rechecked minus value.`, width).map(ink.bold),
    "",
    ...lines,
    ...(leftOut.length > 0 ? wrap(`No room for: ${leftOut.join(", ")}.`, width).map(ink.dim) : []),
    "",
    ...named("without a second route", onlyEvaluated, width),
    ...named("of the second route alone", onlyRechecked, width),
    ...(result.standing === "broken"
      ? wrap("✕ The campaign's standing is broken; alcedo evaluate says why.", width).map(ink.red)
      : []),
    ...(disagreeing.length > 0
      ? wrap(
          `✕ ${disagreeing.length} of ${compared.length} disagree: ${inWords(disagreeing)}. ${largest(compared)}`,
          width,
        ).map(ink.red)
      : wrap(`● All ${compared.length} that both routes have agree. ${largest(compared)}`, width).map(ink.green)),
  ];
}

function cells(one: Comparison): string[] {
  const { id, value, recheckValue, differenceInU, u, recheckU } = one;
  return [
    agrees(one) ? "●" : "✕",
    printable(id),
    significant(value, DIGITS),
    significant(recheckValue, DIGITS),
    differenceInU === null ? ABSENT : significant(differenceInU, 2),
    u === null ? ABSENT : significant(u, 3),
    recheckU === null ? ABSENT : significant(recheckU, 3),
  ];
}

function named(what: string, ids: readonly string[], width: number): string[] {
  if (ids.length === 0) return [];
  return wrap(`— ${ids.length} ${what}: ${ids.map(printable).join(", ")}.`, width, 2);
}

function inWords(disagreeing: readonly Comparison[]): string {
  return disagreeing
    .map(({ id, valueAgrees, uAgrees }) => {
      const which = [...(valueAgrees ? [] : ["value"]), ...(uAgrees ? [] : ["u"])];
      return `${printable(id)} (${which.join(", ")})`;
    })
    .join(", ");
}

/** The largest difference of the values, and of their uncertainties. */
function largest(compared: readonly Comparison[]): string {
  const inU = (one: Comparison) => Math.abs(one.differenceInU ?? 0);
  const ofU = ({ differenceInU, u, recheckU }: Comparison) =>
    differenceInU === null || u === null || recheckU === null ? 0 : Math.abs(recheckU / u - 1);
  const most = (size: (one: Comparison) => number) => compared.reduce((a, b) => (size(b) > size(a) ? b : a));
  if (compared.length === 0) return "";
  const [value, uncertainty] = [most(inU), most(ofU)];
  return `Largest difference: ${significant(inU(value), 2)} u in ${printable(value.id)}; of the uncertainties ${percent(ofU(uncertainty))} in ${printable(uncertainty.id)}.`;
}
