import { type QuantityComparison, share, significant } from "@alcedo-dosimetry/campaign";
import type { Attribution } from "@alcedo-dosimetry/metrology";
import { changedValues, changeInWords } from "./changed-inputs.ts";
import type { EvaluatedFolder } from "./open-campaign.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { wrapBehind } from "./wrap.ts";

/** Inputs that are named under one quantity; the rest is summed up. */
const NAMED = 4;
/** An input that leaves less than this of a change unexplained has made it alone. */
const WHOLE = 1e-3;

/**
 * Where changes come from: first the inputs that made a change alone, each with all the quantities that it moved; then,
 * quantity by quantity, the changes with several causes, the largest cause first and the remainder last.
 */
export function attributionLines(
  quantities: readonly QuantityComparison[],
  before: EvaluatedFolder,
  after: EvaluatedFolder,
  { width, ink }: Omit<Page, "print">,
): string[] {
  const said = new Set<string>();
  const words = (attribution: Attribution): string => {
    const name = printable(attribution.input);
    if (said.has(name)) return name;
    said.add(name);
    const values = changedValues(attribution, before.evaluation, after.evaluation).map(changeInWords);
    return values.length > 0 ? `${name} (${values.join(", ")})` : name;
  };
  const alone = new Map<string, { cause: Attribution; moved: string[] }>();
  const several: QuantityComparison[] = [];
  for (const quantity of quantities) {
    const cause = soleCause(quantity);
    if (!cause) several.push(quantity);
    else {
      const known = alone.get(cause.input) ?? { cause, moved: [] };
      alone.set(cause.input, { cause, moved: [...known.moved, quantity.id] });
    }
  }
  return [
    ...[...alone.values()].flatMap(({ cause, moved }) => [
      ...wrapBehind("", `${words(cause)}, alone:`, width).map(ink.bold),
      ...byFamily(moved).flatMap((ids) => wrapBehind("  ", ids, width, "    ")),
    ]),
    ...several.flatMap((quantity) => [
      `${ink.bold(quantity.id)} ${amount(quantity.change, quantity.unit)}`,
      ...wrapBehind("  ", causes(quantity, words).join("; "), width),
    ]),
  ];
}

/** Ids in short: those that differ in their condition alone stand together, `dose.separation: short, long`. */
export function byFamily(ids: readonly string[]): string[] {
  const families = new Map<string, string[]>();
  for (const id of ids) {
    const parts = id.split(".");
    const depth = /^(?:signal|dose|stem-load|subtracted-fraction|separation)$/.test(parts[0]!) ? 2 : 1;
    const family = parts.length > depth ? parts.slice(0, depth).join(".") : "";
    families.set(family, [...(families.get(family) ?? []), family === "" ? id : parts.slice(depth).join(".")]);
  }
  return [...families].map(([family, own]) =>
    family === "" ? own.join(", ") : own.length === 1 ? `${family}.${own[0]}` : `${family}: ${own.join(", ")}`,
  );
}

/** The one input that made the whole change, if one did. */
function soleCause({ attributions, change }: QuantityComparison): Attribution | undefined {
  const [first, ...others] = attributions;
  if (!first || others.some((other) => Math.abs(other.change) > WHOLE * Math.abs(change))) return undefined;
  return Math.abs(change - first.change) <= WHOLE * Math.abs(change) ? first : undefined;
}

function causes({ attributions, unit, change, remainder }: QuantityComparison, words: (a: Attribution) => string) {
  const acting = attributions.filter((attribution) => attribution.change !== 0);
  const others = acting.slice(NAMED);
  const sum = others.reduce((total, own) => total + own.change, 0);
  const left = share(remainder / change);
  return [
    ...acting.slice(0, NAMED).map((attribution) => `${words(attribution)} ${amount(attribution.change, unit)}`),
    ...(others.length > 0 ? [`${others.length} other inputs ${amount(sum, unit)}`] : []),
    ...(acting.length === 0 ? ["no input differs: the campaigns are built differently"] : []),
    `remainder ${left}`,
  ];
}

function amount(value: number, unit: string): string {
  return `${value > 0 ? "+" : ""}${significant(value, 3)}${unit === "1" ? "" : ` ${unit}`}`;
}
