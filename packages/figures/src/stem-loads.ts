import { type Axis, linearAxis, logarithmicAxis } from "./axis.ts";
import type { Box } from "./box.ts";
import { element, group } from "./element.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { label, SMALL_SIZE } from "./label.ts";
import { legend } from "./legend.ts";
import { mark } from "./mark.ts";
import { significant } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { panelGround, ROOM_FOR_X } from "./panel.ts";

/** The readings of a condition by how far each leans on the separation. */
export interface LoadRow {
  /** Which series it belongs to, in words. */
  readonly series: string;
  readonly name: string;
  /** Stem load of the condition's mean. */
  readonly mean: number;
  readonly readings: readonly { readonly name: string; readonly load: number; readonly leftOut?: string }[];
}

/** What the figure of stem loads is drawn from. */
export interface StemLoads {
  readonly id: string;
  readonly title: string;
  /** Name of the axis: what the stem load is, with two channels or with more. */
  readonly quantity: string;
  readonly rows: readonly LoadRow[];
  /** The highest stem load that is verified, and by which condition; left out where none is. */
  readonly verified?: { readonly load: number; readonly by: string };
}

const ROW = 20;
const HEADING = 22;
const NAMES = 150;
const VALUES = 58;
/** Readings of a condition lie in so many lanes, one after the other, so that equal ones can be counted. */
const LANES = [0, -4, 4, -2, 2];
const SCALE = 0.55;
/** A reading this little beyond the range is within it: the range's own end is known no better. */
const TOLERANCE = 1.005;

/** The stem load of every reading, condition by condition, with the range that the separation has been verified for. */
export function stemLoads(given: StemLoads): Figure {
  const { id, title, quantity, rows, verified } = given;
  const series = [...new Set(rows.map((row) => row.series))];
  const places = new Map<LoadRow, number>();
  const headings: DrawingElement[] = [];
  let y = TOP;
  for (const name of series) {
    headings.push(label(MARGIN, y + 14, name, { weight: "bold", size: SMALL_SIZE, room: NAMES }));
    y += HEADING;
    for (const row of rows.filter((own) => own.series === name)) {
      places.set(row, y + ROW / 2);
      y += ROW;
    }
    y += 6;
  }
  const box: Box = { left: MARGIN + NAMES, top: TOP, width: WIDTH - 2 * MARGIN - NAMES - VALUES, height: y - TOP };
  const loads = rows.flatMap(({ readings, mean }) => [mean, ...readings.map(({ load }) => load)]);
  const x = axisFor(quantity, [...loads, ...(verified ? [verified.load] : [])], box);
  const beyond = (load: number) => verified !== undefined && load > verified.load * TOLERANCE;
  const limit = verified && x.at(verified.load);
  const signs = rows.flatMap((row) =>
    row.readings.map(({ name, load, leftOut }, k) => {
      const kind = leftOut !== undefined ? "cross" : beyond(load) ? "triangle" : "ring";
      const at = places.get(row)! + LANES[k % LANES.length]! * 1.6;
      const out = leftOut === undefined ? "" : `, left out: ${leftOut}`;
      return group(
        [
          mark(
            x.at(load),
            at,
            kind,
            kind === "triangle" ? "attention" : kind === "cross" ? "muted" : "ink",
            kind === "ring" ? SCALE : 0.8,
          ),
        ],
        `${name}, ${row.name}: stem load ${significant(load, 3)}${beyond(load) ? ", beyond the verified range" : ""}${out}`,
      );
    }),
  );
  const all = rows.flatMap(({ readings }) => readings);
  const counted = all.filter(({ leftOut }) => leftOut === undefined);
  const key = legend(MARGIN, y + ROOM_FOR_X + 8, WIDTH - 2 * MARGIN, [
    { sign: { mark: "ring" }, text: "a reading" },
    ...(counted.some(({ load }) => beyond(load))
      ? [{ sign: { mark: "triangle", role: "attention" }, text: "beyond the verified range" } as const]
      : []),
    ...(all.length > counted.length ? [{ sign: { mark: "cross", role: "muted" }, text: "left out" } as const] : []),
    ...(verified
      ? [{ sign: "band", text: `verified, up to ${significant(verified.load, 3)} by ${verified.by}` } as const]
      : []),
  ]);
  return page({ id, title, description: words(given, beyond), end: y + ROOM_FOR_X + 8 + key.height }, [
    ...(limit === undefined
      ? []
      : [
          element("rect", {
            x: box.left,
            y: box.top,
            width: limit - box.left,
            height: box.height,
            fill: "grid",
            "fill-opacity": "0.45",
          }),
        ]),
    ...panelGround({ box, x, y: { name: "", domain: [0, 1], ticks: [], at: () => box.top } }),
    ...rows.map((row) =>
      element("line", {
        x1: box.left,
        x2: box.left + box.width,
        y1: places.get(row)!,
        y2: places.get(row)!,
        stroke: "grid",
        "stroke-width": 1,
      }),
    ),
    ...(limit === undefined
      ? []
      : [
          element("line", {
            x1: limit,
            x2: limit,
            y1: box.top,
            y2: box.top + box.height,
            stroke: "muted",
            "stroke-width": 1,
            "stroke-dasharray": "3 3",
          }),
        ]),
    label(WIDTH - MARGIN, TOP + 14, "mean", { size: SMALL_SIZE, role: "muted", anchor: "end" }),
    ...headings,
    ...rows.flatMap((row) => [
      label(box.left - 8, places.get(row)! + 4, row.name, {
        size: SMALL_SIZE,
        role: "muted",
        anchor: "end",
        room: NAMES - 8,
      }),
      label(WIDTH - MARGIN, places.get(row)! + 4, significant(row.mean, 3), {
        size: SMALL_SIZE,
        anchor: "end",
        family: "mono",
      }),
    ]),
    ...signs,
    ...key.drawn,
  ]);
}

/** Logarithmic where loads spread, as they do between the least and the most of fibre; else even, from zero. */
function axisFor(name: string, values: readonly number[], box: Box): Axis {
  const given = { name, values, from: box.left, to: box.left + box.width };
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (least > 0 && most > 3 * least) return logarithmicAxis(given);
  return linearAxis(least < 0 ? given : { ...given, start: 0 });
}

function words({ rows, verified, quantity }: StemLoads, beyond: (load: number) => boolean): string {
  const readings = rows.flatMap((row) =>
    row.readings.flatMap(({ leftOut, load }) => (leftOut === undefined ? [{ row, load }] : [])),
  );
  const loads = readings.map(({ load }) => load);
  const out = readings.filter(({ load }) => beyond(load));
  const names = [...new Set(out.map(({ row }) => `${row.name} (${row.series})`))];
  return [
    `${quantity} of ${readings.length} readings under ${rows.length} conditions, from ${significant(Math.min(...loads), 3)} to ${significant(Math.max(...loads), 3)}.`,
    verified
      ? `The separation is verified up to ${significant(verified.load, 3)}, by ${verified.by}; ${out.length === 0 ? "no reading lies beyond it" : `${out.length === 1 ? "one reading lies" : `${out.length} readings lie`} beyond it: ${names.join(", ")}`}.`
      : "No stem load is verified.",
    `Means: ${rows.map(({ name, mean }) => `${name} ${significant(mean, 3)}`).join("; ")}.`,
  ].join(" ");
}
