import { ABSENT, concise, percent, plain, type QuantityComparison, significant } from "@alcedo-dosimetry/campaign";
import { attributionLines, byFamily } from "./attribution-text.ts";
import { campaignHeader, shortDigest } from "./campaign-header.ts";
import { type Difference, isNoDifference } from "./difference.ts";
import { findingLines } from "./finding-text.ts";
import type { EvaluatedFolder } from "./open-campaign.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { standingMark } from "./standing-mark.ts";
import { layTable } from "./table.ts";
import { textWidth } from "./text-width.ts";
import { wrap, wrapBehind } from "./wrap.ts";

/** Quantities of which the uncertainty alone changed that are listed one by one. */
const LISTED = 8;

/** What differs between two campaigns, as text. */
export function differenceLines(
  before: EvaluatedFolder,
  after: EvaluatedFolder,
  difference: Difference,
  page: Omit<Page, "print">,
): string[] {
  const { width, ink } = page;
  const digests = [before, after].map(({ evaluation }) => evaluation.result.input);
  const heads = (["A", "B"] as const).flatMap((side, i) => {
    const { folder, evaluation } = i === 0 ? before : after;
    return wrapBehind(`${side}  `, `${printable(folder)} · ${shortDigest(digests[i]!)}`, width).map((line, k) =>
      k === 0 ? `${line} · ${standingMark(evaluation.result.standing, ink)}` : line,
    );
  });
  const title = campaignHeader(before.campaign.descriptor, digests[0]!, page);
  if (isNoDifference(difference)) {
    const same = digests[0] === digests[1];
    const verdict = same
      ? "No difference: the two campaigns hold the same."
      : "No difference in any result. What the two campaigns hold differs where nothing depends on it (a title, a note).";
    return [...title.slice(0, 1), ...heads, "", ...wrap(verdict, width)];
  }
  const block = (head: string, lines: readonly string[]) => (lines.length > 0 ? ["", ink.bold(head), ...lines] : []);
  const list = (ids: readonly string[]) => byFamily(ids).flatMap((family) => wrapBehind("  ", family, width, "    "));
  const moved = difference.quantities.filter(hasMoved);
  const spread = difference.quantities.filter((quantity) => !hasMoved(quantity) && hasSpread(quantity));
  return [
    ...title.slice(0, 1),
    ...heads,
    ...block(
      "Standings",
      difference.standings.map(
        ({ id, before: from, after: to }) =>
          `  ${id}: ${from ? standingMark(from, ink) : ABSENT} → ${to ? standingMark(to, ink) : ABSENT}`,
      ),
    ),
    ...block(
      `Values that changed: ${moved.length} of ${difference.quantities.length + difference.unchanged}`,
      moved.length > 0 ? quantityTable(moved, page) : [],
    ),
    ...block("Where the changes come from", attributionLines(moved, before, after, page)),
    ...block("Uncertainties that changed alone", uncertaintyLines(spread, page)),
    ...block(
      "Tests",
      difference.tests.map(({ id, before: from, after: to }) => `  ${id}: ${plain(from, 3)} → ${plain(to, 3)}`),
    ),
    ...block("Only in A", difference.onlyBefore.length > 0 ? list(difference.onlyBefore) : []),
    ...block("Only in B", difference.onlyAfter.length > 0 ? list(difference.onlyAfter) : []),
    ...block(
      "Findings of B that A does not have",
      difference.appeared.flatMap((finding) => findingLines(finding, width, ink)),
    ),
    ...block(
      "Findings of A that B does not have",
      difference.disappeared.flatMap((finding) => findingLines(finding, width, ink)),
    ),
  ];
}

function quantityTable(quantities: readonly QuantityComparison[], { width, ink }: Omit<Page, "print">): string[] {
  const rows = quantities.map(({ id, unit, before, after, change, uBefore, uAfter }) => [
    id,
    concise(before, uBefore),
    concise(after, uAfter),
    inPercent(change, before, uBefore),
    inUnitsOfU(change, uAfter ?? uBefore),
    unit === "1" ? "" : unit,
  ]);
  const right = { align: "right" as const };
  const figures = [
    { head: "A", ...right },
    { head: "B", ...right },
    { head: "change", ...right },
    { head: "in u", ...right },
    { head: "unit", optional: true },
  ];
  const { lines } = layTable([{ head: "quantity" }, ...figures], rows, width, ink.dim);
  if (lines.slice(1).every((line) => textWidth(line) <= width)) return [...lines];
  // too narrow for ids beside their figures: the figures go beneath
  const beneath = layTable(
    [{ head: "" }, ...figures],
    rows.map(([, ...own]) => ["  ", ...own]),
    width,
    ink.dim,
  ).lines;
  return [...beneath.slice(0, 1), ...rows.flatMap(([id], i) => [id!, beneath[i + 1]!])];
}

/** Whether a value moved by more than the last bits of its computation. */
function hasMoved({ before, after, change }: QuantityComparison): boolean {
  return Math.abs(change) > 1e-9 * Math.max(Math.abs(before), Math.abs(after));
}

/** Whether an uncertainty changed by more than the last bits of its computation. */
function hasSpread({ uBefore, uAfter }: QuantityComparison): boolean {
  if (uBefore === null || uAfter === null) return uBefore !== uAfter;
  return Math.abs(uAfter - uBefore) > 1e-9 * Math.max(uBefore, uAfter);
}

/** A change in per cent; of a number that is zero within its uncertainty there is no percentage. */
function inPercent(change: number, before: number, u: number | null): string {
  if (Math.abs(before) <= (u ?? 0)) return ABSENT;
  const fraction = change / Math.abs(before);
  return Math.abs(fraction) < 1e-5 ? "< 0.001 %" : percent(fraction, true);
}

function inUnitsOfU(change: number, u: number | null): string {
  if (u === null || u === 0) return ABSENT;
  if (Math.abs(change / u) < 0.01) return "< 0.01";
  const text = significant(change / u, 2);
  return change > 0 ? `+${text}` : text;
}

/** Quantities whose value stayed and whose u did not, those with the largest change of u first. */
function uncertaintyLines(quantities: readonly QuantityComparison[], { width, ink }: Omit<Page, "print">): string[] {
  if (quantities.length === 0) return [];
  const ratio = ({ uBefore, uAfter }: QuantityComparison) => (uAfter ?? 0) / (uBefore ?? 0) - 1;
  const size = (quantity: QuantityComparison) => (Number.isNaN(ratio(quantity)) ? 0 : Math.abs(ratio(quantity)));
  const listed = [...quantities].sort((a, b) => size(b) - size(a)).slice(0, LISTED);
  const rows = listed.map((quantity) => {
    const { id, before, after, uBefore, uAfter } = quantity;
    return [id, concise(before, uBefore), concise(after, uAfter), percent(ratio(quantity), true)];
  });
  const right = { align: "right" as const };
  const columns = [{ head: "quantity" }, { head: "A", ...right }, { head: "B", ...right }, { head: "u", ...right }];
  const more = quantities.length - listed.length;
  return [
    ...layTable(columns, rows, width, ink.dim).lines,
    ...(more > 0 ? [ink.dim(`… and ${more} more whose u changed by less (--json lists all)`)] : []),
  ];
}
