import { linearAxis } from "./axis.ts";
import { element, group } from "./element.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { type Interval, intervalText } from "./interval.ts";
import { label, SMALL_SIZE } from "./label.ts";
import { legend } from "./legend.ts";
import { fixed, significant } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { decimalsOf } from "./ticks.ts";

/** A part of an uncertainty. */
export interface BudgetPart {
  readonly name: string;
  /** How it was evaluated, in the words of the GUM: A from repeats, B by other means. */
  readonly type: "A" | "B";
  /** Its share of the variance; a correlation can make it negative. All shares add up to one. */
  readonly share: number;
  /** What it contributes by itself, in the unit of the result. */
  readonly contribution: number;
}

/** What budget bars are drawn from. */
export interface BudgetBars {
  readonly id: string;
  readonly title: string;
  readonly result: Interval;
  /** Empty for a number without a unit. */
  readonly unit: string;
  /** Combined standard uncertainty. */
  readonly u: number;
  readonly parts: readonly BudgetPart[];
}

/** As many parts have a bar of their own at most, and only those that can be seen; the rest share one. */
const MOST = 10;
const LEAST = 0.001;
const ROW = 22;
const NAMES = 306;
const VALUES = 124;

/** One bar per input, the largest share of the variance first. */
export function budgetBars(given: BudgetBars): Figure {
  const { id, title, result, unit, u } = given;
  const rows = rowsOf(given);
  const top = TOP + 40;
  const bottom = top + rows.length * ROW;
  const left = MARGIN + NAMES;
  const x = linearAxis({
    name: "",
    values: [0, ...rows.map(({ share }) => share)],
    from: left,
    to: WIDTH - MARGIN - VALUES,
    margin: 0,
  });
  const zero = x.at(0);
  // one more digit than the uncertainty itself, alike in all rows
  const decimals = decimalsOf(u) + 2;
  const contribution = (value: number) => (decimals > 7 ? significant(value, 2) : fixed(value, decimals));
  const key = legend(MARGIN, bottom + 14, WIDTH - 2 * MARGIN, [
    { sign: "solid-bar", role: "ink", text: "type A, from repeats" },
    { sign: "open-bar", role: "ink", text: "type B, by other means" },
    ...(rows.some(({ type }) => type === undefined)
      ? [{ sign: "solid-bar", role: "muted", text: "several" } as const]
      : []),
  ]);
  const small = { size: SMALL_SIZE, role: "muted" } as const;
  const right = WIDTH - MARGIN;
  return page({ id, title, description: words(given, rows), end: bottom + 14 + key.height }, [
    label(
      MARGIN,
      TOP + 8,
      `${intervalText(result)}${unit && ` ${unit}`} (95 %), standard uncertainty ${significant(u, 2)}${unit && ` ${unit}`}`,
      {
        room: WIDTH - 2 * MARGIN,
      },
    ),
    label(MARGIN, TOP + 30, "input", small),
    label(right - 66, TOP + 30, "share", { ...small, anchor: "end" }),
    label(right, TOP + 30, "u", { ...small, anchor: "end" }),
    ...rows.flatMap((row, k) => {
      const y = top + k * ROW;
      const [from, to] = row.share < 0 ? [x.at(row.share), zero] : [zero, x.at(row.share)];
      return [
        label(MARGIN, y + 14, row.name, { size: SMALL_SIZE, room: NAMES - 12 }),
        group([bar(from, y + 4, Math.max(1, to - from), row.type)], `${row.name}: ${percent(row.share)}`),
        label(right - 66, y + 14, percent(row.share), { size: SMALL_SIZE, anchor: "end" }),
        label(right, y + 14, row.contribution === undefined ? "" : contribution(row.contribution), {
          ...small,
          anchor: "end",
        }),
      ];
    }),
    element("line", { x1: zero, x2: zero, y1: top, y2: bottom, stroke: "ink", "stroke-width": 1 }),
    ...key.drawn,
  ]);
}

interface BudgetRow {
  readonly name: string;
  readonly type: "A" | "B" | undefined;
  readonly share: number;
  readonly contribution: number | undefined;
}

/** The largest by size, whatever their sign; those too many or too small for that together. */
function rowsOf({ parts }: BudgetBars): BudgetRow[] {
  const sorted = [...parts].sort((a, b) => Math.abs(b.share) - Math.abs(a.share));
  const shown = Math.max(1, Math.min(MOST, sorted.filter(({ share }) => Math.abs(share) >= LEAST).length));
  if (sorted.length <= shown + 1) return sorted;
  const rest = sorted.slice(shown);
  return [
    ...sorted.slice(0, shown),
    {
      name: `${rest.length} others`,
      type: undefined,
      share: rest.reduce((total, { share }) => total + share, 0),
      contribution: undefined,
    },
  ];
}

function bar(x: number, y: number, width: number, type: "A" | "B" | undefined): DrawingElement {
  const box = { x, y, width, height: 12 };
  if (type === "A") return element("rect", { ...box, fill: "ink" });
  if (type === undefined) return element("rect", { ...box, fill: "muted" });
  return element("rect", { ...box, y: y + 0.7, height: 10.6, fill: "paper", stroke: "ink", "stroke-width": 1.4 });
}

const percent = (share: number) => {
  const size = Math.abs(share * 100);
  if (size > 0 && size < 0.05) return "< 0.1 %";
  // 99.6 % is not all of it
  const decimals = size < 9.95 || (size >= 99.5 && size < 99.95) ? 1 : 0;
  return `${fixed(share * 100, decimals)} %`;
};

function words({ result, unit, u, parts }: BudgetBars, rows: readonly BudgetRow[]): string {
  const each = rows.map(({ name, share, type }) => `${name} ${percent(share)}${type ? ` (type ${type})` : ""}`);
  return `${intervalText(result)}${unit && ` ${unit}`} with 95 % coverage; standard uncertainty ${significant(u, 2)} from ${parts.length} inputs. Shares of the variance: ${each.join("; ")}.`;
}
